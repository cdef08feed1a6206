/**
 * Keeps shaping out of the reading of the fabric: around decreases and increases the columns are cut
 * short, so that seed or rib looks broken there. Those loops take after the undisturbed fabric beside
 * them in the course, else after the wider course next to theirs.
 */
import { type Rings, ringSize, waleLinks } from '../layout/rings.ts';

/** Loops this near to a shaping stitch, along the course and up the wale, are disturbed. Chosen. */
const NEAR = 2;

/** [ids] 1 where shaping disturbs the fabric. */
export function disturbedLoops(rings: Rings): Uint8Array {
  const marked = new Uint8Array(rings.ids.length);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = ringSize(rings, c);
    for (let j = 0; j < size; j++) {
      if (rings.loss[first + j] === 0) continue;
      for (let d = -NEAR; d <= NEAR; d++) {
        const k = rings.closed ? (j + d + size * NEAR) % size : j + d;
        if (k >= 0 && k < size) marked[first + k] = 1;
      }
    }
  }
  const { up, down } = waleLinks(rings);
  const spread = marked.slice();
  for (let flat = 0; flat < marked.length; flat++) {
    if (!marked[flat]) continue;
    for (const link of [up, down]) {
      let at = flat;
      for (let d = 0; d < NEAR && at >= 0; d++) {
        spread[at] = 1;
        at = link[at];
      }
      if (at >= 0) spread[at] = 1;
    }
  }
  return spread;
}

/** [ids] the values with the disturbed loops' replaced. */
export function calmed(rings: Rings, values: Float64Array, disturbed: Uint8Array): Float64Array {
  const out = values.slice();
  const { courses } = rings;
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  let wider = Number.NaN;
  for (let i = 0; i < courses; i++) {
    const c = outsideIn ? i : courses - 1 - i;
    const first = rings.start[c];
    const size = ringSize(rings, c);
    let sum = 0;
    for (let j = 0; j < size; j++) {
      if (disturbed[first + j]) {
        const near = nearestCalm(rings, values, disturbed, first, size, j);
        out[first + j] = Number.isNaN(near)
          ? Number.isNaN(wider)
            ? values[first + j]
            : wider
          : near;
      }
      sum += out[first + j];
    }
    if (size > 0) wider = sum / size;
  }
  return out;
}

/** Mean of the nearest undisturbed values on either side; NaN if the course has none. */
function nearestCalm(
  rings: Rings,
  values: Float64Array,
  disturbed: Uint8Array,
  first: number,
  size: number,
  j: number,
): number {
  let sum = 0;
  let count = 0;
  for (const step of [-1, 1]) {
    for (let d = 1; d < size; d++) {
      const k = rings.closed ? (((j + step * d) % size) + size) % size : j + step * d;
      if (k < 0 || k >= size) break;
      if (disturbed[first + k]) continue;
      sum += values[first + k] / d;
      count += 1 / d;
      break;
    }
  }
  return count > 0 ? sum / count : Number.NaN;
}
