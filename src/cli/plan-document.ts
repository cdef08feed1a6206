/**
 * What can be said about a plan before it is relaxed: the report where the plan can be laid out, and
 * for a plan with errors the counts as far as they could be worked out, with the mistakes.
 */
import { canRelax, type Prepared, prepare } from '../knit.ts';
import { hasErrors, joinStitches, madeBy, type Plan } from '../plan/plan.ts';
import type { PlanReport, RoundReport } from '../report/report.ts';
import { reportDiagnostics } from '../report/report-plan.ts';
import { courseName } from '../report/words/course-name.ts';

/** The report without what needs a gauge and a graph. */
export type CountedPlan = Pick<
  PlanReport,
  'version' | 'title' | 'worked' | 'castOn' | 'castOnForJoin' | 'last' | 'crossings' | 'diagnostics'
> & {
  readonly rounds: readonly CountedRound[];
};

export type CountedRound = Pick<
  RoundReport,
  'n' | 'label' | 'stitches' | 'colour' | 'worked' | 'decreases' | 'increases' | 'crossings'
>;

export interface CheckedPlan {
  /** Null where the plan has errors or nothing to lay out. */
  readonly prepared: Prepared | null;
  readonly document: PlanReport | CountedPlan;
  readonly broken: boolean;
}

export function checkPlan(plan: Plan): CheckedPlan {
  const prepared = canRelax(plan) ? prepare(plan) : null;
  return {
    prepared,
    document: prepared ? prepared.report : countPlan(plan),
    broken: hasErrors(plan),
  };
}

function countPlan(plan: Plan): CountedPlan {
  const rounds = plan.rounds.map((round) => {
    const counted = { decreases: 0, increases: 0, crossings: 0 };
    for (const id of round.works) {
      const kind = plan.kinds[id];
      const change = kind.loops.length - kind.consumes;
      if (change < 0) counted.decreases -= change;
      else counted.increases += change;
      if (kind.crossing) counted.crossings++;
    }
    const worked = round.shortRow && { worked: madeBy(plan, round) };
    const colour = round.colour === undefined ? null : { colour: round.colour };
    return {
      n: round.n,
      label: courseName(plan, round.n),
      stitches: round.after,
      ...colour,
      ...worked,
      ...counted,
    };
  });
  return {
    version: 1,
    title: plan.title,
    worked: plan.worked,
    castOn: plan.castOn,
    castOnForJoin: joinStitches(plan),
    rounds,
    last: rounds.at(-1)?.stitches ?? plan.castOn,
    crossings: rounds.reduce((sum, r) => sum + r.crossings, 0),
    diagnostics: reportDiagnostics(plan),
  };
}
