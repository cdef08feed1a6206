/**
 * Nested-dissection ordering of a sparse symmetric matrix: cut the graph in two by a small
 * separator, number both halves first and the separator last, repeat within the halves.
 * In: the matrix's graph and, if known, a position per vertex. Out: the elimination order.
 * Source: A. George, "Nested dissection of a regular finite element mesh", SIAM J. Numer. Anal. 10
 * (1973). Cuts tried for each piece: a plane across its longest extent (needs positions) and a level
 * of a breadth-first search; the smaller wins. Level cuts work for any graph.
 */

import type { Adjacency } from './adjacency.ts';

/** Pieces this small are not cut further. Chosen: timing is flat between 20 and 80. */
const LEAF = 40;
/** A level cut must leave at least this share on either side. Chosen. */
const LEAST_SHARE = 0.3;

/** Order in which to eliminate: `order[k]` is the vertex numbered k. Positions are [3·vertices]. */
export function dissect(graph: Adjacency, positions: Float64Array | null): Int32Array {
  const n = graph.vertices;
  const order = new Int32Array(n);
  const cutter = new Cutter(graph, positions);
  const all = new Int32Array(n);
  for (let v = 0; v < n; v++) all[v] = v;
  // Explicit stack of [vertices of the piece, first number of the piece].
  const pieces: [Int32Array, number][] = [[all, 0]];
  while (pieces.length > 0) {
    const [piece, first] = pieces.pop()!;
    const cut = piece.length > LEAF ? cutter.cut(piece) : null;
    if (cut === null) {
      order.set(piece, first);
      continue;
    }
    const { left, right, separator } = cut;
    pieces.push([left, first], [right, first + left.length]);
    order.set(separator, first + left.length + right.length);
  }
  return order;
}

interface Cut {
  left: Int32Array;
  right: Int32Array;
  separator: Int32Array;
}

class Cutter {
  private readonly graph: Adjacency;
  private readonly positions: Float64Array | null;
  /** Which piece a vertex is in; a fresh number for each piece. */
  private readonly piece: Int32Array;
  private readonly side: Uint8Array;
  private readonly level: Int32Array;
  private readonly queue: Int32Array;
  private pieces = 0;

  constructor(graph: Adjacency, positions: Float64Array | null) {
    this.graph = graph;
    this.positions = positions;
    this.piece = new Int32Array(graph.vertices).fill(-1);
    this.side = new Uint8Array(graph.vertices);
    this.level = new Int32Array(graph.vertices);
    this.queue = new Int32Array(graph.vertices);
  }

  /** Null when the piece cannot be cut usefully (a clique, say). */
  cut(members: Int32Array): Cut | null {
    const id = this.pieces++;
    for (let k = 0; k < members.length; k++) this.piece[members[k]] = id;
    const byLevel = this.cutByLevel(members, id);
    const byPlane = this.positions === null ? null : this.cutByPlane(members, id);
    const best =
      byPlane !== null && (byLevel === null || byPlane.separator.length <= byLevel.separator.length)
        ? byPlane
        : byLevel;
    if (best === null || best.separator.length >= members.length / 2) return null;
    return best;
  }

  /** Breadth-first levels from `root` within the piece; returns how many vertices were reached. */
  private search(root: number, id: number): number {
    const { graph, level, queue, piece } = this;
    let head = 0;
    let tail = 0;
    queue[tail++] = root;
    level[root] = 0;
    while (head < tail) {
      const v = queue[head++];
      for (let k = graph.start[v]; k < graph.start[v + 1]; k++) {
        const u = graph.neighbour[k];
        if (piece[u] !== id || level[u] >= 0) continue;
        level[u] = level[v] + 1;
        queue[tail++] = u;
      }
    }
    return tail;
  }

  private clearLevels(members: Int32Array): void {
    for (let k = 0; k < members.length; k++) this.level[members[k]] = -1;
  }

  private cutByLevel(members: Int32Array, id: number): Cut | null {
    const { level, queue, side } = this;
    // Two searches find a vertex on the rim of the piece.
    let root = members[0];
    let reached = 0;
    for (let pass = 0; pass < 3; pass++) {
      this.clearLevels(members);
      reached = this.search(root, id);
      if (reached < members.length) break;
      if (pass < 2) root = queue[reached - 1];
    }
    if (reached < members.length) {
      // Loose parts: no separator is needed at all.
      const left = members.filter((v) => level[v] >= 0);
      const right = members.filter((v) => level[v] < 0);
      return { left, right, separator: new Int32Array(0) };
    }
    const depth = level[queue[reached - 1]];
    const width = new Int32Array(depth + 1);
    for (let k = 0; k < members.length; k++) width[level[members[k]]]++;
    let best = -1;
    for (let d = 1, before = width[0]; d < depth; before += width[d++]) {
      const after = members.length - before - width[d];
      if (Math.min(before, after) < LEAST_SHARE * (members.length - width[d])) continue;
      if (best < 0 || width[d] < width[best]) best = d;
    }
    if (best < 0) return null;
    for (let k = 0; k < members.length; k++) side[members[k]] = level[members[k]] <= best ? 0 : 1;
    return this.separate(members, id);
  }

  private cutByPlane(members: Int32Array, id: number): Cut | null {
    const x = this.positions!;
    let axis = 0;
    let widest = -1;
    for (let d = 0; d < 3; d++) {
      let low = Number.POSITIVE_INFINITY;
      let high = Number.NEGATIVE_INFINITY;
      for (let k = 0; k < members.length; k++) {
        const c = x[3 * members[k] + d];
        if (c < low) low = c;
        if (c > high) high = c;
      }
      if (high - low > widest) {
        widest = high - low;
        axis = d;
      }
    }
    const coordinate = new Float64Array(members.length);
    for (let k = 0; k < members.length; k++) coordinate[k] = x[3 * members[k] + axis];
    const middle = coordinate.slice().sort()[members.length >> 1];
    let left = 0;
    for (let k = 0; k < members.length; k++) {
      const right = coordinate[k] >= middle;
      this.side[members[k]] = right ? 1 : 0;
      if (!right) left++;
    }
    if (left === 0 || left === members.length) return null;
    return this.separate(members, id);
  }

  /** Turns the two-colouring `side` into a separator: the smaller of the two rims along the cut. */
  private separate(members: Int32Array, id: number): Cut {
    const { graph, piece, side } = this;
    const onRim = [0, 0];
    const rim = this.level;
    for (let k = 0; k < members.length; k++) {
      const v = members[k];
      rim[v] = 0;
      for (let e = graph.start[v]; e < graph.start[v + 1]; e++) {
        const u = graph.neighbour[e];
        if (piece[u] === id && side[u] !== side[v]) {
          rim[v] = 1;
          onRim[side[v]]++;
          break;
        }
      }
    }
    const chosen = onRim[0] <= onRim[1] ? 0 : 1;
    const separator = members.filter((v) => rim[v] === 1 && side[v] === chosen);
    const left = members.filter((v) => side[v] === 0 && !(chosen === 0 && rim[v] === 1));
    const right = members.filter((v) => side[v] === 1 && !(chosen === 1 && rim[v] === 1));
    return { left, right, separator };
  }
}
