/** A piece pinned out flat, as blocking does, worked out away from the page: one request, one answer. */
import type { Metric } from '../gauge/metric.ts';

export interface PressRequest {
  readonly job: number;
  readonly metric: Metric;
}

export type PressAnswer =
  /** `positions`: [3·vertices] mm, z = 0 throughout. */
  | {
      readonly type: 'pressed';
      readonly job: number;
      readonly positions: Float64Array<ArrayBuffer>;
    }
  | { readonly type: 'press-failed'; readonly job: number; readonly message: string };
