/** The verdict in words: headlines, what a written pattern warns of, and whether the piece lies flat. */
import type { Report } from '../report.ts';
import type { Verdict } from '../verdict.ts';

export const VERDICT_HEADLINES: Record<Verdict, string> = {
  flat: 'Lies flat',
  'flat after blocking': 'Flat after blocking',
  cups: 'Cups',
  ruffles: 'Ruffles',
  saddle: 'Bends like a saddle',
  'cup inside, ruffled rim': 'Cups inside, ruffles at the rim',
  'ruffled inside, cupped rim': 'Ruffles inside, cups at the rim',
  buckles: 'Buckles',
  tube: 'A tube',
  'twisted band': 'A twisted band',
};

/** How the piece stands, as a sentence. */
export const POSTURE_WORDS: Record<Verdict, string> = {
  flat: 'It lies flat on the table.',
  'flat after blocking': 'It lies almost flat.',
  cups: 'It stands up as a cup.',
  ruffles: 'Its rim waves up and down.',
  saddle: 'It bends like a saddle.',
  'cup inside, ruffled rim': 'Its middle stands up as a cup and its rim waves.',
  'ruffled inside, cupped rim': 'Its middle waves and its rim draws in.',
  buckles: 'It buckles in places.',
  tube: 'It is a tube.',
  'twisted band': 'It is a twisted band.',
};

/** Flat as it is knitted, or once blocked. */
export function liesFlat(verdict: Verdict): boolean {
  return verdict === 'flat' || verdict === 'flat after blocking';
}

/** Whether it may be knitted as told: flat, blocked flat, or standing by what the plan makes of it, a tube or a twisted band. */
export function standsAsTold(verdict: Verdict): boolean {
  return liesFlat(verdict) || verdict === 'tube' || verdict === 'twisted band';
}

/** Whether the rounds turn about a centre, so that angle and rim say something of the piece. */
export function turnsRound({ shape }: Pick<Report, 'shape'>): boolean {
  return !['tube', 'twisted band', 'flat piece'].includes(shape);
}
