/**
 * Minimum-degree ordering of a sparse symmetric matrix: eliminate next what has fewest neighbours left. Fills less
 * than nested dissection up to some thousands of vertices, and for graphs that wrap round.
 * In: the matrix's graph. Out: the elimination order.
 * Source: P. Amestoy, T. Davis, I. Duff, "An approximate minimum degree ordering algorithm", SIAM J. Matrix Anal. 17 (1996).
 */

import type { Adjacency } from './adjacency.ts';

/** Order in which to eliminate: `order[k]` is the vertex numbered k. The same for the same graph. */
export function minimumDegree(graph: Adjacency): Int32Array {
  return new QuotientGraph(graph).eliminate();
}

/**
 * What is left of the graph: variables (vertices that act as one, not yet eliminated) and elements (eliminated
 * ones, each a clique of the variables it joins).
 */
class QuotientGraph {
  private readonly vertices: number;
  /** Vertices in a variable; 0 once it is eliminated or merged into another. */
  private readonly size: Int32Array;
  /** Per variable: the variables and the elements beside it. */
  private readonly variables: number[][];
  private readonly elements: number[][];
  /** Per element: its variables, null once it is part of a later one; and their sizes together. */
  private readonly members: (number[] | null)[];
  private readonly weight: Int32Array;
  /** Vertices of each variable as a list: the next of each, and the last of each. */
  private readonly following: Int32Array;
  private readonly last: Int32Array;
  private readonly degree: Int32Array;
  /** Variables of each degree, doubly linked. */
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly before: Int32Array;
  private lowest = 0;
  /** Numbers of the last pivot that met a variable, or counted an element. */
  private readonly mark: Int32Array;
  private readonly counted: Int32Array;
  /** What an element has besides the pivot's variables. */
  private readonly outside: Int32Array;
  /** Variables of the clique by the hash of their neighbours, as lists: pivot that they are of, first, next. */
  private readonly hashed: Int32Array;
  private readonly first: Int32Array;
  private readonly behind: Int32Array;
  private left: number;

  constructor({ vertices, start, neighbour }: Adjacency) {
    this.vertices = vertices;
    this.left = vertices;
    this.size = new Int32Array(vertices).fill(1);
    this.variables = Array.from({ length: vertices }, (_, v) =>
      Array.from(neighbour.subarray(start[v], start[v + 1])),
    );
    this.elements = Array.from({ length: vertices }, () => []);
    this.members = new Array<number[] | null>(vertices).fill(null);
    this.weight = new Int32Array(vertices);
    this.following = new Int32Array(vertices).fill(-1);
    this.last = Int32Array.from({ length: vertices }, (_, v) => v);
    this.degree = Int32Array.from(this.variables, (list) => list.length);
    this.head = new Int32Array(vertices + 1).fill(-1);
    this.next = new Int32Array(vertices).fill(-1);
    this.before = new Int32Array(vertices).fill(-1);
    this.mark = new Int32Array(vertices).fill(-1);
    this.counted = new Int32Array(vertices).fill(-1);
    this.outside = new Int32Array(vertices);
    this.hashed = new Int32Array(vertices).fill(-1);
    this.first = new Int32Array(vertices);
    this.behind = new Int32Array(vertices);
    for (let v = vertices - 1; v >= 0; v--) this.list(v);
  }

  eliminate(): Int32Array {
    const order = new Int32Array(this.vertices);
    let numbered = 0;
    for (let step = 0; numbered < this.vertices; step++) {
      while (this.head[this.lowest] < 0) this.lowest++;
      const pivot = this.head[this.lowest];
      this.unlist(pivot);
      const clique = this.neighboursOf(pivot, step);
      this.left -= this.size[pivot];
      this.countOutside(clique, step);
      this.update(pivot, clique, step);
      this.size[pivot] = 0;
      for (let v = pivot; v >= 0; v = this.following[v]) order[numbered++] = v;
    }
    return order;
  }

  /** All variables that eliminating the pivot joins; its elements become part of it. */
  private neighboursOf(pivot: number, step: number): number[] {
    const { mark, size, members, elements, variables } = this;
    const clique: number[] = [];
    mark[pivot] = step;
    const add = (list: readonly number[]) => {
      for (const v of list) {
        if (size[v] === 0 || mark[v] === step) continue;
        mark[v] = step;
        clique.push(v);
      }
    };
    add(variables[pivot]);
    for (const e of elements[pivot]) {
      const list = members[e];
      if (list) add(list);
      members[e] = null;
    }
    return clique;
  }

  /** `outside` of every element that meets the clique. */
  private countOutside(clique: readonly number[], step: number): void {
    const { elements, members, counted, outside, weight, size } = this;
    for (const v of clique) {
      for (const e of elements[v]) {
        if (!members[e]) continue;
        if (counted[e] !== step) {
          counted[e] = step;
          outside[e] = weight[e];
        }
        outside[e] -= size[v];
      }
    }
  }

  private update(pivot: number, clique: readonly number[], step: number): void {
    const { size, degree } = this;
    let joined = 0;
    for (const v of clique) joined += size[v];
    for (const v of clique) {
      this.unlist(v);
      const { beyond, hash } = this.prune(v, pivot, step);
      // Nothing but the pivot beside it: eliminated with it, without fill.
      if (beyond === 0) {
        this.merge(v, pivot);
        continue;
      }
      const others = joined - size[v];
      degree[v] = Math.min(degree[v] + others, beyond + others, this.left - size[v]);
      const twin = this.twinOf(v, hash % this.vertices, step);
      if (twin < 0) continue;
      degree[twin] -= size[v];
      this.merge(v, twin);
    }
    const rest = clique.filter((v) => size[v] > 0);
    this.members[pivot] = rest;
    let weight = 0;
    for (const v of rest) {
      weight += size[v];
      this.list(v);
    }
    this.weight[pivot] = weight;
  }

  /** Leaves out what the new element `pivot` already says; counts what lies beyond it. */
  private prune(v: number, pivot: number, step: number): { beyond: number; hash: number } {
    const { elements, variables, members, outside, size, mark } = this;
    let beyond = 0;
    let hash = pivot;
    const near = elements[v];
    let kept = 0;
    for (const e of near) {
      if (!members[e]) continue;
      // All of it lies in the new element.
      if (outside[e] <= 0) {
        members[e] = null;
        continue;
      }
      beyond += outside[e];
      hash += e;
      near[kept++] = e;
    }
    near.length = kept;
    near.push(pivot);
    const direct = variables[v];
    kept = 0;
    for (const u of direct) {
      if (size[u] === 0 || mark[u] === step) continue;
      beyond += size[u];
      hash += u;
      direct[kept++] = u;
    }
    direct.length = kept;
    return { beyond, hash };
  }

  /** A variable of the clique with the same neighbours as v, or −1; then v is kept to be found as one. */
  private twinOf(v: number, hash: number, step: number): number {
    const { hashed, first, behind } = this;
    if (hashed[hash] !== step) {
      hashed[hash] = step;
      first[hash] = -1;
    }
    for (let u = first[hash]; u >= 0; u = behind[u]) if (this.sameNeighbours(u, v)) return u;
    behind[v] = first[hash];
    first[hash] = v;
    return -1;
  }

  private sameNeighbours(u: number, v: number): boolean {
    return (
      sameList(this.elements[u], this.elements[v]) && sameList(this.variables[u], this.variables[v])
    );
  }

  /** Vertices of v are numbered behind those of `into` from now on. */
  private merge(v: number, into: number): void {
    const { size, following, last } = this;
    following[last[into]] = v;
    last[into] = last[v];
    size[into] += size[v];
    size[v] = 0;
  }

  private list(v: number): void {
    const { head, next, before, degree } = this;
    const d = degree[v];
    next[v] = head[d];
    before[v] = -1;
    if (head[d] >= 0) before[head[d]] = v;
    head[d] = v;
    if (d < this.lowest) this.lowest = d;
  }

  private unlist(v: number): void {
    const { head, next, before, degree } = this;
    if (before[v] >= 0) next[before[v]] = next[v];
    else head[degree[v]] = next[v];
    if (next[v] >= 0) before[next[v]] = before[v];
  }
}

function sameList(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  for (const v of a) if (!b.includes(v)) return false;
  return true;
}
