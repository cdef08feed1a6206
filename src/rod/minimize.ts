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
/** Of the length of a step. Chosen: each is a tenth to a half of the one before. */
const MOST_TRIES = 25;

/** Minimises in place from `start`. */
export function minimize(
  problem: MinimizeProblem,
  start: Float64Array,
  tolerance: number,
  maxIterations: number,
  memory = MEMORY,
): MinimizeResult {
  return new Minimizing(problem, start, memory).run(tolerance, maxIterations);
}

class Minimizing {
  private readonly problem: MinimizeProblem;
  private readonly start: Float64Array;
  private readonly memory: number;
  private x: Float64Array;
  private trial: Float64Array;
  private gradient: Float64Array;
  private nextGradient: Float64Array;
  private readonly direction: Float64Array;
  // Laid out as they are needed: many runs end after a look or a few steps.
  private readonly steps: Float64Array[] = [];
  private readonly changes: Float64Array[] = [];
  private readonly curvature: Float64Array;
  private readonly alpha: Float64Array;
  /** Steps that are remembered, and the place of the last. */
  private stored = 0;
  private newest = -1;
  private evaluations = 0;
  private energy = 0;
  private residual = 0;

  constructor(problem: MinimizeProblem, start: Float64Array, memory: number) {
    const n = problem.size;
    this.problem = problem;
    this.start = start;
    this.memory = memory;
    this.x = start;
    this.trial = new Float64Array(n);
    this.gradient = new Float64Array(n);
    this.nextGradient = new Float64Array(n);
    this.direction = new Float64Array(n);
    this.curvature = new Float64Array(memory);
    this.alpha = new Float64Array(memory);
  }

  run(tolerance: number, maxIterations: number): MinimizeResult {
    const { problem } = this;
    this.energy = this.evaluate(this.x, this.gradient);
    this.residual = largest(this.gradient);
    let stall = 0;
    for (let iteration = 0; ; iteration++) {
      const { x, gradient, energy, residual } = this;
      if (!Number.isFinite(energy) || !Number.isFinite(residual)) {
        return this.result('not-a-number', iteration);
      }
      if (problem.accepted?.(x, energy, residual, iteration)) {
        return this.result('cancelled', iteration);
      }
      if (residual < tolerance) return this.result('converged', iteration);
      if (iteration >= maxIterations) return this.result('iteration-limit', iteration);
      const slope = this.aim();
      const step = this.search(slope);
      if (step >= 0) {
        this.advance(step);
        continue;
      }
      // Contact switches can spoil the memory: forget it once before giving up.
      this.evaluate(x, gradient);
      if (this.stored === 0 || stall++ > 3) return this.result('stalled', iteration);
      this.stored = 0;
    }
  }

  private evaluate(x: Float64Array, gradient: Float64Array): number {
    this.evaluations++;
    return this.problem.evaluate(x, gradient);
  }

  private result(reason: MinimizeResult['reason'], iterations: number): MinimizeResult {
    const { start, x, evaluations, residual, energy, gradient } = this;
    if (x !== start) start.set(x);
    const converged = reason === 'converged';
    return { converged, reason, iterations, evaluations, residual, energy, gradient };
  }

  /** Two-loop recursion: direction = −H·gradient. Returns the energy's slope along it, which is negative. */
  private aim(): number {
    const { problem, gradient, direction, steps, changes, curvature, alpha, memory } = this;
    const { stored, newest } = this;
    const n = direction.length;
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
    const slope = stored > 0 ? product : dot(direction, gradient);
    if (slope < 0) return slope;
    for (let i = 0; i < n; i++) direction[i] = -gradient[i];
    this.stored = 0;
    return -dot(gradient, gradient);
  }

  /** The step along the direction whose end, `trial`, is accepted; negative: none is. */
  private search(slope: number): number {
    const { problem, x, trial, direction, energy, nextGradient } = this;
    let step = Math.min(1, problem.stepLimit(x, direction));
    for (let tries = 0; tries < MOST_TRIES; tries++) {
      for (let i = 0; i < x.length; i++) trial[i] = x[i] + step * direction[i];
      const nextEnergy = this.evaluate(trial, nextGradient);
      // Near the minimum the energy's rounding hides its decrease; then the slope decides
      // (approximate Wolfe condition, Hager and Zhang 2005).
      if (
        nextEnergy <= energy + ARMIJO * step * slope ||
        (nextEnergy <= energy + 1e-11 * Math.abs(energy) &&
          dot(nextGradient, direction) <= -0.8 * slope)
      ) {
        this.energy = nextEnergy;
        return step;
      }
      const quadratic = (-slope * step * step) / (2 * (nextEnergy - energy - slope * step));
      step = Number.isFinite(nextEnergy)
        ? Math.min(Math.max(quadratic, 0.1 * step), 0.5 * step)
        : 0.1 * step;
    }
    return -1;
  }

  /** Goes on to `trial`, a `step` along the direction, and remembers the way. */
  private advance(step: number): void {
    const { x, trial, gradient, nextGradient, direction, steps, changes, curvature, memory } = this;
    const n = direction.length;
    const slot = (this.newest + 1) % memory;
    steps[slot] ??= new Float64Array(n);
    changes[slot] ??= new Float64Array(n);
    const s = steps[slot];
    const y = changes[slot];
    let sy = 0;
    let yy = 0;
    let residual = 0;
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
    this.residual = residual;
    this.x = trial;
    this.trial = x;
    this.gradient = nextGradient;
    this.nextGradient = gradient;
    // Keeps the inverse Hessian positive definite.
    if (sy > 1e-10 * yy) {
      curvature[slot] = sy;
      this.newest = slot;
      this.stored = Math.min(this.stored + 1, memory);
    }
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
