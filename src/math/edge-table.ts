/**
 * The unique undirected edges of a mesh, numbered in the order they are added. Edges are kept in a
 * list per lower end, so finding one takes a few steps where vertices have few neighbours.
 */
export class EdgeTable {
  /** [2·edges] ends, as first added. Longer than needed; `count` edges are valid. */
  private endsBuffer: Int32Array;
  private next: Int32Array;
  private readonly head: Int32Array;
  count = 0;

  constructor(vertices: number, expected: number) {
    this.head = new Int32Array(vertices).fill(-1);
    this.endsBuffer = new Int32Array(2 * Math.max(16, expected));
    this.next = new Int32Array(Math.max(16, expected));
  }

  /** Number of the edge i–j, or −1. */
  find(i: number, j: number): number {
    const low = i < j ? i : j;
    const high = i < j ? j : i;
    for (let e = this.head[low]; e >= 0; e = this.next[e]) {
      const a = this.endsBuffer[2 * e];
      const b = this.endsBuffer[2 * e + 1];
      if ((a === low && b === high) || (a === high && b === low)) return e;
    }
    return -1;
  }

  /** Number of the edge i–j, added if it is new. */
  add(i: number, j: number): number {
    const found = this.find(i, j);
    if (found >= 0) return found;
    const e = this.count++;
    if (e >= this.next.length) this.grow();
    this.endsBuffer[2 * e] = i;
    this.endsBuffer[2 * e + 1] = j;
    const low = i < j ? i : j;
    this.next[e] = this.head[low];
    this.head[low] = e;
    return e;
  }

  /** [2·count] ends of every edge. */
  ends(): Int32Array {
    return this.endsBuffer.slice(0, 2 * this.count);
  }

  private grow(): void {
    const ends = new Int32Array(2 * this.endsBuffer.length);
    ends.set(this.endsBuffer);
    this.endsBuffer = ends;
    const next = new Int32Array(2 * this.next.length);
    next.set(this.next);
    this.next = next;
  }
}
