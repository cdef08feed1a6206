/** Yarn as laid loop by loop, with what it was traced from: what repairs change, before it becomes YarnCurves. */
import type { YarnPolyline } from '../check/check-yarn.ts';
import type { LoopKin } from './loop-links.ts';
import type { LoopFrame } from './loop-shape.ts';

export interface LaidLoops extends YarnPolyline {
  /** [3·points] mm. */
  readonly points: Float32Array;
  /** [points] loop that each belongs to. */
  readonly loop: Int32Array;
  /** [loops] in yarn order. */
  readonly frames: readonly LoopFrame[];
  readonly kin: LoopKin;
}
