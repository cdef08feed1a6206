/**
 * The six rigid motions of a shape, and taking them out of a field of displacements.
 * A sheet in no outside force is indifferent to them, so no solver should spend steps on them.
 * In: a shape, [3·vertices], and which of its vertices are loose. Out: fields orthogonal to its translations and its
 * rotations about its middle, and still where a vertex is loose: moving one costs nothing either.
 */

/** Added to the inertia as a share of its trace: a shape on a line has no turn about itself. Chosen: rounding. */
const RIDGE = 1e-13;

/** Of the six motions those that cost nothing: all, those along a table, or none where the sheet is held. */
export type FreeMotions = 'all' | 'table' | 'none';

export class RigidMotions {
  /** [3·vertices] the shape about its middle. */
  private readonly arm: Float64Array;
  /** Inverse of the inertia Σ |r|² 1 − r rᵀ: xx, xy, xz, yy, yz, zz. */
  private readonly inverse = new Float64Array(6);
  private along: FreeMotions = 'all';
  private readonly loose: readonly number[];

  /** `size`: 3·vertices. `loose`: vertices that nothing holds, as where edges are sewn together; they count on no table. */
  constructor(size: number, loose: readonly number[] = []) {
    this.arm = new Float64Array(size);
    this.loose = loose;
  }

  /**
   * Takes the motions of the shape x; a shape on a line or point has fewer than six. `along`: only
   * those along a table (it minds being lifted or tilted), or none where the sheet is held.
   */
  refresh(x: Float64Array, along: FreeMotions = 'all'): void {
    const { arm, inverse: w } = this;
    this.along = along;
    const loose = this.looseNow();
    const share = 1 / (x.length / 3 - loose.length);
    const middle = [0, 0, 0];
    for (let k = 0; k < x.length; k++) middle[k % 3] += x[k] * share;
    for (const v of loose) for (let d = 0; d < 3; d++) middle[d] -= x[3 * v + d] * share;
    let [xx, xy, xz, yy, yz, zz] = [0, 0, 0, 0, 0, 0];
    for (let k = 0; k < x.length; k += 3) {
      const rx = x[k] - middle[0];
      const ry = x[k + 1] - middle[1];
      const rz = x[k + 2] - middle[2];
      arm[k] = rx;
      arm[k + 1] = ry;
      arm[k + 2] = rz;
      xx += ry * ry + rz * rz;
      yy += rz * rz + rx * rx;
      zz += rx * rx + ry * ry;
      xy -= rx * ry;
      xz -= rx * rz;
      yz -= ry * rz;
    }
    for (const v of loose) {
      const [rx, ry, rz] = arm.subarray(3 * v, 3 * v + 3);
      xx -= ry * ry + rz * rz;
      yy -= rz * rz + rx * rx;
      zz -= rx * rx + ry * ry;
      xy += rx * ry;
      xz += rx * rz;
      yz += ry * rz;
    }
    w.fill(0);
    const trace = xx + yy + zz;
    if (!(trace > 0)) return;
    if (along === 'table') {
      w[5] = zz > RIDGE * trace ? 1 / zz : 0;
      return;
    }
    xx += RIDGE * trace;
    yy += RIDGE * trace;
    zz += RIDGE * trace;
    const cxx = yy * zz - yz * yz;
    const cxy = xz * yz - xy * zz;
    const cxz = xy * yz - xz * yy;
    const scale = 1 / (xx * cxx + xy * cxy + xz * cxz);
    w[0] = cxx * scale;
    w[1] = cxy * scale;
    w[2] = cxz * scale;
    w[3] = (xx * zz - xz * xz) * scale;
    w[4] = (xy * xz - xx * yz) * scale;
    w[5] = (xx * yy - xy * xy) * scale;
  }

  /** Leaves in `field` only what is orthogonal to every rigid motion. */
  remove(field: Float64Array): void {
    const { arm, inverse: w, along } = this;
    if (along === 'none') return;
    const loose = this.looseNow();
    stop(field, loose);
    let [mx, my, mz, tx, ty, tz] = [0, 0, 0, 0, 0, 0];
    for (let k = 0; k < field.length; k += 3) {
      const x = field[k];
      const y = field[k + 1];
      const z = field[k + 2];
      const rx = arm[k];
      const ry = arm[k + 1];
      const rz = arm[k + 2];
      mx += x;
      my += y;
      mz += z;
      tx += ry * z - rz * y;
      ty += rz * x - rx * z;
      tz += rx * y - ry * x;
    }
    const share = 1 / (field.length / 3 - loose.length);
    mx *= share;
    my *= share;
    mz *= along === 'table' ? 0 : share;
    const ox = w[0] * tx + w[1] * ty + w[2] * tz;
    const oy = w[1] * tx + w[3] * ty + w[4] * tz;
    const oz = w[2] * tx + w[4] * ty + w[5] * tz;
    for (let k = 0; k < field.length; k += 3) {
      const rx = arm[k];
      const ry = arm[k + 1];
      const rz = arm[k + 2];
      field[k] -= mx + oy * rz - oz * ry;
      field[k + 1] -= my + oz * rx - ox * rz;
      field[k + 2] -= mz + ox * ry - oy * rx;
    }
    stop(field, loose);
  }

  private looseNow(): readonly number[] {
    return this.along === 'all' ? this.loose : NONE;
  }
}

const NONE: readonly number[] = [];

function stop(field: Float64Array, loose: readonly number[]): void {
  for (const v of loose) field.fill(0, 3 * v, 3 * v + 3);
}
