/**
 * Lays a relaxed sheet on a table: weight, one-sided contact and friction, beside its own elasticity.
 * In: Metric, the weightless shape (+z up), the load. Out: how it lies, lowest points at z ≈ 0, and how the
 * solve ended. `held` pins vertices where they are, as pins or a clamp do.
 * Solver: the sheet's own L-BFGS, its Hessian with what table and friction add.
 */
import type { Metric } from '../../gauge/metric.ts';
import { bend, curl } from '../energy/bending.ts';
import { addFrictionStiffness, type Friction, rub } from '../energy/friction.ts';
import { stretch } from '../energy/springs.ts';
import { addTableStiffness, rest } from '../energy/table.ts';
import { weigh } from '../energy/weight.ts';
import type { Load, LyingSheet, StopReason } from '../relaxed-sheet.ts';
import { Descent } from '../solver/descent.ts';
import type { SheetPreconditioner } from '../solver/preconditioner.ts';
import { riseAlong, UP } from '../starts/alignment.ts';

export interface SettleOptions {
  /** False: no table, the sheet hangs from what is held. */
  readonly table: boolean;
  /** [vertices] 1 where pinned; null for none. */
  readonly held: Uint8Array | null;
  /** [3·vertices] where it starts from, mm; null: let down from the air. Friction holds it as let down all the same. */
  readonly start: Float64Array | null;
  readonly tolerance: number;
  readonly maxIterations: number;
  /** Return true to stop. */
  readonly onStep: ((x: Float64Array) => boolean | undefined) | null;
}

/** Steps before it is taken as it is. Chosen: by then a cup's height is within a twentieth of its last. */
const MOST_STEPS = 140;

/**
 * Residual at which what no longer rises or falls has settled: let down from the air, and going on from how it lay
 * before, when nothing can tumble any more. Chosen: cups of 1,000 to 5,200 vertices then lie within a thousandth of
 * their height of where a stop at 1e-5 leaves them.
 */
const TOLERANCE = 1e-4;
const TOLERANCE_WARM = 5e-4;

/** Most steps from how it lay before. Chosen: no further from its last height than let down from the air after all its
 * steps, under a hundredth (carried over from 240 stitches to 244 and to 264). */
const MOST_STEPS_WARM = 60;

const SETTLE_DEFAULTS: SettleOptions = {
  table: true,
  held: null,
  start: null,
  tolerance: TOLERANCE,
  maxIterations: MOST_STEPS,
  onStep: null,
};

/** Table stiffness over K. Chosen: as stiff as a stitch, so that a rim sinks in by hundredths of a mm. */
const TABLE = 1;
/** Stiffness given to held vertices in the Hessian alone. Chosen: far above a spring's. */
const HELD = 1e3;
/** Slide that friction takes up like a spring, mm. Chosen: the give of a loop's fuzz. */
const SLIP_MM = 0.3;
/** What table and friction add to the Hessian is taken anew this often: contacts come and go. Chosen by timing. */
const LOOK_EVERY = 5;
/**
 * Rise that changes by less than this share of √area a step has settled: over so many steps where it is let down, as what
 * tips over is slow at first.
 */
const STILL = 5e-5;
const STILL_FOR = 10;
/** All of it on the table within this rise, mm, lies flat: what is left is in its plane. Chosen. */
const LIES_FLAT_MM = 0.2;

export function settleSheet(
  metric: Metric,
  preconditioner: SheetPreconditioner,
  from: Float64Array,
  load: Load,
  options: Partial<SettleOptions> = {},
): LyingSheet {
  const warm = options.start ? { tolerance: TOLERANCE_WARM, maxIterations: MOST_STEPS_WARM } : null;
  const settings = { ...SETTLE_DEFAULTS, ...warm, ...options };
  return new Settling(metric, preconditioner, from, load, settings).run();
}

class Settling {
  private readonly metric: Metric;
  private readonly preconditioner: SheetPreconditioner;
  private readonly load: Load;
  private readonly settings: SettleOptions;
  private readonly friction: Friction;
  private readonly descent: Descent;
  /** [3·vertices] what table, friction and pins add to the Hessian's diagonal. */
  private readonly ground: Float64Array;
  /** Force that counts as 1. */
  private readonly unit: number;
  private touching = 0;
  private iterations = 0;
  private takenAfter = 0;
  private residual = Number.POSITIVE_INFINITY;
  private highest = Number.POSITIVE_INFINITY;

  constructor(
    metric: Metric,
    preconditioner: SheetPreconditioner,
    from: Float64Array,
    load: Load,
    settings: SettleOptions,
  ) {
    this.metric = metric;
    this.preconditioner = preconditioner;
    this.load = load;
    this.settings = settings;
    const { table, held, start } = settings;
    const down = table && !held ? setDown(from) : from.slice();
    this.friction = {
      holdMm: new Float64Array(metric.vertices),
      setDown: planView(down),
      slipMm: SLIP_MM,
    };
    this.ground = new Float64Array(from.length);
    this.unit = mean(metric.stiffness) * mean(metric.restMm);
    this.descent = new Descent(
      { size: from.length, evaluate: (x, g) => this.evaluate(x, g) },
      {
        apply: (d) => {
          preconditioner.apply(d);
          if (held) clear(held, d);
        },
      },
    );
    this.descent.reset(start ?? down);
  }

  run(): LyingSheet {
    const { descent, metric } = this;
    const ended = this.descend();
    const positions = descent.x.slice();
    const reason = positions.every(Number.isFinite) ? ended : 'not-a-number';
    return {
      positions,
      converged: reason === 'converged',
      reason,
      iterations: this.iterations,
      residual: this.residual,
      touching: this.touching / Math.max(1, metric.vertices),
    };
  }

  private descend(): StopReason {
    const { descent, settings } = this;
    const stillFor = settings.start ? LOOK_EVERY : STILL_FOR;
    while (this.iterations < settings.maxIterations) {
      if (this.iterations % LOOK_EVERY === 0) this.look();
      if (this.iterations % stillFor === 0) {
        if (this.isStill(stillFor)) return 'converged';
        if (settings.onStep?.(descent.x)) return 'cancelled';
      }
      if (!descent.step()) {
        this.residual = most(descent.g) / this.unit;
        if (this.residual < settings.tolerance) return 'converged';
        // Once more with the Hessian of where it is now.
        this.look();
        if (!descent.step()) return 'stalled';
      }
      this.iterations++;
    }
    return 'iteration-limit';
  }

  private evaluate(x: Float64Array, g: Float64Array): number {
    const { metric, load, friction, settings } = this;
    g.fill(0);
    let energy = stretch(metric, x, g) + bend(metric, x, g) + curl(metric, x, g);
    energy += weigh(load.loadMm, x, g);
    if (settings.table) energy += rest(TABLE, x, g);
    if (load.friction > 0) energy += rub(friction, x, g);
    if (settings.held) clear(settings.held, g);
    return energy;
  }

  /** Takes anew what touches and rubs, and the sheet's own Hessian where that is stale. */
  private look(): void {
    const { preconditioner, ground, descent, load, friction, settings } = this;
    const { table, held } = settings;
    const { x } = descent;
    ground.fill(0);
    if (table) this.touching = addTableStiffness(TABLE, load.loadMm, x, ground);
    if (load.friction > 0) {
      for (let v = 0; v < this.metric.vertices; v++)
        friction.holdMm[v] = load.friction * TABLE * Math.max(0, -x[3 * v + 2]);
      addFrictionStiffness(friction, x, ground);
    }
    if (held)
      for (let k = 0; k < ground.length; k++) if (held[(k / 3) | 0] === 1) ground[k] += HELD;
    const along = held ? 'none' : 'table';
    if (preconditioner.isStale(x, this.iterations - this.takenAfter, along)) {
      preconditioner.refresh(x, ground, along);
      this.takenAfter = this.iterations;
    } else preconditioner.refreshGround(ground);
    // Friction and contacts are others now, a little: what was remembered still shortens the way to rest.
    descent.measure();
  }

  /** Whether it lies flat, or has hardly risen or fallen for so many steps, near enough to balance. */
  private isStill(steps: number): boolean {
    const { descent, metric, settings } = this;
    const sizeMm = Math.sqrt(metric.areaMm2.reduce((a, b) => a + b, 0));
    this.residual = most(descent.g) / this.unit;
    const now = riseAlong(descent.x, UP);
    const flat = this.touching === metric.vertices && now < LIES_FLAT_MM;
    const still = Math.abs(now - this.highest) < steps * STILL * sizeMm;
    this.highest = now;
    return flat || (this.residual < settings.tolerance && still);
  }
}

/** The shape lowered until it touches the table. */
function setDown(from: Float64Array): Float64Array {
  let low = Number.POSITIVE_INFINITY;
  for (let z = 2; z < from.length; z += 3) low = Math.min(low, from[z]);
  return from.map((p, k) => (k % 3 === 2 ? p - low : p));
}

function planView(x: Float64Array): Float64Array {
  const seen = new Float64Array((2 * x.length) / 3);
  for (let v = 0; v < x.length / 3; v++) {
    seen[2 * v] = x[3 * v];
    seen[2 * v + 1] = x[3 * v + 1];
  }
  return seen;
}

function clear(held: Uint8Array, a: Float64Array): void {
  for (let v = 0; v < held.length; v++) if (held[v] === 1) a.fill(0, 3 * v, 3 * v + 3);
}

function most(a: Float64Array): number {
  let size = 0;
  for (let k = 0; k < a.length; k++) size = Math.max(size, Math.abs(a[k]));
  return size;
}

function mean(a: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k];
  return a.length > 0 ? sum / a.length : 0;
}
