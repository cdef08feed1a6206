/**
 * The two ways of measuring that `knit.ts` hands to a search: a draft calls no other stage itself.
 * `remembered` measures no plan twice: what is given up for a draft may change nothing in it.
 */
import type { Plan } from '../../plan/plan.ts';
import type { MeasuredFabric } from './measured-columns.ts';

/** The relaxed piece: length of its rim, mm, and how far from flat it is, share of a full turn. */
export interface RestingFabric {
  readonly rimMm: number;
  readonly flatnessError: number;
  /** Whether another size may lie flat though this one does not. */
  readonly mendable: boolean;
}

export interface Measures {
  /** By the metric alone; null where the plan cannot be laid out. */
  readonly measure: (plan: Plan) => MeasuredFabric | null;
  /** Relaxed; null where the piece is too big to be relaxed on the way. */
  readonly relax: (plan: Plan) => RestingFabric | null;
  /** Whether a plan that is not flat in the air can be blocked all the same, as its weight lays it level; left out: none can. */
  readonly settles?: (text: string) => boolean;
}

export function remembered({ measure, relax, settles }: Measures): Measures {
  return { measure: once(measure), relax: once(relax), settles };
}

function once<T>(work: (plan: Plan) => T): (plan: Plan) => T {
  const known = new Map<string, T>();
  return (plan) => {
    const key = planKey(plan);
    if (!known.has(key)) known.set(key, work(plan));
    return known.get(key) as T;
  };
}

/** The stitches of all rounds by their names; gauge, yarn and join are the same throughout a search. */
export function planKey({ castOn, seam, ending, kinds, rounds }: Plan): string {
  const worked = rounds.map(({ works, wrongSide }) => {
    const names = Array.from(works, (id) => kinds[id].name).join();
    return `${wrongSide ? 'w' : 'r'}${names}`;
  });
  return [castOn, seam?.begin, seam?.end, ending, ...worked].join('|');
}
