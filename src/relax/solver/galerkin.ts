/**
 * A stiffness matrix seen by fewer nodes: A_c = Pᵀ A P, where P lets every vertex follow its nodes with scalar
 * weights. In: the pattern of A and the weights, once; A, many times. Out: A_c.
 * Source: W. Briggs, V. Henson, S. McCormick, "A Multigrid Tutorial", 2nd ed. (2000), ch. 10.
 */

import type { Adjacency } from '../../math/adjacency.ts';
import { lowerPattern } from '../../math/sparse-symmetric.ts';
import { emptyBlocks, type SymmetricBlocks } from '../../math/symmetric-blocks.ts';
import type { NodeWeights } from './coarse-nodes.ts';
import { type Entries, entriesOf } from './entry-parts.ts';
import { projectScalars, type ScalarMatrix } from './scalar-product.ts';

export class Galerkin {
  /** Nodes are joined when some entry of A joins vertices of both. */
  readonly graph: Adjacency;
  readonly matrix: SymmetricBlocks;
  private readonly weights: NodeWeights;
  private readonly fine: Adjacency;
  private readonly changing: Entries;
  /** Entries of A that never change, numbers times the unit block, and what they come to in A_c once known. */
  private readonly constant: Entries | null;
  private constantPart: ScalarMatrix | null = null;
  /** Vertices of each node, with their weights. */
  private readonly first: Int32Array;
  private readonly vertex: Int32Array;
  private readonly share: Float64Array;
  /** Row a of Pᵀ A, by vertex, and of A_c, by node: dense, cleared by their lists. */
  private readonly rowOf: Float64Array;
  private readonly rowList: Int32Array;
  private readonly rowMark: Int32Array;
  private readonly sumOf: Float64Array;

  /**
   * `fine` joins the vertices that share an entry of A; `changing`, [entries below the diagonal], is 1 where
   * the entry is not the same at every refresh (null: anywhere). The diagonal always may change.
   */
  constructor(fine: Adjacency, weights: NodeWeights, changing: Uint8Array | null = null) {
    this.fine = fine;
    this.weights = weights;
    const n = fine.vertices;
    this.changing = entriesOf(fine, changing, 1);
    this.constant = changing && entriesOf(fine, changing, 0);
    const { nodes, start, node, weight } = weights;
    this.first = new Int32Array(nodes + 1);
    for (let k = 0; k < node.length; k++) this.first[node[k] + 1]++;
    for (let k = 0; k < nodes; k++) this.first[k + 1] += this.first[k];
    const fill = this.first.slice(0, nodes);
    this.vertex = new Int32Array(node.length);
    this.share = new Float64Array(node.length);
    for (let v = 0; v < n; v++) {
      for (let k = start[v]; k < start[v + 1]; k++) {
        const at = fill[node[k]]++;
        this.vertex[at] = v;
        this.share[at] = weight[k];
      }
    }
    this.graph = this.joinNodes();
    this.matrix = emptyBlocks(lowerPattern(this.graph));
    this.rowOf = new Float64Array(6 * n);
    this.rowList = new Int32Array(n);
    this.rowMark = new Int32Array(n).fill(-1);
    this.sumOf = new Float64Array(6 * nodes);
  }

  /** Takes the values of A; `this.matrix` then holds Pᵀ A P. */
  refresh(a: SymmetricBlocks): void {
    const { matrix, changing, constant } = this;
    if (constant !== null && this.constantPart === null) {
      const { first, vertex, share, weights } = this;
      const rows = { ...weights, first, vertex, share };
      this.constantPart = projectScalars(a.lower, constant, rows, matrix.pattern);
    }
    this.project(a, changing);
    if (this.constantPart === null) return;
    addTo(this.constantPart.diagonal, matrix.diagonal);
    addTo(this.constantPart.lower, matrix.lower);
  }

  /** The next `refresh` projects constant entries anew. */
  forgetConstants(): void {
    this.constantPart = null;
  }

  /** Pᵀ A P of the entries given and the diagonal. */
  private project(a: SymmetricBlocks, entries: Entries): void {
    const { matrix, weights, rowOf, rowList, sumOf } = this;
    const { nodes, start, node, weight } = weights;
    const { pattern, diagonal, lower } = matrix;
    for (let c = 0; c < nodes; c++) {
      const size = this.takeRow(a, entries, c);
      for (let m = 0; m < size; m++) {
        const u = rowList[m];
        const e = 6 * u;
        const b0 = rowOf[e];
        const b1 = rowOf[e + 1];
        const b2 = rowOf[e + 2];
        const b3 = rowOf[e + 3];
        const b4 = rowOf[e + 4];
        const b5 = rowOf[e + 5];
        for (let k = start[u]; k < start[u + 1]; k++) {
          // A vertex lists its nodes upwards.
          if (node[k] > c) break;
          const w = weight[k];
          const to = 6 * node[k];
          sumOf[to] += w * b0;
          sumOf[to + 1] += w * b1;
          sumOf[to + 2] += w * b2;
          sumOf[to + 3] += w * b3;
          sumOf[to + 4] += w * b4;
          sumOf[to + 5] += w * b5;
        }
      }
      for (let k = pattern.start[c]; k < pattern.start[c + 1]; k++) {
        const from = 6 * pattern.column[k];
        for (let r = 0; r < 6; r++) {
          lower[6 * k + r] = sumOf[from + r];
          sumOf[from + r] = 0;
        }
      }
      for (let r = 0; r < 6; r++) {
        diagonal[6 * c + r] = sumOf[6 * c + r];
        sumOf[6 * c + r] = 0;
      }
    }
  }

  /** Row c of Pᵀ A into `rowOf`, its vertices into `rowList`; returns how many. */
  private takeRow(a: SymmetricBlocks, entries: Entries, c: number): number {
    const { first, vertex, share, rowOf, rowList, rowMark } = this;
    const { start, neighbour, slot } = entries;
    const { diagonal, lower } = a;
    let size = 0;
    for (let m = first[c]; m < first[c + 1]; m++) {
      const v = vertex[m];
      const w = share[m];
      size = this.open(v, c, size);
      addBlock(diagonal, 6 * v, w, rowOf, 6 * v);
      for (let g = start[v]; g < start[v + 1]; g++) {
        const u = neighbour[g];
        if (rowMark[u] !== c) size = this.open(u, c, size);
        addBlock(lower, 6 * slot[g], w, rowOf, 6 * u);
      }
    }
    for (let m = 0; m < size; m++) rowMark[rowList[m]] = -1;
    return size;
  }

  /** Takes vertex u into the row marked `mark`, empty, unless it is there. */
  private open(u: number, mark: number, size: number): number {
    const { rowOf, rowList, rowMark } = this;
    if (rowMark[u] === mark) return size;
    rowMark[u] = mark;
    rowList[size] = u;
    for (let r = 6 * u; r < 6 * u + 6; r++) rowOf[r] = 0;
    return size + 1;
  }

  /** coarse ← Pᵀ fine. */
  restrict(fineField: Float64Array, coarse: Float64Array): void {
    const { first, vertex, share } = this;
    for (let c = 0, k = 0; c < this.weights.nodes; c++) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      for (const to = first[c + 1]; k < to; k++) {
        const v = 3 * vertex[k];
        const w = share[k];
        s0 += w * fineField[v];
        s1 += w * fineField[v + 1];
        s2 += w * fineField[v + 2];
      }
      coarse[3 * c] = s0;
      coarse[3 * c + 1] = s1;
      coarse[3 * c + 2] = s2;
    }
  }

  /** fine += P coarse. */
  addTo(coarse: Float64Array, fineField: Float64Array): void {
    const { start, node, weight } = this.weights;
    for (let v = 0; v < this.fine.vertices; v++) {
      let t0 = 0;
      let t1 = 0;
      let t2 = 0;
      for (let k = start[v]; k < start[v + 1]; k++) {
        const c = 3 * node[k];
        const w = weight[k];
        t0 += w * coarse[c];
        t1 += w * coarse[c + 1];
        t2 += w * coarse[c + 2];
      }
      fineField[3 * v] += t0;
      fineField[3 * v + 1] += t1;
      fineField[3 * v + 2] += t2;
    }
  }

  private joinNodes(): Adjacency {
    const { fine, weights, first, vertex } = this;
    const { nodes, start, node } = weights;
    const seen = new Int32Array(nodes).fill(-1);
    const visited = new Int32Array(fine.vertices).fill(-1);
    const offset = new Int32Array(nodes + 1);
    let neighbour = new Int32Array(64 * nodes);
    let size = 0;
    for (let a = 0; a < nodes; a++) {
      seen[a] = a;
      for (let e = first[a]; e < first[a + 1]; e++) {
        const v = vertex[e];
        for (let g = fine.start[v] - 1; g < fine.start[v + 1]; g++) {
          const u = g < fine.start[v] ? v : fine.neighbour[g];
          if (visited[u] === a) continue;
          visited[u] = a;
          for (let k = start[u]; k < start[u + 1]; k++) {
            if (seen[node[k]] === a) continue;
            seen[node[k]] = a;
            if (size === neighbour.length) {
              const longer = new Int32Array(2 * size);
              longer.set(neighbour);
              neighbour = longer;
            }
            neighbour[size++] = node[k];
          }
        }
      }
      neighbour.subarray(offset[a], size).sort();
      offset[a + 1] = size;
    }
    return { vertices: nodes, start: offset, neighbour: neighbour.slice(0, size) };
  }
}

/** Adds numbers times the unit block. */
function addTo(from: Float64Array, to: Float64Array): void {
  for (let k = 0, at = 0; k < from.length; k++, at += 6) {
    to[at] += from[k];
    to[at + 3] += from[k];
    to[at + 5] += from[k];
  }
}

function addBlock(from: Float64Array, at: number, w: number, to: Float64Array, u: number): void {
  to[u] += w * from[at];
  to[u + 1] += w * from[at + 1];
  to[u + 2] += w * from[at + 2];
  to[u + 3] += w * from[at + 3];
  to[u + 4] += w * from[at + 4];
  to[u + 5] += w * from[at + 5];
}
