/**
 * The Gauge: stitch width and round height of each kind of fabric, mm, with where each comes from.
 * What the plan states is taken as stated; the rest follows from it by published ratios.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { FabricName, GaugeStatement, Plan } from '../../plan/plan.ts';
import { fabricOf, type Texture } from '../texture/texture.ts';
import { weightOfGauge, YARN_WEIGHTS } from './yarn-weights.ts';

/** Weight taken where the plan names neither gauge nor yarn: medium, the commonest. Chosen. */
const MEDIUM = 4;

/** The fabrics whose sizes span all others (see `texture.ts`). */
export type BaseFabric = 'stockinette' | 'garter' | 'rib' | 'seed';

export interface FabricSize {
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Where the figures come from, in words for the report. */
  readonly origin: string;
}

/** Resistance to stretching over that of stockinette, along the course and along the wale. */
export interface FabricStiffness {
  readonly course: number;
  readonly wale: number;
}

/** For a stockinette of the given round height over stitch width (null: not known). */
export type FabricStiffnessSource = (
  stockinetteAspect: number | null,
) => Readonly<Record<BaseFabric, FabricStiffness>>;

/** Every fabric stretches alike. */
const EVEN_STIFFNESS: FabricStiffnessSource = () => {
  const even = { course: 1, wale: 1 };
  return { stockinette: even, garter: even, rib: even, seed: even };
};

export interface Gauge {
  /** The fabric that most of the piece is made of. */
  readonly ground: FabricName;
  readonly groundSize: FabricSize;
  readonly sizes: Readonly<Record<BaseFabric, FabricSize>>;
  readonly stiffness: Readonly<Record<BaseFabric, FabricStiffness>>;
  /** Linear density of the yarn, tex (g/km), stated or from its weight class; and its origin. */
  readonly tex: number;
  readonly texOrigin: string;
  /** True where the plan states no gauge at all. */
  readonly assumed: boolean;
}

/** Size of a fabric beside stockinette of the same yarn and needle. */
export interface FabricRatio {
  /** Stitch width over stockinette's. */
  readonly width: number;
  /** Round height over this fabric's own stitch width. */
  readonly aspect: number;
  readonly origin: string;
}

/** Ratios for a stockinette of the given round height over stitch width (null: not known). */
export type FabricRatioSource = (
  stockinetteAspect: number | null,
) => Readonly<Record<'garter' | 'seed' | 'rib', FabricRatio>>;

/** Three stitches to four rows at picking up (docslib.org, entrelac knitting); published hand knits
 * range over 0.67–0.80, machine plain is 1/1.3 = 0.77. */
const STOCKINETTE_ASPECT = 0.75;

/** Without the yarn model: garter 0.50 (overtherainbowyarn.com; 20 sts × 40 rows square,
 * gettinghookedagain.blogspot.com), seed about 0.5 (docslib.org), widths as stockinette's. Rib as high
 * as stockinette and narrower by the 30 % by which 1×1 rib relaxes from its knitting width (leartex.com/rib-fabric). */
const PUBLISHED_RATIOS: FabricRatioSource = (stockinetteAspect) => ({
  garter: { width: 1, aspect: 0.5, origin: '1 stitch to 2 rounds (published for garter)' },
  seed: { width: 1, aspect: 0.5, origin: '1 stitch to 2 rounds (published for moss and seed)' },
  rib: {
    width: 0.7,
    aspect: (stockinetteAspect ?? STOCKINETTE_ASPECT) / 0.7,
    origin: '30 % narrower than stockinette (published for relaxed 1×1 rib)',
  },
});

/** A cable panel's own gauge is not a base fabric: it is stockinette, pulled in by its crossings. */
/** Origin of a figure that the plan itself gives. */
export const STATED = 'stated in the plan';

function baseOf(fabric: FabricName): BaseFabric {
  if (fabric === 'garter' || fabric === 'seed') return fabric;
  if (fabric === 'rib 1x1' || fabric === 'rib 2x2') return 'rib';
  return 'stockinette';
}

export function resolveGauge(
  plan: Plan,
  graph: StitchGraph,
  texture: Texture,
  ratioSource: FabricRatioSource = PUBLISHED_RATIOS,
  stiffnessSource: FabricStiffnessSource = EVEN_STIFFNESS,
): Gauge {
  const ground = fabricOf(graph, texture);
  const stated = new Map<BaseFabric, GaugeStatement>();
  for (const g of plan.gauges) {
    const base = baseOf(g.fabric ?? ground);
    if (!stated.has(base)) stated.set(base, g);
  }
  const assumed = stated.size === 0;
  const plain = stated.get('stockinette');
  const aspect = plain?.roundMm ? plain.roundMm / plain.stitchMm : null;
  const ratios = ratiosFor(ratioSource, aspect);
  const stockinetteMm = stockinetteWidthMm(plan, stated, baseOf(ground), ratios);
  const plainRoundMm = plain?.roundMm ?? stockinetteMm * STOCKINETTE_ASPECT;
  const sizeOf = (base: BaseFabric): FabricSize => {
    const ratio = ratios[base];
    const given = stated.get(base);
    const stitchMm = given?.stitchMm ?? stockinetteMm * ratio.width;
    // Rib keeps stockinette's round height; the others their own shape.
    const ownRoundMm = base === 'rib' ? plainRoundMm : stitchMm * ratio.aspect;
    const roundMm = given?.roundMm ?? ownRoundMm;
    const origin = given
      ? given.roundMm === null
        ? `stitches stated; ${ratio.origin}`
        : STATED
      : assumed && base === 'stockinette'
        ? 'assumed from the yarn weight'
        : ratio.origin;
    return { stitchMm, roundMm, origin };
  };
  const sizes = {
    stockinette: sizeOf('stockinette'),
    garter: sizeOf('garter'),
    rib: sizeOf('rib'),
    seed: sizeOf('seed'),
  };
  const density = linearDensity(plan, stockinetteMm);
  const stiffness = stiffnessSource(aspect);
  return { ground, groundSize: sizes[baseOf(ground)], sizes, stiffness, assumed, ...density };
}

function ratiosFor(
  source: FabricRatioSource,
  stockinetteAspect: number | null,
): Record<BaseFabric, FabricRatio> {
  return {
    ...source(stockinetteAspect),
    stockinette: {
      width: 1,
      aspect: stockinetteAspect ?? STOCKINETTE_ASPECT,
      origin: '3 stitches to 4 rounds (common practice)',
    },
  };
}

function stockinetteWidthMm(
  plan: Plan,
  stated: ReadonlyMap<BaseFabric, GaugeStatement>,
  ground: BaseFabric,
  ratios: Readonly<Record<BaseFabric, FabricRatio>>,
): number {
  for (const base of ['stockinette', ground, ...stated.keys()] as BaseFabric[]) {
    const given = stated.get(base);
    if (given) return given.stitchMm / ratios[base].width;
  }
  const weight = YARN_WEIGHTS[plan.yarn?.weight ?? MEDIUM];
  return 200 / (weight.stitchesMin + weight.stitchesMax);
}

function linearDensity(plan: Plan, stockinetteMm: number): { tex: number; texOrigin: string } {
  const yarn = plan.yarn;
  if (yarn?.tex) return { tex: yarn.tex, texOrigin: STATED };
  if (yarn?.ballGrams && yarn.ballMetres) {
    return { tex: (1000 * yarn.ballGrams) / yarn.ballMetres, texOrigin: 'from the ball band' };
  }
  const number = yarn?.weight ?? null;
  if (number !== null) {
    const w = YARN_WEIGHTS[number];
    return { tex: 1e5 / w.metresPer100g, texOrigin: `taken as ${w.name}, as the plan says` };
  }
  const w = weightOfGauge(100 / stockinetteMm);
  return { tex: 1e5 / w.metresPer100g, texOrigin: `taken as ${w.name}, by the gauge` };
}
