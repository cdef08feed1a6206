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

/**
 * Adds the Hessian's diagonal, [3·vertices], and a part of it just above the table, where the next step will
 * land; without that the steps are a hundred times too long. Returns how many vertices touch.
 */
export function addTableStiffness(
  stiffness: number,
  x: Float64Array,
  ground: Float64Array,
): number {
  let touching = 0;
  for (let z = 2; z < x.length; z += 3) {
    if (!(x[z] < NEAR_MM)) continue;
    ground[z] += stiffness * Math.min(1, 1 - x[z] / NEAR_MM);
    if (x[z] < 0) touching++;
  }
  return touching;
}
