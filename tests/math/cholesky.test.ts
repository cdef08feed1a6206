import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildAdjacency } from '../../src/math/adjacency.ts';
import { Cholesky, NotPositiveDefiniteError } from '../../src/math/cholesky.ts';
import { planCholesky } from '../../src/math/cholesky-plan.ts';
import { dissect } from '../../src/math/dissection.ts';
import { minimumDegree } from '../../src/math/minimum-degree.ts';
import { createRandom } from '../../src/math/random.ts';
import {
  emptyMatrix,
  lowerPattern,
  type SparseSymmetric,
  slotOf,
} from '../../src/math/sparse-symmetric.ts';

/** A random graph, possibly in several parts, and a diagonally dominant matrix on it. */
function randomMatrix(seed: number, vertices: number, edges: number, block: 1 | 3) {
  const random = createRandom(seed);
  const members = new Int32Array(2 * edges);
  for (let k = 0; k < edges; k++) {
    const i = Math.floor(random() * vertices);
    const reach = random() < 0.8 ? 4 : vertices;
    const j = (i + 1 + Math.floor(random() * Math.min(reach, vertices - 1))) % vertices;
    members.set([i, j], 2 * k);
  }
  const graph = buildAdjacency(vertices, [{ members, size: 2 }]);
  const matrix = emptyMatrix(lowerPattern(graph), block);
  for (let k = 0; k < matrix.lower.length; k++) matrix.lower[k] = random() - 0.5;
  for (let v = 0; v < vertices; v++) {
    for (let r = 0; r < block; r++) {
      for (let c = 0; c <= r; c++) {
        const value = r === c ? 1 + random() : random() - 0.5;
        matrix.diagonal[(v * block + r) * block + c] = value;
        matrix.diagonal[(v * block + c) * block + r] = value;
      }
    }
  }
  const full = dense(matrix);
  for (let v = 0; v < vertices; v++) {
    for (let r = 0; r < block; r++) {
      const row = full[v * block + r];
      const off = row.reduce((sum, value) => sum + Math.abs(value), 0);
      matrix.diagonal[(v * block + r) * block + r] += off;
    }
  }
  return { graph, matrix, random };
}

/** A x; a scalar matrix acts on the three components of x alike. */
function product(a: SparseSymmetric, x: Float64Array): Float64Array {
  const full = dense(a);
  const components = 3 / a.block;
  return x.map((_, k) => {
    const row = full[Math.floor(k / components)];
    const d = k % components;
    return row.reduce((sum, value, column) => sum + value * x[components * column + d], 0);
  });
}

function dense(a: SparseSymmetric): number[][] {
  const b = a.block;
  const n = a.pattern.vertices * b;
  const full = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let v = 0; v < a.pattern.vertices; v++) {
    for (let r = 0; r < b; r++) {
      for (let c = 0; c < b; c++) full[v * b + r][v * b + c] = a.diagonal[(v * b + r) * b + c];
      for (let k = a.pattern.start[v]; k < a.pattern.start[v + 1]; k++) {
        for (let c = 0; c < b; c++) {
          const value = a.lower[(k * b + r) * b + c];
          full[v * b + r][a.pattern.column[k] * b + c] = value;
          full[a.pattern.column[k] * b + c][v * b + r] = value;
        }
      }
    }
  }
  return full;
}

/** Textbook dense solve by Gaussian elimination with pivoting. */
function denseSolve(a: number[][], right: number[]): number[] {
  const n = right.length;
  const m = a.map((row, i) => [...row, right[i]]);
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c; r < n; r++) if (Math.abs(m[r][c]) > Math.abs(m[best][c])) best = r;
    [m[c], m[best]] = [m[best], m[c]];
    for (let r = c + 1; r < n; r++) {
      const f = m[r][c] / m[c][c];
      if (f !== 0) for (let k = c; k <= n; k++) m[r][k] -= f * m[c][k];
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    let sum = m[r][n];
    for (let k = r + 1; k < n; k++) sum -= m[r][k] * x[k];
    x[r] = sum / m[r][r];
  }
  return x;
}

describe('nested dissection', () => {
  it('names every vertex once, with or without positions, on any graph', () => {
    fc.assert(
      fc.property(
        fc.nat(1000),
        fc.integer({ min: 2, max: 300 }),
        fc.boolean(),
        (seed, n, placed) => {
          const { graph, random } = randomMatrix(seed, n, 2 * n, 1);
          const positions = placed ? Float64Array.from({ length: 3 * n }, random) : null;
          const order = dissect(graph, positions);
          expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, k) => k));
        },
      ),
      { seed: 1, numRuns: 60 },
    );
  });

  it('fills a square grid with O(n log n) entries', () => {
    const fill = (side: number) => {
      const members: number[] = [];
      for (let j = 0; j < side; j++) {
        for (let i = 0; i < side; i++) {
          if (i + 1 < side) members.push(j * side + i, j * side + i + 1);
          if (j + 1 < side) members.push(j * side + i, (j + 1) * side + i);
        }
      }
      const graph = buildAdjacency(side * side, [{ members: Int32Array.from(members), size: 2 }]);
      return planCholesky(lowerPattern(graph), dissect(graph, null)).blocks;
    };
    // 31/4 n log₂ n is George's count for the five-point grid; natural order would give side³.
    const n = 120 ** 2;
    expect(fill(120)).toBeLessThan((31 / 4) * n * Math.log2(n));
    expect(fill(120) / fill(60)).toBeLessThan(6);
  });
});

describe('the minimum-degree order', () => {
  it('names every vertex once, on any graph', () => {
    fc.assert(
      fc.property(fc.nat(1000), fc.integer({ min: 1, max: 300 }), fc.nat(3), (seed, n, density) => {
        const { graph } = randomMatrix(seed, n, n > 1 ? density * n : 0, 1);
        const order = minimumDegree(graph);
        expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, k) => k));
      }),
      { seed: 1, numRuns: 60 },
    );
  });

  it('of a tree fills nothing', () => {
    const n = 200;
    const { random } = randomMatrix(3, 2, 0, 1);
    const members = Int32Array.from({ length: 2 * (n - 1) }, (_, k) =>
      k % 2 === 0 ? (k >> 1) + 1 : Math.floor(random() * ((k >> 1) + 1)),
    );
    const graph = buildAdjacency(n, [{ members, size: 2 }]);
    const rank = new Int32Array(n);
    for (const [k, v] of minimumDegree(graph).entries()) rank[v] = k;
    for (let v = 0; v < n; v++) {
      let later = 0;
      for (let k = graph.start[v]; k < graph.start[v + 1]; k++) {
        if (rank[graph.neighbour[k]] > rank[v]) later++;
      }
      // The one vertex that is still beside it: nothing new is joined.
      expect(later).toBeLessThan(2);
    }
  });

  it('fills less than dissection where the graph wraps round both ways', () => {
    const side = 24;
    const at = (i: number, j: number) => (j % side) * side + (i % side);
    const members: number[] = [];
    for (let j = 0; j < side; j++) {
      for (let i = 0; i < side; i++) {
        for (const [x, y] of [
          [1, 0],
          [2, 0],
          [0, 1],
          [1, 1],
        ]) {
          members.push(at(i, j), at(i + x, j + y));
        }
      }
    }
    const graph = buildAdjacency(side * side, [{ members: Int32Array.from(members), size: 2 }]);
    const blocks = (order: Int32Array) => planCholesky(lowerPattern(graph), order).blocks;
    expect(blocks(minimumDegree(graph))).toBeLessThan(0.9 * blocks(dissect(graph, null)));
  });
});

describe('sparse Cholesky', () => {
  it.each([1, 3] as const)('solves as a dense solver does, block size %i', (block) => {
    fc.assert(
      fc.property(fc.nat(1000), fc.integer({ min: 1, max: 60 }), fc.nat(3), (seed, n, density) => {
        const { graph, matrix, random } = randomMatrix(seed, n, n > 1 ? density * n : 0, block);
        const factor = new Cholesky(planCholesky(matrix.pattern, dissect(graph, null)), block);
        factor.factor(matrix);
        const right = Float64Array.from({ length: 3 * n }, () => random() - 0.5);
        const x = right.slice();
        factor.solve(x);
        const full = dense(matrix);
        for (let d = 0; d < (block === 1 ? 3 : 1); d++) {
          const pick = (a: Float64Array) => (block === 1 ? a.filter((_, k) => k % 3 === d) : a);
          const expected = denseSolve(full, [...pick(right)]);
          pick(x).forEach((value, k) => {
            expect(value).toBeCloseTo(expected[k], 10);
          });
        }
      }),
      { seed: 2, numRuns: 80 },
    );
  });

  it.each([1, 3] as const)('undoes the product with the matrix on a big one, block %i', (block) => {
    const n = 700;
    const { graph, matrix, random } = randomMatrix(5, n, 3 * n, block);
    const factor = new Cholesky(planCholesky(matrix.pattern, dissect(graph, null)), block);
    factor.factor(matrix);
    const x = Float64Array.from({ length: 3 * n }, () => random() - 0.5);
    const y = product(matrix, x);
    factor.solve(y);
    let worst = 0;
    for (let k = 0; k < 3 * n; k++) worst = Math.max(worst, Math.abs(x[k] - y[k]));
    expect(worst).toBeLessThan(1e-11);
  });

  it('can be refactored with other values and a shift', () => {
    const { graph, matrix } = randomMatrix(3, 40, 80, 1);
    const factor = new Cholesky(planCholesky(matrix.pattern, dissect(graph, null)), 1);
    factor.factor(matrix, 7);
    matrix.diagonal.forEach((_, k) => {
      matrix.diagonal[k] += 7;
    });
    const fresh = new Cholesky(planCholesky(matrix.pattern, dissect(graph, null)), 1);
    fresh.factor(matrix);
    const a = new Float64Array(120).fill(1);
    const b = a.slice();
    factor.solve(a);
    fresh.solve(b);
    expect(a).toEqual(b);
  });

  it.each([1, 3] as const)(
    'names the vertex where a matrix is not positive definite, block %i',
    (block) => {
      const { graph, matrix } = randomMatrix(4, 50, 100, block);
      matrix.diagonal[17 * block * block] = -5;
      const factor = new Cholesky(planCholesky(matrix.pattern, dissect(graph, null)), block);
      expect(() => factor.factor(matrix)).toThrow(NotPositiveDefiniteError);
      matrix.diagonal[17 * block * block] = Number.NaN;
      expect(() => factor.factor(matrix)).toThrow(/not positive definite/);
    },
  );

  it('refuses an order that is not a permutation', () => {
    const { matrix } = randomMatrix(4, 5, 10, 1);
    expect(() => planCholesky(matrix.pattern, Int32Array.of(0, 1, 2, 2, 4))).toThrow(/each of 5/);
    expect(slotOf(matrix.pattern, 2, 2)).toBe(-1);
  });
});
