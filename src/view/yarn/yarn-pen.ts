/**
 * Draws centre lines of yarn into growing typed arrays. In: points in mm, one after the other, with their shelter. Out: lines in working
 * order, as shaders/yarn.vert.glsl reads them.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { StitchPatches } from '../fabric/stitch-patches.ts';

/** Patches as they lie now. */
export interface PlacedPatches {
  readonly graph: StitchGraph;
  readonly patches: StitchPatches;
  /** [3·vertices] mm, and unit normals. */
  readonly positions: ArrayLike<number>;
  readonly normals: ArrayLike<number>;
  /** [4·vertices] whose last is how far the place is shut in on the right side; left out where it is open. */
  readonly stitch?: ArrayLike<number>;
  /** Diameter of the pressed yarn, mm. */
  readonly yarnMm: number;
}

export interface DrawnYarn {
  readonly points: number;
  /** [4·points] x, y, z, length of yarn; mm. A loop's yarn has the length of a settled one, as where it is baked. */
  readonly centre: Float32Array;
  /** [4·points] see ambient-occlusion.ts. */
  readonly shelter: Float32Array;
  /** [points] loop whose colour the yarn wears. */
  readonly loop: Int32Array;
  /** [points] strand of each point. */
  readonly strand: Int32Array;
}

/** Points nearer to each other than this are one, yarn diameters. Chosen: half a segment. */
const JOIN_DIAMETERS = 0.5;
/** Points of a loop: eight segments of its own half, eight of its head. */
export const STEP = 2;

/** A place wholly shut in is as dark as so much more yarn nearby makes it; as in fabric.frag.glsl. */
const HOLLOW_SHADE = 9;

/** Collects points that are given on patches. */
export class Pen {
  private readonly centre: number[] = [];
  private readonly shelter: number[] = [];
  private readonly loop: number[] = [];
  private readonly strand: number[] = [];
  private now = 0;
  private used = false;
  private wears = 0;
  private way = 1;
  private base = 0;
  private length = 0;

  constructor(private readonly placed: PlacedPatches) {}

  wear(loop: number): void {
    this.wears = loop;
  }

  /** Which way the strand runs through loops: as in right-side work, or against it. */
  go(backwards: boolean): void {
    this.way = backwards ? -1 : 1;
  }

  /** The next points lie so far along the yarn of their loop, diameters. */
  along(diameters: number): void {
    this.length = diameters;
  }

  /** The yarn of a loop lies behind. */
  nextLoop(diameters: number): void {
    this.base += diameters;
  }

  breakOff(): void {
    if (this.used) this.now++;
    this.used = false;
  }

  /**
   * A point at u, v between the right edge of one patch and the left edge of another (or the same), z yarn
   * diameters off it. `shelter` [4·points] is in the frame of the patch.
   */
  add(
    right: number,
    left: number,
    u: number,
    v: number,
    z: number,
    shelter: ArrayLike<number>,
    s: number,
  ): void {
    const { patches, positions, normals, yarnMm } = this.placed;
    const rows = patches.rows[right] - 1;
    const rowsLeft = patches.rows[left] - 1;
    const row = Math.max(0, Math.min(rows - 1, Math.floor(v * rows)));
    const f = v * rows - row;
    // Both patches have as many rows, or the left one is taken as a whole.
    const a = 3 * (right + 2 * row);
    const b = rowsLeft === rows ? 3 * (left + 2 * row + 1) : 3 * (left + 1);
    const aUp = a + 6;
    const bUp = rowsLeft === rows ? b + 6 : 3 * (left + 2 * rowsLeft + 1);
    const g = rowsLeft === rows ? f : v;
    const point = [0, 0, 0];
    const normal = [0, 0, 0];
    const across = [0, 0, 0];
    const up = [0, 0, 0];
    for (let c = 0; c < 3; c++) {
      const r = positions[a + c] + f * (positions[aUp + c] - positions[a + c]);
      const l = positions[b + c] + g * (positions[bUp + c] - positions[b + c]);
      point[c] = r + u * (l - r);
      across[c] = l - r;
      up[c] =
        (1 - u) * (positions[aUp + c] - positions[a + c]) +
        u * (positions[bUp + c] - positions[b + c]);
      normal[c] =
        (1 - u) * (normals[a + c] + f * (normals[aUp + c] - normals[a + c])) +
        u * (normals[b + c] + g * (normals[bUp + c] - normals[b + c]));
    }
    const acrossMm = Math.hypot(across[0], across[1], across[2]) || 1;
    const upMm = Math.hypot(up[0], up[1], up[2]) || 1;
    const size = Math.hypot(normal[0], normal[1], normal[2]) || 1;
    if (this.used && this.joins(point, normal, z / size)) return;
    for (let c = 0; c < 3; c++) {
      const n = normal[c] / size;
      this.centre.push(point[c] + z * yarnMm * n);
      this.shelter.push(
        (shelter[s] * across[c]) / acrossMm + (shelter[s + 1] * up[c]) / upMm + shelter[s + 2] * n,
      );
    }
    // Against the work, the yarn of a loop is counted down.
    this.centre.push((this.base + this.way * this.length) * yarnMm);
    const { stitch } = this.placed;
    const shut = stitch ? 0.5 * (stitch[(4 * a) / 3 + 3] + stitch[(4 * b) / 3 + 3]) : 0;
    this.shelter.push(shelter[s + 3] + HOLLOW_SHADE * Math.max(0, shut));
    this.loop.push(this.wears);
    this.strand.push(this.now);
    this.used = true;
  }

  /** Where two loops meet in one point it is drawn once, half way between both. */
  private joins(point: readonly number[], normal: readonly number[], z: number): boolean {
    const { yarnMm } = this.placed;
    const at = this.centre.length - 4;
    let square = 0;
    for (let c = 0; c < 3; c++) {
      square += (point[c] + z * yarnMm * normal[c] - this.centre[at + c]) ** 2;
    }
    if (square > (JOIN_DIAMETERS * yarnMm) ** 2) return false;
    for (let c = 0; c < 3; c++) {
      this.centre[at + c] = (this.centre[at + c] + point[c] + z * yarnMm * normal[c]) / 2;
    }
    return true;
  }

  finish(): DrawnYarn {
    const points = this.loop.length;
    return {
      points,
      centre: Float32Array.from(this.centre),
      shelter: Float32Array.from(this.shelter),
      loop: Int32Array.from(this.loop),
      strand: Int32Array.from(this.strand),
    };
  }
}
