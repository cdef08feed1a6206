/**
 * Reads the fabric off the loops: how often neighbours change face along the course (rib) and up
 * the wale (garter). The two fractions place every loop between stockinette (0, 0), garter (0, 1),
 * rib (1, 0) and seed (1, 1), whatever the plan calls it.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { FabricName } from '../../plan/plan.ts';
import { type Rings, waleLinks } from '../layout/rings.ts';
import { calmed, disturbedLoops } from './disturbed-texture.ts';

export interface Texture {
  /** [ids of Rings] 0 … 1: share of change along the course; 2×2 rib and narrower count as 1. */
  readonly along: Float64Array;
  /** [ids of Rings] 0 … 1: share of change up the wale. */
  readonly up: Float64Array;
}

export function readTexture(graph: StitchGraph, rings: Rings): Texture {
  const n = rings.ids.length;
  const along = new Float64Array(n);
  const up = new Float64Array(n);
  const upCount = new Float64Array(n);
  const faces = groundFaces(graph, rings);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    for (let j = 0; j < size; j++) {
      const face = faces[first + j];
      let differ = 0;
      for (const d of [-1, 1]) {
        const k = rings.closed ? (j + d + size) % size : j + d;
        if (k < 0 || k >= size) continue;
        if (faces[first + k] !== face) differ++;
      }
      // One change of two neighbours is already the edge of a two-stitch rib.
      along[first + j] = Math.min(1, differ);
      if (c < 2) continue;
      for (let k = rings.downStart[first + j]; k < rings.downStart[first + j + 1]; k++) {
        const below = rings.home[rings.down[k]];
        if (face === 0 || faces[below] === 0 || below === rings.home[first + j]) continue;
        const change = faces[below] !== face ? 1 : 0;
        up[first + j] += change;
        up[below] += change;
        upCount[first + j]++;
        upCount[below]++;
      }
    }
  }
  for (let i = 0; i < n; i++) {
    if (upCount[i] > 0) up[i] /= upCount[i];
    else if (rings.downStart[i + 1] > rings.downStart[i])
      up[i] = up[rings.down[rings.downStart[i]]];
  }
  // A loop that waits is the same all the while.
  for (let i = 0; i < n; i++) up[i] = up[rings.home[i]];
  // Cast-on loops have no face of their own: they take after the round drawn through them.
  for (let flat = rings.start[1] ?? 0; flat < (rings.start[2] ?? 0); flat++) {
    for (let k = rings.downStart[flat]; k < rings.downStart[flat + 1]; k++) {
      along[rings.down[k]] = along[flat];
      up[rings.down[k]] = up[flat];
    }
  }
  const disturbed = disturbedLoops(rings);
  const ridged = calmed(rings, banded(rings, broad(rings, up)), disturbed);
  const ribbed = lasting(rings, along);
  const calm = calmed(rings, ribbed, disturbed);
  // In seed the shaping breaks the pattern; beside a ribbed panel it stands in the plain ground.
  for (let i = 0; i < n; i++) ribbed[i] += ridged[i] * (calm[i] - ribbed[i]);
  return { along: blur(rings, ribbed), up: blur(rings, ridged) };
}

/**
 * [ids] face of each loop, where a decrease or increase takes after the nearest plain stitch of its
 * course: a knit decrease in a purl round does not change the fabric around it. 0 where a course
 * has no plain stitch.
 */
function groundFaces(graph: StitchGraph, rings: Rings): Int8Array {
  const faces = new Int8Array(rings.ids.length);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    for (let j = 0; j < size; j++) {
      if (rings.loss[first + j] === 0) {
        faces[first + j] = graph.face[rings.ids[first + j]];
        continue;
      }
      faces[first + j] = faceAround(graph, rings, first, size, j);
    }
  }
  return faces;
}

/** How many plain stitches around a decrease or increase decide its ground. Chosen. */
const AROUND = 6;

/** Majority face of the nearest plain stitches of the course, +1 or −1; 0 if there are none. */
function faceAround(
  graph: StitchGraph,
  rings: Rings,
  first: number,
  size: number,
  j: number,
): -1 | 0 | 1 {
  let sum = 0;
  let count = 0;
  for (let d = 1; d <= size && count < AROUND; d++) {
    for (const k of [j - d, j + d]) {
      const at = rings.closed ? (k + 2 * size) % size : k;
      if (at < 0 || at >= size || rings.loss[first + at] !== 0) continue;
      sum += graph.face[rings.ids[first + at]];
      count++;
    }
  }
  return Math.sign(sum) as -1 | 0 | 1;
}

/**
 * A change along the course counts where the course above or below has it too: columns that keep
 * changing make a rib; a knit column in garter changes in every second course only.
 */
function lasting(rings: Rings, values: Float64Array): Float64Array {
  const out = values.slice();
  const n = values.length;
  const below = new Float64Array(n);
  const above = new Float64Array(n);
  for (let flat = 0; flat < n; flat++) {
    if (rings.downStart[flat + 1] === rings.downStart[flat]) continue;
    const under = rings.down[rings.downStart[flat]];
    below[flat] = values[under];
    above[under] = values[flat];
  }
  for (let flat = 0; flat < n; flat++) {
    out[flat] = Math.min(values[flat], Math.max(below[flat], above[flat]));
  }
  return out;
}

/**
 * Middle value of the five loops around each: a column of one or two stitches (a knit corner stitch
 * in garter) is held to the round height of the fabric on either side of it.
 */
function broad(rings: Rings, values: Float64Array): Float64Array {
  const out = values.slice();
  const five = new Float64Array(5);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    if (size < 5) continue;
    for (let j = 0; j < size; j++) {
      for (let d = -2; d <= 2; d++) {
        const k = rings.closed ? (j + d + size) % size : Math.min(Math.max(j + d, 0), size - 1);
        five[d + 2] = values[first + k];
      }
      five.sort();
      out[first + j] = five[2];
    }
  }
  return out;
}

/** Mean with the two neighbours in the course, weights ¼ ½ ¼: a fabric has no sharp edge. */
function blur(rings: Rings, values: Float64Array): Float64Array {
  const out = values.slice();
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    for (let j = 0; j < size; j++) {
      const left = rings.closed ? (j + size - 1) % size : Math.max(j - 1, 0);
      const right = rings.closed ? (j + 1) % size : Math.min(j + 1, size - 1);
      out[first + j] =
        0.5 * values[first + j] + 0.25 * (values[first + left] + values[first + right]);
    }
  }
  return out;
}

/** Courses on either side that a loop's fabric is read over. Chosen: bands narrower than this many
 * courses (a knit round after the cast-on of a garter square) take after the fabric around them. */
const BAND = 3;

/** Middle value of the loops in the wale, BAND courses up and down (shifted inwards at the ends). */
function banded(rings: Rings, values: Float64Array): Float64Array {
  const { up, down } = waleLinks(rings);
  const out = values.slice();
  const window = new Float64Array(2 * BAND + 1);
  for (let flat = 0; flat < values.length; flat++) {
    let count = 0;
    window[count++] = values[flat];
    let low = down[flat];
    let high = up[flat];
    while (count < window.length && (low >= 0 || high >= 0)) {
      if (low >= 0) {
        window[count++] = values[low];
        low = down[low];
      }
      if (high >= 0 && count < window.length) {
        window[count++] = values[high];
        high = up[high];
      }
    }
    const sorted = window.subarray(0, count).slice().sort();
    out[flat] = (sorted[(count - 1) >> 1] + sorted[count >> 1]) / 2;
  }
  return out;
}

/** The fabric that most of the piece is made of. */
export function fabricOf(graph: StitchGraph, texture: Texture): FabricName {
  const n = texture.along.length;
  let along = 0;
  let up = 0;
  let face = 0;
  for (let i = 0; i < n; i++) {
    along += texture.along[i];
    up += texture.up[i];
  }
  for (let i = 0; i < graph.loops; i++) face += graph.face[i];
  along /= n;
  up /= n;
  if (up > 0.5) return along > 0.5 ? 'seed' : 'garter';
  if (along > 0.5) return ribWidth(graph) > 1.5 ? 'rib 2x2' : 'rib 1x1';
  return face < 0 ? 'reverse' : 'stockinette';
}

/** Mean run of like faces along the courses. */
function ribWidth(graph: StitchGraph): number {
  let changes = 1;
  for (let i = 1; i < graph.loops; i++) if (graph.face[i] !== graph.face[i - 1]) changes++;
  return graph.loops / changes;
}
