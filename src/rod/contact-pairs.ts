/**
 * The pairs of segments that may touch, kept up to date along a relaxation.
 *
 * Two lists: a long one that lasts for many steps, and the few of its pairs that are near now, gathered
 * from it by `contactEnergy` itself. Late in a relaxation yarn hardly moves and the short one serves
 * for dozens of evaluations. Each is made anew when some node has moved half its skin.
 */
import type { Gathering } from './contact.ts';
import { emptyPairList, findPairs, type PairList } from './pair-list.ts';
import type { RodSystem } from './rod-system.ts';

/** Pairs of the same yarn nearer along the yarn than this many diameters do not touch (YARN.md). */
export const ARC_EXCLUSION = 1.25;
/** Skin of the short list over that of the long one. Chosen by timing: 0.15–0.4 differ little. */
const NEAR_SHARE = 0.25;

export class ContactPairs {
  /** Pairs that are near: all that `contactEnergy` met when it last gathered. */
  readonly near: PairList;
  /** Where to put the near pairs while going through `long`. */
  readonly gathering: Gathering;
  readonly long: PairList;
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
    this.gathering = { list: this.near, reach: diameter + this.nearSkin };
    this.longAt = new Float64Array(3 * system.nodes);
    this.nearAt = new Float64Array(3 * system.nodes);
  }

  /** True where the near pairs must be gathered anew: then contact goes through `long`. */
  update(positions: Float64Array, period: Float64Array): boolean {
    const { nearAt, nearPeriod, longAt, longPeriod, nearSkin, skin } = this;
    if (this.listed && !outrun(positions, period, nearAt, nearPeriod, nearSkin)) return false;
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
    return true;
  }
}

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
