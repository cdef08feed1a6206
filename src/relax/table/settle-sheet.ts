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
  const { table, held } = settings;
  const down = table && !held ? setDown(from) : from.slice();
  const friction: Friction = {
    holdMm: new Float64Array(metric.vertices),
    setDown: planView(down),
    slipMm: SLIP_MM,
  };
  const evaluate = (x: Float64Array, g: Float64Array): number => {
    g.fill(0);
    let energy = stretch(metric, x, g) + bend(metric, x, g) + curl(metric, x, g);
    energy += weigh(load.loadMm, x, g);
    if (table) energy += rest(TABLE, x, g);
    if (load.friction > 0) energy += rub(friction, x, g);
    if (held) clear(held, g);
    return energy;
  };
  const descent = new Descent(
    { size: from.length, evaluate },
    {
      apply: (d) => {
        preconditioner.apply(d);
        if (held) clear(held, d);
      },
    },
  );
  const ground = new Float64Array(from.length);
  let touching = 0;
  let iterations = 0;
  let takenAfter = 0;
  const refresh = () => {
    const { x } = descent;
    ground.fill(0);
    if (table) touching = addTableStiffness(TABLE, x, ground);
    if (load.friction > 0) {
      for (let v = 0; v < metric.vertices; v++)
        friction.holdMm[v] = load.friction * TABLE * Math.max(0, -x[3 * v + 2]);
      addFrictionStiffness(friction, x, ground);
    }
    if (held)
      for (let k = 0; k < ground.length; k++) if (held[(k / 3) | 0] === 1) ground[k] += HELD;
    const along = held ? 'none' : 'table';
    if (preconditioner.isStale(x, iterations - takenAfter, along)) {
      preconditioner.refresh(x, ground, along);
      takenAfter = iterations;
    } else preconditioner.refreshGround(ground);
    // Friction and contacts are others now, a little: what was remembered still shortens the way to rest.
    descent.measure();
  };
  descent.reset(settings.start ?? down);
  const unit = mean(metric.stiffness) * mean(metric.restMm);
  const stillFor = settings.start ? LOOK_EVERY : STILL_FOR;
  const still = stillFor * STILL * Math.sqrt(metric.areaMm2.reduce((a, b) => a + b, 0));
  let reason: StopReason = 'iteration-limit';
  let residual = Number.POSITIVE_INFINITY;
  let highest = Number.POSITIVE_INFINITY;
  while (iterations < settings.maxIterations) {
    if (iterations % LOOK_EVERY === 0) refresh();
    if (iterations % stillFor === 0) {
      residual = most(descent.g) / unit;
      const now = extent(descent.x);
      const flat = touching === metric.vertices && now < LIES_FLAT_MM;
      if (flat || (residual < settings.tolerance && Math.abs(now - highest) < still)) {
        reason = 'converged';
        break;
      }
      highest = now;
      if (settings.onStep?.(descent.x)) {
        reason = 'cancelled';
        break;
      }
    }
    if (!descent.step()) {
      residual = most(descent.g) / unit;
      reason = residual < settings.tolerance ? 'converged' : 'stalled';
      if (reason === 'converged') break;
      // Once more with the Hessian of where it is now.
      refresh();
      if (!descent.step()) break;
      reason = 'iteration-limit';
    }
    iterations++;
  }
  const positions = descent.x.slice();
  if (!positions.every(Number.isFinite)) reason = 'not-a-number';
  return {
    positions,
    converged: reason === 'converged',
    reason,
    iterations,
    residual,
    touching: touching / Math.max(1, metric.vertices),
  };
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

function extent(x: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let z = 2; z < x.length; z += 3) {
    low = Math.min(low, x[z]);
    high = Math.max(high, x[z]);
  }
  return high - low;
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
