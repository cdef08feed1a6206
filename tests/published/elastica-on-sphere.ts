/**
 * The e-cone: a disc with too much angle, bent without stretching, is r u(s) with u a closed curve on
 * the unit sphere, of length 2π + φ, that minimises ∫ κ² ds. Euler equation, κ the geodesic curvature:
 *   κ″ + κ³/2 + (1 − Λ) κ = 0
 * (M. M. Müller, M. Ben Amar, J. Guven, PRL 101, 156104 (2008); J. Guven, M. M. Müller,
 * P. Vázquez-Montejo, J. Phys. A 45 (2012), arXiv 1107.5008: n = 2 is the ground state.)
 *
 * Solved by shooting with a general-purpose ODE solver: start on a crest (κ′ = 0, elevation α), end after
 * a quarter wave on the equator, at azimuth π/4 for n = 2, with κ = 0. Unknowns: α, κ₀, Λ.
 */

import { Solver } from 'odex';

/** State: elevation θ, azimuth φ, heading ψ from east, κ, κ′. */
function shoot(elevation: number, curvature: number, lambda: number, lengthRad: number): number[] {
  const solver = new Solver(5);
  solver.absoluteTolerance = 1e-10;
  solver.relativeTolerance = 1e-10;
  const start = [elevation, 0, 0, curvature, 0];
  return solver.solve(
    (_s: number, [theta, , psi, kappa, slope]: number[]) => [
      Math.sin(psi),
      Math.cos(psi) / Math.cos(theta),
      // Heading turns by the geodesic curvature, less what the meridians turn.
      kappa - Math.tan(theta) * Math.cos(psi),
      slope,
      -(kappa ** 3) / 2 - (1 - lambda) * kappa,
    ],
    0,
    start,
    lengthRad,
  ).y as number[];
}

export interface ECone {
  /** Crest elevation α, rad: the peak of a disc of radius R is R sin α. */
  readonly crestRad: number;
  readonly lambda: number;
}

/** The n = 2 e-cone of surplus angle φ, rad. */
export function solveECone(surplusRad: number): ECone {
  const quarter = (2 * Math.PI + surplusRad) / 8;
  // Small-surplus limit as the start; larger surplus is reached in small increments.
  let guess = startGuess(Math.min(surplusRad, 0.1));
  for (let phi = Math.min(surplusRad, 0.1); ; phi = Math.min(surplusRad, phi + 0.25)) {
    guess = newton(guess, (2 * Math.PI + phi) / 8);
    if (phi >= surplusRad) break;
  }
  guess = newton(guess, quarter);
  return { crestRad: guess[0], lambda: guess[2] };
}

/** α = √(2φ/3π); κ of the curve "α cos 2φ" at its crest is −3α; 1 − Λ = 4. */
function startGuess(surplusRad: number): number[] {
  const alpha = Math.sqrt((2 * surplusRad) / (3 * Math.PI));
  return [alpha, -3 * alpha, -3];
}

function misses(p: number[], lengthRad: number): number[] {
  const end = shoot(p[0], p[1], p[2], lengthRad);
  return [end[0], end[1] - Math.PI / 4, end[3]];
}

function newton(first: number[], lengthRad: number): number[] {
  let p = first.slice();
  for (let iteration = 0; iteration < 30; iteration++) {
    const f = misses(p, lengthRad);
    if (Math.hypot(...f) < 1e-9) return p;
    const jacobian = [0, 1, 2].map((k) => {
      const h = 1e-5 * Math.max(1, Math.abs(p[k]));
      const [up, down] = [h, -h].map((t) =>
        misses(
          p.map((v, m) => (m === k ? v + t : v)),
          lengthRad,
        ),
      );
      return up.map((u, m) => (u - down[m]) / (2 * h));
    });
    const step = solve3(jacobian, f);
    p = p.map((v, k) => v - step[k]);
  }
  throw new Error('the shooting did not converge');
}

/** Solves Σ_k column_k s_k = f by Cramer's rule. */
function solve3(column: number[][], f: number[]): number[] {
  const determinant = (a: number[], b: number[], c: number[]) =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) -
    b[0] * (a[1] * c[2] - a[2] * c[1]) +
    c[0] * (a[1] * b[2] - a[2] * b[1]);
  const [a, b, c] = column;
  const whole = determinant(a, b, c);
  return [determinant(f, b, c) / whole, determinant(a, f, c) / whole, determinant(a, b, f) / whole];
}
