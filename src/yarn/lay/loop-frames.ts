/**
 * How each loop lies: one LoopFrame a loop, in yarn order, with what it shares with its neighbours along the yarn.
 * In: the graph, what hangs in what, where loops stand (loop-places.ts), lengths in mm. Out: frames for loop-shape.ts.
 */
import {
  FLAG_FLOAT_IN_FRONT,
  FLAG_SLIPPED,
  FLAG_YARN_OVER,
  type StitchGraph,
} from '../../fabric/stitch-graph.ts';
import { crossingLayer, stackOrder } from './loop-layers.ts';
import type { LoopKin } from './loop-links.ts';
import type { LoopPlaces } from './loop-places.ts';
import { type LoopFrame, makeLoopFrame } from './loop-shape.ts';

/** How far heads and sinkers reach towards the neighbouring courses: room for the yarn between. Chosen. */
const REACH = 0.93;
/** Shift of a cable's legs where they cross, beyond that of their loops (loop-places.ts). Chosen. */
const TRAVEL_DEPTH = 1;
/** How far above the legs yarn crosses the head that it comes through, shares of the way down. Chosen. */
const OVER_HEAD = 0.4;
/** How far legs rise over heads that lie on one another, shares of their depth. Chosen. */
const OVER_HEADS = 0.8;
/** How far outside the edge the yarn turns, half stitches. Chosen: with 0.3 a foot at a
 * slanting edge turns back through its own head. */
const TURN_OUT = 0.45;
/** Legs of gathered loops travel in this share of their upper half, below the foot they meet. Chosen. */
const GATHERED_TRAVEL = 0.6;

export interface FrameSizes {
  /** How far loops bow out of the sheet, and the yarn's thickness, mm. */
  readonly depth: number;
  readonly diameter: number;
}

/** One LoopFrame a loop, in yarn order. */
export function buildFrames(
  graph: StitchGraph,
  kin: LoopKin,
  places: LoopPlaces,
  sizes: FrameSizes,
): LoopFrame[] {
  const builder = new FrameBuilder(graph, kin, places, sizes);
  const frames = Array.from({ length: graph.loops }, (_, i) => builder.frame(i));
  for (let i = 0; i < frames.length; i++) builder.join(frames, i);
  return frames;
}

class FrameBuilder {
  private readonly graph: StitchGraph;
  private readonly kin: LoopKin;
  private readonly places: LoopPlaces;
  private readonly sizes: FrameSizes;

  constructor(graph: StitchGraph, kin: LoopKin, places: LoopPlaces, sizes: FrameSizes) {
    this.graph = graph;
    this.kin = kin;
    this.places = places;
    this.sizes = sizes;
  }

  /** Loop i by itself: where it stands, its head and its layers. */
  frame(i: number): LoopFrame {
    const { graph, kin, places, sizes } = this;
    const f = makeLoopFrame();
    const children = kin.childStart[i + 1] - kin.childStart[i];
    const child = children > 0 ? kin.children[kin.childStart[i]] : -1;
    const gathered = child >= 0 && places.gathers[child] === 1;
    const alone = child < 0 || kin.parentStart[child + 1] - kin.parentStart[child] < 2;
    // Gathered heads and feet have their own reach (loop-places.ts).
    this.place(f, i, places.gathers[i] ? 1 : REACH, gathered && alone ? 1 : REACH);
    this.layHeadNormal(f, i);
    f.depth = sizes.depth;
    f.diameter = sizes.diameter;
    f.sigmaLow = this.faceAt(i);
    f.sigmaUp = child >= 0 ? this.childrenFace(i) : f.sigmaLow;
    f.crossedHead = kin.crossedHead[i] === 1;
    f.crossedFoot = kin.crossedFoot[i] === 1;
    f.openFoot = (graph.flags[i] & FLAG_YARN_OVER) !== 0;
    if (gathered) {
      f.travel = GATHERED_TRAVEL;
      if (!alone) layHeadLean(f);
      this.layTravel(f, i, child);
    }
    if (places.gathers[i]) this.layGathering(f, i);
    if (graph.flags[i] & FLAG_SLIPPED) {
      const front = (graph.flags[i] & FLAG_FLOAT_IN_FRONT) !== 0;
      f.float = front ? 2 * f.depth + 0.4 * f.diameter : -(f.depth + 0.4 * f.diameter);
    }
    return f;
  }

  private place(f: LoopFrame, i: number, reachDown: number, reachUp: number): void {
    const { places } = this;
    for (let c = 0; c < 3; c++) {
      const own = places.own[3 * i + c];
      f.own[c] = own;
      f.down[c] = own + reachDown * (places.down[3 * i + c] - own);
      f.up[c] = own + reachUp * (places.up[3 * i + c] - own);
      f.across[c] = places.across[3 * i + c];
      f.headAcross[c] = places.headAcross[3 * i + c];
      f.normal[c] = places.normal[3 * i + c];
    }
  }

  /** A loop drawn through gathered heads reaches over and round them. */
  private layGathering(f: LoopFrame, i: number): void {
    const { graph, kin } = this;
    const heads = kin.parentStart[i + 1] - kin.parentStart[i];
    f.footPinch = heads > 1 ? 0.9 : 0.95;
    f.legLayer = graph.face[i] * stackOrder(1, heads, 0) * OVER_HEADS * f.diameter;
    // Where the sinkers lie on the wrong side of a shifted head, the foot has to reach round it.
    const behind = graph.layer[i] * graph.face[i] < 0 ? 1 : 0;
    f.footLayer = -graph.face[i] * behind * 1.2 * f.diameter;
  }

  /** The sinker from loop i to the next; the first loop's and the last one's own ends. */
  join(frames: readonly LoopFrame[], i: number): void {
    const f = frames[i];
    if (i === 0) {
      f.normalIn.set(f.normal);
      for (let c = 0; c < 3; c++) f.sinkerIn[c] = f.down[c] - f.across[c] / 2;
      f.sigmaIn = f.sigmaLow;
    }
    if (i + 1 === frames.length) {
      f.normalOut.set(f.normal);
      for (let c = 0; c < 3; c++) f.sinkerOut[c] = f.down[c] + f.across[c] / 2;
      f.sigmaOut = f.sigmaLow;
      return;
    }
    const next = frames[i + 1];
    const turns = turnsAfter(this.graph, i);
    this.laySinker(f, next, i, turns);
    for (let c = 0; c < 3; c++) f.normalOut[c] = f.normal[c] + next.normal[c];
    const size = Math.hypot(f.normalOut[0], f.normalOut[1], f.normalOut[2]);
    for (let c = 0; c < 3; c++) {
      f.normalOut[c] = size > 1e-9 ? f.normalOut[c] / size : f.normal[c];
      next.normalIn[c] = f.normalOut[c];
    }
    f.sigmaOut = next.sigmaIn = turns ? 0 : (f.sigmaLow + next.sigmaLow) / 2;
  }

  private laySinker(f: LoopFrame, next: LoopFrame, i: number, turns: boolean): void {
    const { hidden } = this.places;
    const overHead = this.overHead(i);
    for (let c = 0; c < 3; c++) {
      let point = (f.down[c] + next.down[c]) / 2;
      // At the edge of flat work the yarn goes round the outside of the edge stitch.
      if (turns) {
        point = (f.down[c] + next.down[c]) / 2 + TURN_OUT * (f.across[c] - next.across[c]);
      }
      // Knit and purl out of one stitch: between them the yarn goes over its head.
      if (overHead) {
        const rise = (f.own[c] - f.down[c] + next.own[c] - next.down[c]) / 2;
        point = (f.own[c] + next.own[c]) / 2 + OVER_HEAD * rise;
      }
      // The stitch before a seam ends in the fabric; the fold begins behind its sinker.
      if (hidden[i] < hidden[i + 1]) point = f.down[c] + f.across[c] / 2;
      if (hidden[i] > hidden[i + 1]) point = next.down[c] - next.across[c] / 2;
      f.sinkerOut[c] = point;
      next.sinkerIn[c] = point;
    }
  }

  /** True where loop i and the next are a knit and a purl out of the same head. */
  private overHead(i: number): boolean {
    const { graph, kin } = this;
    const from = kin.parentStart[i];
    return (
      graph.face[i] !== graph.face[i + 1] &&
      kin.parentStart[i + 1] - from === 1 &&
      kin.parentStart[i + 2] - from === 2 &&
      kin.parents[from] === kin.parents[from + 1]
    );
  }

  /** Mean face of the loops drawn through loop i: a head between knit and purl ones lies in the middle. */
  private childrenFace(i: number): number {
    const { graph, kin } = this;
    let sum = 0;
    for (let k = kin.childStart[i]; k < kin.childStart[i + 1]; k++)
      sum += graph.face[kin.children[k]];
    return sum / (kin.childStart[i + 1] - kin.childStart[i]);
  }

  private layHeadNormal(f: LoopFrame, i: number): void {
    const { kin, places } = this;
    for (let k = kin.childStart[i]; k < kin.childStart[i + 1]; k++) {
      for (let c = 0; c < 3; c++) f.headNormal[c] += places.normal[3 * kin.children[k] + c];
    }
    const size = Math.hypot(f.headNormal[0], f.headNormal[1], f.headNormal[2]);
    for (let c = 0; c < 3; c++) {
      f.headNormal[c] = size > 1e-9 ? f.headNormal[c] / size : f.normal[c];
    }
  }

  /** The old loop that is carried gives a slipped loop its face. */
  private faceAt(i: number): number {
    const { graph } = this;
    let p = i;
    while (graph.flags[p] & FLAG_SLIPPED && graph.parentStart[p] < graph.parentStart[p + 1]) {
      p = graph.parents[graph.parentStart[p]];
    }
    return graph.face[p];
  }

  /** Front and back of travelling legs: by the cable's layer, or by the order in the decrease. */
  private layTravel(f: LoopFrame, i: number, child: number): void {
    const { graph, kin } = this;
    if (graph.layer[child] !== 0) {
      f.travelLayer = crossingLayer(graph, child) * TRAVEL_DEPTH * f.diameter;
      return;
    }
    const from = kin.parentStart[child];
    const count = kin.parentStart[child + 1] - from;
    if (count < 2) return;
    let k = 0;
    while (k < count - 1 && kin.parents[from + k] !== i) k++;
    const order = stackOrder(graph.face[child], count, k);
    f.travelLayer = order * 0.4 * f.diameter;
    f.headLayer = order * f.diameter;
  }
}

/** Heads drawn together stand upright, wherever their loops come from, so that one foot meets all. */
function layHeadLean(f: LoopFrame): void {
  let lean = 0;
  let square = 1e-300;
  for (let c = 0; c < 3; c++) {
    lean += (f.own[c] - f.down[c]) * f.headAcross[c];
    square += f.headAcross[c] * f.headAcross[c];
  }
  for (let c = 0; c < 3; c++) f.headLean[c] = (lean / square) * f.headAcross[c];
}

/** True where the yarn turns after loop i: at the end of a row of flat work, or of a short row. */
export function turnsAfter(graph: StitchGraph, i: number): boolean {
  const course = graph.course[i];
  const turns = graph.closure !== 'helix' || graph.held?.turned[course] === 1;
  return turns && graph.course[i + 1] !== course;
}
