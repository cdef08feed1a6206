/**
 * The courses of a StitchGraph as rings of surface loops: who stands beside, above and below whom.
 * Seam loops are left out; columns of a crossing are taken straight (the sheet has no layers).
 * Positions along a course are slots, 0-based, right to left as seen from the right side; real
 * numbers between slots are allowed and closed courses wrap round. A loop that waits behind a short
 * row stands in the ring of every course that it waits through, over itself.
 */
import { courseCount, FLAG_SEAM, loopAt, type StitchGraph } from '../../fabric/stitch-graph.ts';

export interface Rings {
  readonly courses: number;
  /** Loops of the surface, each once. */
  readonly loops: number;
  readonly closed: boolean;
  /** [courses + 1] offsets into `ids`. */
  readonly start: Int32Array;
  /** Loop at each slot. */
  readonly ids: Int32Array;
  /** [loops] slot in the course that it was made in, −1 for seam loops. */
  readonly slot: Int32Array;
  /** [ids] flat slot index of the loop in the course that it was made in: its own, unless it waits here. */
  readonly home: Int32Array;
  /** [ids] mean slot of the loops above, in the course above, unwrapped near the same place. */
  readonly above: Float64Array;
  /** [ids] mean slot of the loops below; between its neighbours' where the loop is made between stitches. */
  readonly below: Float64Array;
  /** [ids] stitches lost (+) or made (−) where this loop stands. */
  readonly loss: Float64Array;
  /** [ids] slot at which that shaping stands: between the two loops of an increase, else the own one. */
  readonly lossPlace: Float64Array;
  /** CSR over `ids`: flat slot indices of the loops below. */
  readonly downStart: Int32Array;
  readonly down: Int32Array;
}

/**
 * Surface parents: a crossing's k-th loop stands over the k-th loop it consumes, and over a crossed
 * join the columns run straight as well.
 */
function surfaceParents(graph: StitchGraph): { start: Int32Array; parents: Int32Array } {
  const start = graph.parentStart;
  const parents = graph.parents.slice();
  if (graph.closure === 'helix' && graph.join.method === 'crossed' && graph.courses > 1) {
    const last = graph.start[1] - 1;
    const end = start[graph.start[2]];
    for (let k = start[graph.start[1]]; k < end; k++) {
      if (parents[k] === 0) parents[k] = last;
      else if (parents[k] === last) parents[k] = 0;
    }
  }
  for (let i = 0; i < graph.loops; ) {
    let end = i + 1;
    while (end < graph.loops && graph.stitch[end] === graph.stitch[i]) end++;
    if (graph.crossing[i] >= 0) parents.subarray(start[i], start[end]).sort();
    i = end;
  }
  return { start, parents };
}

export function makeRings(graph: StitchGraph): Rings {
  const { courses } = graph;
  const closed = graph.closure !== 'open';
  const start = new Int32Array(courses + 1);
  const ids = new Int32Array(graph.held ? graph.held.ids.length : graph.loops);
  const home = new Int32Array(ids.length);
  const slot = new Int32Array(graph.loops).fill(-1);
  let n = 0;
  for (let c = 0; c < courses; c++) {
    start[c] = n;
    for (let p = 0, count = courseCount(graph, c); p < count; p++) {
      const id = loopAt(graph, c, p);
      if (graph.flags[id] & FLAG_SEAM) continue;
      if (slot[id] < 0) slot[id] = n - start[c];
      home[n] = start[graph.course[id]] + slot[id];
      ids[n++] = id;
    }
  }
  start[courses] = n;
  const surface = surfaceParents(graph);
  const downStart = new Int32Array(n + 1);
  const down: number[] = [];
  const above = new Float64Array(n).fill(NaN);
  const below = new Float64Array(n).fill(NaN);
  const loss = new Float64Array(n);
  const lossPlace = new Float64Array(n);
  for (let c = 0; c < courses; c++) {
    for (let flat = start[c]; flat < start[c + 1]; flat++) lossPlace[flat] = flat - start[c];
  }
  const aboveCount = new Int32Array(n);
  const lastAbove = new Int32Array(n);
  /** Where each loop stands on the course below. */
  const standing = slot.slice();
  for (let c = 1; c < courses; c++) {
    const size = start[c + 1] - start[c];
    const sizeBelow = start[c] - start[c - 1];
    if (graph.held) for (let j = 0; j < sizeBelow; j++) standing[ids[start[c - 1] + j]] = j;
    for (let j = 0; j < size; j++) {
      const flat = start[c] + j;
      const id = ids[flat];
      const expected = ((j + 0.5) / size) * sizeBelow - 0.5;
      let sum = 0;
      let count = 0;
      const waits = home[flat] !== flat;
      const from = waits ? 0 : surface.start[id];
      const to = waits ? 1 : surface.start[id + 1];
      for (let k = from; k < to; k++) {
        const parent = waits ? id : surface.parents[k];
        const parentSlot = standing[parent];
        if (parentSlot < 0 || ids[start[c - 1] + parentSlot] !== parent) continue;
        const flatBelow = start[c - 1] + parentSlot;
        down.push(flatBelow);
        sum += closed ? nearest(parentSlot, sizeBelow, expected) : parentSlot;
        count++;
        const home = ((parentSlot + 0.5) / sizeBelow) * size - 0.5;
        const here = closed ? nearest(j, size, home) : j;
        above[flatBelow] = aboveCount[flatBelow] === 0 ? here : above[flatBelow] + here;
        aboveCount[flatBelow]++;
        lastAbove[flatBelow] = flat;
      }
      downStart[flat + 1] = down.length;
      if (count > 0) below[flat] = sum / count;
      // A loop with m loops below loses m − 1 stitches; one without any makes a stitch.
      loss[flat] += count - 1;
    }
  }
  for (let flat = 0; flat < start[1]; flat++) downStart[flat + 1] = 0;
  for (let flat = 0; flat < n; flat++) {
    if (aboveCount[flat] === 0) continue;
    above[flat] /= aboveCount[flat];
    // One loop below shared by q above makes q − 1 stitches.
    if (aboveCount[flat] > 1) {
      loss[lastAbove[flat]] -= aboveCount[flat] - 1;
      lossPlace[lastAbove[flat]] -= (aboveCount[flat] - 1) / 2;
    }
  }
  for (let c = 1; c < courses; c++) {
    fillBetween(below, start[c], start[c + 1], start[c] - start[c - 1], closed);
  }
  return {
    courses,
    loops: home.subarray(0, n).reduce((sum, at, flat) => sum + (at === flat ? 1 : 0), 0),
    closed,
    start,
    ids: ids.slice(0, n),
    slot,
    home: home.subarray(0, n),
    above,
    below,
    loss,
    lossPlace,
    downStart,
    down: Int32Array.from(down),
  };
}

/** Gives loops without a loop below the place between those that their neighbours stand on. */
function fillBetween(
  below: Float64Array,
  first: number,
  end: number,
  sizeBelow: number,
  closed: boolean,
): void {
  const size = end - first;
  const known: number[] = [];
  for (let j = 0; j < size; j++) if (!Number.isNaN(below[first + j])) known.push(j);
  if (known.length === 0 || known.length === size) return;
  const own = below.slice(first, end);
  for (let k = 0; k < known.length; k++) {
    const left = known[k];
    const wraps = k + 1 === known.length;
    const right = wraps ? known[0] + size : known[k + 1];
    const from = own[left];
    const to = wraps ? own[known[0]] + sizeBelow : own[right];
    for (let j = left + 1; j < right; j++) {
      // Open work has no neighbour beyond its edge: the loop stays with the nearest one.
      const open = !closed && wraps;
      const value = open
        ? j < size
          ? from
          : own[known[0]]
        : from + ((to - from) * (j - left)) / (right - left);
      const at = j < size ? j : j - size;
      below[first + at] = j < size || open ? value : value - sizeBelow;
    }
  }
}

/** The number congruent to `slot` modulo `size` that lies nearest to `expected`. */
function nearest(slot: number, size: number, expected: number): number {
  return slot + Math.round((expected - slot) / size) * size;
}

export function ringSize(rings: Rings, course: number): number {
  return rings.start[course + 1] - rings.start[course];
}

/** Place in the course above (`step` = +1) or below (−1) of a real place in a course, unwrapped. */
export function followWale(rings: Rings, course: number, place: number, step: 1 | -1): number {
  const size = ringSize(rings, course);
  const sizeNext = ringSize(rings, course + step);
  if (size === 0 || sizeNext === 0) return place;
  const low = Math.floor(place);
  const a = neighbourPlace(rings, course, low, step, size, sizeNext);
  if (low === place) return a;
  const b = neighbourPlace(rings, course, low + 1, step, size, sizeNext);
  return a + (place - low) * (b - a);
}

function neighbourPlace(
  rings: Rings,
  course: number,
  slot: number,
  step: 1 | -1,
  size: number,
  sizeNext: number,
): number {
  const turns = rings.closed ? Math.floor(slot / size) : 0;
  const inside = rings.closed ? slot - turns * size : Math.min(Math.max(slot, 0), size - 1);
  const found = (step > 0 ? rings.above : rings.below)[rings.start[course] + inside];
  // A loop without a wale in that direction keeps its share of the course.
  const next = Number.isNaN(found) ? ((inside + 0.5) / size) * sizeNext - 0.5 : found;
  return next + turns * sizeNext + (rings.closed ? 0 : slot - inside);
}

/** [ids] the loop above and below in the same wale; −1 at the ends. */
export function waleLinks(rings: Rings): { up: Int32Array; down: Int32Array } {
  const n = rings.ids.length;
  const up = new Int32Array(n).fill(-1);
  const down = new Int32Array(n).fill(-1);
  for (let flat = 0; flat < n; flat++) {
    if (rings.downStart[flat + 1] === rings.downStart[flat]) continue;
    down[flat] = rings.down[rings.downStart[flat]];
    up[down[flat]] = flat;
  }
  return { up, down };
}
