/**
 * The entries of a symmetric matrix in two parts: those that change, and those that never do and are a number
 * times the unit block, as a hinge's far corners are. In: the graph of all entries, which of them change.
 * Out: the same entries as two nets.
 */

import type { Adjacency } from '../../math/adjacency.ts';
import type { SparsePattern } from '../../math/sparse-symmetric.ts';

/** Entries by row, from both sides of the diagonal, with their place in the lower half. */
export interface Entries extends Adjacency {
  /** [neighbour] place of each entry in the lower half. */
  readonly slot: Int32Array;
}

/** Entries below the diagonal, by row. */
export interface LowerEntries extends SparsePattern {
  /** [column] place of each entry among all. */
  readonly slot: Int32Array;
}

/** `changing` is [entries below the diagonal], 1 where taken; null takes all. `take` 0 gives the rest. */
export function entriesOf(graph: Adjacency, changing: Uint8Array | null, take: 0 | 1): Entries {
  const slot = slotsOf(graph);
  if (changing === null && take === 1) return { ...graph, slot };
  const start = new Int32Array(graph.vertices + 1);
  const neighbour = new Int32Array(changing === null ? 0 : slot.length);
  const kept = new Int32Array(neighbour.length);
  let size = 0;
  for (let v = 0; v < graph.vertices; v++) {
    for (let k = graph.start[v]; changing !== null && k < graph.start[v + 1]; k++) {
      if (changing[slot[k]] !== take) continue;
      neighbour[size] = graph.neighbour[k];
      kept[size++] = slot[k];
    }
    start[v + 1] = size;
  }
  return {
    vertices: graph.vertices,
    start,
    neighbour: neighbour.slice(0, size),
    slot: kept.slice(0, size),
  };
}

/** The same of the entries below the diagonal alone. */
export function lowerEntriesOf(
  pattern: SparsePattern,
  changing: Uint8Array,
  take: 0 | 1,
): LowerEntries {
  const { vertices } = pattern;
  const start = new Int32Array(vertices + 1);
  const slot = new Int32Array(pattern.column.length);
  const column = new Int32Array(pattern.column.length);
  let size = 0;
  for (let v = 0; v < vertices; v++) {
    for (let k = pattern.start[v]; k < pattern.start[v + 1]; k++) {
      if (changing[k] !== take) continue;
      column[size] = pattern.column[k];
      slot[size++] = k;
    }
    start[v + 1] = size;
  }
  return { vertices, start, column: column.slice(0, size), slot: slot.slice(0, size) };
}

/** For every neighbour of every vertex: the place of their entry in the lower half. */
function slotsOf(graph: Adjacency): Int32Array {
  const { vertices, start, neighbour } = graph;
  const slot = new Int32Array(neighbour.length);
  // Rows are ascending, so each vertex meets its upper neighbours in the order of their rows.
  const upper = new Int32Array(vertices);
  for (let v = 0; v < vertices; v++) {
    let k = start[v];
    while (k < start[v + 1] && neighbour[k] < v) k++;
    upper[v] = k;
  }
  let entry = 0;
  for (let v = 0; v < vertices; v++) {
    for (let k = start[v]; k < start[v + 1] && neighbour[k] < v; k++) {
      slot[k] = entry;
      slot[upper[neighbour[k]]++] = entry++;
    }
  }
  return slot;
}
