/**
 * One V-cycle over ever fewer nodes as an approximate inverse of a stiffness matrix: half a Gauss–Seidel sweep,
 * what it leaves to half as fine a net, the other half of the sweep; the coarsest net by a sparse factor.
 * In: the matrix of the finest net and its points. Symmetric and positive definite, linear in the net's size.
 * Source: W. Hackbusch, "Multi-Grid Methods and Applications" (1985).
 */

import type { Adjacency } from '../../math/adjacency.ts';
import { Cholesky, NotPositiveDefiniteError } from '../../math/cholesky.ts';
import { planCholesky } from '../../math/cholesky-plan.ts';
import { dissect } from '../../math/dissection.ts';
import { emptyMatrix, type SparseSymmetric } from '../../math/sparse-symmetric.ts';
import type { SymmetricBlocks } from '../../math/symmetric-blocks.ts';
import { BlockSweep } from './block-sweep.ts';
import { type Net, spreadNodes } from './coarse-nodes.ts';
import { Galerkin } from './galerkin.ts';

/** Nodes stand this many spacings of the finer net apart. Chosen by timing. */
const COARSENING = 2;
/**
 * How far a node is felt, in spacings: in the finest net, about seven nodes a vertex, and in the coarser ones.
 * Chosen by timing; wider reach makes better steps and dearer ones.
 */
const REACH_FINEST = 1.9;
const REACH_COARSER = 2.3;
/**
 * A net of so few nodes is solved exactly, as is one of so small a share of the finest, up to a most: every
 * level less takes a quarter of the steps off, and factoring costs as the cube. Chosen by timing.
 */
const EXACT = { least: 100, share: 0.01, most: 400 };
/** Fewer nodes than this are not worth a level. */
const LEAST_NODES = 4;
/** Shift of the coarsest matrix as a share of its mean diagonal. Chosen: under its softest bends. */
const SHIFT = 1e-8;

export class VCycle {
  private readonly matrix: SymmetricBlocks;
  private readonly sweep: BlockSweep;
  private readonly galerkin: Galerkin | null = null;
  private readonly coarser: VCycle | ExactLevel | null = null;
  private readonly given: Float64Array;
  private readonly left: Float64Array;
  private readonly coarseField: Float64Array;
  private readonly coarseGround: Float64Array;

  /**
   * `graph` joins vertices that share an entry of the matrix; `net` tells how far apart they lie; `changing`,
   * [entries below the diagonal], is 0 where an entry is a number times the unit block and never changes.
   */
  constructor(
    matrix: SymmetricBlocks,
    graph: Adjacency,
    net: Net,
    x: Float64Array,
    spacingMm: number,
    changing: Uint8Array | null,
    level = 0,
    exactNodes = Math.max(EXACT.least, Math.min(EXACT.most, EXACT.share * net.vertices)),
  ) {
    this.matrix = matrix;
    this.sweep = new BlockSweep(matrix, changing);
    this.given = new Float64Array(x.length);
    this.left = new Float64Array(x.length);
    const wide = COARSENING * spacingMm;
    const weights = spreadNodes(net, x, wide, level === 0 ? REACH_FINEST : REACH_COARSER);
    this.coarseField = new Float64Array(3 * weights.nodes);
    this.coarseGround = new Float64Array(3 * weights.nodes);
    if (weights.nodes < LEAST_NODES) return;
    this.galerkin = new Galerkin(graph, weights, changing);
    const places = new Float64Array(3 * weights.nodes);
    for (let k = 0; k < places.length; k++) {
      places[k] = x[3 * weights.nodeVertex[(k / 3) | 0] + (k % 3)];
    }
    const { graph: coarseGraph, matrix: coarseMatrix } = this.galerkin;
    // Where nodes hardly thin out, another level would not help.
    const exact = weights.nodes <= exactNodes || weights.nodes > 0.7 * net.vertices;
    this.coarser = exact
      ? new ExactLevel(coarseMatrix, coarseGraph, places)
      : new VCycle(
          coarseMatrix,
          coarseGraph,
          netOf(coarseGraph, places),
          places,
          wide,
          null,
          level + 1,
          exactNodes,
        );
  }

  /** Reads the matrix anew, on all levels; `takeGround` must follow. */
  refresh(): void {
    this.sweep.refresh();
    this.galerkin?.refresh(this.matrix);
    this.coarser?.refresh();
  }

  /**
   * Takes a diagonal, [3·vertices], that is added to the matrix. Coarser nets take it lumped, each node its share
   * of what its vertices have: no product of matrices is needed, and all of it counts on every net.
   */
  takeGround(ground: Float64Array): void {
    this.sweep.takeDiagonal(ground);
    if (this.galerkin === null || this.coarser === null) return;
    const { coarseGround } = this;
    this.galerkin.restrict(ground, coarseGround);
    // Weights may be negative at a rim.
    for (let k = 0; k < coarseGround.length; k++) coarseGround[k] = Math.max(0, coarseGround[k]);
    this.coarser.takeGround(coarseGround);
  }

  /** At the next `refresh` entries that never change have changed after all. */
  forgetConstants(): void {
    this.galerkin?.forgetConstants();
  }

  /** d ← approximate A⁻¹ d. */
  apply(d: Float64Array): void {
    const { given, left, sweep, galerkin, coarser, coarseField } = this;
    given.set(d);
    sweep.forward(given, d, left);
    if (galerkin !== null && coarser !== null) {
      galerkin.restrict(left, coarseField);
      coarser.apply(coarseField);
      galerkin.addTo(coarseField, d);
    }
    sweep.backward(given, d);
  }
}

/** The coarsest net, by a sparse factor. */
class ExactLevel {
  private readonly blocks: SymmetricBlocks;
  private readonly matrix: SparseSymmetric;
  private readonly factor: Cholesky;
  private usable = false;

  constructor(blocks: SymmetricBlocks, graph: Adjacency, places: Float64Array) {
    this.blocks = blocks;
    this.matrix = emptyMatrix(blocks.pattern, 3);
    this.factor = new Cholesky(planCholesky(blocks.pattern, dissect(graph, places)), 3);
  }

  refresh(): void {
    unpack(this.blocks.lower, this.matrix.lower);
  }

  takeGround(ground: Float64Array): void {
    const { diagonal } = this.matrix;
    unpack(this.blocks.diagonal, diagonal);
    let trace = 0;
    for (let k = 0; k < ground.length; k++) {
      const at = 9 * ((k / 3) | 0) + 4 * (k % 3);
      diagonal[at] += ground[k];
      trace += diagonal[at];
    }
    try {
      this.factor.factor(this.matrix, (SHIFT * trace) / ground.length);
      this.usable = true;
    } catch (error) {
      // Rounding can tip a nearly singular matrix: go on without the correction.
      if (!(error instanceof NotPositiveDefiniteError)) throw error;
      this.usable = false;
    }
  }

  apply(d: Float64Array): void {
    if (this.usable) this.factor.solve(d);
    else d.fill(0);
  }
}

/** Six numbers a block → nine. */
function unpack(from: Float64Array, to: Float64Array): void {
  for (let e = 0, at = 0; e < from.length; e += 6, at += 9) {
    to[at] = from[e];
    to[at + 1] = to[at + 3] = from[e + 1];
    to[at + 2] = to[at + 6] = from[e + 2];
    to[at + 4] = from[e + 3];
    to[at + 5] = to[at + 7] = from[e + 4];
    to[at + 8] = from[e + 5];
  }
}

function netOf(graph: Adjacency, x: Float64Array): Net {
  const ends = new Int32Array(graph.neighbour.length);
  const lengthMm = new Float64Array(graph.neighbour.length / 2);
  let edge = 0;
  for (let v = 0; v < graph.vertices; v++) {
    for (let k = graph.start[v]; k < graph.start[v + 1] && graph.neighbour[k] < v; k++) {
      const u = graph.neighbour[k];
      ends[2 * edge] = v;
      ends[2 * edge + 1] = u;
      lengthMm[edge++] = Math.hypot(
        x[3 * v] - x[3 * u],
        x[3 * v + 1] - x[3 * u + 1],
        x[3 * v + 2] - x[3 * u + 2],
      );
    }
  }
  return { vertices: graph.vertices, ends, lengthMm };
}
