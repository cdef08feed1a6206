/**
 * How far a relaxation has come, from the force that is left at each step.
 * In: the residual of every step (of fabric: relative, 1e-5 at rest). Out: a share of the way that never goes back, and
 * whether the fabric was at rest already and is being pushed to see whether it stays.
 */

/** Force at rest: `RELAX_DEFAULTS.tolerance`, which would bring the solver along into the page. A test compares. */
export const REST_RESIDUAL = 1e-5;

export interface RelaxShare {
  /** Of the way to rest, 0 … 1, counted in powers of ten. */
  readonly share: number;
  readonly checking: boolean;
}

/** Pictures come a few times a second: the last steps before rest are often not seen. Chosen. */
const NEARLY = 10;

export class RelaxProgress {
  private first = 0;
  private least = Number.POSITIVE_INFINITY;

  /** `rest`: the force at which what relaxes is at rest, in the unit of its residuals. */
  constructor(private readonly rest = REST_RESIDUAL) {}

  next(residual: number): RelaxShare {
    if (!(residual > 0)) return this.now(residual);
    if (this.first === 0) this.first = residual;
    this.least = Math.min(this.least, residual);
    return this.now(residual);
  }

  private now(residual: number): RelaxShare {
    const way = Math.log(Math.max(this.first / this.rest, NEARLY));
    const gone = Math.log(this.first / Math.max(this.least, this.rest));
    const reached = this.least <= NEARLY * this.rest;
    return {
      share: Math.max(0, Math.min(1, gone / way)),
      checking: reached && residual > NEARLY * this.least,
    };
  }
}
