/**
 * Soft shadow of the fabric on the table, painted into a small grid.
 *
 * Input: positions. Output: [size·size] darkness 0 … 1 of a square of the table centred at 0. Near
 * parts shade sharply and strongly, high parts widely and weakly; drawn as two blurred layers. Where light would have to
 * come in under the fabric from its rim, it does as far as the fabric is high there: inside a cup it is dark.
 */

export interface ContactShadow {
  /** Side of the grid, cells. */
  readonly size: number;
  /** Side of the square it covers, mm. */
  readonly spanMm: number;
  /** [size·size] row by row from −y, 255 is darkest. */
  readonly darkness: Uint8Array<ArrayBuffer>;
}

const SIZE = 128;

/** Light that comes in under a rim is down to a third after so many times the height of the fabric. Chosen. */
const HEIGHTS_IN = 2;

export function castShadow(
  positions: ArrayLike<number>,
  triangles: Int32Array,
  tableMm: number,
  loopEnd: number,
): ContactShadow {
  let reach = 1;
  for (let i = 0; i < positions.length; i += 3) {
    reach = Math.max(reach, Math.abs(positions[i]), Math.abs(positions[i + 1]));
  }
  const spanMm = 2 * reach * 1.45;
  const cellMm = spanMm / SIZE;
  const near = new Float32Array(SIZE * SIZE);
  const far = new Float32Array(SIZE * SIZE);
  const cover = new Float32Array(SIZE * SIZE);
  const lifted = new Float32Array(SIZE * SIZE);
  // Height at which a part stops touching the table visibly: chosen.
  const touchMm = 12;
  for (let t = 0; t < triangles.length; t += 3) {
    const a = triangles[t];
    const b = triangles[t + 1];
    const c = triangles[t + 2];
    if (a >= loopEnd || b >= loopEnd || c >= loopEnd) continue;
    const x = (positions[3 * a] + positions[3 * b] + positions[3 * c]) / 3;
    const y = (positions[3 * a + 1] + positions[3 * b + 1] + positions[3 * c + 1]) / 3;
    const z = (positions[3 * a + 2] + positions[3 * b + 2] + positions[3 * c + 2]) / 3 - tableMm;
    const ux = positions[3 * b] - positions[3 * a];
    const uy = positions[3 * b + 1] - positions[3 * a + 1];
    const vx = positions[3 * c] - positions[3 * a];
    const vy = positions[3 * c + 1] - positions[3 * a + 1];
    const covered = Math.abs(ux * vy - uy * vx) / 2 / (cellMm * cellMm);
    const closeness = Math.exp(-Math.max(0, z) / touchMm);
    // Shared between the four cells around the point.
    const gx = x / cellMm + SIZE / 2 - 0.5;
    const gy = y / cellMm + SIZE / 2 - 0.5;
    const ix = Math.floor(gx);
    const iy = Math.floor(gy);
    if (!(ix >= 0 && iy >= 0 && ix < SIZE - 1 && iy < SIZE - 1)) continue;
    const fx = gx - ix;
    const fy = gy - iy;
    for (let q = 0; q < 4; q++) {
      const cell = (iy + (q >> 1)) * SIZE + ix + (q & 1);
      const share = (q & 1 ? fx : 1 - fx) * (q >> 1 ? fy : 1 - fy) * covered;
      near[cell] += share * closeness;
      far[cell] += share * (1 - closeness);
      cover[cell] += share;
      lifted[cell] += share * Math.max(0, z);
    }
  }
  // Blurred before it is cut off at full cover: single triangles are coarser than the grid.
  blur(near, 2);
  blur(near, 3);
  blur(far, 5);
  blur(far, 6);
  for (const grid of [cover, lifted]) {
    blur(grid, 2);
    blur(grid, 3);
  }
  const light = lightUnder(cover, lifted, cellMm);
  const darkness = new Uint8Array(SIZE * SIZE);
  for (let k = 0; k < darkness.length; k++) {
    const cast = 0.85 * Math.min(1, near[k]) + 0.55 * Math.min(1, far[k]);
    const shutIn = 0.85 * Math.min(1, cover[k]) * (1 - light[k]);
    darkness[k] = Math.round(255 * Math.min(1, Math.max(cast, shutIn)));
  }
  return { size: SIZE, spanMm, darkness };
}

/**
 * How much light reaches each cell of the table from where nothing covers it, 0 … 1. In: what covers each cell, as a share
 * of it, and that times its height, mm.
 */
function lightUnder(cover: Float32Array, lifted: Float32Array, cellMm: number): Float32Array {
  const passed = cover.map((share, k) =>
    share < 0.5 ? 1 : Math.exp((-cellMm * share) / (HEIGHTS_IN * Math.max(lifted[k], 1e-6))),
  );
  const light = passed.map((share) => (share === 1 ? 1 : 0));
  const take = (k: number, from: number) => {
    light[k] = Math.max(light[k], passed[k] * (light[from] ?? 0));
  };
  // Swept up and down, twice: round a corner of the rim it takes the second time.
  for (const up of [true, false, true, false]) {
    for (let i = 0; i < SIZE; i++) {
      const row = (up ? i : SIZE - 1 - i) * SIZE;
      for (let k = row; k < row + SIZE; k++) {
        take(k, up ? k - SIZE : k + SIZE);
        if (k > row) take(k, k - 1);
      }
      for (let k = row + SIZE - 2; k >= row; k--) take(k, k + 1);
    }
  }
  return light;
}

/** Box blur in both directions, in place. */
function blur(grid: Float32Array, radius: number): void {
  const line = new Float32Array(SIZE);
  for (const [step, stride] of [
    [1, SIZE],
    [SIZE, 1],
  ]) {
    for (let k = 0; k < SIZE; k++) {
      const from = k * stride;
      let sum = 0;
      for (let i = -radius; i <= radius; i++) if (i >= 0) sum += grid[from + i * step];
      for (let i = 0; i < SIZE; i++) {
        line[i] = sum / (2 * radius + 1);
        const enter = i + radius + 1;
        const leave = i - radius;
        if (enter < SIZE) sum += grid[from + enter * step];
        if (leave >= 0) sum -= grid[from + leave * step];
      }
      for (let i = 0; i < SIZE; i++) grid[from + i * step] = line[i];
    }
  }
}
