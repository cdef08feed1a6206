/**
 * The Gauge: stitch width and round height of each kind of fabric, mm, with where each comes from.
 * What the plan states is taken as stated; the rest follows from it by published ratios.
 */
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { FabricName, Plan } from '../plan/plan.ts';
import { fabricOf, type Texture } from './texture.ts';
import { YARN_WEIGHTS } from './yarn-weights.ts';

/** The fabrics whose sizes span all others (see `texture.ts`). */
export type BaseFabric = 'stockinette' | 'garter' | 'rib' | 'seed';

export interface FabricSize {
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Where the figures come from, in words for the report. */
  readonly origin: string;
}

export interface Gauge {
  /** The fabric that most of the piece is made of. */
  readonly ground: FabricName;
  readonly groundSize: FabricSize;
  readonly sizes: Readonly<Record<BaseFabric, FabricSize>>;
  /** Linear density of the yarn, tex (g/km), stated or from its weight class; and its origin. */
  readonly tex: number;
  readonly texOrigin: string;
  /** True where the plan states no gauge at all. */
  readonly assumed: boolean;
}

interface Ratio {
  /** Stitch width as a multiple of the stockinette stitch of the same yarn and needle. */
  readonly width: number;
  /** Round height / stitch width of this fabric. */
  readonly aspect: number;
  readonly origin: string;
}

/**
 * Ratios where the plan states no gauge for a fabric.
 * Stockinette 0.75: three stitches to four rows at picking up (docslib.org, entrelac knitting; the
 * published range of hand knits is 0.67–0.80, machine plain 1/1.3 = 0.77).
 * Garter 0.50 a row: overtherainbowyarn.com, gettinghookedagain.blogspot.com (20 sts × 40 rows square).
 * Seed about 0.5, "similar to garter": docslib.org, entrelac knitting.
 * Rib: no measured figure was found; 25 % narrower is from memory for a rib laid out unstretched and
 * blocked (a relaxed rib is 30–50 % narrower), with stockinette's round height.
 */
const RATIOS: Readonly<Record<BaseFabric, Ratio>> = {
  stockinette: { width: 1, aspect: 0.75, origin: '3 stitches to 4 rounds (common practice)' },
  garter: { width: 1, aspect: 0.5, origin: '1 stitch to 2 rounds (published for garter)' },
  rib: { width: 0.75, aspect: 1, origin: 'a quarter narrower than stockinette (from memory)' },
  seed: { width: 1, aspect: 0.5, origin: '1 stitch to 2 rounds (published for moss and seed)' },
};

/** A cable panel's own gauge is not a base fabric: it is stockinette, pulled in by its crossings. */
function baseOf(fabric: FabricName): BaseFabric {
  if (fabric === 'garter' || fabric === 'seed') return fabric;
  if (fabric === 'rib 1x1' || fabric === 'rib 2x2') return 'rib';
  return 'stockinette';
}

export function resolveGauge(plan: Plan, graph: StitchGraph, texture: Texture): Gauge {
  const ground = fabricOf(graph, texture);
  const stated = new Map<BaseFabric, FabricSize>();
  for (const g of plan.gauges) {
    const base = baseOf(g.fabric ?? ground);
    if (stated.has(base)) continue;
    const aspect = RATIOS[base].aspect;
    stated.set(base, {
      stitchMm: g.stitchMm,
      roundMm: g.roundMm ?? g.stitchMm * aspect,
      origin: g.roundMm === null ? `stitches stated; ${RATIOS[base].origin}` : 'stated in the plan',
    });
  }
  const assumed = stated.size === 0;
  const stockinetteMm = stockinetteWidthMm(plan, stated, ground);
  const heightRatio = (stated.get('stockinette')?.roundMm ?? 0.75 * stockinetteMm) / stockinetteMm;
  const sizeOf = (base: BaseFabric): FabricSize => {
    const given = stated.get(base);
    if (given) return given;
    const stitchMm = stockinetteMm * RATIOS[base].width;
    // Rib keeps stockinette's round height; the others keep their own published aspect.
    const roundMm = base === 'rib' ? heightRatio * stockinetteMm : stitchMm * RATIOS[base].aspect;
    return {
      stitchMm,
      roundMm,
      origin: assumed ? 'assumed from the yarn weight' : RATIOS[base].origin,
    };
  };
  const sizes = {
    stockinette: sizeOf('stockinette'),
    garter: sizeOf('garter'),
    rib: sizeOf('rib'),
    seed: sizeOf('seed'),
  };
  const density = linearDensity(plan, stockinetteMm);
  return { ground, groundSize: sizes[baseOf(ground)], sizes, assumed, ...density };
}

function stockinetteWidthMm(
  plan: Plan,
  stated: Map<BaseFabric, FabricSize>,
  ground: FabricName,
): number {
  const direct = stated.get('stockinette') ?? null;
  if (direct) return direct.stitchMm;
  const own = stated.get(baseOf(ground)) ?? null;
  if (own) return own.stitchMm / RATIOS[baseOf(ground)].width;
  for (const [base, size] of stated) return size.stitchMm / RATIOS[base].width;
  const weight = YARN_WEIGHTS[plan.yarn?.weight ?? 4];
  return 200 / (weight.stitchesMin + weight.stitchesMax);
}

function linearDensity(plan: Plan, stockinetteMm: number): { tex: number; texOrigin: string } {
  const yarn = plan.yarn;
  if (yarn?.tex) return { tex: yarn.tex, texOrigin: 'stated in the plan' };
  if (yarn?.ballGrams && yarn.ballMetres) {
    return { tex: (1000 * yarn.ballGrams) / yarn.ballMetres, texOrigin: 'from the ball band' };
  }
  const number = yarn?.weight ?? null;
  if (number !== null) {
    const w = YARN_WEIGHTS[number];
    return { tex: 1e5 / w.metresPer100g, texOrigin: `typical of ${w.name} yarn` };
  }
  const per10cm = 100 / stockinetteMm;
  let best = YARN_WEIGHTS[0];
  for (const w of YARN_WEIGHTS) if (per10cm <= w.stitchesMax + 0.5) best = w;
  return { tex: 1e5 / best.metresPer100g, texOrigin: `typical of ${best.name} yarn, by the gauge` };
}
