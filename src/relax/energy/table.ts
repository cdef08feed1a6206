/**
 * A rigid table at z = 0, felt from above only: ½ k Σ min(0, z)². The penalty k is so stiff that the sheet
 * sinks in by far less than a stitch; smooth enough (C¹) for a line search.
 */

/** Energy at x (K = 1, mm²); adds the gradient to g. */
export function rest(stiffness: number, x: Float64Array, g: Float64Array): number {
  let energy = 0;
  for (let z = 2; z < x.length; z += 3) {
    if (!(x[z] < 0)) continue;
    energy += x[z] * x[z];
    g[z] += stiffness * x[z];
  }
  return (stiffness * energy) / 2;
}

/** Height over the table within which a vertex counts as about to touch, mm. Chosen: on a cup 0.3 to 1 do alike, 0.1 and 3 worse. */
const NEAR_MM = 0.3;

/** Loads that fall on a vertex about to touch, its neighbours' among them. Chosen: from 6 to 15 times its own do alike. */
const FALLING = 10;

/**
 * Adds the Hessian's diagonal, [3·vertices], and a part of it just above the table, where the next step will
 * land; without that the steps are a hundred times too long. No more than lets what falls on a vertex carry it down to
 * the table in that step: a sheet that lies but for tenths of a millimetre would sink by hundredths.
 * `loadMm`: [vertices]. Returns how many vertices touch.
 */
export function addTableStiffness(
  stiffness: number,
  loadMm: Float64Array,
  x: Float64Array,
  ground: Float64Array,
): number {
  let touching = 0;
  for (let v = 0, z = 2; z < x.length; v++, z += 3) {
    if (!(x[z] < NEAR_MM)) continue;
    if (x[z] < 0) touching++;
    const falling = FALLING * loadMm[v];
    const carried = x[z] > 0 ? falling / (falling + stiffness * x[z]) : 1;
    ground[z] += stiffness * Math.min(1 - Math.max(0, x[z]) / NEAR_MM, carried);
  }
  return touching;
}
