/**
 * The pairs of segments that may touch, kept up to date along a relaxation: a long list that lasts for many steps,
 * and the few of its pairs that are near now. Late in a relaxation yarn hardly moves and the short one serves for dozens
 * of evaluations. Each is made anew when some node has moved half its skin; where the rest has hardly moved, only for the
 * segments that have.
 * In: positions and periods as they come. Out: `near`, all pairs within the diameter and some more.
 */
import { type ClosestPoints, closestPoints } from './contact.ts';
import {
  addPair,
  dropPairs,
  emptyPairList,
  findPairs,
  type PairList,
  refreshPairs,
} from './pair-list.ts';
import type { RodSystem } from './rod-system.ts';

/** Pairs of the same yarn nearer along the yarn than this many diameters do not touch (YARN.md). */
export const ARC_EXCLUSION = 1.25;
/**
 * Skin of the short list over that of the long one: at first, at least and at most. It doubles when the list has served
 * for fewer evaluations than `SOON`, and shrinks when it has served for more than `LATE`. Where only what moved is made
 * anew, short lists may be made often. Chosen by timing.
 */
const WHOLE_SHARES = [0.4, 0.15, 0.45] as const;
const PART_SHARES = [0.25, 0.1, 0.3] as const;
const SOON = 4;
const LATE = 16;
/**
 * Of the way that a node may go before a list is made anew: nodes beyond half of it are taken to have moved. Their pairs
 * must reach once that way farther than those of a list made whole: of two segments, each with an end that has gone half
 * of it before and may go all of it still, three times that way are to be covered, not twice.
 */
const MOVED = 0.5;
/**
 * Systems of fewer segments have their lists made whole: they are made few times, and where yarn that starts crowded comes to
 * rest can hang on the order of its pairs. Chosen: whole pieces, not patches and tiles.
 */
const LEAST_IN_PARTS = 10_000;
/** More segments than this share are made anew with all others. Chosen. */
const MOST_MOVED = 0.5;
/** Skin of the short list that the long one must cover, with what its own moved segments reach farther. */
const COVERED = 1.5;

export class ContactPairs {
  readonly near: PairList;
  private readonly long: PairList;
  private readonly system: RodSystem;
  private readonly held: Uint8Array | null;
  private readonly diameter: number;
  private readonly skin: number;
  private nearShare = 0;
  /** Evaluations since `near` was gathered. */
  private served = 0;
  /** [4·segments] midpoint and half length. */
  private readonly middle: Float64Array;
  private readonly longAt: Float64Array;
  private readonly nearAt: Float64Array;
  private readonly longPeriod = new Float64Array(2);
  private readonly nearPeriod = new Float64Array(2);
  /** Skin with which the oldest pairs of `near` were gathered. */
  private nearSkin = 0;
  private listed = false;

  /** `skin`: reach of the long list beyond the diameter, a length. Systems of `leastInParts` segments are mended in parts. */
  constructor(
    system: RodSystem,
    held: Uint8Array | null,
    diameter: number,
    skin: number,
    private readonly leastInParts = LEAST_IN_PARTS,
  ) {
    this.system = system;
    this.held = held;
    this.diameter = diameter;
    this.skin = skin;
    this.middle = new Float64Array(4 * system.segments);
    const size = Math.max(16, system.segments >> 2);
    this.long = emptyPairList(64 * size);
    this.near = emptyPairList(16 * size);
    this.longAt = new Float64Array(3 * system.nodes);
    this.nearAt = new Float64Array(3 * system.nodes);
  }

  /** Brings `near` up to date. */
  update(positions: Float64Array, period: Float64Array): void {
    const { nearAt, nearPeriod, skin } = this;
    const inParts = this.system.segments >= this.leastInParts && !isPeriodic(period);
    const [first, least, most] = inParts ? PART_SHARES : WHOLE_SHARES;
    if (!this.listed) this.nearShare = first;
    this.served++;
    if (this.listed && !outrun(positions, period, nearAt, nearPeriod, this.nearShare * skin))
      return;
    if (this.listed && this.served <= SOON) {
      this.nearShare = Math.min(2 * this.nearShare, most);
    } else if (this.served > LATE) {
      this.nearShare = Math.max(0.7 * this.nearShare, least);
    }
    this.served = 0;
    const nearSkin = this.nearShare * skin;
    const mends = inParts && this.listed;
    this.updateLong(positions, period, skin - (inParts ? COVERED : 1) * nearSkin, mends);
    this.gather(positions, period, nearSkin, mends);
    this.listed = true;
  }

  /** The long list, where it would not last until the short one is made anew: some node has gone half of `spare`. */
  private updateLong(
    positions: Float64Array,
    period: Float64Array,
    spare: number,
    mends: boolean,
  ): void {
    const { system, held, diameter, skin, long, longAt, longPeriod, listed } = this;
    if (listed && !outrun(positions, period, longAt, longPeriod, spare)) return;
    const exclusion = ARC_EXCLUSION * diameter;
    const may = spare / 2;
    const fresh = mends ? takeMoved(system, positions, longAt, may) : null;
    if (fresh) {
      const reach = { reach: diameter + skin + may, exclusion, held };
      refreshPairs(system, positions, reach, long, fresh);
    } else {
      findPairs(system, positions, period, { reach: diameter + skin, exclusion, held }, long);
      longAt.set(positions);
      longPeriod.set(period);
    }
  }

  private gather(
    positions: Float64Array,
    period: Float64Array,
    nearSkin: number,
    mends: boolean,
  ): void {
    const { system, diameter, long, near, nearAt, nearPeriod, middle } = this;
    const may = nearSkin / 2;
    const fresh =
      mends && nearSkin <= this.nearSkin ? takeMoved(system, positions, nearAt, may) : null;
    middles(system, positions, period, middle);
    if (fresh) dropPairs(near, fresh);
    else {
      near.count = 0;
      nearAt.set(positions);
      nearPeriod.set(period);
    }
    const reach = diameter + nearSkin + (fresh ? may : 0);
    addNear(system, long, middle, reach, positions, period, fresh, near);
    this.nearSkin = nearSkin;
  }
}

/**
 * [segments] 1 where an end has moved since `from`, by `MOVED` of what it may; those nodes are put down in `from` where they
 * are now. null, and nothing is put down, where that is much of all.
 */
function takeMoved(
  { nodes, segments, tail, head }: RodSystem,
  now: Float64Array,
  from: Float64Array,
  may: number,
): Uint8Array | null {
  const moved = new Uint8Array(nodes);
  const square = (MOVED * may) ** 2;
  for (let node = 0; node < nodes; node++) {
    const x = now[3 * node] - from[3 * node];
    const y = now[3 * node + 1] - from[3 * node + 1];
    const z = now[3 * node + 2] - from[3 * node + 2];
    if (!(x * x + y * y + z * z <= square)) moved[node] = 1;
  }
  const fresh = new Uint8Array(segments);
  let count = 0;
  for (let s = 0; s < segments; s++) {
    fresh[s] = moved[tail[s]] | moved[head[s]];
    count += fresh[s];
  }
  if (count > MOST_MOVED * segments) return null;
  for (let node = 0; node < nodes; node++) {
    if (!moved[node]) continue;
    for (let i = 3 * node; i < 3 * node + 3; i++) from[i] = now[i];
  }
  return fresh;
}

/** Copies of a cell move with its period: no node tells how far. */
function isPeriodic(period: Float64Array): boolean {
  return period[0] > 0 || period[1] > 0;
}

function middles(
  { segments, tail, head, imageX, imageY }: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  middle: Float64Array,
): void {
  const periodX = period[0];
  const periodY = period[1];
  for (let s = 0; s < segments; s++) {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    const x = 0.5 * (positions[b] - positions[a] + imageX[s] * periodX);
    const y = 0.5 * (positions[b + 1] - positions[a + 1] + imageY[s] * periodY);
    const z = 0.5 * (positions[b + 2] - positions[a + 2]);
    middle[4 * s] = positions[a] + x;
    middle[4 * s + 1] = positions[a + 1] + y;
    middle[4 * s + 2] = positions[a + 2] + z;
    middle[4 * s + 3] = Math.sqrt(x * x + y * y + z * z);
  }
}

/** Adds the pairs of `long` whose segments may be nearer than `reach`; only those with a `fresh` segment, if told. */
function addNear(
  { tail, head, imageX, imageY }: RodSystem,
  long: PairList,
  middle: Float64Array,
  reach: number,
  positions: Float64Array,
  period: Float64Array,
  fresh: Uint8Array | null,
  near: PairList,
): void {
  const [periodX, periodY] = period;
  for (let k = 0; k < long.count; k++) {
    const i = long.first[k];
    const j = long.second[k];
    if (fresh && !(fresh[i] | fresh[j])) continue;
    const shiftX = long.imageX[k] * periodX;
    const shiftY = long.imageY[k] * periodY;
    const mx = middle[4 * j] - middle[4 * i] + shiftX;
    const my = middle[4 * j + 1] - middle[4 * i + 1] + shiftY;
    const mz = middle[4 * j + 2] - middle[4 * i + 2];
    const far = reach + middle[4 * i + 3] + middle[4 * j + 3];
    if (mx * mx + my * my + mz * mz >= far * far) continue;
    const a = 3 * tail[i];
    const b = 3 * head[i];
    const c = 3 * tail[j];
    const d = 3 * head[j];
    const ux = positions[b] - positions[a] + imageX[i] * periodX;
    const uy = positions[b + 1] - positions[a + 1] + imageY[i] * periodY;
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[d] - positions[c] + imageX[j] * periodX;
    const vy = positions[d + 1] - positions[c + 1] + imageY[j] * periodY;
    const vz = positions[d + 2] - positions[c + 2];
    const wx = positions[c] - positions[a] + shiftX;
    const wy = positions[c + 1] - positions[a + 1] + shiftY;
    const wz = positions[c + 2] - positions[a + 2];
    closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, points);
    const x = wx + points.t * vx - points.s * ux;
    const y = wy + points.t * vy - points.s * uy;
    const z = wz + points.t * vz - points.s * uz;
    if (x * x + y * y + z * z >= reach * reach) continue;
    addPair(near, i, j, long.imageX[k], long.imageY[k]);
  }
}

const points: ClosestPoints = { s: 0.5, t: 0.5 };

/** Whether two nodes may have come nearer to each other than by `skin` since `from`. */
function outrun(
  now: Float64Array,
  period: Float64Array,
  from: Float64Array,
  fromPeriod: Float64Array,
  skin: number,
): boolean {
  const drift = 2 * Math.abs(period[0] - fromPeriod[0]) + 2 * Math.abs(period[1] - fromPeriod[1]);
  const alone = (skin - drift) / 2;
  if (!(alone > 0)) return true;
  const square = alone * alone;
  for (let i = 0; i < now.length; i += 3) {
    const x = now[i] - from[i];
    const y = now[i + 1] - from[i + 1];
    const z = now[i + 2] - from[i + 2];
    if (!(x * x + y * y + z * z < square)) return true;
  }
  return false;
}
