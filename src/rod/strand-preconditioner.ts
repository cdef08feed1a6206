/**
 * The stiffness of each yarn along itself, factored as a band, as a preconditioner for L-BFGS.
 *
 * Stretch, bending and holding springs in full (Gauss–Newton); of a contact only what it does to each of
 * the two segments, not their coupling. The matrix then has eight numbers beside each diagonal one, and
 * factoring and solving cost a few dozen operations a coordinate whatever the size: time grows linearly.
 */
import type { ContactState } from './contact.ts';
import { type ContactLaw, contactCurvature } from './contact-law.ts';
import { JOINT_NUMBERS, jointBending } from './joint-bending.ts';
import type { PairList } from './pair-list.ts';
import type { RodMaterial } from './relax-rods.ts';
import type { RodSystem } from './rod-system.ts';

/** Numbers of one row: the diagonal and the eight coordinates before it (two nodes and the own one). */
const BAND = 9;
/** Stiffness that stands for a held coordinate. */
const HELD = 1e6;
/**
 * Added everywhere, B/d³, between the stiffness of stretch (some 1000) and that of all else: contact is
 * so far from linear that longer steps are lost. Chosen by timing, for yarn whose overlaps are parted.
 */
const BAND_SHIFT = 200;

export class StrandPreconditioner {
  private readonly system: RodSystem;
  private readonly material: RodMaterial;
  private readonly held: Uint8Array | null;
  private readonly springs: Float64Array | null;
  private readonly shift: number;
  /** [BAND·3·nodes] row i holds A[i][i − k] at BAND·i + k; factored in place. */
  private readonly band: Float64Array;
  private readonly joint = new Float64Array(JOINT_NUMBERS);
  ready = false;

  /** `springs`: [nodes] stiffness of each node's spring to its place. */
  constructor(
    system: RodSystem,
    material: RodMaterial,
    held: Uint8Array | null,
    springs: Float64Array | null,
    shift = BAND_SHIFT,
  ) {
    this.shift = shift;
    this.system = system;
    this.material = material;
    this.held = held;
    this.springs = springs;
    this.band = new Float64Array(BAND * 3 * system.nodes);
  }

  /** Assembles and factors at the state whose tangents and touching pairs are given. */
  refresh(
    tangents: Float64Array,
    pairs: PairList | null,
    state: ContactState,
    law: ContactLaw = 'shell',
  ): void {
    this.band.fill(0);
    this.addStretch(tangents);
    this.addBending(tangents);
    if (pairs) this.addContact(pairs, state, law);
    this.addDiagonal();
    this.factor();
    this.ready = true;
  }

  /** Adds a symmetric 3 × 3 matrix to the block of nodes a ≥ b of one strand, at most two apart. */
  private addBlock(
    a: number,
    b: number,
    xx: number,
    xy: number,
    xz: number,
    yy: number,
    yz: number,
    zz: number,
  ): void {
    const band = this.band;
    const gap = 3 * (a - b);
    const row = BAND * 3 * a;
    // Row 3a + r, column 3b + c lies 3(a − b) + r − c before the diagonal.
    band[row + gap] += xx;
    band[row + BAND + gap + 1] += xy;
    band[row + BAND + gap] += yy;
    band[row + 2 * BAND + gap + 2] += xz;
    band[row + 2 * BAND + gap + 1] += yz;
    band[row + 2 * BAND + gap] += zz;
    if (gap > 0) {
      band[row + gap - 1] += xy;
      band[row + gap - 2] += xz;
      band[row + BAND + gap - 1] += yz;
    }
  }

  private addStretch(tangents: Float64Array): void {
    const { rest, segments } = this.system;
    for (let s = 0; s < segments; s++) {
      const x = tangents[4 * s];
      const y = tangents[4 * s + 1];
      const z = tangents[4 * s + 2];
      const k = this.material.stretch / rest[s];
      this.addSegment(s, -1, 1, k * x * x, k * x * y, k * x * z, k * y * y, k * y * z, k * z * z);
    }
  }

  /** Adds the symmetric 3 × 3 matrix (xx … zz), weighted at the two ends of segment s. */
  private addSegment(
    s: number,
    wa: number,
    wb: number,
    xx: number,
    xy: number,
    xz: number,
    yy: number,
    yz: number,
    zz: number,
  ): void {
    const a = this.system.tail[s];
    const b = this.system.head[s];
    const aa = wa * wa;
    const bb = wb * wb;
    const ab = wa * wb;
    this.addBlock(a, a, aa * xx, aa * xy, aa * xz, aa * yy, aa * yz, aa * zz);
    this.addBlock(b, b, bb * xx, bb * xy, bb * xz, bb * yy, bb * yz, bb * zz);
    // The closing segment of a ring couples its ends beyond the band.
    if (b === a + 1) this.addBlock(b, a, ab * xx, ab * xy, ab * xz, ab * yy, ab * yz, ab * zz);
  }

  private addBending(tangents: Float64Array): void {
    const { tail, head, joints } = this.system;
    const { joint } = this;
    for (let j = 0; j < joints.length; j += 2) {
      jointBending(this.system, this.material.bending, tangents, j, joint);
      const a = tail[joints[j]];
      const b = head[joints[j]];
      const c = head[joints[j + 1]];
      const wa = joint[4];
      const wb = joint[5];
      const wc = joint[6];
      this.addAcross(a, a, wa * wa);
      this.addAcross(b, b, wb * wb);
      this.addAcross(c, c, wc * wc);
      if (b === a + 1) this.addAcross(b, a, wa * wb);
      if (c === b + 1) this.addAcross(c, b, wc * wb);
      if (c === a + 2) this.addAcross(c, a, wa * wc);
    }
  }

  /** The joint's stiffness across its mean direction to the block of nodes a and b. */
  private addAcross(a: number, b: number, weight: number): void {
    const k = this.joint[0] * weight;
    const x = this.joint[1];
    const y = this.joint[2];
    const z = this.joint[3];
    this.addBlock(
      a,
      b,
      k - k * x * x,
      -k * x * y,
      -k * x * z,
      k - k * y * y,
      -k * y * z,
      k - k * z * z,
    );
  }

  private addContact(pairs: PairList, state: ContactState, law: ContactLaw): void {
    const { rest } = this.system;
    const { contact, diameter } = this.material;
    for (let k = 0; k < state.touching; k++) {
      const i = pairs.first[state.pair[k]];
      const j = pairs.second[state.pair[k]];
      const r = state.distance[k];
      const second = contact * rest[i] * rest[j] * contactCurvature(law, r, diameter);
      const x = state.normal[3 * k];
      const y = state.normal[3 * k + 1];
      const z = state.normal[3 * k + 2];
      const s = state.fraction[2 * k];
      const t = state.fraction[2 * k + 1];
      const xx = second * x * x;
      const xy = second * x * y;
      const xz = second * x * z;
      const yy = second * y * y;
      const yz = second * y * z;
      const zz = second * z * z;
      this.addSegment(i, 1 - s, s, xx, xy, xz, yy, yz, zz);
      this.addSegment(j, 1 - t, t, xx, xy, xz, yy, yz, zz);
    }
  }

  private addDiagonal(): void {
    const { system, held, springs, band } = this;
    for (let i = 0; i < system.nodes; i++) {
      const bits = held ? held[i] : 0;
      const k = this.shift + (springs ? springs[i] : 0);
      for (let c = 0; c < 3; c++) {
        band[BAND * (3 * i + c)] += k + (bits & (1 << c) ? HELD : 0);
      }
      band[BAND * (3 * i + 2)] += this.material.plane * system.share[i];
    }
  }

  /** Cholesky in place, row by row; the diagonal keeps the inverse of the factor's. */
  private factor(): void {
    const { band } = this;
    const n = 3 * this.system.nodes;
    for (let i = 0; i < n; i++) {
      const row = BAND * i;
      const most = i < BAND - 1 ? i : BAND - 1;
      for (let k = most; k > 0; k--) {
        // Column j = i − k; both rows reach back to i − most.
        const other = row - BAND * k;
        let v = band[row + k];
        for (let m = k + 1; m <= most; m++) v -= band[row + m] * band[other + m - k];
        band[row + k] = v * band[other];
      }
      let d = band[row];
      for (let m = 1; m <= most; m++) d -= band[row + m] * band[row + m];
      band[row] = 1 / Math.sqrt(Math.max(d, 1e-6));
    }
  }

  /** Replaces v [3·nodes] by the approximate inverse Hessian times v. */
  apply(v: Float64Array): void {
    const { band } = this;
    const n = 3 * this.system.nodes;
    const begin = Math.min(n, BAND - 1);
    for (let i = 0; i < begin; i++) {
      let x = v[i];
      for (let m = 1; m <= i; m++) x -= band[BAND * i + m] * v[i - m];
      v[i] = x * band[BAND * i];
    }
    // Written out: the last product is the only one that waits for the row before.
    for (let i = begin, row = BAND * begin; i < n; i++, row += BAND) {
      const far =
        band[row + 8] * v[i - 8] +
        band[row + 7] * v[i - 7] +
        band[row + 6] * v[i - 6] +
        band[row + 5] * v[i - 5];
      const close = band[row + 4] * v[i - 4] + band[row + 3] * v[i - 3] + band[row + 2] * v[i - 2];
      v[i] = (v[i] - far - close - band[row + 1] * v[i - 1]) * band[row];
    }
    for (let i = n - 1, row = BAND * (n - 1); i >= begin; i--, row -= BAND) {
      const x = v[i] * band[row];
      v[i] = x;
      v[i - 1] -= band[row + 1] * x;
      v[i - 2] -= band[row + 2] * x;
      v[i - 3] -= band[row + 3] * x;
      v[i - 4] -= band[row + 4] * x;
      v[i - 5] -= band[row + 5] * x;
      v[i - 6] -= band[row + 6] * x;
      v[i - 7] -= band[row + 7] * x;
      v[i - 8] -= band[row + 8] * x;
    }
    for (let i = begin - 1; i >= 0; i--) {
      const x = v[i] * band[BAND * i];
      v[i] = x;
      for (let m = 1; m <= i; m++) v[i - m] -= band[BAND * i + m] * x;
    }
  }
}
