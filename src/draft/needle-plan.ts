/**
 * Which needles a piece is worked on from its first round to its last: circular while the stitches reach round
 * it, double-pointed (or a magic loop) where they do not.
 * In: a Plan, the stitch width, mm, and the way asked for. Out: phases with lengths that needles are sold in.
 * Stitches bunch (`BUNCHING`), but are not stretched: a circular needle is never longer than its stitches.
 */
import type { Plan } from '../plan/plan.ts';
import {
  BUNCHING,
  divideNeedles,
  FREE_TIP_MM,
  leastCordMm,
  type NeedleTable,
  type NeedleWay,
  SHORTEST_CIRCULAR_MM,
} from './needles.ts';

export type NeedleKind = 'circular' | 'double-pointed' | 'magic loop' | 'flat';

export interface NeedlePhase {
  /** Rounds in working order; 0 is the cast-on. */
  readonly from: number;
  readonly to: number;
  readonly kind: NeedleKind;
  /** A length that such needles are sold in, mm. */
  readonly lengthMm: number;
  /** Needles that hold stitches; 1 for circular and flat, 2 parts of a magic loop. */
  readonly hold: number;
  /** Stitches at its beginning and its end, and the most. */
  readonly first: number;
  readonly last: number;
  readonly most: number;
}

/** Lengths that needles are sold in, mm (common practice). */
const CIRCULARS_MM = [SHORTEST_CIRCULAR_MM, 600, 800, 1000, 1200, 1500];
const DOUBLE_POINTED_MM = [150, 200, 230, 300, 350, 400];
/** Longer double-pointed needles are rare (common practice). */
const LONGEST_USUAL_MM = 200;
/** Fewer stitches on a needle are gathered on fewer needles. */
const LEAST_ON_A_NEEDLE = 2;

/** The way that the plan's own needle line names; null where it leaves it open. */
export function wayOfPlan({ needles }: Plan): NeedleWay | null {
  const text = needles?.text ?? '';
  if (/magic loop/i.test(text)) return { kind: 'magic loop' };
  if (/\bcircular/i.test(text)) return null;
  if (!/double[- ]?pointed|\bdpns?\b/i.test(text)) return null;
  return { kind: 'double-pointed', hold: /\bset of (?:4|four)\b/i.test(text) ? 3 : 4 };
}

/** Needles of a set that hold stitches: four, or three where those divide the sides and four do not. */
function holding(way: NeedleWay | null, sides: number): 3 | 4 {
  if (way?.kind === 'double-pointed') return way.hold;
  return sides > 0 && sides % 3 === 0 && sides % 4 !== 0 ? 3 : 4;
}

/** Without a way: circular and double-pointed needles, each where it serves. `sides` as in `divideNeedles`. */
export function planNeedles(
  plan: Plan,
  way: NeedleWay | null,
  stitchMm: number,
  sides = 0,
): NeedlePhase[] {
  const counts = [plan.castOn, ...plan.rounds.map((round) => round.after)];
  const most = Math.max(...counts);
  const whole = (kind: NeedleKind, hold: number, lengthMm: number): NeedlePhase[] => [
    phase(counts, 0, counts.length - 1, kind, hold, lengthMm),
  ];
  if (plan.worked === 'flat')
    return whole('flat', 1, sold(CIRCULARS_MM, (most * stitchMm) / BUNCHING + 2 * FREE_TIP_MM));
  if (way?.kind === 'magic loop')
    return whole('magic loop', 2, sold(CIRCULARS_MM, leastCordMm(most * stitchMm)));
  const hold = holding(way, sides);
  const held = fullestNeedles(plan, hold, sides);
  const pointed = (from: number, to: number) => {
    const fullest = Math.max(...held.slice(Math.max(0, from - 1), to + 1));
    return phase(counts, from, to, 'double-pointed', hold, pointedFor(fullest, stitchMm));
  };
  if (way?.kind === 'double-pointed') return [pointed(0, counts.length - 1)];
  const widest = circularFor(most * stitchMm);
  const needleFor = (round: number): number | null => {
    const fabricMm = least(counts, round) * stitchMm;
    if (widest !== null && fabricMm >= widest) return widest;
    // As few needles as serve: double-pointed ones as soon as they hold the stitches.
    const pointedMm = pointedFor(least(held, round), stitchMm);
    if (pointedMm <= LONGEST_USUAL_MM || fabricMm < SHORTEST_CIRCULAR_MM) return null;
    return CIRCULARS_MM.findLast((length) => length <= fabricMm) ?? null;
  };
  const lengths = counts.map((_, round) => needleFor(round));
  return runsOf(withoutBrief(lengths, counts, held, stitchMm)).map(({ from, to, lengthMm }) =>
    lengthMm === null ? pointed(from, to) : phase(counts, from, to, 'circular', 1, lengthMm),
  );
}

/** Stitches on the fullest of the needles, after the cast-on and after every round. */
function fullestNeedles(plan: Plan, hold: 3 | 4, sides: number): number[] {
  const { castOn, rounds } = divideNeedles(plan, { kind: 'double-pointed', hold }, sides);
  return [castOn, ...rounds.map((round) => round.counts)].map((shares) => Math.max(...shares));
}

/** Rounds that a needle is taken for at least, the cast-on counted, where another serves as well. Chosen. */
const LEAST_ROUNDS = 5;
/** Double-pointed needles that are taken rather than a circular one for fewer rounds than that. Chosen. */
const LONGEST_BRIEF_MM = 230;

interface Run {
  readonly from: number;
  readonly to: number;
  /** Of a circular needle; null for double-pointed ones. */
  readonly lengthMm: number | null;
}

function runsOf(lengths: readonly (number | null)[]): Run[] {
  const runs: Run[] = [];
  for (let from = 0; from < lengths.length; ) {
    let to = from;
    while (to + 1 < lengths.length && lengths[to + 1] === lengths[from]) to++;
    runs.push({ from, to, lengthMm: lengths[from] });
    from = to + 1;
  }
  return runs;
}

/**
 * No needle for a few rounds only: those before or behind it are taken where they hold its stitches; else it stays in
 * use as long as the stitches reach round it.
 */
function withoutBrief(
  lengths: readonly (number | null)[],
  counts: readonly number[],
  held: readonly number[],
  stitchMm: number,
): (number | null)[] {
  const now = [...lengths];
  const serves = (lengthMm: number | null, round: number) => {
    const before = Math.max(0, round - 1);
    const most = Math.max(counts[round], counts[before]);
    if (lengthMm === null)
      return pointedFor(Math.max(held[round], held[before]), stitchMm) <= LONGEST_BRIEF_MM;
    const reaches = least(counts, round) * stitchMm >= lengthMm;
    return reaches && most * stitchMm <= BUNCHING * lengthMm;
  };
  for (const { from, to, lengthMm } of runsOf(lengths)) {
    const left = now.slice(from, to + 1).every((length) => length === lengthMm);
    if (!left || to - from + 1 >= LEAST_ROUNDS) continue;
    const rounds = Array.from({ length: to - from + 1 }, (_, i) => from + i);
    const beside = [now[to + 1], now[from - 1]].find(
      (other) => other !== undefined && rounds.every((round) => serves(other, round)),
    );
    if (beside !== undefined) now.fill(beside, from, to + 1);
    else if (lengthMm !== null) {
      let [first, last] = [from, to];
      const more = () => last - first + 1 < LEAST_ROUNDS;
      while (more() && last + 1 < now.length && serves(lengthMm, last + 1)) last++;
      while (more() && first > 0 && serves(lengthMm, first - 1)) first--;
      now.fill(lengthMm, first, last + 1);
    }
  }
  return now;
}

/** Stitches on the needle while a round is worked: the fewer of those before it and after it. */
function least(counts: readonly number[], round: number): number {
  return round === 0 ? counts[0] : Math.min(counts[round - 1], counts[round]);
}

function phase(
  counts: readonly number[],
  from: number,
  to: number,
  kind: NeedleKind,
  hold: number,
  lengthMm: number,
): NeedlePhase {
  const most = Math.max(...counts.slice(from, to + 1));
  return { from, to, kind, lengthMm, hold, first: counts[from], last: counts[to], most };
}

/** The shortest circular needle for so much fabric; null where none is short enough. */
function circularFor(fabricMm: number): number | null {
  if (fabricMm < SHORTEST_CIRCULAR_MM) return null;
  return (
    CIRCULARS_MM.find((length) => fabricMm <= BUNCHING * length) ?? CIRCULARS_MM.at(-1) ?? null
  );
}

/** Length of double-pointed needles that hold so many stitches each, mm. */
function pointedFor(stitches: number, stitchMm: number): number {
  return sold(DOUBLE_POINTED_MM, (stitches * stitchMm) / BUNCHING + 2 * FREE_TIP_MM);
}

function sold(lengths: readonly number[], leastMm: number): number {
  return lengths.find((length) => length >= leastMm) ?? Math.ceil(leastMm / 100) * 100;
}

/**
 * The stitches on each needle of the phases, round by round; null for flat work. Where all lie on a circular needle
 * they are one number, and nothing straddles.
 */
export function needleTable(
  plan: Plan,
  way: NeedleWay | null,
  phases: readonly NeedlePhase[],
  sides = 0,
): NeedleTable | null {
  if (plan.worked === 'flat') return null;
  const loop = phases.some(({ kind }) => kind === 'magic loop');
  const divided = phases.some(({ kind }) => kind === 'double-pointed');
  const taken: NeedleWay = loop
    ? { kind: 'magic loop' }
    : divided
      ? { kind: 'double-pointed', hold: holding(way, sides) }
      : { kind: 'one circular' };
  const table = divideNeedles(plan, taken, sides);
  const onOne = (round: number) =>
    phases.some(({ kind, from, to }) => kind === 'circular' && from <= round && round <= to);
  const counts = (round: number, each: readonly number[]) =>
    onOne(round) ? [each.reduce((sum, n) => sum + n, 0)] : each;
  return {
    way: taken,
    castOn: counts(0, table.castOn),
    rounds: table.rounds.map(({ n, counts: each }) => ({ n, counts: counts(n, each) })),
    straddles: table.straddles.filter(({ round }) => !onOne(round)),
  };
}

/** First round after which a needle would hold fewer than two stitches; null where none does. */
export function closesAfter(plan: Plan, hold: number): number | null {
  const round = plan.rounds.find(({ after }) => after < LEAST_ON_A_NEEDLE * hold);
  return round?.n ?? null;
}

/** Of a growing piece: the round that first leaves every needle two stitches; null where the cast-on does. */
export function opensAfter(plan: Plan, hold: number): number | null {
  if (plan.castOn >= LEAST_ON_A_NEEDLE * hold) return null;
  return plan.rounds.find(({ after }) => after >= LEAST_ON_A_NEEDLE * hold)?.n ?? null;
}
