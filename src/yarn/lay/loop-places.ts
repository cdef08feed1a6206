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
  const up = new Float64Array(3 * n);
  const down = new Float64Array(3 * n);
  const gathers = new Uint8Array(n);

  // Heads: the mean place of the loops drawn through them.
  for (let i = 0; i < n; i++) {
    const from = kin.childStart[i];
    const count = kin.childStart[i + 1] - from;
    for (let k = 0; k < count; k++) {
      const child = kin.children[from + k];
      for (let c = 0; c < 3; c++) up[3 * i + c] += own[3 * child + c] / count;
    }
  }
  for (let i = 0; i < n; i++) placeFoot(i);
  for (let i = 0; i < n; i++) placeOpenFoot(i);
  for (let i = 0; i < n; i++) {
    if (kin.childStart[i + 1] > kin.childStart[i]) continue;
    // Nothing hangs in this loop: it stands as tall as it reaches down.
    for (let c = 0; c < 3; c++) up[3 * i + c] = 2 * own[3 * i + c] - down[3 * i + c];
  }
  const headAcross = headDirections();
  const edgeOn = new Uint8Array(n);
  const places = { own, down, up, across, headAcross, normal, gathers, hidden, edgeOn };
  drawUp(graph, cells, kin, positions, diameter, places);
  drawTogether(graph, cells, positions, diameter, places);
  return places;

  function placeFoot(i: number): void {
    // A loop stands on the course below, whatever is carried up to it.
    const from = graph.parentStart[i];
    const count = graph.parentStart[i + 1] - from;
    if (graph.flags[i] & FLAG_SLIPPED) {
      // A float lies at the level of its neighbours' sinkers, in the course below.
      const p = graph.parents[graph.parentStart[i]];
      if (p !== undefined) for (let c = 0; c < 3; c++) down[3 * i + c] = own[3 * p + c];
      return;
    }
    if (count === 0) {
      if (graph.course[i] === 0) {
        const hangs = kin.childStart[i + 1] > kin.childStart[i];
        for (let c = 0; c < 3; c++) {
          const rise = hangs ? up[3 * i + c] - own[3 * i + c] : 0;
          down[3 * i + c] = own[3 * i + c] - rise;
        }
      }
      return;
    }
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
      // Several loops out of one: their feet stand side by side in its head.
      const p = graph.parents[from];
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
      return;
    }
    if (count === 1 && farthest < TRAVELLED_FROM && graph.crossing[i] < 0) return;
    gathers[i] = 1;
    const side = sum / count;
    // The heads have come over to it where it meets them.
    const reach = [0, 1, 2].map((c) => down[3 * i + c] - own[3 * i + c] - side * across[3 * i + c]);
    for (let c = 0; c < 3; c++) down[3 * i + c] = own[3 * i + c] + GATHERED_REACH * reach[c];
  }

  /** Yarn overs and lifted strands hang between their neighbours' feet. */
  function placeOpenFoot(i: number): void {
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
    while (before > first && isOpen(before)) before--;
    let after = i + 1;
    while (after < last && isOpen(after)) after++;
    if (before < first) before = after;
    if (after > last) after = before;
    if (before < first || before > last || isOpen(before)) return;
    const f = after === before ? 0.5 : (i - before) / (after - before);
    const depth = graph.flags[i] & FLAG_YARN_OVER ? GATHERED_REACH : 1;
    for (let c = 0; c < 3; c++) {
      const foot = (1 - f) * down[3 * before + c] + f * down[3 * after + c];
      const legs = (1 - f) * own[3 * before + c] + f * own[3 * after + c];
      down[3 * i + c] = own[3 * i + c] + depth * (foot - legs);
    }
  }

  function isOpen(i: number): boolean {
    return (
      (graph.flags[i] & (FLAG_YARN_OVER | FLAG_LIFTED)) !== 0 &&
      graph.parentStart[i] === graph.parentStart[i + 1]
    );
  }

  function headDirections(): Float64Array {
    const head = new Float64Array(3 * n);
    for (let i = 0; i < n; i++) {
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

/** Beside a loop along the yarn, as far as this of the step on its other side or nearer. Chosen. */
const FAR_STEP = 1.5;

/**
 * One stitch along the yarn at each loop: half way from the loop before to the loop after. In the round
 * the yarn runs on from the last loop of a round to the first of the next.
 */
function alongCourses(graph: StitchGraph, own: Float64Array, hidden: Uint8Array): Float64Array {
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
function vertexNormals(cells: Cells, positions: ArrayLike<number>, loops: number): Float64Array {
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

function dotOf(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return a[3 * i] * b[3 * j] + a[3 * i + 1] * b[3 * j + 1] + a[3 * i + 2] * b[3 * j + 2];
}

function distanceOf(points: Float64Array, a: number, b: number): number {
  return Math.hypot(
    points[3 * b] - points[3 * a],
    points[3 * b + 1] - points[3 * a + 1],
    points[3 * b + 2] - points[3 * a + 2],
  );
}

function lengthOf(a: Float64Array, i: number): number {
  return Math.sqrt(dotOf(a, i, a, i));
}
