/**
 * A part of a RodSystem as a system of its own, to bring a few places to rest without working on all.
 *
 * Input: a system of open strands, its positions, and which nodes may move. Output: the nodes that take
 * part (those that may move, all they can touch and the yarn between), as open strands with the same
 * rest lengths. Energies of the part differ from those of the whole by a constant only.
 */
import { buildRodSystem, type RodSystem, type Strand } from './rod-system.ts';

export interface RodPart {
  readonly system: RodSystem;
  readonly positions: Float64Array;
  /** [nodes of the part] node of the whole. */
  readonly node: Int32Array;
}

/** Nodes beyond one that moves which bend or stretch with it. */
const BESIDE = 2;
/** Runs of yarn with fewer nodes between them are joined: contact counts the yarn between. Chosen. */
const BRIDGE = 4;

/** `reach`: distance of centre lines up to which yarn takes part. */
export function partOf(
  whole: RodSystem,
  positions: Float64Array,
  moves: Uint8Array,
  reach: number,
): RodPart {
  const { rest } = whole;
  const takes = nodesWithin(whole, positions, moves, reach);
  for (let s = 0; s < whole.strands; s++) {
    const from = whole.nodeStart[s];
    const to = whole.nodeStart[s + 1];
    for (let i = from; i < to; i++) {
      if (!moves[i]) continue;
      takes.fill(1, Math.max(from, i - BESIDE), Math.min(to, i + BESIDE + 1));
    }
    let last = -1;
    for (let i = from; i < to; i++) {
      if (!takes[i]) continue;
      if (last >= 0 && i - last <= BRIDGE) takes.fill(1, last, i);
      last = i;
    }
  }
  const strands: Strand[] = [];
  const node: number[] = [];
  for (let s = 0; s < whole.strands; s++) {
    const to = whole.nodeStart[s + 1];
    for (let i = whole.nodeStart[s]; i < to; i++) {
      if (!takes[i]) continue;
      let end = i;
      while (end < to && takes[end]) end++;
      if (end - i > 1) {
        // Segment k of an open strand runs from its node k.
        const first = whole.segmentStart[s] + i - whole.nodeStart[s];
        strands.push({
          points: positions.subarray(3 * i, 3 * end),
          closed: false,
          rest: rest.subarray(first, first + end - i - 1),
        });
        for (let k = i; k < end; k++) node.push(k);
      }
      i = end;
    }
  }
  return { ...buildRodSystem(strands), node: Int32Array.from(node) };
}

/** [nodes] 1 at the ends of every segment that comes within `reach` of one that moves, and some more. */
export function nodesWithin(
  { nodes, segments, tail, head }: RodSystem,
  positions: Float64Array,
  moves: Uint8Array,
  reach: number,
): Uint8Array {
  const takes = new Uint8Array(nodes);
  // Only the box round what moves is looked at.
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const moving: number[] = [];
  for (let s = 0; s < segments; s++) {
    if (!(moves[tail[s]] | moves[head[s]])) continue;
    moving.push(s);
    for (let c = 0; c < 3; c++) {
      const a = positions[3 * tail[s] + c];
      const b = positions[3 * head[s] + c];
      low[c] = Math.min(low[c], a, b);
      high[c] = Math.max(high[c], a, b);
    }
  }
  if (moving.length === 0) return takes;
  // Cells as wide as the reach, with a margin of one; wider where points are far-flung.
  const cells = (size: number) =>
    low.map((from, c) => Math.max(0, Math.floor((high[c] - from) / size)) + 3);
  let edge = reach;
  let counts = cells(edge);
  while (counts[0] * counts[1] * counts[2] > 64 * moving.length + 4096) {
    edge *= 1.5;
    counts = cells(edge);
  }
  const [nx, ny, nz] = counts;
  // Calls `visit` with the cells of points along segment s, at most half an edge apart.
  const along = (s: number, visit: (cell: number) => boolean): void => {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    const length = Math.hypot(
      positions[b] - positions[a],
      positions[b + 1] - positions[a + 1],
      positions[b + 2] - positions[a + 2],
    );
    const parts = Math.ceil(length / (0.5 * edge)) || 1;
    for (let k = 0; k <= parts; k++) {
      let cell = 0;
      let inside = true;
      for (let c = 2; c >= 0; c--) {
        const p = positions[a + c] + (k / parts) * (positions[b + c] - positions[a + c]);
        const at = Math.floor((p - low[c]) / edge) + 1;
        inside &&= at >= 0 && at < counts[c];
        cell = cell * counts[c] + at;
      }
      if (inside && visit(cell)) return;
    }
  };
  const near = new Uint8Array(nx * ny * nz);
  for (const s of moving) {
    along(s, (cell) => {
      for (let z = -1; z <= 1; z++) {
        for (let y = -1; y <= 1; y++) {
          const middle = cell + (z * ny + y) * nx;
          near[middle - 1] = near[middle] = near[middle + 1] = 1;
        }
      }
      return false;
    });
  }
  const from = low.map((v) => v - edge);
  const to = high.map((v) => v + edge);
  for (let s = 0; s < segments; s++) {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    let outside = false;
    for (let c = 0; c < 3; c++) {
      const p = positions[a + c];
      const q = positions[b + c];
      outside ||= (p < from[c] && q < from[c]) || (p > to[c] && q > to[c]);
    }
    if (outside) continue;
    along(s, (cell) => {
      if (!near[cell]) return false;
      takes[tail[s]] = takes[head[s]] = 1;
      return true;
    });
  }
  return takes;
}
