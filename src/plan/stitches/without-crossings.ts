/**
 * A plan with its cables worked straight: every crossing's stitches in the order in which they hang. Input
 * and output: a Plan; text, counts, faces and everything else stay as they are.
 */
import type { Plan } from '../plan.ts';
import type { StitchKind } from './stitch-kind.ts';

export function uncrossPlan(plan: Plan): Plan {
  return { ...plan, kinds: plan.kinds.map(uncross) };
}

function uncross(kind: StitchKind): StitchKind {
  if (!kind.crossing) return kind;
  return {
    ...kind,
    crossing: null,
    loops: kind.loops.map((loop, k) => ({ ...loop, parents: [k] })),
  };
}
