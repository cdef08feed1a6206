/**
 * Brings open strands to rest near where they were laid: all of them first, then only where they still move. After some
 * steps most yarn lies still: what does not is cut into tiles, each brought to rest by itself with the yarn around it
 * held, and put back, until the whole is at rest. A tile takes the steps that it needs, its vectors stay in the cache.
 * In: a RodSystem in yarn diameters, laid positions, springs to them, held nodes. Out: positions at rest, in place, and the record.
 */
import {
  type ExtraEnergy,
  type RodMaterial,
  type RodRun,
  relaxRods,
} from '../../rod/relax-rods.ts';
import type { RodSystem } from '../../rod/rod-system.ts';
import { nodesWithin, partOf } from '../../rod/subsystem.ts';
import { STRETCH_STIFFNESS } from '../../rod/yarn-material.ts';

export interface LocalProblem {
  readonly system: RodSystem;
  /** [3·nodes] now; changed in place. */
  readonly positions: Float64Array;
  /** [3·nodes] where each node's spring pulls it. */
  readonly laid: Float64Array;
  /** [nodes] stiffness of that spring, B/d⁴ per length of yarn. */
  readonly grip: Float64Array;
  /** [nodes] bits 1, 2, 4: x, y, z held. */
  readonly held: Uint8Array;
}

/** Return true to cancel. `positionsNow` gives all positions, to be asked during the call only. */
export type LocalWatch = (
  residual: number,
  iteration: number,
  positionsNow: () => Float64Array,
) => boolean | undefined;

export interface LocalRecord {
  readonly reason: RodRun['reason'];
  /** Steps of the whole; those of a part by its share of the nodes. */
  readonly iterations: number;
  readonly evaluations: number;
  /** Largest force on a node, B/d², over the whole system. */
  readonly residual: number;
  readonly closestAtRest: number;
  readonly tunnelFree: boolean;
}

/**
 * Stiffness of contact, B/d⁴. Softer than in the cells (10), which is harder than any wool: yarn then
 * gives way by some two hundredths of its thickness where it crosses, and comes to rest in half the steps.
 */
const CONTACT = 3;
const MATERIAL: RodMaterial = {
  stretch: STRETCH_STIFFNESS,
  bending: 1,
  contact: CONTACT,
  diameter: 1,
  plane: 0,
};
/** Largest change of a coordinate in a step, diameters (YARN.md). */
const MAX_MOVE = 0.12;
/** Smoothing of contact (RodRunOptions.smooth): crossings may sit nearer by up to 2 %. Chosen by timing. */
const SMOOTH = 0.04;
/** Reach of the pair list beyond the diameter. Chosen by timing: 0.9 takes a twentieth more, 0.45 as long as that. */
const SKIN = 0.6;
/** The same for a look at the forces alone: nothing moves. */
const LOOK_SKIN = 0.05;
/** Steps of the whole before the first look at where it still moves, and between two. Chosen by nodes × evaluations. */
const FIRST_STEPS = 60;
const WHOLE_STEPS = 40;
/** Edge of the tiles that still moving places are cut into, and by how much tiles overlap, diameters. Chosen. */
const TILE = 60;
const OVERLAP = 4;
/**
 * Steps between two factorings of each yarn's own stiffness, and what is added to it, B/d³. Chosen by nodes × evaluations to
 * rest of 144 to 4,548 stitches: shifts of 50–100 take about six tenths of what 200 takes.
 */
const BAND_EVERY = 10;
const BAND_SHIFT = 70;
/** Most steps of a part before it is put back. Chosen. */
const PART_STEPS = 400;
/**
 * Beyond this share of nodes that still move parts save nothing; of a piece with fewer nodes than about a tile has, the
 * smaller share. Chosen by timing.
 */
const PART_SHARE = 0.9;
const SMALL_SHARE = 0.4;
const SMALL_NODES = 4000;
/** Parts hold the nodes above this quantile of the force, and at the end those above this share of the
 * tolerance. Chosen by timing. */
const FORCE_QUANTILE = 0.97;
const PART_TOLERANCE = 0.6;
/** So many looks at the whole without the largest force falling by this share: something is caught, and
 * going on to the limit of steps would take minutes. Chosen. */
const PATIENCE = 6;
const MIN_PROGRESS = 0.01;
/** What may move with a node that does: nodes along the yarn (half a stitch of 16 segments), and yarn
 * within this distance, diameters. Chosen. */
const ALONG_NODES = 8;
const TOUCHED = 1.3;
/** Yarn up to this distance from yarn that moves takes part, and how far a part may then move: what
 * was left out must stay out of touch. Diameters. */
const REACH = 2.2;
const ROOM = 0.9;

export function relaxLocally(
  problem: LocalProblem,
  tolerance: number,
  maxIterations: number,
  watch?: LocalWatch,
): LocalRecord {
  return new LocalRelaxation(problem, maxIterations, watch).run(tolerance);
}

/** One run of a part, or of the whole. */
interface PartRun {
  readonly goal: number;
  readonly limit: number;
  /** All positions, from those of the part. */
  readonly positionsFrom: (now: Float64Array) => Float64Array;
  readonly stop?: (now: Float64Array) => boolean;
}

const asIs = (now: Float64Array) => now;

class LocalRelaxation {
  private readonly problem: LocalProblem;
  private readonly maxIterations: number;
  private readonly watch: LocalWatch | undefined;
  private iterations = 0;
  private evaluations = 0;
  private tunnelFree = true;
  private cancelled = false;

  constructor(problem: LocalProblem, maxIterations: number, watch: LocalWatch | undefined) {
    this.problem = problem;
    this.maxIterations = maxIterations;
    this.watch = watch;
  }

  run(tolerance: number): LocalRecord {
    const { problem, maxIterations } = this;
    const least = PART_TOLERANCE * tolerance;
    let whole = this.relaxWhole(tolerance, FIRST_STEPS);
    let before: Uint8Array | null = null;
    let lowest = whole.residual;
    let waited = 0;
    let tiled = 0;
    while (
      whole.reason === 'iteration-limit' &&
      this.iterations < maxIterations &&
      !this.cancelled
    ) {
      // The worst few per cent first; at the end all that is above the tolerance.
      const force = Math.max(least, quantile(nodeForces(whole.gradient), FORCE_QUANTILE));
      const last = force === least;
      const moves = stillMoving(problem, whole.gradient, force, last ? before : null);
      before = last ? moves : null;
      if (moves) this.relaxTiles(moves, tiled++ % 2, whole.gradient, last ? least : 0.5 * force);
      // After the last parts one look at the forces says what is left.
      whole = this.relaxWhole(tolerance, moves && last ? 0 : WHOLE_STEPS);
      waited = whole.residual < (1 - MIN_PROGRESS) * lowest ? 0 : waited + 1;
      lowest = Math.min(lowest, whole.residual);
      if (waited >= PATIENCE) break;
    }
    const { residual, closestAtRest } = whole;
    const caught = whole.reason === 'iteration-limit' && waited >= PATIENCE;
    return {
      reason: this.cancelled ? 'cancelled' : caught ? 'stalled' : whole.reason,
      iterations: Math.ceil(this.iterations),
      evaluations: Math.ceil(this.evaluations),
      residual,
      closestAtRest,
      tunnelFree: this.tunnelFree,
    };
  }

  private relaxWhole(goal: number, limit: number): RodRun {
    return this.relax(this.problem, { goal, limit, positionsFrom: asIs });
  }

  /** What moves, tile by tile, where a force is above `goal`; `shift`: the tiles lie elsewhere at every other look. */
  private relaxTiles(moves: Uint8Array, shift: number, gradient: Float64Array, goal: number): void {
    const { problem } = this;
    const free = new Uint8Array(problem.system.nodes);
    for (const tile of tilesOf(problem, moves, shift)) {
      if (!(largestForce(gradient, tile) > goal)) continue;
      free.fill(0);
      for (const node of tile) free[node] = 1;
      this.relaxPart(free, goal);
    }
  }

  private relaxPart(moves: Uint8Array, goal: number): void {
    const { problem } = this;
    const { positions } = problem;
    const part = cutOut(problem, moves);
    const start = part.positions.slice();
    this.relax(part, {
      goal,
      limit: PART_STEPS,
      positionsFrom: (now) => {
        const all = positions.slice();
        putBack(part.node, now, all);
        return all;
      },
      stop: (now) => outside(now, start),
    });
    putBack(part.node, part.positions, positions);
  }

  private relax(part: LocalProblem, { goal, limit, positionsFrom, stop }: PartRun): RodRun {
    const { watch } = this;
    // A step of a tile counts as its share of the yarn.
    const share = part.system.nodes / this.problem.system.nodes;
    const base = this.iterations;
    const left = Math.max(0, Math.ceil((this.maxIterations - base) / share));
    const springs = part.grip.map((k, i) => k * part.system.share[i]);
    const result = relaxRods(
      {
        system: part.system,
        positions: part.positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held: part.held,
        load: null,
        extra: springsTo(part.laid, springs),
      },
      {
        material: MATERIAL,
        tolerance: goal,
        maxIterations: this.cancelled ? 0 : Math.min(limit, left),
        maxMove: MAX_MOVE,
        skin: limit > 0 ? SKIN : LOOK_SKIN,
        smooth: SMOOTH,
        memory: 5,
        bandEvery: limit > 0 ? BAND_EVERY : 0,
        bandShift: BAND_SHIFT,
        springs,
        onIteration: (k, residual, _energy, now) => {
          this.cancelled ||=
            watch?.(residual, Math.round(base + share * k), () => positionsFrom(now)) === true;
          return this.cancelled || stop?.(now) === true;
        },
      },
    );
    this.iterations += share * result.iterations;
    this.evaluations += share * result.evaluations;
    this.tunnelFree &&= result.tunnelFree;
    return result;
  }
}

function springsTo(laid: Float64Array, springs: Float64Array): ExtraEnergy {
  return (x, _period, gradient) => {
    let energy = 0;
    for (let node = 0; node < springs.length; node++) {
      const k = springs[node];
      for (let i = 3 * node; i < 3 * node + 3; i++) {
        const d = x[i] - laid[i];
        energy += 0.5 * k * d * d;
        gradient[i] += k * d;
      }
    }
    return energy;
  };
}

/** [nodes] largest component of the force on each node. */
function nodeForces(gradient: Float64Array): Float64Array {
  const force = new Float64Array(gradient.length / 3);
  for (let i = 0; i < gradient.length; i++) {
    const k = Math.floor(i / 3);
    force[k] = Math.max(force[k], Math.abs(gradient[i]));
  }
  return force;
}

/** Largest component of the force on the nodes of a tile. */
function largestForce(gradient: Float64Array, tile: readonly number[]): number {
  let most = 0;
  for (const node of tile) {
    for (let i = 3 * node; i < 3 * node + 3; i++) most = Math.max(most, Math.abs(gradient[i]));
  }
  return most;
}

function quantile(values: Float64Array, share: number): number {
  return values.slice().sort()[Math.floor(share * values.length)];
}

/**
 * [nodes] 1 at nodes with more force than `force`, around them, and where `before` says so; null where
 * that is much of all.
 */
function stillMoving(
  { system, positions, held }: LocalProblem,
  gradient: Float64Array,
  force: number,
  before: Uint8Array | null,
): Uint8Array | null {
  const hot = Uint8Array.from(nodeForces(gradient), (f) => (f > force ? 1 : 0));
  // What they touch moves with them.
  const touched = nodesWithin(system, positions, hot, TOUCHED);
  const moves = before ? before.slice() : new Uint8Array(system.nodes);
  for (let s = 0; s < system.strands; s++) {
    const from = system.nodeStart[s];
    const to = system.nodeStart[s + 1];
    for (let i = from; i < to; i++) {
      if (touched[i])
        moves.fill(1, Math.max(from, i - ALONG_NODES), Math.min(to, i + ALONG_NODES + 1));
    }
  }
  let count = 0;
  for (let i = 0; i < system.nodes; i++) {
    if (held[i] === 7) moves[i] = 0;
    count += moves[i];
  }
  const share = system.nodes < SMALL_NODES ? SMALL_SHARE : PART_SHARE;
  return count > share * system.nodes ? null : moves;
}

/** Lists of the moving nodes by tiles of a grid, which lies elsewhere at every other look. */
function tilesOf(
  { system, positions }: LocalProblem,
  moves: Uint8Array,
  shift: number,
): number[][] {
  const low = [Infinity, Infinity, Infinity];
  for (let i = 0; i < system.nodes; i++) {
    if (moves[i]) for (let c = 0; c < 3; c++) low[c] = Math.min(low[c], positions[3 * i + c]);
  }
  const tiles = new Map<string, number[]>();
  const tileOf = (i: number, c: number, aside: number) =>
    // Nothing lies within an overlap of the low side: a flat piece is one tile deep.
    Math.floor((positions[3 * i + c] - low[c] + 2 * OVERLAP + aside) / TILE + shift / 2);
  for (let i = 0; i < system.nodes; i++) {
    if (!moves[i]) continue;
    const from = [0, 1, 2].map((c) => tileOf(i, c, -OVERLAP));
    const to = [0, 1, 2].map((c) => tileOf(i, c, OVERLAP));
    for (let x = from[0]; x <= to[0]; x++) {
      for (let y = from[1]; y <= to[1]; y++) {
        for (let z = from[2]; z <= to[2]; z++) {
          const key = `${x} ${y} ${z}`;
          const tile = tiles.get(key);
          if (tile) tile.push(i);
          else tiles.set(key, [i]);
        }
      }
    }
  }
  return [...tiles.values()];
}

function cutOut(
  { system, positions, laid, grip, held }: LocalProblem,
  moves: Uint8Array,
): LocalProblem & { readonly node: Int32Array } {
  const part = partOf(system, positions, moves, REACH);
  const { node } = part;
  const laidThere = new Float64Array(3 * node.length);
  node.forEach((i, k) => {
    laidThere.set(laid.subarray(3 * i, 3 * i + 3), 3 * k);
  });
  return {
    ...part,
    laid: laidThere,
    grip: Float64Array.from(node, (i) => grip[i]),
    held: Uint8Array.from(node, (i) => (moves[i] ? held[i] : 7)),
  };
}

function putBack(node: Int32Array, part: Float64Array, whole: Float64Array): void {
  for (let k = 0; k < node.length; k++) {
    for (let c = 0; c < 3; c++) whole[3 * node[k] + c] = part[3 * k + c];
  }
}

/** Whether a point may have moved further than `ROOM`. */
function outside(now: Float64Array, start: Float64Array): boolean {
  const most = ROOM / Math.sqrt(3);
  for (let i = 0; i < now.length; i++) if (!(Math.abs(now[i] - start[i]) < most)) return true;
  return false;
}
