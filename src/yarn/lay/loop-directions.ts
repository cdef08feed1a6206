/**
 * Which way each loop lies on the sheet: one stitch along its yarn, and the normal towards the right side.
 * In: graph, cells, places of the loops as [3·loops]. Out: [3·loops].
 */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';

/** Beside a loop along the yarn, as far as this of the step on its other side or nearer. Chosen. */
const FAR_STEP = 1.5;

/**
 * One stitch along the yarn at each loop: half way from the loop before to the loop after. In the round
 * the yarn runs on from the last loop of a round to the first of the next.
 */
export function alongCourses(
  graph: StitchGraph,
  own: Float64Array,
  hidden: Uint8Array,
): Float64Array {
  const across = new Float64Array(own.length);
  const joined = (a: number, b: number) =>
    a >= 0 &&
    b < graph.loops &&
    (graph.course[a] === graph.course[b] ||
      (graph.closure === 'helix' && graph.held?.turned[graph.course[a]] !== 1));
  for (let i = 0; i < graph.loops; i++) {
    let before = joined(i - 1, i) ? i - 1 : i;
    let after = joined(i, i + 1) ? i + 1 : i;
    // The last stitch before a seam lies in the fabric, not on the fold.
    if (!hidden[i] && before < i && after > i) {
      if (hidden[before]) before = i;
      if (hidden[after]) after = i;
    }
    const steps = after - before;
    if (steps === 2) [before, after] = ringNeighbours(graph, own, i);
    for (let c = 0; c < 3; c++) {
      across[3 * i + c] = steps
        ? (own[3 * after + c] - own[3 * before + c]) / steps
        : c === 0
          ? 1
          : 0;
    }
  }
  return across;
}

/**
 * The loops beside loop i: before and after it along the yarn; but where the round ends far from where the
 * next one begins (decreases beside the jog), the other end of its own round.
 */
function ringNeighbours(graph: StitchGraph, own: Float64Array, i: number): [number, number] {
  // Short rows end anywhere.
  if (graph.held) return [i - 1, i + 1];
  const course = graph.course[i];
  const back = distanceOf(own, i - 1, i);
  const on = distanceOf(own, i, i + 1);
  if (graph.course[i + 1] !== course && on > FAR_STEP * back) return [i - 1, graph.start[course]];
  if (graph.course[i - 1] !== course && back > FAR_STEP * on) {
    return [graph.start[course + 1] - 1, i + 1];
  }
  return [i - 1, i + 1];
}

/** Area-weighted normals of the cells (fans of triangles) at the loops. */
export function vertexNormals(
  cells: Cells,
  positions: ArrayLike<number>,
  loops: number,
): Float64Array {
  const normal = new Float64Array(3 * Math.max(loops, cells.vertices));
  const add = (a: number, b: number, c: number) => {
    const ux = positions[3 * b] - positions[3 * a];
    const uy = positions[3 * b + 1] - positions[3 * a + 1];
    const uz = positions[3 * b + 2] - positions[3 * a + 2];
    const vx = positions[3 * c] - positions[3 * a];
    const vy = positions[3 * c + 1] - positions[3 * a + 1];
    const vz = positions[3 * c + 2] - positions[3 * a + 2];
    for (const i of [a, b, c]) {
      normal[3 * i] += uy * vz - uz * vy;
      normal[3 * i + 1] += uz * vx - ux * vz;
      normal[3 * i + 2] += ux * vy - uy * vx;
    }
  };
  for (let cell = 0; cell + 1 < cells.cellStart.length; cell++) {
    const from = cells.cellStart[cell];
    for (let k = from + 1; k + 1 < cells.cellStart[cell + 1]; k++) {
      add(cells.corners[from], cells.corners[k], cells.corners[k + 1]);
    }
  }
  for (let i = 0; i < normal.length / 3; i++) {
    const size = Math.hypot(normal[3 * i], normal[3 * i + 1], normal[3 * i + 2]);
    if (size > 0) for (let c = 0; c < 3; c++) normal[3 * i + c] /= size;
    else normal[3 * i + 2] = 1;
  }
  return normal.slice(0, 3 * loops);
}

export function dotOf(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return a[3 * i] * b[3 * j] + a[3 * i + 1] * b[3 * j + 1] + a[3 * i + 2] * b[3 * j + 2];
}

function distanceOf(points: Float64Array, a: number, b: number): number {
  return Math.hypot(
    points[3 * b] - points[3 * a],
    points[3 * b + 1] - points[3 * a + 1],
    points[3 * b + 2] - points[3 * a + 2],
  );
}

export function lengthOf(a: Float64Array, i: number): number {
  return Math.sqrt(dotOf(a, i, a, i));
}
