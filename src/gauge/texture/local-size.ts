/**
 * Width and height of every stitch from the kind of its neighbourhood, mm: blended between the base
 * fabrics, narrowed where a cable pulls in. Round heights are shared along the course, since the
 * loops of a course lend each other yarn; the stiffer ones give way less.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { Gauge } from '../gauge/gauge.ts';
import type { Rings } from '../layout/rings.ts';
import { type CableFactorSource, cableWidths } from './cable-width.ts';
import type { Texture } from './texture.ts';

export interface LocalSize {
  /** [ids of Rings] stitch width along the course, mm. */
  readonly stitchMm: Float64Array;
  /** [ids of Rings] round height, mm. */
  readonly roundMm: Float64Array;
  /** [courses] round height at which the course's wales balance, mm; the height of course c above course c − 1.
   * Of a short row the mean over the whole needle: nothing where it was not worked. */
  readonly courseMm: Float64Array;
  /** [ids of Rings] width that a crossing takes from the stitch, mm. */
  readonly pulledInMm: Float64Array;
  /** [ids of Rings] stiffness along the course and along the wale, over that of stockinette. */
  readonly courseStiffness: Float64Array;
  readonly waleStiffness: Float64Array;
}

/** Half-width, in stitches, over which neighbours share their round height. Chosen. */
const LENDING = 4;

export function measureLocally(
  graph: StitchGraph,
  rings: Rings,
  texture: Texture,
  gauge: Gauge,
  cableFactor?: CableFactorSource,
): LocalSize {
  const n = rings.ids.length;
  const { stockinette, garter, rib, seed } = gauge.sizes;
  const stiff = gauge.stiffness;
  const stitchMm = new Float64Array(n);
  const raw = new Float64Array(n);
  const courseStiffness = new Float64Array(n);
  const waleStiffness = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const a = texture.along[i];
    const u = texture.up[i];
    const s = (1 - a) * (1 - u);
    const g = (1 - a) * u;
    const r = a * (1 - u);
    const d = a * u;
    stitchMm[i] =
      s * stockinette.stitchMm + g * garter.stitchMm + r * rib.stitchMm + d * seed.stitchMm;
    raw[i] = s * stockinette.roundMm + g * garter.roundMm + r * rib.roundMm + d * seed.roundMm;
    for (const way of ['course', 'wale'] as const) {
      const own =
        s * stiff.stockinette[way] +
        g * stiff.garter[way] +
        r * stiff.rib[way] +
        d * stiff.seed[way];
      (way === 'course' ? courseStiffness : waleStiffness)[i] = own;
    }
  }
  const cables = cableWidths(graph, rings, cableFactor);
  const pulledInMm = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    pulledInMm[i] = stitchMm[i] * (1 - cables[i]);
    stitchMm[i] -= pulledInMm[i];
  }
  const roundMm = share(rings, raw, waleStiffness);
  const courseMm = new Float64Array(rings.courses);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    let weights = 0;
    for (let j = 0; j < size; j++) {
      const worked = rings.home[first + j] === first + j;
      if (worked) courseMm[c] += waleStiffness[first + j] * roundMm[first + j];
      weights += waleStiffness[first + j];
    }
    if (size > 0) courseMm[c] /= weights;
  }
  return { stitchMm, roundMm, courseMm, pulledInMm, courseStiffness, waleStiffness };
}

/** Running mean along the course over ± LENDING stitches: stiff wales have their way with soft ones. */
function share(rings: Rings, values: Float64Array, weights: Float64Array): Float64Array {
  const out = new Float64Array(values.length);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    const reach = Math.min(LENDING, (size - 1) >> 1);
    for (let j = 0; j < size; j++) {
      let sum = 0;
      let count = 0;
      for (let d = -reach; d <= reach; d++) {
        const k = rings.closed ? (j + d + size) % size : j + d;
        if (k < 0 || k >= size) continue;
        sum += weights[first + k] * values[first + k];
        count += weights[first + k];
      }
      out[first + j] = sum / count;
    }
  }
  return out;
}
