/**
 * A small space of smooth displacements of the sheet, for correcting what local sweeps cannot: long
 * bends that hardly stretch anything. Nodes are spread evenly over the sheet; each vertex moves with a
 * weighted mean of the nodes near it. The weights reproduce linear fields exactly (moving least
 * squares), so that a patch of sheet can turn without stretching.
 * In: Metric and a shape. Out: nodes, weights, and the Hessian restricted to the space, factored.
 * Sources: two-level methods, e.g. B. Smith, P. Bjørstad, W. Gropp, "Domain Decomposition" (1996);
 * weights: P. Lancaster, K. Salkauskas, Math. Comp. 37 (1981); kernel: H. Wendland, 1995.
 */

import type { Metric } from '../../gauge/metric.ts';
import type { Adjacency } from '../../math/adjacency.ts';
import { Cholesky, NotPositiveDefiniteError } from '../../math/cholesky.ts';
import { planCholesky } from '../../math/cholesky-plan.ts';
import { dissect } from '../../math/dissection.ts';
import {
  emptyMatrix,
  lowerPattern,
  type SparseSymmetric,
  slotOf,
} from '../../math/sparse-symmetric.ts';
import { type NodeWeights, spreadNodes } from './coarse-nodes.ts';

/** Shift of the coarse matrix as a share of its mean diagonal. Chosen: under its softest bends. */
const SHIFT = 1e-8;

export class CoarseSpace {
  readonly nodes: number;
  private readonly metric: Metric;
  private readonly weights: NodeWeights;
  private readonly matrix: SparseSymmetric;
  /** Bending part: constant, one number per block. */
  private readonly bendDiagonal: Float64Array;
  private readonly bendLower: Float64Array;
  private readonly factor: Cholesky;
  private readonly field: Float64Array;
  private usable = false;
  /** Nodes of the element at hand and their combined coefficients. */
  private readonly member: Int32Array;
  private readonly coefficient: Float64Array;
  private members = 0;
  private readonly place: Int32Array;

  /** `graph` joins vertices that share a spring or a hinge. */
  constructor(metric: Metric, graph: Adjacency, x: Float64Array) {
    this.metric = metric;
    this.weights = spreadNodes(metric, x);
    const { nodes, nodeVertex } = this.weights;
    this.nodes = nodes;
    const coarse = coarseGraph(graph, this.weights);
    const pattern = lowerPattern(coarse);
    const positions = new Float64Array(3 * nodes);
    for (let k = 0; k < nodes; k++) {
      for (let d = 0; d < 3; d++) positions[3 * k + d] = x[3 * nodeVertex[k] + d];
    }
    this.factor = new Cholesky(planCholesky(pattern, dissect(coarse, positions)), 3);
    this.matrix = emptyMatrix(pattern, 3);
    this.bendDiagonal = new Float64Array(nodes);
    this.bendLower = new Float64Array(pattern.column.length);
    this.field = new Float64Array(3 * nodes);
    this.member = new Int32Array(nodes);
    this.coefficient = new Float64Array(nodes);
    this.place = new Int32Array(nodes).fill(-1);
    this.addBending();
  }

  /** Restricts and factors the Hessian at x (its positive part). */
  refresh(x: Float64Array): void {
    const { matrix, bendDiagonal, bendLower, nodes } = this;
    matrix.lower.fill(0);
    matrix.diagonal.fill(0);
    for (let k = 0; k < nodes; k++) {
      for (let r = 0; r < 9; r += 4) matrix.diagonal[9 * k + r] = bendDiagonal[k];
    }
    for (let k = 0; k < bendLower.length; k++) {
      for (let r = 0; r < 9; r += 4) matrix.lower[9 * k + r] = bendLower[k];
    }
    this.addSprings(x);
    let trace = 0;
    for (let k = 0; k < matrix.diagonal.length; k += 9) {
      trace += matrix.diagonal[k] + matrix.diagonal[k + 4] + matrix.diagonal[k + 8];
    }
    try {
      this.factor.factor(matrix, (SHIFT * trace) / (3 * nodes));
      this.usable = true;
    } catch (error) {
      // Rounding can tip a nearly singular matrix: go on without the correction.
      if (!(error instanceof NotPositiveDefiniteError)) throw error;
      this.usable = false;
    }
  }

  /** to += P H_c⁻¹ Pᵀ r. */
  addCorrection(r: Float64Array, to: Float64Array): void {
    if (!this.usable) return;
    const { field, metric } = this;
    const { start, node, weight } = this.weights;
    field.fill(0);
    for (let v = 0; v < metric.vertices; v++) {
      const r0 = r[3 * v];
      const r1 = r[3 * v + 1];
      const r2 = r[3 * v + 2];
      for (let k = start[v]; k < start[v + 1]; k++) {
        const c = 3 * node[k];
        const w = weight[k];
        field[c] += w * r0;
        field[c + 1] += w * r1;
        field[c + 2] += w * r2;
      }
    }
    this.factor.solve(field);
    for (let v = 0; v < metric.vertices; v++) {
      let t0 = 0;
      let t1 = 0;
      let t2 = 0;
      for (let k = start[v]; k < start[v + 1]; k++) {
        const c = 3 * node[k];
        const w = weight[k];
        t0 += w * field[c];
        t1 += w * field[c + 1];
        t2 += w * field[c + 2];
      }
      to[3 * v] += t0;
      to[3 * v + 1] += t1;
      to[3 * v + 2] += t2;
    }
  }

  private clearElement(): void {
    for (let k = 0; k < this.members; k++) this.place[this.member[k]] = -1;
    this.members = 0;
  }

  /** Adds `factor` × (the weights of vertex v) to the element's coefficients. */
  private gather(v: number, factor: number): void {
    const { start, node, weight } = this.weights;
    for (let k = start[v]; k < start[v + 1]; k++) {
      const c = node[k];
      if (this.place[c] < 0) {
        this.place[c] = this.members;
        this.member[this.members] = c;
        this.coefficient[this.members++] = 0;
      }
      this.coefficient[this.place[c]] += factor * weight[k];
    }
  }

  private addBending(): void {
    const { hinges, hingeWeights, bendingMm } = this.metric;
    const { member, coefficient, matrix, bendDiagonal, bendLower } = this;
    const ll = bendingMm * bendingMm;
    for (let h = 0; h < hinges.length; h += 4) {
      this.clearElement();
      for (let m = 0; m < 4; m++) this.gather(hinges[h + m], hingeWeights[h + m]);
      for (let a = 0; a < this.members; a++) {
        const ca = ll * coefficient[a];
        bendDiagonal[member[a]] += ca * coefficient[a];
        for (let b = 0; b < a; b++) {
          bendLower[slotOf(matrix.pattern, member[a], member[b])] += ca * coefficient[b];
        }
      }
    }
    this.clearElement();
  }

  private addSprings(x: Float64Array): void {
    const { springs, restMm, stiffness } = this.metric;
    const { member, coefficient, matrix } = this;
    const { diagonal, lower, pattern } = matrix;
    for (let s = 0; s < restMm.length; s++) {
      const i = springs[2 * s];
      const j = springs[2 * s + 1];
      const ux = x[3 * i] - x[3 * j];
      const uy = x[3 * i + 1] - x[3 * j + 1];
      const uz = x[3 * i + 2] - x[3 * j + 2];
      const squared = ux * ux + uy * uy + uz * uz;
      if (!(squared > 0)) continue;
      // As in springs.ts: the sideways push of compressed springs is left out.
      const across = stiffness[s] * Math.max(0, 1 - restMm[s] / Math.sqrt(squared));
      const along = (stiffness[s] - across) / squared;
      const xx = across + along * ux * ux;
      const yy = across + along * uy * uy;
      const zz = across + along * uz * uz;
      const xy = along * ux * uy;
      const xz = along * ux * uz;
      const yz = along * uy * uz;
      this.clearElement();
      this.gather(i, 1);
      this.gather(j, -1);
      for (let a = 0; a < this.members; a++) {
        for (let b = 0; b <= a; b++) {
          const w = coefficient[a] * coefficient[b];
          const to = a === b ? diagonal : lower;
          const at = 9 * (a === b ? member[a] : slotOf(pattern, member[a], member[b]));
          to[at] += w * xx;
          to[at + 1] += w * xy;
          to[at + 2] += w * xz;
          to[at + 3] += w * xy;
          to[at + 4] += w * yy;
          to[at + 5] += w * yz;
          to[at + 6] += w * xz;
          to[at + 7] += w * yz;
          to[at + 8] += w * zz;
        }
      }
    }
    this.clearElement();
  }
}

/** Nodes are joined when some spring or hinge feels both. */
function coarseGraph(graph: Adjacency, weights: NodeWeights): Adjacency {
  const { nodes, start, node } = weights;
  const n = graph.vertices;
  // Vertices of each node.
  const first = new Int32Array(nodes + 1);
  for (let k = 0; k < node.length; k++) first[node[k] + 1]++;
  for (let k = 0; k < nodes; k++) first[k + 1] += first[k];
  const fill = first.slice(0, nodes);
  const vertex = new Int32Array(node.length);
  for (let v = 0; v < n; v++) {
    for (let k = start[v]; k < start[v + 1]; k++) vertex[fill[node[k]]++] = v;
  }
  const seen = new Int32Array(nodes).fill(-1);
  const visited = new Int32Array(n).fill(-1);
  const lists: Int32Array[] = [];
  const scratch = new Int32Array(nodes);
  const offset = new Int32Array(nodes + 1);
  for (let a = 0; a < nodes; a++) {
    let size = 0;
    seen[a] = a;
    for (let e = first[a]; e < first[a + 1]; e++) {
      const v = vertex[e];
      for (let g = graph.start[v] - 1; g < graph.start[v + 1]; g++) {
        const u = g < graph.start[v] ? v : graph.neighbour[g];
        if (visited[u] === a) continue;
        visited[u] = a;
        for (let k = start[u]; k < start[u + 1]; k++) {
          if (seen[node[k]] === a) continue;
          seen[node[k]] = a;
          scratch[size++] = node[k];
        }
      }
    }
    lists.push(scratch.slice(0, size).sort());
    offset[a + 1] = offset[a] + size;
  }
  const neighbour = new Int32Array(offset[nodes]);
  for (let a = 0; a < nodes; a++) neighbour.set(lists[a], offset[a]);
  return { vertices: nodes, start: offset, neighbour };
}
