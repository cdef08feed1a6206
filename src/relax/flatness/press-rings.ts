/**
 * What it costs to lie flat, round by round: rings of given length at given depths pressed into the
 * plane, as a disc. The quick answer to the question that `press-sheet.ts` answers for the whole net;
 * it sees what varies from round to round and nothing that varies along a round.
 *
 * Input: cone angles and distances from the centre (`Turning`). Output: misfit, share of a full turn, as
 * in `press-sheet.ts`. The energy is quadratic in the rings' radii: one tridiagonal system.
 */
import type { Turning } from '../../gauge/layout/ring-profile.ts';
import { YOUNG } from './press-sheet.ts';

/** Stiffness of the spring net with K = 1 and shear 0.3: along a thread, and coupling across. */
const ALONG = 1.3;
const ACROSS = 0.3;

export interface PressedRings {
  /** Share of a full turn, as in `press-sheet.ts`. */
  readonly misfit: number;
  /** How much the rim is stretched (+) or gathered (−) by lying flat, share of its length. */
  readonly rimStrain: number;
  /** Greatest strain of any round or column, without its sign. */
  readonly mostStrain: number;
}

export function pressRings(turning: Turning): number {
  return pressedRings(turning).misfit;
}

export function pressedRings({ coneAngleRad, fromCentreMm, outsideIn }: Turning): PressedRings {
  const n = fromCentreMm.length;
  if (n < 3) return { misfit: 0, rimStrain: 0, mostStrain: 0 };
  // From the centre outwards; the centre itself is ring 0.
  const at = (k: number) => (outsideIn ? n - 1 - k : k);
  const out = new Float64Array(n + 1);
  const unstrained = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    out[k + 1] = fromCentreMm[at(k)];
    const before = coneAngleRad[at(Math.max(0, k - 1))];
    const mean = (before + coneAngleRad[at(k)]) / 2;
    unstrained[k + 1] = unstrained[k] + (mean / (2 * Math.PI)) * (out[k + 1] - out[k]);
  }
  // Unknown: radius of each ring. Of interval k: radial strain (Rₖ₊₁ − Rₖ)/d − 1, hoop strain
  // (Rₖ₊₁ + Rₖ)/2ρ − 1 with ρ the unstrained radius, weight ρ d.
  const diagonal = new Float64Array(n + 1);
  const beside = new Float64Array(n + 1);
  const right = new Float64Array(n + 1);
  const weigh = (k: number): { d: number; rho: number; weight: number } => {
    const d = out[k + 1] - out[k];
    const rho = (unstrained[k] + unstrained[k + 1]) / 2;
    return { d, rho, weight: rho * d };
  };
  for (let k = 0; k < n; k++) {
    const { d, rho, weight } = weigh(k);
    if (!(d > 0 && rho > 0)) continue;
    const [ra, rb] = [-1 / d, 1 / d];
    const h = 1 / (2 * rho);
    const cross = ALONG * (ra * rb + h * h) + ACROSS * (ra * h + rb * h);
    diagonal[k] += weight * (ALONG * (ra * ra + h * h) + 2 * ACROSS * ra * h);
    diagonal[k + 1] += weight * (ALONG * (rb * rb + h * h) + 2 * ACROSS * rb * h);
    beside[k] += weight * cross;
    right[k] += weight * (ALONG + ACROSS) * (ra + h);
    right[k + 1] += weight * (ALONG + ACROSS) * (rb + h);
  }
  const radius = solveTridiagonal(diagonal, beside, right);
  let energy = 0;
  let area = 0;
  let mostStrain = 0;
  for (let k = 0; k < n; k++) {
    const { d, rho, weight } = weigh(k);
    if (!(d > 0 && rho > 0)) continue;
    const radial = (radius[k + 1] - radius[k]) / d - 1;
    const hoop = (radius[k + 1] + radius[k]) / (2 * rho) - 1;
    mostStrain = Math.max(mostStrain, Math.abs(radial), Math.abs(hoop));
    energy += weight * ((ALONG / 2) * (radial * radial + hoop * hoop) + ACROSS * radial * hoop);
    area += weight;
  }
  const misfit = area > 0 ? Math.sqrt((8 * energy) / (YOUNG * area)) : 0;
  const rimStrain = unstrained[n] > 0 ? radius[n] / unstrained[n] - 1 : 0;
  return { misfit, rimStrain, mostStrain };
}

/** Symmetric: `beside[k]` couples k and k + 1. The centre (row 0) stays at radius 0. */
function solveTridiagonal(
  diagonal: Float64Array,
  beside: Float64Array,
  right: Float64Array,
): Float64Array {
  const n = diagonal.length;
  const x = new Float64Array(n);
  const pivot = new Float64Array(n);
  const load = new Float64Array(n);
  for (let k = 1; k < n; k++) {
    const factor = k > 1 && pivot[k - 1] > 0 ? beside[k - 1] / pivot[k - 1] : 0;
    pivot[k] = diagonal[k] - (k > 1 ? factor * beside[k - 1] : 0);
    load[k] = right[k] - factor * (k > 1 ? load[k - 1] : 0);
  }
  for (let k = n - 1; k >= 1; k--) {
    const later = k < n - 1 ? beside[k] * x[k + 1] : 0;
    x[k] = pivot[k] > 0 ? (load[k] - later) / pivot[k] : 0;
  }
  return x;
}
