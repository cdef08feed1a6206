/**
 * Step length along a descent direction by the strong Wolfe conditions, with cubic interpolation.
 * Source: J. Nocedal, S. Wright, "Numerical Optimization", 2nd ed., algorithms 3.5 and 3.6.
 */

/** Sufficient decrease and curvature constants, the book's values for quasi-Newton directions. */
const DECREASE = 1e-4;
const CURVATURE = 0.9;
/** Energies closer than this, relative, cannot be told apart in double precision sums. */
const ENERGY_NOISE = 1e-14;
const TRIALS = 25;

/** A function along a line: `at(t)` moves to step t and returns the energy, leaving `slope` there. */
export interface Line {
  at(step: number): number;
  slope: number;
}

/**
 * Moves `line` to an acceptable step and returns it; 0 if none lowers the energy. On return the line
 * stands at that step (its last call of `at`), unless 0 is returned.
 */
export function searchLine(line: Line, energy0: number, slope0: number, firstStep: number): number {
  const noise = ENERGY_NOISE * Math.abs(energy0);
  let low = 0;
  let lowEnergy = energy0;
  let lowSlope = slope0;
  let high = Number.POSITIVE_INFINITY;
  let highEnergy = Number.NaN;
  let highSlope = Number.NaN;
  let step = firstStep;
  for (let trial = 0; trial < TRIALS; trial++) {
    const energy = line.at(step);
    const slope = line.slope;
    if (!Number.isFinite(energy) || !Number.isFinite(slope)) {
      high = step;
      highEnergy = Number.NaN;
      step = low + 0.1 * (step - low);
      continue;
    }
    if (
      energy > energy0 + DECREASE * step * slope0 + noise ||
      (low > 0 && energy > lowEnergy + noise)
    ) {
      high = step;
      highEnergy = energy;
      highSlope = slope;
    } else {
      if (Math.abs(slope) <= -CURVATURE * slope0) return step;
      if (slope > 0) {
        high = step;
        highEnergy = energy;
        highSlope = slope;
      } else {
        low = step;
        lowEnergy = energy;
        lowSlope = slope;
      }
    }
    if (high === Number.POSITIVE_INFINITY) {
      step *= 4;
      continue;
    }
    const width = high - low;
    if (width < 1e-10 * high) break;
    let next = cubicMinimum(low, lowEnergy, lowSlope, high, highEnergy, highSlope);
    // Keep away from the ends, so that the bracket shrinks for certain.
    if (!(next > low + 0.1 * width)) next = low + 0.1 * width;
    if (next > high - 0.1 * width) next = high - 0.1 * width;
    step = next;
  }
  // The bracket closed: take its lower end, which does descend.
  if (low === 0) return 0;
  line.at(low);
  return low;
}

/** Minimum of the cubic through two energies and slopes (Nocedal & Wright eq. 3.59). */
function cubicMinimum(
  a: number,
  fa: number,
  ga: number,
  b: number,
  fb: number,
  gb: number,
): number {
  if (Number.isNaN(fb)) return (a + b) / 2;
  const d1 = ga + gb - (3 * (fa - fb)) / (a - b);
  const root = d1 * d1 - ga * gb;
  if (root < 0) return (a + b) / 2;
  const d2 = Math.sqrt(root) * Math.sign(b - a);
  return b - ((b - a) * (gb + d2 - d1)) / (gb - ga + 2 * d2);
}
