/**
 * Limited-memory BFGS with a given operator as its initial inverse Hessian. All storage is allocated
 * once; a step allocates nothing.
 * Source: J. Nocedal, S. Wright, "Numerical Optimization", 2nd ed., algorithm 7.4.
 */

import { type Line, searchLine } from './line-search.ts';

/** Pairs of steps remembered. Chosen: 8 and 20 took as many steps and more time. */
const MEMORY = 5;

export interface Objective {
  /** Length of the position vector. */
  readonly size: number;
  /** Energy at x; overwrites g with the gradient. */
  evaluate(x: Float64Array, g: Float64Array): number;
}

/** d ← P⁻¹ d, an approximate inverse Hessian. */
export interface Preconditioner {
  apply(d: Float64Array): void;
}

export class Descent {
  readonly x: Float64Array;
  readonly g: Float64Array;
  energy = Number.NaN;
  /** No trial step moves a coordinate further, mm. */
  mostMm = Number.POSITIVE_INFINITY;
  /** Share of the direction that the last step went. */
  taken = 0;
  /** Evaluations of the energy so far. */
  evaluations = 0;

  private readonly objective: Objective;
  private preconditioner: Preconditioner;
  private readonly origin: Float64Array;
  private readonly originGradient: Float64Array;
  private readonly direction: Float64Array;
  private readonly steps: Float64Array[] = [];
  private readonly changes: Float64Array[] = [];
  private readonly inverseCurvature = new Float64Array(MEMORY);
  private readonly alpha = new Float64Array(MEMORY);
  private stored = 0;
  private newest = -1;
  private readonly line: Line;

  constructor(objective: Objective, preconditioner: Preconditioner) {
    const n = objective.size;
    this.objective = objective;
    this.preconditioner = preconditioner;
    this.x = new Float64Array(n);
    this.g = new Float64Array(n);
    this.origin = new Float64Array(n);
    this.originGradient = new Float64Array(n);
    this.direction = new Float64Array(n);
    for (let k = 0; k < MEMORY; k++) {
      this.steps.push(new Float64Array(n));
      this.changes.push(new Float64Array(n));
    }
    const self = this;
    this.line = {
      slope: 0,
      at(step: number): number {
        const { x, origin, direction } = self;
        for (let k = 0; k < n; k++) x[k] = origin[k] + step * direction[k];
        self.evaluations++;
        self.energy = objective.evaluate(x, self.g);
        this.slope = dot(self.g, direction);
        return self.energy;
      },
    };
  }

  /** Starts anew at x. */
  reset(x: Float64Array): void {
    this.x.set(x);
    this.measure();
    this.forget();
  }

  /** Takes energy and gradient anew where it stands: the objective has changed a little. */
  measure(): void {
    this.energy = this.objective.evaluate(this.x, this.g);
    this.evaluations++;
  }

  /** Drops the remembered steps; `preconditioner` replaces the old one if given. */
  forget(preconditioner?: Preconditioner): void {
    if (preconditioner !== undefined) this.preconditioner = preconditioner;
    this.stored = 0;
    this.newest = -1;
  }

  /** One step downhill; false if no step lowers the energy any more. */
  step(): boolean {
    if (this.tryStep()) return true;
    if (this.stored === 0) return false;
    // The memory may mislead: once more from the preconditioner alone.
    this.forget();
    return this.tryStep();
  }

  private tryStep(): boolean {
    const { x, g, origin, originGradient, direction } = this;
    const energy = this.energy;
    origin.set(x);
    originGradient.set(g);
    this.findDirection();
    const slope = dot(g, direction);
    const length = slope < 0 ? searchLine(this.line, energy, slope, this.firstStep()) : 0;
    this.taken = length;
    if (length === 0) {
      x.set(origin);
      g.set(originGradient);
      this.energy = energy;
      return false;
    }
    this.remember();
    return true;
  }

  private firstStep(): number {
    const { direction, mostMm } = this;
    let most = 0;
    for (let k = 0; k < direction.length; k++) most = Math.max(most, Math.abs(direction[k]));
    return most > mostMm ? mostMm / most : 1;
  }

  /** Two-loop recursion. */
  private findDirection(): void {
    const { g, direction, steps, changes, alpha, inverseCurvature } = this;
    const n = direction.length;
    for (let k = 0; k < n; k++) direction[k] = -g[k];
    for (let m = 0; m < this.stored; m++) {
      const slot = (this.newest - m + MEMORY) % MEMORY;
      const a = inverseCurvature[slot] * dot(steps[slot], direction);
      alpha[slot] = a;
      addMultiple(direction, -a, changes[slot]);
    }
    this.preconditioner.apply(direction);
    for (let m = this.stored - 1; m >= 0; m--) {
      const slot = (this.newest - m + MEMORY) % MEMORY;
      const b = inverseCurvature[slot] * dot(changes[slot], direction);
      addMultiple(direction, alpha[slot] - b, steps[slot]);
    }
  }

  private remember(): void {
    const slot = (this.newest + 1) % MEMORY;
    const s = this.steps[slot];
    const y = this.changes[slot];
    const { x, g, origin, originGradient } = this;
    let sy = 0;
    let yy = 0;
    for (let k = 0; k < s.length; k++) {
      s[k] = x[k] - origin[k];
      y[k] = g[k] - originGradient[k];
      sy += s[k] * y[k];
      yy += y[k] * y[k];
    }
    // The Wolfe conditions make s·y positive; rounding near the end may not.
    if (!(sy > 1e-14 * yy)) return;
    this.inverseCurvature[slot] = 1 / sy;
    this.newest = slot;
    this.stored = Math.min(this.stored + 1, MEMORY);
  }
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}

function addMultiple(a: Float64Array, factor: number, b: Float64Array): void {
  for (let k = 0; k < a.length; k++) a[k] += factor * b[k];
}
