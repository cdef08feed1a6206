/**
 * Friction of yarn on yarn: springs between the two points that first touched, across the contact's
 * normal, whose force never exceeds μ times the normal force (Coulomb). Two segments have one spring, where their
 * contact, summed over points (summed-contact.ts), has its middle.
 *
 * Made from the touching pairs of a state at rest; `energy` is an ExtraEnergy for `relaxRods`. Between two
 * relaxations `settle` lets springs slip that pull too hard, drops contacts that opened and adds new ones.
 * Without friction slack runs along the yarn for ever; in yarn it stays within a stitch or two.
 */
import { bearingReach, contactSlope } from './contact-law.ts';
import { ARC_EXCLUSION } from './contact-pairs.ts';
import { emptyPairList, findPairs } from './pair-list.ts';
import type { ExtraEnergy, RodMaterial } from './relax-rods.ts';
import type { RodSystem } from './rod-system.ts';
import { CONTACT_SAMPLES } from './yarn-material.ts';

/** Wool on wool, 0.2–0.5: from memory (REFERENCES 8). */
export const YARN_FRICTION = 0.3;
/**
 * How far a contact is sheared before it slips, d: its spring is as stiff as the yarns press there, so that
 * light touches hold little. Chosen: soft enough to solve, and small beside a stitch.
 */
const SHEAR = 0.1;

interface Grip {
  readonly first: number;
  readonly second: number;
  readonly imageX: number;
  readonly imageY: number;
  /** Fractions along the two segments. */
  readonly s: number;
  readonly t: number;
  /** Normal at first touch, and the difference of the two points at which the spring is slack. */
  readonly normal: readonly [number, number, number];
  readonly slack: [number, number, number];
  /** Normal force at the last settling. */
  press: number;
}

/** Springs as they were at some moment. */
export type SavedGrips = readonly (readonly [string, Readonly<Grip>])[];

/** Numbers of one spring in the packed list. */
const NUMBERS = 11;

export class YarnFriction {
  private readonly system: RodSystem;
  private readonly material: RodMaterial;
  private readonly coefficient: number;
  private readonly grips = new Map<string, Grip>();
  /** The springs for the hot loop: four nodes (×3) each, and s, t, shifts, slack point, normal. */
  private nodes = new Int32Array(0);
  private numbers = new Float64Array(0);
  private packed = 0;
  /** Segments whose yarn runs freely for now, as on the needle. */
  free: ReadonlySet<number> = new Set();

  constructor(system: RodSystem, material: RodMaterial, coefficient: number) {
    this.system = system;
    this.material = material;
    this.coefficient = coefficient;
  }

  get count(): number {
    return this.grips.size;
  }

  save(): SavedGrips {
    return [...this.grips].map(([key, g]) => [key, { ...g, slack: [...g.slack] }]);
  }

  restore(saved: SavedGrips): void {
    this.grips.clear();
    for (const [key, g] of saved) this.grips.set(key, { ...g, slack: [...g.slack] });
    this.pack();
  }

  readonly energy: ExtraEnergy = (positions, period, gradient, periodGradient) => {
    const { nodes, numbers } = this;
    const [periodX, periodY] = period;
    let energy = 0;
    for (let k = 0, n = 0, v = 0; k < this.packed; k++, n += 4, v += NUMBERS) {
      const a = nodes[n];
      const b = nodes[n + 1];
      const c = nodes[n + 2];
      const d = nodes[n + 3];
      const s = numbers[v];
      const t = numbers[v + 1];
      const shiftX = numbers[v + 2];
      const shiftY = numbers[v + 3];
      const nx = numbers[v + 7];
      const ny = numbers[v + 8];
      const nz = numbers[v + 9];
      const stiffness = numbers[v + 10];
      let x = (1 - t) * positions[c] + t * positions[d];
      let y = (1 - t) * positions[c + 1] + t * positions[d + 1];
      let z = (1 - t) * positions[c + 2] + t * positions[d + 2];
      x -= (1 - s) * positions[a] + s * positions[b] - shiftX * periodX + numbers[v + 4];
      y -= (1 - s) * positions[a + 1] + s * positions[b + 1] - shiftY * periodY + numbers[v + 5];
      z -= (1 - s) * positions[a + 2] + s * positions[b + 2] + numbers[v + 6];
      const out = x * nx + y * ny + z * nz;
      x -= out * nx;
      y -= out * ny;
      z -= out * nz;
      energy += 0.5 * stiffness * (x * x + y * y + z * z);
      x *= stiffness;
      y *= stiffness;
      z *= stiffness;
      gradient[a] -= (1 - s) * x;
      gradient[a + 1] -= (1 - s) * y;
      gradient[a + 2] -= (1 - s) * z;
      gradient[b] -= s * x;
      gradient[b + 1] -= s * y;
      gradient[b + 2] -= s * z;
      gradient[c] += (1 - t) * x;
      gradient[c + 1] += (1 - t) * y;
      gradient[c + 2] += (1 - t) * z;
      gradient[d] += t * x;
      gradient[d + 1] += t * y;
      gradient[d + 2] += t * z;
      periodGradient[0] += shiftX * x;
      periodGradient[1] += shiftY * y;
    }
    return energy;
  };

  /** Lays the springs out for `energy`, which runs at every step. */
  private pack(): void {
    const { tail, head, imageX, imageY } = this.system;
    const count = this.grips.size;
    if (this.nodes.length < 4 * count) {
      this.nodes = new Int32Array(4 * count);
      this.numbers = new Float64Array(NUMBERS * count);
    }
    let k = 0;
    for (const g of this.grips.values()) {
      this.nodes.set(
        [3 * tail[g.first], 3 * head[g.first], 3 * tail[g.second], 3 * head[g.second]],
        4 * k,
      );
      const shiftX = g.imageX + g.t * imageX[g.second] - g.s * imageX[g.first];
      const shiftY = g.imageY + g.t * imageY[g.second] - g.s * imageY[g.first];
      const stiffness = (this.coefficient * g.press) / (SHEAR * this.material.diameter);
      this.numbers.set([g.s, g.t, shiftX, shiftY, ...g.slack, ...g.normal, stiffness], NUMBERS * k);
      k++;
    }
    this.packed = count;
  }

  /**
   * Brings the springs up to date with a state at rest. Returns the largest slip, in lengths, each weighed
   * by its share of the largest pressure: near zero when friction and forces agree.
   */
  settle(positions: Float64Array, period: Float64Array): number {
    const { system, material } = this;
    const pairs = emptyPairList();
    findPairs(
      system,
      positions,
      period,
      {
        reach: bearingReach(material.law ?? 'shell', material.diameter),
        exclusion: ARC_EXCLUSION * material.diameter,
      },
      pairs,
    );
    const seen = new Set<string>();
    const slips: { press: number; by: number }[] = [];
    let hardest = 0;
    for (let k = 0; k < pairs.count; k++) {
      const first = pairs.first[k];
      const second = pairs.second[k];
      if (this.free.has(first) || this.free.has(second)) continue;
      const touch = this.touchAt(
        first,
        second,
        pairs.imageX[k],
        pairs.imageY[k],
        positions,
        period,
      );
      if (!touch) continue;
      const key = `${first} ${second} ${pairs.imageX[k]} ${pairs.imageY[k]}`;
      seen.add(key);
      const old = this.grips.get(key);
      if (!old) {
        this.grips.set(key, touch);
        continue;
      }
      old.press = touch.press;
      hardest = Math.max(hardest, old.press);
      slips.push({ press: old.press, by: this.slip(old, positions, period) });
    }
    for (const key of this.grips.keys()) if (!seen.has(key)) this.grips.delete(key);
    this.pack();
    return slips.reduce((most, { press, by }) => Math.max(most, (by * press) / hardest), 0);
  }

  /** Moves the spring's slack point so that it pulls with μ times the normal force at most: as far as SHEAR. */
  private slip(g: Grip, positions: Float64Array, period: Float64Array): number {
    const now = this.difference(g, positions, period);
    const pull = now.map((v, k) => v - g.slack[k]);
    const out = pull[0] * g.normal[0] + pull[1] * g.normal[1] + pull[2] * g.normal[2];
    const across = pull.map((v, k) => v - out * g.normal[k]);
    const size = Math.hypot(across[0], across[1], across[2]);
    const most = SHEAR * this.material.diameter;
    if (size <= most) return 0;
    const keep = most / size;
    for (let k = 0; k < 3; k++) g.slack[k] += (1 - keep) * across[k];
    return size - most;
  }

  private difference(g: Grip, positions: Float64Array, period: Float64Array): number[] {
    const { tail, head, imageX, imageY } = this.system;
    const a = 3 * tail[g.first];
    const b = 3 * head[g.first];
    const c = 3 * tail[g.second];
    const d = 3 * head[g.second];
    return [0, 1, 2].map((k) => {
      const image =
        k === 0
          ? (g.imageX + g.t * imageX[g.second] - g.s * imageX[g.first]) * period[0]
          : k === 1
            ? (g.imageY + g.t * imageY[g.second] - g.s * imageY[g.first]) * period[1]
            : 0;
      return (
        positions[c + k] +
        g.t * (positions[d + k] - positions[c + k]) -
        positions[a + k] -
        g.s * (positions[b + k] - positions[a + k]) +
        image
      );
    });
  }

  private touchAt(
    first: number,
    second: number,
    imageX: number,
    imageY: number,
    positions: Float64Array,
    period: Float64Array,
  ): Grip | null {
    const { tail, head, rest } = this.system;
    const vector = (from: number, to: number, ix: number, iy: number) => [
      positions[3 * to] - positions[3 * from] + ix * period[0],
      positions[3 * to + 1] - positions[3 * from + 1] + iy * period[1],
      positions[3 * to + 2] - positions[3 * from + 2],
    ];
    const { imageX: sx, imageY: sy } = this.system;
    const u = vector(tail[first], head[first], sx[first], sy[first]);
    const v = vector(tail[second], head[second], sx[second], sy[second]);
    const w = vector(tail[first], tail[second], imageX, imageY);
    const { diameter, contact, law = 'shell' } = this.material;
    const reach = bearingReach(law, diameter);
    const weight = (contact * rest[first] * rest[second]) / CONTACT_SAMPLES ** 2;
    let press = 0;
    let s = 0;
    let t = 0;
    for (let p = 0; p < CONTACT_SAMPLES; p++) {
      const onFirst = (p + 0.5) / CONTACT_SAMPLES;
      for (let q = 0; q < CONTACT_SAMPLES; q++) {
        const onSecond = (q + 0.5) / CONTACT_SAMPLES;
        const x = w[0] + onSecond * v[0] - onFirst * u[0];
        const y = w[1] + onSecond * v[1] - onFirst * u[1];
        const z = w[2] + onSecond * v[2] - onFirst * u[2];
        const r = Math.hypot(x, y, z);
        if (r >= reach || r === 0) continue;
        const push = -weight * r * contactSlope(law, r, diameter);
        press += push;
        s += onFirst * push;
        t += onSecond * push;
      }
    }
    if (press === 0) return null;
    s /= press;
    t /= press;
    const gap = [0, 1, 2].map((k) => w[k] + t * v[k] - s * u[k]);
    const r = Math.hypot(gap[0], gap[1], gap[2]);
    if (r === 0) return null;
    return {
      first,
      second,
      imageX,
      imageY,
      s,
      t,
      normal: [gap[0] / r, gap[1] / r, gap[2] / r],
      slack: [gap[0], gap[1], gap[2]],
      press,
    };
  }
}
