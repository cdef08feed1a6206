/**
 * Rounds → rows with seam stitches: where the seam takes its stitches, and the rows with them.
 * In: rounds as the right side shows them, right to left. Out: rows as the facing side shows them.
 * One stitch for a seam half a stitch in from each edge (common practice), two for a whole one: sources in
 * `paper/pattern/technique-notes.ts`.
 */

import type { DraftRound } from '../../plan/write/plan-text.ts';
import { turnNames } from '../rework/facing.ts';

/** Seam stitches at the beginning and the end of right-side rows. */
export interface Seam {
  readonly begin: number;
  readonly end: number;
}

export type SeamStitches = 1 | 2;

export interface ChosenSeam {
  readonly seam: Seam;
  /** Why two where one was asked for, in a knitter's words. */
  readonly why: string | null;
}

/** Stitches that keep one loop on one column: what an edge that is sewn may be worked as. */
export const SINGLE: ReadonlySet<string> = new Set([
  'k',
  'p',
  'ktbl',
  'ptbl',
  'sl1 wyib',
  'sl1 wyif',
  'sl1k wyib',
  'sl1k wyif',
]);

const TWO: Seam = { begin: 1, end: 1 };
const BEGIN: Seam = { begin: 1, end: 0 };
const END: Seam = { begin: 0, end: 1 };

/**
 * One extra stitch goes to the edge that makes both edges mirror each other. It and the stitch of the other
 * edge become one column in the seam, so that one must be worked plainly throughout.
 */
export function chooseSeam(
  rounds: readonly (readonly string[])[],
  stitches: SeamStitches,
): ChosenSeam {
  if (stitches === 2) return { seam: TWO, why: null };
  const worked = rounds.filter((names) => names.length > 0);
  // One round that gathers all of its stitches, at the centre, is drawn in with the seam.
  const plain = (at: 0 | -1) => {
    const shaped = worked.filter((names) => !SINGLE.has(names.at(at) ?? ''));
    return shaped.length === 0 || (shaped.length === 1 && gathers(shaped[0]));
  };
  const fits = [
    ...(plain(-1) ? [{ seam: BEGIN, mirrored: mirroredRounds(worked, BEGIN) }] : []),
    ...(plain(0) ? [{ seam: END, mirrored: mirroredRounds(worked, END) }] : []),
  ].sort((a, b) => b.mirrored - a.mirrored);
  if (fits.length > 0) return { seam: fits[0].seam, why: null };
  return {
    seam: TWO,
    why: 'Both ends of the round are shaped, so one stitch alone leaves no plain edge to sew: a stitch is added at each edge.',
  };
}

/** Whether at least every other stitch of a round is shaping. */
function gathers(names: readonly string[]): boolean {
  return 2 * names.filter((name) => !SINGLE.has(name)).length >= names.length;
}

/** Rounds whose edges are as wide up to the first shaping on both sides, the seam stitch counted. */
function mirroredRounds(rounds: readonly (readonly string[])[], { begin, end }: Seam): number {
  let mirrored = 0;
  for (const names of rounds) {
    const right = names.findIndex((name) => !SINGLE.has(name));
    if (right < 0) mirrored++;
    else {
      const left = [...names].reverse().findIndex((name) => !SINGLE.has(name));
      if (right + begin === left + end) mirrored++;
    }
  }
  return mirrored;
}

/** A round with its seam stitches: one extra is worked like the stitch it becomes one column with, knitted or purled. */
export function withSeam(names: readonly string[], { begin, end }: Seam): string[] {
  const like = (name: string | undefined) => (/^(?:p|ss+p|s2pp)/.test(name ?? '') ? 'p' : 'k');
  const alone = begin + end === 1;
  const fill = (count: number, other: string | undefined) =>
    Array.from({ length: count }, () => (alone ? like(other) : 'k'));
  return [...fill(begin, names.at(-1)), ...names, ...fill(end, names[0])];
}

/** `rounds` hold right-side names; the rows hold names as the facing side shows them, the first as told. */
export function seamRows(
  rounds: readonly DraftRound[],
  seam: Seam,
  wrongSideFirst: boolean,
): DraftRound[] {
  return rounds.map((round, i) => {
    const names = withSeam(round.names, seam);
    const wrongSide = (i % 2 === 1) !== wrongSideFirst;
    return {
      // A stitch without a form on the wrong side is written as it is.
      names: wrongSide ? turnNames(names).map((name) => name.replace(/^~/, '')) : names,
      wrongSide,
      after: round.after + seam.begin + seam.end,
    };
  });
}
