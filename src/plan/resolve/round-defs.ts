/**
 * What a round's instruction means, wherever it is worked, and the names that worked rounds go by.
 * Read by `round-reader.ts` and the readers of prose, worked by `worked-piece.ts`.
 */
import type { Fabric } from '../grammar/steps/patterns.ts';
import type { StatedCount } from '../grammar/steps/stated-counts.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';

/** The place that repeats a round; `told`: it says that plain stretches change. */
export interface Follows extends Place {
  readonly told?: boolean;
}

export interface RoundDef extends Place {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  readonly label: string;
  readonly side: 'RS' | 'WS' | null;
  /** The round binds everything off. */
  readonly ends: boolean;
  /** Some words could not be read, so a count that does not come out is no news. */
  readonly unread?: boolean;
  /** … and have been reported as errors. */
  readonly failed?: boolean;
  /** Colour that the round is worked in, where it says so. */
  readonly colour?: string;
  /** The fabric that its label names. */
  readonly fabric?: Fabric;
  /** Every how many rounds it is told to be worked. */
  readonly pace?: number;
  /** Repeated "as set": its plain stretches follow the count. The place that says so. */
  readonly follows?: Follows;
}

/** A round told at `at` without a number. */
export function unnumberedDef(at: Place, inRound: boolean, steps: readonly Step[]): RoundDef {
  const label = nextLabel(inRound);
  return { steps, stated: null, from: at.from, to: at.to, label, side: null, ends: false };
}

export function nextLabel(inRound: boolean): string {
  return inRound ? 'Next round' : 'Next row';
}

/** `Round 5`, `Row 2 (WS)` */
export function numberedLabel(
  n: number,
  unit: 'round' | 'row',
  side: RoundDef['side'],
  inRound: boolean,
): string {
  return `${unit === 'round' ? 'Round' : 'Row'} ${n}${sideWords(side, inRound)}`;
}

/** Behind a label: which side a row faces. Rounds all face the same. */
export function sideWords(side: RoundDef['side'], inRound: boolean): string {
  return side && !inRound ? ` (${side})` : '';
}

/** `Round 5 (repeat)` */
export function repeatedLabel(label: string): string {
  return /\d/.test(label) && !label.endsWith('(repeat)') ? `${label} (repeat)` : label;
}
