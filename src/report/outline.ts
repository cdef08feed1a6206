/**
 * The outline of the relaxed piece as it lies: its widest course seen from above, and how wide it is.
 * In: StitchGraph and positions, [3·vertices] mm, the sheet's normal along z. Out: points turned so that the
 * narrowest width stands upright; lengths mm.
 */
import { courseCount, FLAG_SEAM, loopAt, type StitchGraph } from '../fabric/stitch-graph.ts';

export interface Outline {
  /** [2·points] x, y round the rim in working order, mm, about the middle. */
  readonly points: Float64Array;
  /** [2·courses] where every course begins: the line along which rounds change, or the seam runs. */
  readonly starts: Float64Array;
  /** Narrowest and widest extent: of a square from side to side and from corner to corner. */
  readonly acrossMm: number;
  readonly cornersMm: number;
  /** Extents of `points`: along and across the narrowest width. */
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Directions tried in half a turn. Chosen: a degree apart. */
const DIRECTIONS = 180;

export function measureOutline(graph: StitchGraph, positions: Float64Array): Outline {
  let rim = 0;
  for (let c = 1; c < graph.courses; c++)
    if (courseCount(graph, c) > courseCount(graph, rim)) rim = c;
  const rimLoops = loopsOf(graph, rim);
  let [x, y] = [0, 0];
  for (const loop of rimLoops) {
    x += positions[3 * loop] / rimLoops.length;
    y += positions[3 * loop + 1] / rimLoops.length;
  }
  let [acrossMm, cornersMm, upright] = [Infinity, 0, 0];
  for (let d = 0; d < DIRECTIONS; d++) {
    const angle = (d * Math.PI) / DIRECTIONS;
    const wide = extent(rimLoops, positions, angle);
    if (wide < acrossMm) {
      acrossMm = wide;
      upright = angle;
    }
    cornersMm = Math.max(cornersMm, wide);
  }
  const turn = Math.PI / 2 - upright;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const placed = (loops: readonly number[]) =>
    Float64Array.from(
      loops.flatMap((loop) => {
        const [dx, dy] = [positions[3 * loop] - x, positions[3 * loop + 1] - y];
        return [cos * dx - sin * dy, sin * dx + cos * dy];
      }),
    );
  const firsts: number[] = [];
  for (let c = 0; c < graph.courses; c++) {
    const [first] = loopsOf(graph, c);
    if (first !== undefined) firsts.push(first);
  }
  const widthMm = extent(rimLoops, positions, upright + Math.PI / 2);
  return {
    points: placed(rimLoops),
    starts: placed(firsts),
    acrossMm,
    cornersMm,
    widthMm,
    heightMm: acrossMm,
  };
}

function extent(loops: readonly number[], positions: Float64Array, angle: number): number {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  let [low, high] = [Infinity, -Infinity];
  for (const loop of loops) {
    const along = cos * positions[3 * loop] + sin * positions[3 * loop + 1];
    low = Math.min(low, along);
    high = Math.max(high, along);
  }
  return high - low;
}

function loopsOf(graph: StitchGraph, course: number): number[] {
  const loops: number[] = [];
  for (let p = 0; p < courseCount(graph, course); p++) {
    const loop = loopAt(graph, course, p);
    if (!(graph.flags[loop] & FLAG_SEAM)) loops.push(loop);
  }
  return loops;
}
