/**
 * What to do so that the piece lies flat: a plan that was proved to, told in words; else why there is none.
 * In: report, budget, judgement, the plan that lies flat (or null). Out: Advice; every plan text in it
 * changes the plan and lies flat or can be blocked flat.
 */
import type { Plan } from '../plan/plan.ts';
import type { Budget } from './budget.ts';
import type { Advice, PlanReport, RoundReport } from './report.ts';
import { nearestSchedule, scheduleWords } from './schedule.ts';
import { type PlanSchedule, scheduleOf } from './schedule-of.ts';
import type { Verdict } from './verdict.ts';
import { liesFlat } from './words/verdict-words.ts';

export interface FlatOffer {
  readonly plan: Plan;
  readonly staggered: boolean;
  /** Plain rounds left out at the centre. */
  readonly trimmed: number;
}

export function adviseSheet(
  plan: Plan,
  report: PlanReport,
  budget: Budget,
  verdict: Verdict,
  offer: FlatOffer | null | 'too large to try',
): Advice[] {
  if (!budget.shaped || report.rounds.length === 0 || verdict === 'flat') return [];
  const outsideIn = report.castOn >= report.last;
  const range = { fromRound: 1, toRound: report.rounds.length };
  const advice: Advice[] = [];
  if (offer && offer !== 'too large to try') {
    const told = scheduleOf(offer.plan);
    const text = offerWords(scheduleOf(plan), told, offer, outsideIn) + trimWords(offer);
    const every = Number.isFinite(told.every) ? told.every : null;
    // What can be blocked flat is worth changing only for a schedule that is as easily told.
    if (told.words !== null || !liesFlat(verdict))
      advice.push({ text, every, planText: offer.plan.text, ...range });
  }
  // What blocking evens out needs no one to blame.
  if (liesFlat(verdict)) return advice;
  if (offer === null || offer === 'too large to try') {
    const text = whyNot(plan, report, budget, outsideIn, offer === null);
    advice.push({ text, every: null, planText: null, ...range });
  }
  for (const run of guiltyRuns(report.rounds)) advice.push(blame(run, outsideIn));
  return advice;
}

function offerWords(
  now: PlanSchedule,
  then: PlanSchedule,
  { staggered }: FlatOffer,
  outsideIn: boolean,
): string {
  const verb = outsideIn ? 'decrease' : 'increase';
  const stitches = count(then.change);
  const when =
    then.words ??
    `about ${scheduleWords(nearestSchedule(Math.max(1, then.every)))}, as in the plan offered`;
  const apart = `set the ${verb}s of every other ${verb} round between those of the one before, so that they do not stand in line and make corners`;
  if (staggered)
    return now.words !== null && now.words === then.words
      ? `To lie flat, ${apart}.`
      : `To lie flat, ${verb} ${stitches} stitches ${when}, and ${apart}.`;
  if (then.words !== null && (then.words !== now.words || count(then.change) !== count(now.change)))
    return `To lie flat, ${verb} ${stitches} stitches ${then.words}.`;
  if (then.words !== null && then.firstRound !== now.firstRound)
    return `To lie flat, keep to ${verb} rounds ${then.words}, but work the first in round ${then.firstRound}.`;
  const where =
    Math.abs(then.slowing) < 0.1
      ? 'spaced as in the plan offered'
      : then.slowing > 0
        ? 'closer together at first, farther apart later'
        : 'farther apart at first, closer together later';
  const about = scheduleWords(nearestSchedule(Math.max(1, then.every)));
  return `To lie flat, ${verb} ${stitches} stitches about ${about}, ${where}.`;
}

/** A tube at the centre is left out. */
function trimWords({ trimmed }: FlatOffer): string {
  if (trimmed === 0) return '';
  return ` Leave out ${trimmed === 1 ? 'one' : trimmed} of the plain rounds at the centre: they make a tube there.`;
}

function count(stitches: number): string {
  return stitches.toFixed(Math.abs(stitches - Math.round(stitches)) < 0.05 ? 0 : 1);
}

function whyNot(
  plan: Plan,
  report: PlanReport,
  budget: Budget,
  outsideIn: boolean,
  tried: boolean,
): string {
  const verb = outsideIn ? 'decrease' : 'increase';
  const { change, shapingRounds } = scheduleOf(plan);
  let flat = 0;
  for (const r of report.rounds) flat += budget.flat[r.n] / report.rounds.length;
  const need = Math.ceil(flat);
  if (shapingRounds === 0)
    return `Nothing is ${verb}d that could be timed anew: lying flat takes about ${need} stitches ${outsideIn ? 'fewer' : 'more'} in every round.`;
  if (change < 0.99 * flat)
    return `To lie flat, ${verb} about ${need} stitches in every round: ${count(change)} are too few even when ${outsideIn ? 'a decrease' : 'an increase'} round follows another.`;
  if (!tried)
    return `This piece is too large to try other timings on: lying flat takes about ${count(flat)} stitches a round.`;
  if (shapingRounds < 3)
    return `With ${shapingRounds === 1 ? 'one shaping round' : 'two shaping rounds'} there is hardly anything to time anew: spread the ${verb}s over more rounds, about ${need} stitches a round.`;
  return `No other timing of these ${verb}s was found to lie flat: whole rounds are too coarse, or they stand in the wrong places along the round. Lying flat takes about ${count(flat)} stitches a round, evenly all round.`;
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
