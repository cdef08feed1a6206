/**
 * L-BFGS with a limited step, for yarn: no step may move a point far enough to jump through a yarn.
 *
 * Unlike the sheet's solver it has a step cap that the problem itself states, and it stops on the largest
 * gradient component. Two-loop recursion after Nocedal and Wright (2006), algorithm 7.4; memory 8 by default.
 */

export interface MinimizeProblem {
  readonly size: number;
  /** Energy at x; fills gradient. */
  evaluate(x: Float64Array, gradient: Float64Array): number;
  /** Largest multiple of the direction that may be taken from x, where `evaluate` was last accepted. */
  stepLimit(x: Float64Array, direction: Float64Array): number;
  /** Replaces v by an approximate inverse Hessian times v; false if there is none now. */
  precondition?(v: Float64Array): boolean;
  /** Called for each accepted point, with the step taken to reach it; true stops the run. */
  accepted?(x: Float64Array, energy: number, residual: number, iteration: number): boolean;
}

export interface MinimizeResult {
  readonly converged: boolean;
  readonly reason: 'converged' | 'iteration-limit' | 'cancelled' | 'stalled' | 'not-a-number';
  readonly iterations: number;
  readonly evaluations: number;
  /** Largest component of the gradient. */
  readonly residual: number;
  readonly energy: number;
  /** Gradient where the run ended. */
  readonly gradient: Float64Array;
}

const MEMORY = 8;
/** Sufficient decrease, Armijo (Nocedal and Wright, section 3.1). */
const ARMIJO = 1e-4;

/** Minimises in place from `start`. */
export function minimize(
  problem: MinimizeProblem,
  start: Float64Array,
  tolerance: number,
  maxIterations: number,
  memory = MEMORY,
): MinimizeResult {
  const n = problem.size;
  let gradient: Float64Array = new Float64Array(n);
  let nextGradient: Float64Array = new Float64Array(n);
  let x: Float64Array = start;
  let trial: Float64Array = new Float64Array(n);
  const direction = new Float64Array(n);
  // Laid out as they are needed: many runs end after a look or a few steps.
  const steps: Float64Array[] = [];
  const changes: Float64Array[] = [];
  const curvature = new Float64Array(memory);
  const alpha = new Float64Array(memory);
  let stored = 0;
  let newest = -1;
  let evaluations = 1;
  let energy = problem.evaluate(x, gradient);
  let residual = largest(gradient);
  let stall = 0;
  for (let iteration = 0; ; iteration++) {
    const done = (reason: MinimizeResult['reason']): MinimizeResult => {
      if (x !== start) start.set(x);
      const converged = reason === 'converged';
      return { converged, reason, iterations: iteration, evaluations, residual, energy, gradient };
    };
    if (!Number.isFinite(energy) || !Number.isFinite(residual)) return done('not-a-number');
    if (problem.accepted?.(x, energy, residual, iteration)) return done('cancelled');
    if (residual < tolerance) return done('converged');
    if (iteration >= maxIterations) return done('iteration-limit');

    // Two-loop recursion: direction = −H·gradient.
    for (let i = 0; i < n; i++) direction[i] = -gradient[i];
    let product = stored > 0 ? dot(steps[newest], direction) : 0;
    for (let k = 0; k < stored; k++) {
      const m = (newest - k + memory) % memory;
      alpha[m] = product / curvature[m];
      const older = k + 1 < stored ? steps[(m - 1 + memory) % memory] : null;
      product = addScaled(direction, changes[m], -alpha[m], older);
    }
    if (problem.precondition?.(direction)) {
      // The factored matrix has the right scale already.
    } else if (stored > 0) {
      const gamma = curvature[newest] / dot(changes[newest], changes[newest]);
      for (let i = 0; i < n; i++) direction[i] *= gamma;
    }
    if (stored > 0) product = dot(changes[(newest - stored + 1 + memory) % memory], direction);
    for (let k = stored - 1; k >= 0; k--) {
      const m = (newest - k + memory) % memory;
      const newer = k > 0 ? changes[(m + 1) % memory] : gradient;
      product = addScaled(direction, steps[m], alpha[m] - product / curvature[m], newer);
    }
    let slope = stored > 0 ? product : dot(direction, gradient);
    if (!(slope < 0)) {
      for (let i = 0; i < n; i++) direction[i] = -gradient[i];
      slope = -dot(gradient, gradient);
      stored = 0;
    }

    let step = Math.min(1, problem.stepLimit(x, direction));
    let accepted = false;
    let nextEnergy = energy;
    for (let tries = 0; tries < 25; tries++) {
      for (let i = 0; i < n; i++) trial[i] = x[i] + step * direction[i];
      nextEnergy = problem.evaluate(trial, nextGradient);
      evaluations++;
      // Near the minimum the energy's rounding hides its decrease; then the slope decides
      // (approximate Wolfe condition, Hager and Zhang 2005).
      if (
        nextEnergy <= energy + ARMIJO * step * slope ||
        (nextEnergy <= energy + 1e-11 * Math.abs(energy) &&
          dot(nextGradient, direction) <= -0.8 * slope)
      ) {
        accepted = true;
        break;
      }
      const quadratic = (-slope * step * step) / (2 * (nextEnergy - energy - slope * step));
      step = Number.isFinite(nextEnergy)
        ? Math.min(Math.max(quadratic, 0.1 * step), 0.5 * step)
        : 0.1 * step;
    }
    if (!accepted) {
      // Contact switches can spoil the memory: forget it once before giving up.
      problem.evaluate(x, gradient);
      evaluations++;
      if (stored === 0 || stall++ > 3) return done('stalled');
      stored = 0;
      continue;
    }
    const slot = (newest + 1) % memory;
    steps[slot] ??= new Float64Array(n);
    changes[slot] ??= new Float64Array(n);
    const s = steps[slot];
    const y = changes[slot];
    let sy = 0;
    let yy = 0;
    residual = 0;
    for (let i = 0; i < n; i++) {
      const now = nextGradient[i];
      const by = step * direction[i];
      const change = now - gradient[i];
      s[i] = by;
      y[i] = change;
      sy += by * change;
      yy += change * change;
      const size = now < 0 ? -now : now;
      // Not a number must not hide behind a comparison.
      if (!(size <= residual)) residual = size;
    }
    [x, trial] = [trial, x];
    [gradient, nextGradient] = [nextGradient, gradient];
    // Keeps the inverse Hessian positive definite.
    if (sy > 1e-10 * yy) {
      curvature[slot] = sy;
      newest = slot;
      stored = Math.min(stored + 1, memory);
    }
    energy = nextEnergy;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** Adds factor·source and returns the product with `other` on the way: memory is what limits here. */
function addScaled(
  target: Float64Array,
  source: Float64Array,
  factor: number,
  other: Float64Array | null,
): number {
  if (!other) {
    for (let i = 0; i < target.length; i++) target[i] += factor * source[i];
    return 0;
  }
  let sum = 0;
  for (let i = 0; i < target.length; i++) {
    const v = target[i] + factor * source[i];
    target[i] = v;
    sum += v * other[i];
  }
  return sum;
}

function largest(a: Float64Array): number {
  let max = 0;
  for (let i = 0; i < a.length; i++) {
    const v = Math.abs(a[i]);
    // Not a number must not hide behind a comparison.
    if (!(v <= max)) max = v;
  }
  return max;
}
