/**
 * What happens to the last loops: bound off in a chain, drawn up on the yarn's end, or left live.
 *
 * Input: the frames of the last course. Output: the points that continue the strand after the last loop,
 * and the loop each belongs to. Bound off: each chain loop is drawn through a live loop and the chain
 * loop before, which is passed over it. Drawn up: the yarn runs through the heads of all live loops.
 */
import { courseCount, loopAt, type StitchGraph } from '../../fabric/stitch-graph.ts';
import { THREAD_BELOW_TOP } from './drawn-heads.ts';
import type { LoopKin } from './loop-links.ts';
import type { LoopPlaces } from './loop-places.ts';
import { type LoopFrame, makeLoopFrame, traceQuarters } from './loop-shape.ts';

export interface TracedEnding {
  readonly points: Float64Array;
  readonly loop: Int32Array;
}

/** Loops of the last course in the order in which they are closed. */
function closingOrder(graph: StitchGraph, kin: LoopKin): number[] {
  const order: number[] = [];
  const last = graph.courses - 1;
  for (let at = 0; at < courseCount(graph, last); at++) {
    const i = loopAt(graph, last, at);
    if (kin.childStart[i + 1] === kin.childStart[i]) order.push(i);
  }
  // Flat work turns: the edge that the yarn came to is closed first.
  if (graph.closure !== 'helix' && !graph.wrongSide[last]) order.reverse();
  return order;
}

export function traceEnding(
  graph: StitchGraph,
  kin: LoopKin,
  places: LoopPlaces,
  frames: readonly LoopFrame[],
  diameter: number,
  segments: number,
): TracedEnding {
  const order = graph.ending === 'live' ? [] : closingOrder(graph, kin);
  if (order.length === 0) return { points: new Float64Array(0), loop: new Int32Array(0) };
  return graph.ending === 'bound-off'
    ? traceChain(order, places, frames, segments)
    : traceDrawn(order, places, frames, diameter, segments);
}

/** How far a chain loop stands above the live loop it is drawn through, of that loop's half height. */
const CHAIN_RISE = 0.75;

function traceChain(
  order: readonly number[],
  places: LoopPlaces,
  live: readonly LoopFrame[],
  segments: number,
): TracedEnding {
  const count = order.length;
  const flip = direction(order, places);
  const frames = order.map((i): LoopFrame => {
    const f = makeLoopFrame();
    const below = live[i];
    for (let c = 0; c < 3; c++) {
      const rise = below.up[c] - below.own[c];
      f.down[c] = below.own[c];
      f.own[c] = below.own[c] + CHAIN_RISE * rise;
      f.across[c] = flip * below.across[c];
      f.normal[c] = below.normal[c];
      f.headNormal[c] = below.normal[c];
      // The head lies on its side, towards the next chain loop.
      f.headAcross[c] = -1.2 * rise;
    }
    f.depth = below.depth;
    f.diameter = below.diameter;
    f.sigmaLow = below.sigmaUp;
    f.sigmaUp = below.sigmaUp;
    f.travel = 0.9;
    f.headLayer = below.diameter;
    return f;
  });
  frames.forEach((f, k) => {
    const next = frames[k + 1];
    for (let c = 0; c < 3; c++) {
      f.up[c] = next ? next.own[c] - 0.1 * f.across[c] : f.own[c] + 0.8 * f.across[c];
      const back = k > 0 ? frames[k - 1].down[c] : f.down[c] - f.across[c];
      const on = next ? next.down[c] : f.down[c] + f.across[c];
      f.sinkerIn[c] = (f.down[c] + back) / 2;
      f.sinkerOut[c] = (f.down[c] + on) / 2;
      f.normalIn[c] = f.normal[c];
      f.normalOut[c] = f.normal[c];
    }
    f.sigmaIn = f.sigmaOut = f.sigmaLow;
  });
  const points = new Float64Array(3 * count * segments);
  const loop = new Int32Array(count * segments);
  frames.forEach((f, k) => {
    points.set(traceQuarters(f, segments).subarray(0, 3 * segments), 3 * k * segments);
    loop.fill(order[k], k * segments, (k + 1) * segments);
  });
  return { points, loop };
}

/** +1 where the loops are closed in the direction their own yarn runs, −1 against it. */
function direction(order: readonly number[], places: LoopPlaces): number {
  return order.length > 1 && order[1] < order[0] && places.across.length > 0 ? -1 : 1;
}

function traceDrawn(
  order: readonly number[],
  places: LoopPlaces,
  live: readonly LoopFrame[],
  diameter: number,
  segments: number,
): TracedEnding {
  const half = segments / 2;
  const points = new Float64Array(3 * order.length * half);
  const loop = new Int32Array(order.length * half);
  const flip = direction(order, places);
  // The head's room lies just below its top.
  const inside = order.map((i) => {
    const { up, own } = live[i];
    return up.map((top, c) => top - THREAD_BELOW_TOP * (top - own[c]));
  });
  const next = (k: number) => inside[(k + order.length) % order.length];
  order.forEach((i, k) => {
    const f = live[i];
    // A flat head is threaded from one face to the other, one edge-on straight through.
    const turned = places.edgeOn[i] === 1;
    const wave = turned ? 0 : f.depth + 0.8 * diameter;
    const lift = turned ? 0 : -f.sigmaUp * f.depth;
    for (let s = 0; s < half; s++) {
      const g = s / half - 0.5;
      const z = wave * Math.sin(2 * Math.PI * g) + lift;
      for (let c = 0; c < 3; c++) {
        const along = turned ? (next(k + 1)[c] - next(k - 1)[c]) / 2 : flip * f.headAcross[c];
        points[3 * (k * half + s) + c] = inside[k][c] + 0.8 * g * along + z * f.normal[c];
      }
      loop[k * half + s] = i;
    }
  });
  return { points, loop };
}
