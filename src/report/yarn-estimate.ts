/**
 * Yarn in the piece, before any allowance: the one formula that the report, the pattern and the blanket use.
 *
 * In: Plan, stitch width, mm. Out: metres by what takes them. Yarn per stitch l = Kw · w with Kw = 4.2 for fully
 * relaxed plain knit (Munden 1959, constants as in GATE 2015 TF Q54, textiletriangle.com). No measured figure per
 * stitch was found for other fabrics; the same length is taken, since every stitch is worked on the same needle.
 */
import type { Gauge } from '../gauge/gauge/gauge.ts';
import { madeBy, type Plan, stitchesAtEnd } from '../plan/plan.ts';
import { coloursOf } from '../plan/write/colours.ts';
import { colourJoins } from './colour-joins.ts';

/** Loop length over stitch width. */
export const MUNDEN_KW = 4.2;
/** Long-tail cast-on: a tail of about three times the width (common practice). */
const CAST_ON_TIMES = 3;
/** Bound-off edge: as much again as three widths (common practice). */
const BIND_OFF_TIMES = 3;
/** An end to weave in, mm (common practice). */
const TAIL_MM = 150;
/** Yarn for sewing up: about one and a half times the seam (from memory, common practice). */
const SEAM_TIMES = 1.5;

export interface YarnSizes {
  /** Width of a stockinette stitch of this yarn and needle, mm: narrower fabrics hold no less yarn. */
  readonly stitchMm: number;
  /** Length of yarn in one loop, mm; null takes the published constant. */
  readonly loopMm?: number | null;
  /** Length of the seams, mm. */
  readonly seamMm?: number;
}

export interface YarnParts {
  readonly stitches: number;
  readonly fabricM: number;
  /** Cast-on and bound-off edges. */
  readonly castOnM: number;
  readonly tailsM: number;
  readonly seamM: number;
  readonly lengthM: number;
  /** Ends to weave in: two wherever a colour is joined (`colour-joins.ts`). */
  readonly ends: number;
  /** What of it is of each colour, where rounds are worked in more than one: together all of it. */
  readonly colours: readonly { readonly colour: string; readonly lengthM: number }[];
}

export function yarnParts(plan: Plan, { stitchMm, loopMm, seamMm = 0 }: YarnSizes): YarnParts {
  const loop = loopMm ?? MUNDEN_KW * stitchMm;
  const stitches = plan.rounds.reduce((sum, round) => sum + madeBy(plan, round), 0);
  const last = stitchesAtEnd(plan);
  const fabricM = (stitches * loop) / 1000;
  const boundOffM = plan.ending === 'bound-off' ? (BIND_OFF_TIMES * last * stitchMm) / 1000 : 0;
  // The tail lies under a loop of working yarn for each stitch.
  const firstM = (plan.castOn * (CAST_ON_TIMES * stitchMm + loop)) / 1000;
  const seamM = (SEAM_TIMES * seamMm) / 1000;
  const names = coloursOf(plan);
  const joins = colourJoins(plan);
  const ends = 2 * Math.max(1, joins.length);
  const tailsM = (ends * TAIL_MM) / 1000;
  const castOnM = firstM + boundOffM;
  const lengthM = fabricM + castOnM + tailsM + seamM;
  const edges = { castOn: firstM + seamM, ending: boundOffM };
  const colours = names.length > 1 ? byColour(plan, names, loop, edges) : [];
  return { stitches, fabricM, castOnM, tailsM, seamM, lengthM, ends, colours };
}

/** The seam is sewn with the yarn cast on with. */
function byColour(
  plan: Plan,
  names: readonly string[],
  loopMm: number,
  edges: { readonly castOn: number; readonly ending: number },
): { colour: string; lengthM: number }[] {
  const lengths = new Map(names.map((name) => [name, 0]));
  const add = (name: string | undefined, lengthM: number) => {
    if (name !== undefined) lengths.set(name, (lengths.get(name) ?? 0) + lengthM);
  };
  for (const { colour } of colourJoins(plan)) add(colour, (2 * TAIL_MM) / 1000);
  for (const round of plan.rounds) add(round.colour, (madeBy(plan, round) * loopMm) / 1000);
  add(plan.colours?.castOn, edges.castOn);
  if (plan.ending === 'bound-off') add(plan.colours?.ending, edges.ending);
  return [...lengths].map(([colour, lengthM]) => ({ colour, lengthM }));
}

/** Seam of a piece worked flat that is sewn up into a round one, mm. */
export function seamLengthMm(plan: Plan, roundMm: number): number {
  return plan.seam ? plan.rounds.length * roundMm : 0;
}

export function estimateYarn(
  plan: Plan,
  gauge: Gauge,
): { lengthM: number; massG: number; origin: string } {
  const { lengthM } = yarnParts(plan, {
    stitchMm: gauge.sizes.stockinette.stitchMm,
    seamMm: seamLengthMm(plan, gauge.groundSize.roundMm),
  });
  return {
    lengthM,
    massG: (lengthM * gauge.tex) / 1000,
    origin: `before any allowance; each stitch takes 4.2 times its width, as published for plain knit; yarn ${gauge.texOrigin}`,
  };
}

/**
 * Yarn of a border picked up round a blanket, m: rounds of `castOn` stitches that grow evenly to `boundOff`, bound off.
 * `allowance` as for a piece.
 */
export function borderLengthM(
  border: { readonly castOn: number; readonly boundOff: number; readonly rounds: number },
  stitchMm: number,
  allowance = 0.1,
): number {
  const { castOn, boundOff, rounds } = border;
  const loops = castOn + rounds * castOn + (rounds / 2) * (boundOff - castOn);
  const widths = MUNDEN_KW * loops + BIND_OFF_TIMES * boundOff;
  return ((widths * stitchMm + 2 * TAIL_MM) / 1000) * (1 + allowance);
}
