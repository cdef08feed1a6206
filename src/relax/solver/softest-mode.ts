/**
 * The softest way to deform a sheet at rest: the lowest eigenvector of its exact Hessian, by the locally
 * optimal preconditioned gradient method. In: curvature product, preconditioner, a first guess.
 * Out: the mode and its Rayleigh quotient; below zero the rest state is unstable along it.
 * Source: A. V. Knyazev, SIAM J. Sci. Comput. 23, 517 (2001), algorithm 4.1 with one vector.
 */
import { dot } from './descent.ts';

export interface CurvatureProblem {
  /** out ← H v, the Hessian where the sheet is. */
  times(v: Float64Array, out: Float64Array): void;
  /** v ← P⁻¹ v, rigid motions taken out. */
  precondition(v: Float64Array): void;
}

export interface SoftMode {
  /** [3·vertices] of length 1. */
  readonly mode: Float64Array;
  /** vᵀHv / vᵀv, units of spring stiffness (K = 1). */
  readonly curvature: number;
  readonly iterations: number;
}

/** A quotient that falls by less than this share in an iteration has settled. Chosen. */
const SETTLED = 0.02;

/** Ends as soon as the curvature is below `unstable` (negative), has settled, or after `most` rounds. */
export function softestMode(
  problem: CurvatureProblem,
  guess: Float64Array,
  most: number,
  unstable: number,
): SoftMode {
  const n = guess.length;
  const basis = [guess.slice(), new Float64Array(n), new Float64Array(n)];
  const image = basis.map(() => new Float64Array(n));
  const [v, w, p] = basis;
  const [hv] = image;
  normalize(v);
  problem.times(v, hv);
  let curvature = dot(v, hv);
  let span = 2;
  let iterations = 0;
  while (iterations < most && !(curvature < unstable)) {
    iterations++;
    for (let k = 0; k < n; k++) w[k] = hv[k] - curvature * v[k];
    problem.precondition(w);
    const length = orthonormalize(basis, span);
    if (!(length > 0)) break;
    problem.times(w, image[1]);
    if (span === 3) problem.times(p, image[2]);
    const mix = lowest(basis, image, span);
    const before = curvature;
    // p ← the part of the step outside v; v ← the best in the span.
    for (let k = 0; k < n; k++) {
      const step = mix[1] * w[k] + (span === 3 ? mix[2] * p[k] : 0);
      const stepImage = mix[1] * image[1][k] + (span === 3 ? mix[2] * image[2][k] : 0);
      v[k] = mix[0] * v[k] + step;
      hv[k] = mix[0] * hv[k] + stepImage;
      p[k] = step;
    }
    const size = Math.sqrt(dot(v, v));
    for (let k = 0; k < n; k++) {
      v[k] /= size;
      hv[k] /= size;
    }
    span = 3;
    curvature = dot(v, hv);
    if (before - curvature < SETTLED * Math.abs(curvature)) break;
  }
  return { mode: v, curvature, iterations };
}

function normalize(a: Float64Array): void {
  const size = Math.sqrt(dot(a, a));
  if (size > 0) for (let k = 0; k < a.length; k++) a[k] /= size;
}

/** Makes vectors 1 … span−1 orthonormal to the earlier ones; length left of vector 1. */
function orthonormalize(basis: readonly Float64Array[], span: number): number {
  let first = 0;
  for (let b = 1; b < span; b++) {
    const a = basis[b];
    normalize(a);
    // Twice: once loses digits where the vectors are nearly parallel.
    for (let again = 0; again < 2; again++) {
      for (let c = 0; c < b; c++) {
        const share = dot(a, basis[c]);
        for (let k = 0; k < a.length; k++) a[k] -= share * basis[c][k];
      }
    }
    const left = Math.sqrt(dot(a, a));
    if (b === 1) first = left;
    if (left > 0) for (let k = 0; k < a.length; k++) a[k] /= left;
  }
  return first;
}

/** Lowest eigenvector of the small matrix basisᵀ H basis, by Jacobi rotations. */
function lowest(
  basis: readonly Float64Array[],
  image: readonly Float64Array[],
  span: number,
): [number, number, number] {
  const a = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let i = 0; i < span; i++) {
    for (let j = 0; j <= i; j++) {
      a[i][j] = dot(basis[i], image[j]);
      a[j][i] = a[i][j];
    }
  }
  const turned = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (let sweep = 0; sweep < 30; sweep++) {
    for (let i = 0; i < span - 1; i++) {
      for (let j = i + 1; j < span; j++) {
        if (a[i][j] === 0) continue;
        const tau = (a[j][j] - a[i][i]) / (2 * a[i][j]);
        const t = Math.sign(tau || 1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
        const c = 1 / Math.sqrt(1 + t * t);
        rotate(a, turned, i, j, c, t * c, span);
      }
    }
  }
  let best = 0;
  for (let i = 1; i < span; i++) if (a[i][i] < a[best][best]) best = i;
  return [turned[0][best], turned[1][best], turned[2][best]];
}

function rotate(
  a: number[][],
  turned: number[][],
  i: number,
  j: number,
  c: number,
  s: number,
  span: number,
): void {
  for (let k = 0; k < span; k++) {
    const [x, y] = [a[k][i], a[k][j]];
    a[k][i] = c * x - s * y;
    a[k][j] = s * x + c * y;
  }
  for (let k = 0; k < span; k++) {
    const [x, y] = [a[i][k], a[j][k]];
    a[i][k] = c * x - s * y;
    a[j][k] = s * x + c * y;
  }
  for (let k = 0; k < 3; k++) {
    const [x, y] = [turned[k][i], turned[k][j]];
    turned[k][i] = c * x - s * y;
    turned[k][j] = s * x + c * y;
  }
}
