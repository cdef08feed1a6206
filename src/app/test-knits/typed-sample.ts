/** What is typed of a sample and not yet entered: it stays while other things lie on the table or the plan is worked out. */
import { create } from 'zustand';

export interface TypedSample {
  /** Null: named after the plan. */
  readonly yarn: string | null;
  readonly note: string;
  readonly stitches: string;
  readonly rounds: string;
  readonly side: string;
}

const NOTHING = { note: '', stitches: '', rounds: '', side: '' };

export const useTypedSample = create<TypedSample>(() => ({ yarn: null, ...NOTHING }));

export const typeSample = (change: Partial<TypedSample>) => useTypedSample.setState(change);

/** The figures are in the log; the next sample is most likely of the same yarn. */
export const clearTypedSample = () => useTypedSample.setState(NOTHING);
