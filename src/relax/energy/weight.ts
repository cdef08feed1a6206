/**
 * The sheet's own weight: Σ f z over the vertices, f its weight over the in-plane stiffness K (mm), z the
 * height. Linear: its gradient is constant, its Hessian nothing.
 */

/** Energy at x (K = 1, mm²); adds the gradient to g. `loadMm` is [vertices], x and g [3·vertices]. */
export function weigh(loadMm: Float64Array, x: Float64Array, g: Float64Array): number {
  let energy = 0;
  for (let v = 0; v < loadMm.length; v++) {
    energy += loadMm[v] * x[3 * v + 2];
    g[3 * v + 2] += loadMm[v];
  }
  return energy;
}
