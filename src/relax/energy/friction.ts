/**
 * Friction with the table, Coulomb's law made smooth: Σ μ N φ(|u|) with u the slide of a vertex from where it
 * was set down, N what the table last bore there, φ = u²/2ε up to a slide of ε and u − ε/2 beyond.
 * Source: M. Li et al., "Incremental potential contact", ACM Trans. Graph. 39 (2020), lagged friction.
 */

export interface Friction {
  /** [vertices] μ N over K, mm: the most that holds a vertex back. */
  readonly holdMm: Float64Array;
  /** [2·vertices] where each was set down, mm. */
  readonly setDown: Float64Array;
  /** Slide up to which it holds like a spring, mm. */
  readonly slipMm: number;
}

/** Energy at x (K = 1, mm²); adds the gradient to g. */
export function rub(friction: Friction, x: Float64Array, g: Float64Array): number {
  const { holdMm, setDown, slipMm } = friction;
  let energy = 0;
  for (let v = 0; v < holdMm.length; v++) {
    const hold = holdMm[v];
    if (hold === 0) continue;
    const ux = x[3 * v] - setDown[2 * v];
    const uy = x[3 * v + 1] - setDown[2 * v + 1];
    const slide = Math.sqrt(ux * ux + uy * uy);
    const slips = slide > slipMm;
    energy += hold * (slips ? slide - slipMm / 2 : (slide * slide) / (2 * slipMm));
    const force = hold / (slips ? slide : slipMm);
    g[3 * v] += force * ux;
    g[3 * v + 1] += force * uy;
  }
  return energy;
}

/** Adds a positive diagonal that bounds the Hessian from above, [3·vertices]. */
export function addFrictionStiffness(
  friction: Friction,
  x: Float64Array,
  ground: Float64Array,
): void {
  const { holdMm, setDown, slipMm } = friction;
  for (let v = 0; v < holdMm.length; v++) {
    if (holdMm[v] === 0) continue;
    const slide = Math.hypot(x[3 * v] - setDown[2 * v], x[3 * v + 1] - setDown[2 * v + 1]);
    const stiff = holdMm[v] / Math.max(slide, slipMm);
    ground[3 * v] += stiff;
    ground[3 * v + 1] += stiff;
  }
}
