/**
 * Where each loop stands on the sheet, where it is drawn through and where its head lies.
 *
 * Input: graph, cells, vertex positions. Output: the points and directions of every LoopFrame, as flat
 * arrays of [3·loops]. Where several loops are gathered (decrease, cable) the foot of the upper loop
 * is lifted, so that the legs below have room to travel to it.
 */
import type { Cells } from '../../fabric/cells.ts';
import {
  FLAG_LIFTED,
  FLAG_SEAM,
  FLAG_SLIPPED,
  FLAG_YARN_OVER,
  type StitchGraph,
} from '../../fabric/stitch-graph.ts';
import { drawUp } from './drawn-heads.ts';
import { alongCourses, dotOf, lengthOf, vertexNormals } from './loop-directions.ts';
import { hasMiddle, stackOrder } from './loop-layers.ts';
import type { LoopKin } from './loop-links.ts';
import { drawTogether } from './yarn-beginning.ts';

export interface LoopPlaces {
  readonly own: Float64Array;
  readonly down: Float64Array;
  readonly up: Float64Array;
  /** One stitch along the yarn. */
  readonly across: Float64Array;
  readonly headAcross: Float64Array;
  /** Unit normal towards the right side. */
  readonly normal: Float64Array;
  /** [loops] 1 where the loop gathers travelling loops below it. */
  readonly gathers: Uint8Array;
  /** [loops] 1 for seam loops, folded away behind the edge. */
  readonly hidden: Uint8Array;
  /** [loops] 1 where the yarn's end draws the loop up so tightly that its head stands edge-on. */
  readonly edgeOn: Uint8Array;
}

/** How far down a gathering loop reaches, of the usual. Chosen: above where the legs have arrived. */
const GATHERED_REACH = 0.6;
/** A cable's or a crossed join's loop is moved this far or more without a decrease. Chosen. */
const TRAVELLED_FROM = 0.7;

export function findPlaces(
  graph: StitchGraph,
  cells: Cells,
  kin: LoopKin,
  positions: ArrayLike<number>,
  diameter: number,
): LoopPlaces {
  const n = graph.loops;
  const own = Float64Array.from({ length: 3 * n }, (_, i) => positions[i]);
  const normal = vertexNormals(cells, positions, n);
  const hidden = hideSeam(graph, cells, own, normal);
  const across = alongCourses(graph, own, hidden);
  leanTravellers(graph, kin, own, across, normal, diameter);
  const { up, down, gathers } = new FeetAndHeads(graph, kin, own, across);
  const headAcross = headDirections(kin, across);
  const edgeOn = new Uint8Array(n);
  const places = { own, down, up, across, headAcross, normal, gathers, hidden, edgeOn };
  drawUp(graph, cells, kin, positions, diameter, places);
  drawTogether(graph, cells, positions, diameter, places);
  return places;
}

/** Where loops are drawn through, and where their heads lie. */
class FeetAndHeads {
  readonly up: Float64Array;
  readonly down: Float64Array;
  readonly gathers: Uint8Array;
  private readonly graph: StitchGraph;
  private readonly kin: LoopKin;
  private readonly own: Float64Array;
  private readonly across: Float64Array;

  constructor(graph: StitchGraph, kin: LoopKin, own: Float64Array, across: Float64Array) {
    const n = graph.loops;
    this.graph = graph;
    this.kin = kin;
    this.own = own;
    this.across = across;
    this.up = new Float64Array(3 * n);
    this.down = new Float64Array(3 * n);
    this.gathers = new Uint8Array(n);
    for (let i = 0; i < n; i++) this.placeHead(i);
    for (let i = 0; i < n; i++) this.placeFoot(i);
    for (let i = 0; i < n; i++) this.placeOpenFoot(i);
    for (let i = 0; i < n; i++) this.standAlone(i);
  }

  /** The mean place of the loops drawn through it. */
  private placeHead(i: number): void {
    const { kin, own, up } = this;
    const from = kin.childStart[i];
    const count = kin.childStart[i + 1] - from;
    for (let k = 0; k < count; k++) {
      const child = kin.children[from + k];
      for (let c = 0; c < 3; c++) up[3 * i + c] += own[3 * child + c] / count;
    }
  }

  /** Where nothing hangs in a loop, it stands as tall as it reaches down. */
  private standAlone(i: number): void {
    const { kin, own, up, down } = this;
    if (kin.childStart[i + 1] > kin.childStart[i]) return;
    for (let c = 0; c < 3; c++) up[3 * i + c] = 2 * own[3 * i + c] - down[3 * i + c];
  }

  private placeFoot(i: number): void {
    const { graph, own, down } = this;
    // A loop stands on the course below, whatever is carried up to it.
    const from = graph.parentStart[i];
    const count = graph.parentStart[i + 1] - from;
    if (graph.flags[i] & FLAG_SLIPPED) {
      // A float lies at the level of its neighbours' sinkers, in the course below.
      const p = graph.parents[from];
      if (p !== undefined) for (let c = 0; c < 3; c++) down[3 * i + c] = own[3 * p + c];
    } else if (count > 0) this.standOn(i, from, count);
    else if (graph.course[i] === 0) this.castOnFoot(i);
  }

  private castOnFoot(i: number): void {
    const { kin, own, up, down } = this;
    const hangs = kin.childStart[i + 1] > kin.childStart[i];
    for (let c = 0; c < 3; c++) {
      const rise = hangs ? up[3 * i + c] - own[3 * i + c] : 0;
      down[3 * i + c] = own[3 * i + c] - rise;
    }
  }

  /** The foot of a loop drawn through its parents: `count` of them, from `from` on. */
  private standOn(i: number, from: number, count: number): void {
    const { graph, own, down, across, gathers } = this;
    const width = lengthOf(across, i);
    let farthest = 0;
    let sum = 0;
    let shared = 0;
    for (let k = 0; k < count; k++) {
      const p = graph.parents[from + k];
      let side = 0;
      for (let c = 0; c < 3; c++) {
        side += ((own[3 * p + c] - own[3 * i + c]) * across[3 * i + c]) / (width * width + 1e-300);
        down[3 * i + c] += own[3 * p + c] / count;
      }
      farthest = Math.max(farthest, Math.abs(side));
      sum += side;
      if (graph.childStart[p + 1] - graph.childStart[p] > 1) shared++;
    }
    if (shared === count) {
      this.standBeside(i, graph.parents[from]);
      return;
    }
    if (count === 1 && farthest < TRAVELLED_FROM && graph.crossing[i] < 0) return;
    gathers[i] = 1;
    const side = sum / count;
    // The heads have come over to it where it meets them.
    const reach = [0, 1, 2].map((c) => down[3 * i + c] - own[3 * i + c] - side * across[3 * i + c]);
    for (let c = 0; c < 3; c++) down[3 * i + c] = own[3 * i + c] + GATHERED_REACH * reach[c];
  }

  /** Several loops out of one, p: their feet stand side by side in its head. */
  private standBeside(i: number, p: number): void {
    const { graph, own, down } = this;
    let mates = 0;
    const middle = [0, 0, 0];
    for (let m = graph.childStart[p]; m < graph.childStart[p + 1]; m++, mates++) {
      for (let c = 0; c < 3; c++) middle[c] += own[3 * graph.children[m] + c];
    }
    for (let c = 0; c < 3; c++) {
      const spread = own[3 * i + c] - middle[c] / mates;
      const foot = down[3 * i + c] + GATHERED_REACH * spread;
      down[3 * i + c] = own[3 * i + c] + GATHERED_REACH * (foot - own[3 * i + c]);
    }
  }

  /** Yarn overs and lifted strands hang between their neighbours' feet. */
  private placeOpenFoot(i: number): void {
    const { graph, kin, own, down } = this;
    if (
      !(graph.flags[i] & (FLAG_YARN_OVER | FLAG_LIFTED)) ||
      kin.parentStart[i + 1] > kin.parentStart[i]
    ) {
      return;
    }
    const course = graph.course[i];
    const first = graph.start[course];
    const last = graph.start[course + 1] - 1;
    let before = i - 1;
    while (before > first && this.isOpen(before)) before--;
    let after = i + 1;
    while (after < last && this.isOpen(after)) after++;
    if (before < first) before = after;
    if (after > last) after = before;
    if (before < first || before > last || this.isOpen(before)) return;
    const f = after === before ? 0.5 : (i - before) / (after - before);
    const depth = graph.flags[i] & FLAG_YARN_OVER ? GATHERED_REACH : 1;
    for (let c = 0; c < 3; c++) {
      const foot = (1 - f) * down[3 * before + c] + f * down[3 * after + c];
      const legs = (1 - f) * own[3 * before + c] + f * own[3 * after + c];
      down[3 * i + c] = own[3 * i + c] + depth * (foot - legs);
    }
  }

  private isOpen(i: number): boolean {
    const { flags, parentStart } = this.graph;
    return (
      (flags[i] & (FLAG_YARN_OVER | FLAG_LIFTED)) !== 0 && parentStart[i] === parentStart[i + 1]
    );
  }
}

/** Along each head: as the loops lie that are drawn through it, wider the more there are. */
function headDirections(kin: LoopKin, across: Float64Array): Float64Array {
  const head = new Float64Array(across.length);
  for (let i = 0; 3 * i < across.length; i++) {
    const from = kin.childStart[i];
    const count = kin.childStart[i + 1] - from;
    if (count === 0) {
      for (let c = 0; c < 3; c++) head[3 * i + c] = across[3 * i + c];
      continue;
    }
    for (let k = 0; k < count; k++) {
      const child = kin.children[from + k];
      // Rows of flat work run to and fro; the head keeps its own yarn's direction.
      const same = dotOf(across, child, across, i) >= 0 ? 1 : -1;
      for (let c = 0; c < 3; c++) head[3 * i + c] += same * across[3 * child + c];
    }
    const size = lengthOf(head, i);
    const width = lengthOf(across, i) * (1 + 0.6 * (count - 1));
    for (let c = 0; c < 3; c++) {
      head[3 * i + c] = size > 0 ? (head[3 * i + c] * width) / size : across[3 * i + c];
    }
  }
  return head;
}

/** Part of the way that a travelling loop leans before, and again after, it is worked. Chosen. */
const LEAN = 0.3;
/** Most of the way to a decrease that is left above its loops, stitches: with more their heads slant past
 * one another, with 0.5 those in the corner of a mitred square miss the row below. Chosen. */
const TRAVEL_LEFT = 0.6;
/** Shift of a travelling loop out of the sheet, yarn diameters. Chosen: room for one yarn between. */
const LEAN_DEPTH = 0.9;

/**
 * Loops that travel (cables, decreases) lean over the course below and above as well, in front of or
 * behind each other.
 */
function leanTravellers(
  graph: StitchGraph,
  kin: LoopKin,
  own: Float64Array,
  across: Float64Array,
  normal: Float64Array,
  diameter: number,
): void {
  const shift = new Float64Array(own.length);
  for (let i = 0; i < graph.loops; i++) {
    const from = kin.parentStart[i];
    const count = kin.parentStart[i + 1] - from;
    const cable = graph.crossing[i] >= 0;
    if (count < 2 && !cable) continue;
    const square = dotOf(across, i, across, i) + 1e-300;
    // Feet of a middle group have no room between leaning ones.
    const leanAfter = cable && hasMiddle(graph, i, null) ? 0 : LEAN;
    for (let k = 0; k < count; k++) {
      const p = kin.parents[from + k];
      let side = 0;
      for (let c = 0; c < 3; c++) {
        side += ((own[3 * i + c] - own[3 * p + c]) * across[3 * i + c]) / square;
      }
      const layer = cable ? graph.layer[i] : stackOrder(graph.face[i], count, k) * 0.5;
      const lean = cable ? LEAN : Math.max(LEAN, 1 - TRAVEL_LEFT / Math.abs(side));
      for (let c = 0; c < 3; c++) {
        const out = layer * LEAN_DEPTH * diameter * normal[3 * i + c];
        shift[3 * p + c] += lean * side * across[3 * i + c] + out;
        if (cable) shift[3 * i + c] += (-leanAfter * side * across[3 * i + c] + out) / count;
      }
    }
  }
  for (let i = 0; i < own.length; i++) own[i] += shift[i];
}

/** Seam loops are no part of the sheet: they fold away behind the edge stitch of their row. */
function hideSeam(
  graph: StitchGraph,
  cells: Cells,
  own: Float64Array,
  normal: Float64Array,
): Uint8Array {
  const hidden = new Uint8Array(graph.loops);
  for (let course = 0; course < graph.courses; course++) {
    const first = graph.start[course];
    const count = graph.start[course + 1] - first;
    for (let k = 0; k < count; k++) {
      const i = first + k;
      if (cells.inSurface[i] && !(graph.flags[i] & FLAG_SEAM)) continue;
      let edge = -1;
      for (let step = 1; step < count && edge < 0; step++) {
        if (k - step >= 0 && cells.inSurface[i - step]) edge = i - step;
        else if (k + step < count && cells.inSurface[i + step]) edge = i + step;
      }
      hidden[i] = 1;
      if (edge < 0) continue;
      const inner = edge < i ? edge - 1 : edge + 1;
      const near = inner >= first && inner < first + count ? inner : edge;
      const width = Math.hypot(
        own[3 * edge] - own[3 * near],
        own[3 * edge + 1] - own[3 * near + 1],
        own[3 * edge + 2] - own[3 * near + 2],
      );
      const depth = Math.abs(i - edge);
      for (let c = 0; c < 3; c++) {
        // Folded back at a right angle, its right side faces the other edge's.
        normal[3 * i + c] = (own[3 * edge + c] - own[3 * near + c]) / (width || 1);
        own[3 * i + c] = own[3 * edge + c] - depth * (width || 1) * normal[3 * edge + c];
      }
    }
  }
  return hidden;
}
