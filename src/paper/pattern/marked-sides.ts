/**
 * Into which equal parts a pattern marks its rounds, and how long: sides of a square, parts of a tube.
 * In: a Plan. Out: their number and the rounds that have the markers; the stitches of a round beside its seam. A small repeat that runs on over the corners (seed on an odd side) leaves the sides as they are.
 */
import { hasShortRows, type Plan, type PlanRound } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { smallestPeriod } from '../../plan/write/fold-stitches.ts';

export interface MarkedSides {
  /** 1 where there is nothing to mark. */
  readonly sides: number;
  /** Rounds with markers; fewer than all where the last ones work across them: `k2tog; rep from * to end`. */
  readonly rounds: number;
}

/** More equal parts than this are a small repeat rather than sides. Chosen. */
const MOST_SIDES = 12;
/** Longest repeat that is told as running right round the piece, across its sides. Chosen. */
const SMALL_REPEAT = 4;
/** Fewest times that it is told so. Chosen. */
const LEAST_REPEATS = 7;
/** Last rounds that may go without markers: the gathering of a centre. Chosen. */
const GATHERING = 3;

export function markedSides(plan: Plan): MarkedSides {
  const rounds = plan.rounds.length;
  const none = { sides: 1, rounds };
  if (hasShortRows(plan) || (plan.worked === 'flat' && !plan.seam)) return none;
  const parts = plan.rounds.map((round) => partsOf(insideSeam(plan, round)));
  const running = plan.rounds.map((round) => runsOn(insideSeam(plan, round)));
  let best = none;
  for (let end = rounds; end >= Math.max(2, rounds / 2, rounds - GATHERING); end--) {
    const sides = commonSides(parts.slice(0, end), running.slice(0, end));
    // Without markers at the end only where more sides are marked by it, three at least.
    if (end < rounds && (sides < 3 || sides % best.sides > 0)) continue;
    if (sides > best.sides) best = { sides, rounds: end };
  }
  return best;
}

/** Parts that all rounds are made of, those left out that run on over their borders but are as wide. */
function commonSides(parts: readonly number[], running: readonly (number | null)[]): number {
  const bound = parts.filter((_, i) => running[i] === null);
  // Small repeats alone need no marks.
  if (bound.length === 0) return 1;
  const sides = bound.reduce(gcd, 0);
  const whole = running.every((stitches) => stitches === null || stitches % sides === 0);
  return whole && sides >= 2 && sides <= MOST_SIDES ? sides : 1;
}

/** Equal parts of a round; 0 where it has no stitches. */
function partsOf(names: readonly string[]): number {
  return names.length === 0 ? 0 : names.length / smallestPeriod(names);
}

/** Stitches of a round that is a small repeat from end to end, each worked on its own; null for another. */
export function runsOn(names: readonly string[]): number | null {
  return smallRepeat(names, 2) > 0 && names.every((name) => single(name)) ? names.length : null;
}

/** Stitches of the small repeat that a round is told by; 0 where it is none. */
export function smallRepeat(names: readonly string[], least = LEAST_REPEATS): number {
  if (names.length === 0) return 0;
  const period = smallestPeriod(names);
  if (period > SMALL_REPEAT || names.length / period < least) return 0;
  // A stitch made between two others must say on which side of the marker it is made.
  return names.slice(0, period).some((name) => consumes(name) === 0) ? 0 : period;
}

export function consumes(name: string): number {
  return stitchKind(name)?.consumes ?? 1;
}

export function makes(name: string): number {
  return stitchKind(name)?.loops.length ?? 1;
}

function single(name: string): boolean {
  return consumes(name) === 1 && makes(name) === 1;
}

export function namesOf(plan: Plan, { works }: PlanRound): string[] {
  return Array.from(works, (id) => plan.kinds[id].name);
}

export function insideSeam(plan: Plan, round: PlanRound): string[] {
  const { first, last } = seamStitches(plan, round.wrongSide);
  const names = namesOf(plan, round);
  return names.slice(first, names.length - last);
}

/** Seam stitches at the beginning and the end of the row as it is worked. */
export function seamStitches(
  { seam }: Plan,
  wrongSide: boolean,
): { readonly first: number; readonly last: number } {
  const { begin, end } = seam ?? { begin: 0, end: 0 };
  return wrongSide ? { first: end, last: begin } : { first: begin, last: end };
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
