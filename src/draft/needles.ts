/**
 * How the stitches lie on the needles, round by round: double-pointed needles, magic loop or one
 * circular needle.
 *
 * Input: a Plan worked in the round and the way of working. Output: stitches on each needle after every
 * round, crossings and decreases that straddle two needles with the stitches to move. Which needles, how long
 * and when to change them: `needle-plan.ts`.
 */
import type { Plan, PlanRound } from '../plan/plan.ts';
import type { StitchKind } from '../plan/stitches/stitch-kind.ts';

export type NeedleWay =
  /** `hold` needles hold the stitches and one more works (sets of five: 4 + 1). */
  | { readonly kind: 'double-pointed'; readonly hold: 3 | 4 }
  | { readonly kind: 'magic loop' }
  | { readonly kind: 'one circular' };

export interface Straddle {
  /** Round (working order) before which to move stitches. */
  readonly round: number;
  /** The boundary lies after this needle (1-based). */
  readonly needle: number;
  readonly stitch: string;
  readonly move: number;
  /** 1-based needle that the stitches come from and go to. */
  readonly from: number;
  readonly to: number;
  readonly words: string;
}

export interface NeedleRound {
  readonly n: number;
  /** Stitches on each needle after the round: one number where all lie on a circular needle. */
  readonly counts: readonly number[];
}

export interface NeedleTable {
  readonly way: NeedleWay;
  /** Stitches cast on to each needle. */
  readonly castOn: readonly number[];
  readonly rounds: readonly NeedleRound[];
  readonly straddles: readonly Straddle[];
}

/** Free needle at each tip so that stitches don't fall off. Chosen. */
export const FREE_TIP_MM = 25;
/** Shortest circular needle in common use (common practice). */
export const SHORTEST_CIRCULAR_MM = 400;
/**
 * Stitches bunch on a needle: it holds more than its length of flat fabric. That it does is common practice;
 * half as much again is chosen, from memory.
 */
export const BUNCHING = 1.5;
/**
 * Magic loop: cords of 80 cm or more, 100 cm preferred (knittingtips.net/en/beginner/techniques/
 * magic-loop; forum.knittinghelp.com/t/magic-loop/157102).
 */
const MAGIC_LOOP_MM = 800;
/** Cord pulled out in loops at both turns. Chosen. */
const MAGIC_LOOPS_MM = 200;

/** Needle and cord together that a magic loop takes for a piece so wide, mm: the one place that says it. */
export function leastCordMm(widestMm: number): number {
  return Math.max(MAGIC_LOOP_MM, widestMm / BUNCHING + MAGIC_LOOPS_MM);
}

/** `sides` straight sides (0 if unknown): needles end at corners where there is a side for each of them. */
export function divideNeedles(plan: Plan, way: NeedleWay, sides = 0): NeedleTable {
  if (plan.worked !== 'round')
    throw new RangeError('This plan is worked flat: its stitches stay on one needle.');
  const needles = way.kind === 'double-pointed' ? way.hold : way.kind === 'magic loop' ? 2 : 1;
  let bounds = firstBounds(plan.castOn, needles, sides);
  const castOn = countsOf(bounds, plan.castOn);
  const rounds: NeedleRound[] = [];
  const straddles: Straddle[] = [];
  for (const round of plan.rounds) {
    const stitches = Array.from(round.works, (id) => plan.kinds[id]);
    const corners = cornersOf(round, sides);
    bounds = workBounds(stitches, bounds, round.n, corners, straddles);
    const counts = countsOf(bounds, round.after);
    rounds.push({ n: round.n, counts });
  }
  return {
    way,
    castOn,
    rounds,
    straddles,
  };
}

/** Whether every needle takes whole sides: some one more where they do not divide. */
export function takesWholeSides(castOn: number, needles: number, sides: number): boolean {
  return needles > 1 && sides >= needles && castOn % sides === 0;
}

/** Boundaries as numbers of stitches before them, without 0 and the total. */
function firstBounds(castOn: number, needles: number, sides: number): number[] {
  const whole = takesWholeSides(castOn, needles, sides);
  return Array.from({ length: needles - 1 }, (_, i) =>
    whole
      ? Math.ceil(((i + 1) * sides) / needles) * (castOn / sides)
      : Math.round(((i + 1) * castOn) / needles),
  );
}

function countsOf(bounds: readonly number[], total: number): number[] {
  const edges = [0, ...bounds, total];
  return edges.slice(1).map((edge, i) => edge - edges[i]);
}

interface Corner {
  /** Stitches before it, before and after the round. */
  readonly before: number;
  readonly after: number;
}

/** Where equal sides meet in a round; none where they are not equal. */
function cornersOf(
  { before, after }: Pick<PlanRound, 'before' | 'after'>,
  sides: number,
): Corner[] {
  if (sides < 2 || before % sides > 0 || after % sides > 0) return [];
  return Array.from({ length: sides - 1 }, (_, i) => ({
    before: ((i + 1) * before) / sides,
    after: ((i + 1) * after) / sides,
  }));
}

/** A needle that ends so near a corner that shaping would straddle it ends at the corner from then on. Chosen. */
const NEAR_CORNER = 4;

/** Increases that belong to the stitch before them rather than to the one behind. */
const TO_THE_RIGHT = new Set(['m1r', 'm1rp', 'rli']);

/**
 * Boundaries after the round; a stitch that would straddle one is gathered on the nearer needle, or with all up to a
 * corner close by, where none straddles it again.
 */
function workBounds(
  stitches: readonly StitchKind[],
  bounds: readonly number[],
  round: number,
  corners: readonly Corner[],
  straddles: Straddle[],
): number[] {
  const after: number[] = [];
  let worked = 0;
  let made = 0;
  let b = 0;
  for (const stitch of stitches) {
    const stays = stitch.consumes === 0 && TO_THE_RIGHT.has(stitch.name);
    while (b < bounds.length && bounds[b] === worked && !stays) {
      after.push(made);
      b++;
    }
    const end = worked + stitch.consumes;
    while (b < bounds.length && bounds[b] > worked && bounds[b] < end) {
      const forward = bounds[b] - worked;
      const back = end - bounds[b];
      const corner = corners.find(({ before }) => Math.abs(before - bounds[b]) <= NEAR_CORNER);
      const toNext = corner ? corner.before < bounds[b] : forward <= back;
      const from = toNext ? b + 1 : b + 2;
      const to = toNext ? b + 2 : b + 1;
      const move = corner ? Math.abs(corner.before - bounds[b]) : Math.min(forward, back);
      straddles.push({
        round,
        needle: b + 1,
        stitch: stitch.name,
        move,
        from,
        to,
        words: `Before round ${round} move ${move} ${move === 1 ? 'stitch' : 'stitches'} from needle ${from} to needle ${to}: ${stitch.name} would be worked across both.`,
      });
      after.push(corner?.after ?? (toNext ? made : made + stitch.loops.length));
      b++;
    }
    worked = end;
    made += stitch.loops.length;
  }
  while (b++ < bounds.length) after.push(made);
  return after;
}
