/**
 * The pairs of segments that may touch, kept up to date along a relaxation: a long list that lasts for many steps,
 * and the few of its pairs that are near now. Late in a relaxation yarn hardly moves and the short one serves for dozens
 * of evaluations. Each is made anew when some node has moved half its skin.
 * In: positions and periods as they come. Out: `near`, all pairs within the diameter and some more.
 */
import { type ClosestPoints, closestPoints } from './contact.ts';
import { addPair, emptyPairList, findPairs, type PairList } from './pair-list.ts';
import type { RodSystem } from './rod-system.ts';

/** Pairs of the same yarn nearer along the yarn than this many diameters do not touch (YARN.md). */
export const ARC_EXCLUSION = 1.25;
/** Skin of the short list over that of the long one. Chosen by timing: 0.15–0.4 differ little. */
const NEAR_SHARE = 0.25;

export class ContactPairs {
  readonly near: PairList;
  private readonly long: PairList;
  private readonly system: RodSystem;
  private readonly held: Uint8Array | null;
  private readonly diameter: number;
  private readonly skin: number;
  private readonly nearSkin: number;
  private readonly longAt: Float64Array;
  private readonly nearAt: Float64Array;
  private readonly longPeriod = new Float64Array(2);
  private readonly nearPeriod = new Float64Array(2);
  private listed = false;

  /** `skin`: reach of the long list beyond the diameter, a length. */
  constructor(system: RodSystem, held: Uint8Array | null, diameter: number, skin: number) {
    this.system = system;
    this.held = held;
    this.diameter = diameter;
    this.skin = skin;
    this.nearSkin = NEAR_SHARE * skin;
    const size = Math.max(16, system.segments >> 2);
    this.long = emptyPairList(64 * size);
    this.near = emptyPairList(16 * size);
    this.longAt = new Float64Array(3 * system.nodes);
    this.nearAt = new Float64Array(3 * system.nodes);
  }

  /** Brings `near` up to date. */
  update(positions: Float64Array, period: Float64Array): void {
    const { nearAt, nearPeriod, longAt, longPeriod, nearSkin, skin } = this;
    if (this.listed && !outrun(positions, period, nearAt, nearPeriod, nearSkin)) return;
    // The long list must last until the short one is made anew.
    if (!this.listed || outrun(positions, period, longAt, longPeriod, skin - nearSkin)) {
      findPairs(
        this.system,
        positions,
        period,
        this.diameter + skin,
        ARC_EXCLUSION * this.diameter,
        this.long,
      );
      if (this.held) dropHeld(this.long, this.system, this.held);
      longAt.set(positions);
      longPeriod.set(period);
      this.listed = true;
    }
    nearAt.set(positions);
    nearPeriod.set(period);
    gatherNear(this.system, this.long, this.diameter + nearSkin, positions, period, this.near);
  }
}

/** `near` ← the pairs of `long` whose segments may be nearer than `reach`. */
function gatherNear(
  { tail, head, imageX, imageY }: RodSystem,
  long: PairList,
  reach: number,
  positions: Float64Array,
  period: Float64Array,
  near: PairList,
): void {
  near.count = 0;
  const [periodX, periodY] = period;
  for (let k = 0; k < long.count; k++) {
    const i = long.first[k];
    const j = long.second[k];
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
    const wx = positions[c] - positions[a] + long.imageX[k] * periodX;
    const wy = positions[c + 1] - positions[a + 1] + long.imageY[k] * periodY;
    const wz = positions[c + 2] - positions[a + 2];
    const mx = wx + 0.5 * (vx - ux);
    const my = wy + 0.5 * (vy - uy);
    const mz = wz + 0.5 * (vz - uz);
    const uu = ux * ux + uy * uy + uz * uz;
    const vv = vx * vx + vy * vy + vz * vz;
    const far = reach + 0.5 * (Math.sqrt(uu) + Math.sqrt(vv));
    if (mx * mx + my * my + mz * mz >= far * far) continue;
    closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, points);
    const x = wx + points.t * vx - points.s * ux;
    const y = wy + points.t * vy - points.s * uy;
    const z = wz + points.t * vz - points.s * uz;
    if (x * x + y * y + z * z >= reach * reach) continue;
    addPair(near, i, j, long.imageX[k], long.imageY[k]);
  }
}

const points: ClosestPoints = { s: 0, t: 0 };

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

/** Pairs of segments that are held at both ends push nothing that could move. */
function dropHeld(pairs: PairList, system: RodSystem, held: Uint8Array): void {
  const fixed = (s: number) => held[system.tail[s]] === 7 && held[system.head[s]] === 7;
  let count = 0;
  for (let k = 0; k < pairs.count; k++) {
    if (fixed(pairs.first[k]) && fixed(pairs.second[k])) continue;
    pairs.first[count] = pairs.first[k];
    pairs.second[count] = pairs.second[k];
    pairs.imageX[count] = pairs.imageX[k];
    pairs.imageY[count] = pairs.imageY[k];
    count++;
  }
  pairs.count = count;
}
