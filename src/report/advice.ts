/** What to change so that the piece lies flat: a whole-round schedule, and where the rates go wrong. */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import type { Budget } from './budget.ts';
import type { Advice, PlanReport, PullIn, RoundReport } from './report.ts';
import { nearestSchedule, scheduleWords } from './schedule.ts';
import type { Verdict } from './verdict.ts';

export function adviseSheet(
  plan: PlanReport,
  measured: MeasuredMetric,
  budget: Budget,
  verdict: Verdict,
): Advice[] {
  if (!budget.shaped || plan.rounds.length === 0) return [];
  const advice: Advice[] = plan.pullIn && plan.pullIn.stitches > 0 ? [widen(plan.pullIn)] : [];
  if (verdict === 'flat') return advice;
  const outsideIn = measured.turning.outsideIn;
  const shaping = plan.rounds.filter((r) =>
    outsideIn ? r.decreases > r.increases : r.increases > r.decreases,
  );
  if (shaping.length > 0) advice.push(...schedule(plan, budget, shaping, outsideIn));
  for (const run of guiltyRuns(plan.rounds)) advice.push(blame(run, outsideIn));
  return advice;
}

function widen(pullIn: PullIn): Advice {
  const { stitches, percent, round } = pullIn;
  const many = stitches === 1 ? '1 stitch' : `${stitches} stitches`;
  const text = `The cables pull every side in by ${percent.toFixed(0)} %: add ${many} a side to keep the width.`;
  return {
    text,
    every: null,
    planText: null,
    fromRound: Math.max(1, round),
    toRound: Math.max(1, round),
  };
}

function schedule(
  plan: PlanReport,
  budget: Budget,
  shaping: readonly RoundReport[],
  outsideIn: boolean,
): Advice[] {
  let changed = 0;
  for (const r of shaping) changed += Math.abs(r.decreases - r.increases) / shaping.length;
  let flat = 0;
  for (const r of plan.rounds) flat += budget.flat[r.n] / plan.rounds.length;
  const every = changed / flat;
  const verb = outsideIn ? 'decrease' : 'increase';
  const stitches = changed.toFixed(Math.abs(changed - Math.round(changed)) < 0.05 ? 0 : 1);
  const range = { fromRound: plan.rounds[0].n, toRound: plan.rounds[plan.rounds.length - 1].n };
  if (every < 0.99) {
    const need = Math.ceil(flat);
    const text = `To lie flat, ${verb} about ${need} stitches in every round: ${stitches} are too few even when ${outsideIn ? 'a decrease' : 'an increase'} round follows another.`;
    return [{ text, every: null, planText: null, ...range }];
  }
  const found = nearestSchedule(every);
  const mean = found.rounds / found.shaping;
  const text = `To lie flat, ${verb} ${stitches} stitches ${scheduleWords(found)}.`;
  return [{ text, every: mean, planText: null, ...range }];
}

/** Stretches of at least this many rounds are worth naming. Chosen. */
const WORTH_NAMING = 3;

function guiltyRuns(rounds: readonly RoundReport[]): RoundReport[][] {
  const runs: RoundReport[][] = [];
  let run: RoundReport[] = [];
  for (const r of [...rounds, null]) {
    if (r && r.pace !== 'right' && (run.length === 0 || run[0].pace === r.pace)) {
      run.push(r);
      continue;
    }
    if (run.length >= WORTH_NAMING) runs.push(run);
    run = r && r.pace !== 'right' ? [r] : [];
  }
  return runs;
}

function blame(run: readonly RoundReport[], outsideIn: boolean): Advice {
  const first = run[0];
  const last = run[run.length - 1];
  let rate = 0;
  let budget = 0;
  for (const r of run) {
    rate += r.rate / run.length;
    budget += r.budget / run.length;
  }
  const verb = outsideIn ? 'lose' : 'gain';
  const slow = first.pace === 'slow';
  const effect = slow ? 'the piece cups there' : 'the piece ruffles there';
  const text = `Rounds ${first.n}–${last.n} ${verb} ${rate.toFixed(1)} stitches a round where lying flat takes ${budget.toFixed(1)}: too ${slow ? 'slow' : 'fast'}, ${effect}.`;
  return { text, every: null, planText: null, fromRound: first.n, toRound: last.n };
}
