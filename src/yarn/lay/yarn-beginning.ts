/**
 * What happens to the first loops of work that begins at its centre: the tail runs once round through their
 * feet and draws them together, as a ring does, or the tail woven through a cast-on edge.
 *
 * In: graph, cells, sheet [3·vertices] mm, the loops' places. Out: `down` of the first loops, changed in place, and
 * the points of the tail, which lead to the first loop, with the loop each belongs to.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { LoopPlaces } from './loop-places.ts';
import type { LoopFrame } from './loop-shape.ts';

/** Length of tail that a foot takes, diameters: its two legs beside one another. Chosen. */
const FOOT = 2;
/** How near to the centre feet come, share of their loops' distance. Chosen. */
const NEAREST = 0.1;
/** Where the tail runs, from the bottom of a foot up, share of the way to its loop: above the sinkers. */
const TAIL_ABOVE_FOOT = 0.35;
/** How far the tail lies before and behind the feet by turns, diameters: they are two crossed legs thick. */
const BESIDE_LEGS = 1.7;

/** The loops that the tail draws together, in working order; none where the work begins at its rim. */
function firstLoops(graph: StitchGraph, cells: Cells): number[] {
  if (cells.apex < 0 || cells.centre !== 'cast-on') return [];
  const loops: number[] = [];
  for (let i = graph.start[0]; i < graph.start[1]; i++) if (cells.inSurface[i]) loops.push(i);
  return loops;
}

/** Brings the feet of the first loops as near to the centre as their yarn leaves room. */
export function drawTogether(
  graph: StitchGraph,
  cells: Cells,
  positions: ArrayLike<number>,
  diameter: number,
  places: LoopPlaces,
): void {
  const loops = firstLoops(graph, cells);
  const apex = 3 * cells.apex;
  const tail = (loops.length * FOOT * diameter) / (2 * Math.PI);
  for (const i of loops) {
    let away = 0;
    for (let c = 0; c < 3; c++) away += (positions[apex + c] - places.own[3 * i + c]) ** 2;
    away = Math.sqrt(away);
    if (!(away > 0)) continue;
    const near = (tail / away - TAIL_ABOVE_FOOT) / (1 - TAIL_ABOVE_FOOT);
    const share = Math.min(Math.max(near, NEAREST), 1);
    for (let c = 0; c < 3; c++) {
      const own = places.own[3 * i + c];
      places.down[3 * i + c] = own + (1 - share) * (positions[apex + c] - own);
    }
  }
}

/** [3·points] the tail, from its end to the first loop, `segments` / 2 a foot. */
export function traceBeginning(
  graph: StitchGraph,
  cells: Cells,
  frames: readonly LoopFrame[],
  diameter: number,
  segments: number,
): { readonly points: Float64Array; readonly loop: Int32Array } {
  const loops = firstLoops(graph, cells);
  const half = segments / 2;
  const points = new Float64Array(3 * loops.length * half);
  const loop = new Int32Array(loops.length * half);
  /** Above the sinker before loop k, and in the middle of its foot. */
  const between = (k: number, out: Float64Array) => {
    const on = frames[loops[k % loops.length]];
    const back = frames[loops[(k + loops.length - 1) % loops.length]];
    for (let c = 0; c < 3; c++) {
      const foot = (on.down[c] + back.down[c]) / 2;
      out[c] = foot + TAIL_ABOVE_FOOT * ((on.own[c] + back.own[c]) / 2 - foot);
    }
  };
  const from = new Float64Array(3);
  const to = new Float64Array(3);
  loops.forEach((i, k) => {
    const { down, own, normal } = frames[i];
    between(k, from);
    between(k + 1, to);
    const side = k % 2 === 0 ? -BESIDE_LEGS : BESIDE_LEGS;
    for (let s = 0; s < half; s++) {
      const g = s / half;
      const bow = Math.sin(Math.PI * g);
      for (let c = 0; c < 3; c++) {
        const straight = from[c] + g * (to[c] - from[c]);
        const middle = down[c] + TAIL_ABOVE_FOOT * (own[c] - down[c]);
        const outward = middle - (from[c] + to[c]) / 2;
        points[3 * (k * half + s) + c] = straight + bow * (outward + side * diameter * normal[c]);
      }
      loop[k * half + s] = i;
    }
  });
  return { points, loop };
}
