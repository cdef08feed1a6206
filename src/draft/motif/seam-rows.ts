/**
 * Rounds → rows with seam stitches: even rows are worked from the wrong side.
 */
import { turnNames } from '../rework/facing.ts';
import type { DraftRound } from './plan-text.ts';

/** Seam stitches at the beginning and the end of right-side rows; they show knit on the right side. */
export interface Seam {
  readonly begin: number;
  readonly end: number;
}

/** `rounds` hold right-side names; the rows hold names as the facing side shows them. */
export function seamRows(rounds: readonly DraftRound[], seam: Seam): DraftRound[] {
  return rounds.map((round, i) => {
    const names = [
      ...Array.from({ length: seam.begin }, () => 'k'),
      ...round.names,
      ...Array.from({ length: seam.end }, () => 'k'),
    ];
    const wrongSide = i % 2 === 1;
    return {
      names: wrongSide ? turnNames(names) : names,
      wrongSide,
      after: round.after + seam.begin + seam.end,
    };
  });
}
