/**
 * The unknowns of a rod system: the nodes' positions and, where periods are unknown, an affine stretch of all of it.
 * Actual x = X·(1 + e), period = start period·(1 + e); e is scaled so that a unit of it moves the nodes by a unit vector
 * in all. In: positions [3·nodes], periods [x, y]. Out: the vector of unknowns, what it stands for, and its gradient.
 */

export class AffineUnknowns {
  /** [3·nodes + axes]: positions before the stretch, then e for each unknown period. */
  readonly x: Float64Array;
  /** Axes (0, 1) whose periods are unknowns, and the scale of those unknowns. */
  readonly axes: readonly number[];
  readonly scale: readonly number[];
  /** Periods at the start. */
  readonly start: Float64Array;
  /** [3] 1 + e along x and y, and 1. */
  readonly factor = new Float64Array([1, 1, 1]);
  /** [3·nodes] positions that the unknowns last taken stand for. */
  actual: Float64Array;
  private readonly period: Float64Array;
  private readonly count: number;
  /** [3·nodes] where there are unknown periods. */
  private readonly nodeGradient: Float64Array;

  /** `period` is kept up to date. */
  constructor(
    positions: Float64Array,
    period: Float64Array,
    freePeriod: readonly [boolean, boolean],
  ) {
    this.period = period;
    this.count = positions.length;
    this.start = Float64Array.from(period);
    this.axes = [0, 1].filter((axis) => freePeriod[axis]);
    this.scale = this.axes.map((axis) => {
      let square = 1e-12;
      for (let i = axis; i < this.count; i += 3) square += positions[i] * positions[i];
      return Math.sqrt(square);
    });
    this.x = new Float64Array(this.count + this.axes.length);
    this.x.set(positions);
    // Without unknown periods the unknowns are the positions themselves.
    const stretches = this.axes.length > 0;
    this.actual = stretches ? new Float64Array(this.count) : this.x;
    this.nodeGradient = new Float64Array(stretches ? this.count : 0);
  }

  /** `actual` and the periods ← what v stands for. */
  take(v: Float64Array): void {
    const { axes, factor, start, period, count, scale, actual } = this;
    if (axes.length === 0) {
      this.actual = v;
      return;
    }
    for (let k = 0; k < axes.length; k++) {
      const axis = axes[k];
      factor[axis] = 1 + v[count + k] / scale[k];
      period[axis] = start[axis] * factor[axis];
    }
    this.stretch(v, actual);
  }

  /** Where the gradient by the actual positions is gathered, cleared. */
  openGradient(gradient: Float64Array): Float64Array {
    return (this.axes.length === 0 ? gradient : this.nodeGradient).fill(0);
  }

  /** `gradient` by the unknowns, from those by the actual positions and by the periods. */
  closeGradient(v: Float64Array, periodGradient: Float64Array, gradient: Float64Array): void {
    const { axes, start, count, scale, nodeGradient } = this;
    if (axes.length === 0) return;
    this.stretch(nodeGradient, gradient);
    for (let k = 0; k < axes.length; k++) {
      const axis = axes[k];
      let virial = periodGradient[axis] * start[axis];
      for (let i = axis; i < count; i += 3) virial += nodeGradient[i] * v[i];
      gradient[count + k] = virial / scale[k];
    }
  }

  /** `to` ← `from` by the factors along x and y. */
  private stretch(from: Float64Array, to: Float64Array): void {
    const [fx, fy] = this.factor;
    for (let i = 0; i < this.count; i += 3) {
      to[i] = from[i] * fx;
      to[i + 1] = from[i + 1] * fy;
      to[i + 2] = from[i + 2];
    }
  }

  /** `spread` ← the change of e along x and y in a direction. */
  spreadOf(direction: Float64Array, spread: Float64Array): void {
    spread.fill(0);
    for (let k = 0; k < this.axes.length; k++)
      spread[this.axes[k]] = direction[this.count + k] / this.scale[k];
  }
}
