/**
 * The two ways of measuring that `knit.ts` hands to a search: a draft calls no other stage itself.
 */
import type { Plan } from '../../plan/plan.ts';
import type { MeasuredFabric } from './measured-columns.ts';

/** The relaxed piece: length of its rim, mm, and how far from flat it is, share of a full turn. */
export interface RestingFabric {
  readonly rimMm: number;
  readonly flatnessError: number;
}

export interface Measures {
  /** By the metric alone; null where the plan cannot be laid out. */
  readonly measure: (plan: Plan) => MeasuredFabric | null;
  /** Relaxed; null where the piece is too big to be relaxed on the way. */
  readonly relax: (plan: Plan) => RestingFabric | null;
}
