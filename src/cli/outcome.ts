/** What a drafted or graded piece is, relaxed: words for the error stream, and whether it is one to knit. */
import type { Judgement } from '../knit.ts';
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import type { LengthUnit } from '../report/words/length.ts';
import { sizeTold } from '../report/words/size-told.ts';
import { standsAsTold } from '../report/words/verdict-words.ts';

interface Outcome extends Pick<Judgement, 'verdict'>, Partial<Pick<Judgement, 'riseMm'>> {
  readonly sizeMm: number;
  /** By the rounds alone, share of a full turn; none or NaN where nothing could be measured. */
  readonly flatnessError?: number;
}

/** Flat as it comes off the needles, or once blocked, or a tube that stays one; too big to relax: by what its rounds say. */
export function isKnittable({ verdict, flatnessError = Number.NaN }: Outcome): boolean {
  return verdict === null ? !(flatnessError > DEFAULT_BANDS.blocking) : standsAsTold(verdict);
}

/** `Verdict: flat. It comes to 20.1 cm (relaxed).` */
export function outcomeWords(outcome: Outcome, unit: LengthUnit): string {
  const { verdict } = outcome;
  const { words, how } = sizeTold(outcome, unit);
  if (verdict === null)
    return `Verdict: none, the piece is too big to be relaxed here. It comes to ${words} ${how}.`;
  return `Verdict: ${verdict}. It comes to ${words} (${how}).`;
}
