/**
 * Undirected graphs as compressed neighbour lists, built from cliques of vertices (springs are
 * cliques of two, hinges of four). Lists are sorted, without loops or repeats.
 */

export interface Adjacency {
  readonly vertices: number;
  /** [vertices + 1] offsets into `neighbour`. */
  readonly start: Int32Array;
  /** Neighbours of each vertex, ascending. */
  readonly neighbour: Int32Array;
}

export interface Cliques {
  /** [size·count] vertex indices, `size` at a time. */
  readonly members: Int32Array;
  readonly size: number;
}

export function buildAdjacency(vertices: number, families: readonly Cliques[]): Adjacency {
  const capacity = new Int32Array(vertices + 1);
  for (const { members, size } of families) {
    for (let k = 0; k < members.length; k++) capacity[members[k] + 1] += size - 1;
  }
  for (let v = 0; v < vertices; v++) capacity[v + 1] += capacity[v];
  const raw = new Int32Array(capacity[vertices]);
  const fill = capacity.slice(0, vertices);
  for (const { members, size } of families) {
    for (let first = 0; first < members.length; first += size) {
      for (let i = 0; i < size; i++) {
        const v = members[first + i];
        for (let j = 0; j < size; j++) {
          if (members[first + j] !== v) raw[fill[v]++] = members[first + j];
        }
      }
    }
  }
  // Sort and drop repeats in place; the write cursor never overtakes the read cursor.
  const start = new Int32Array(vertices + 1);
  let write = 0;
  for (let v = 0; v < vertices; v++) {
    const list = raw.subarray(capacity[v], fill[v]).sort();
    let last = -1;
    for (let k = 0; k < list.length; k++) {
      const u = list[k];
      if (u !== last) raw[write++] = u;
      last = u;
    }
    start[v + 1] = write;
  }
  return { vertices, start, neighbour: raw.slice(0, write) };
}
