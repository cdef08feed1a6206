/**
 * How far a step may go so that no yarn passes through yarn: those that do not touch approach each other by less than a
 * diameter, those that touch by less than their distance. In: unknowns, a direction, what touches (contact.ts).
 * Out: the largest multiple of the direction.
 */
import type { AffineUnknowns } from './affine-unknowns.ts';
import type { ContactState } from './contact.ts';
import type { PairList } from './pair-list.ts';
import type { RodSystem } from './rod-system.ts';

/** Share of the way to a meeting that a step may go. Chosen: rounding and the closest point's own move stay below. */
const OF_THE_WAY = 0.9;

/** Rounding cannot bring a pair nearer than twice the largest move, so much longer. */
const SURELY = 1 + 1e-9;

export interface StepRule {
  /** Largest change of one coordinate. */
  readonly maxMove: number;
  /** Distance at which contact begins; 0: yarn passes through yarn. */
  readonly diameter: number;
  /** Only what brings touching yarns nearer along the normal counts: for starts whose yarns overlap. */
  readonly soft: boolean;
}

export class StepLimit {
  private readonly system: RodSystem;
  private readonly unknowns: AffineUnknowns;
  private readonly pairs: PairList;
  private readonly state: ContactState;
  private readonly rule: StepRule;
  private readonly spread = new Float64Array(2);

  constructor(
    system: RodSystem,
    unknowns: AffineUnknowns,
    pairs: PairList,
    state: ContactState,
    rule: StepRule,
  ) {
    this.system = system;
    this.unknowns = unknowns;
    this.pairs = pairs;
    this.state = state;
    this.rule = rule;
  }

  /** From v, where the contact state was taken. */
  of(v: Float64Array, direction: Float64Array): number {
    const { unknowns, spread, system, rule } = this;
    const fx = unknowns.factor[0];
    const fy = unknowns.factor[1];
    unknowns.spreadOf(direction, spread);
    let coordinate = 0;
    let square = 0;
    for (let i = 0; i < 3 * system.nodes; i += 3) {
      const mx = direction[i] * fx + v[i] * spread[0];
      const my = direction[i + 1] * fy + v[i + 1] * spread[1];
      const mz = direction[i + 2];
      const m = mx * mx + my * my + mz * mz;
      if (m > square) square = m;
      const c = Math.max(Math.abs(mx), Math.abs(my), Math.abs(mz));
      if (c > coordinate) coordinate = c;
    }
    const limit = rule.maxMove / Math.max(coordinate, 1e-300);
    if (!(rule.diameter > 0)) return limit;
    // Yarns that do not touch approach each other by at most twice the largest move (and copies of the
    // cell by the change of period): below a diameter they cannot meet.
    const { start } = unknowns;
    const stretch = Math.abs(spread[0]) * start[0] + Math.abs(spread[1]) * start[1];
    const together = 2 * Math.sqrt(square);
    const fastest = together + stretch + 1e-300;
    return this.ofTouching(
      v,
      direction,
      together,
      Math.min(limit, (OF_THE_WAY * rule.diameter) / fastest),
    );
  }

  /** For those that touch the relative move of their ends decides. */
  private ofTouching(
    v: Float64Array,
    direction: Float64Array,
    together: number,
    most: number,
  ): number {
    const { unknowns, spread, pairs, state } = this;
    const spreadX = Math.abs(spread[0]) * unknowns.start[0];
    const spreadY = Math.abs(spread[1]) * unknowns.start[1];
    let limit = most;
    for (let t = 0; t < state.touching; t++) {
      const k = state.pair[t];
      const images =
        spreadX * (Math.abs(pairs.imageX[k]) + 1) + spreadY * (Math.abs(pairs.imageY[k]) + 1);
      // Even head on they would not meet.
      if (OF_THE_WAY * state.distance[t] >= SURELY * limit * (together + images)) continue;
      const nearer = this.approach(v, direction, t, pairs.first[k], pairs.second[k]);
      limit = Math.min(limit, (OF_THE_WAY * state.distance[t]) / (nearer + images + 1e-300));
    }
    return limit;
  }

  /**
   * How much nearer a unit of the direction brings the ends of touching segments i and j. In soft contact only what is
   * along the normal counts: the plane across the closest points parts the segments as long as no two ends come nearer
   * by their distance.
   */
  private approach(
    v: Float64Array,
    direction: Float64Array,
    touching: number,
    i: number,
    j: number,
  ): number {
    const { unknowns, spread, state, rule } = this;
    const { tail, head } = this.system;
    const nx = state.normal[3 * touching];
    const ny = state.normal[3 * touching + 1];
    const nz = state.normal[3 * touching + 2];
    let nearer = 0;
    for (let end = 0; end < 4; end++) {
      const a = 3 * (end & 1 ? head[i] : tail[i]);
      const b = 3 * (end & 2 ? head[j] : tail[j]);
      const x = (direction[b] - direction[a]) * unknowns.factor[0] + (v[b] - v[a]) * spread[0];
      const y =
        (direction[b + 1] - direction[a + 1]) * unknowns.factor[1] +
        (v[b + 1] - v[a + 1]) * spread[1];
      const z = direction[b + 2] - direction[a + 2];
      nearer = Math.max(nearer, rule.soft ? -(x * nx + y * ny + z * nz) : x * x + y * y + z * z);
    }
    return rule.soft ? nearer : Math.sqrt(nearer);
  }
}
