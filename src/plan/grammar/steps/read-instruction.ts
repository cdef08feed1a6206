/** What is read of one round's instruction: its steps, the count it states, and what could not be read. */
import type { Remark } from '../../diagnostics.ts';
import type { StatedCount } from './stated-counts.ts';
import type { Step } from './steps.ts';

export interface ReadInstruction {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  /** Words that could not be read: the text is perhaps no instruction at all. */
  readonly unread: number;
  /** Some of them are errors, so that the count cannot be trusted. */
  readonly failed: boolean;
  /** The text ends in the middle of something. */
  readonly unfinished: boolean;
  /** Some wording would need to know where the instruction stops: "repeat from * to end" and so on. */
  readonly hasStitches: boolean;
  /** Colour that the round is worked in, where it says so. */
  readonly colour: string | null;
  /** Mistakes met while reading. */
  readonly remarks: readonly Remark[];
}
