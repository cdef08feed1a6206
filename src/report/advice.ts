/**
 * What to do so that the piece lies flat: a plan that was proved to, told in words; else why there is none.
 * In: report, budget, judgement, the plan that lies flat (or null). Out: Advice; every plan text in it
 * changes the plan and lies flat or can be blocked flat.
 */
import { hasShortRows, type Plan } from '../plan/plan.ts';
import { type Budget, ON_PACE } from './budget.ts';
import type { Advice, PlanReport, RoundReport } from './report.ts';
import { aboutScheduleWords, nearestSchedule } from './schedule.ts';
import { type PlanSchedule, scheduleOf } from './schedule-of.ts';
import type { Verdict } from './verdict.ts';
import { DEFAULT_BANDS } from './verdict-bands.ts';
import { type CourseWords, courseWords } from './words/course-words.ts';
import { liesFlat } from './words/verdict-words.ts';

export interface FlatOffer {
  readonly plan: Plan;
  readonly staggered: boolean;
  /** Plain rounds left out at the centre. */
  readonly trimmed: number;
  /** Share of a full turn that it is off at most. */
  readonly flatnessError: number;
}

export function adviseSheet(
  plan: Plan,
  report: PlanReport,
  budget: Budget,
  verdict: Verdict,
  offer: FlatOffer | null | 'too large to try',
): Advice[] {
  if (!budget.shaped || report.rounds.length === 0 || verdict === 'flat') return [];
  const words = courseWords(report);
  const range = { fromRound: 1, toRound: report.rounds.length };
  const advice: Advice[] = [];
  if (offer && offer !== 'too large to try') {
    const told = scheduleOf(offer.plan);
    const now = scheduleOf(plan);
    const text = offerWords(now, told, offer, words) + trimWords(offer, words);
    const every = Number.isFinite(told.every) ? told.every : null;
    // What can be blocked flat is worth changing only for another schedule that is as easily told.
    const worth =
      told.words !== null && (offer.staggered || offer.trimmed > 0 || !alike(now, told));
    if (worth || !liesFlat(verdict))
      advice.push({ text, every, planText: offer.plan.text, ...range });
  }
  // What blocking evens out needs no one to blame.
  if (liesFlat(verdict)) return advice;
  if (offer === null || offer === 'too large to try') {
    const text = whyNot(plan, report, budget, words, offer === null);
    advice.push({ text, every: null, planText: null, ...range });
  }
  for (const run of guiltyRuns(report.rounds)) advice.push(blame(run, words));
  return advice;
}

/** Schedules that are told alike, though their rounds differ. */
function alike(now: PlanSchedule, then: PlanSchedule): boolean {
  return (
    now.words === then.words &&
    now.firstRound === then.firstRound &&
    wholeStitches(now.change) === wholeStitches(then.change)
  );
}

function offerWords(
  now: PlanSchedule,
  then: PlanSchedule,
  { staggered, flatnessError }: FlatOffer,
  { shape: verb, one, many }: CourseWords,
): string {
  const stitches = wholeStitches(then.change);
  // Measured by an upper bound, it may be flat without that.
  const goal =
    flatnessError > DEFAULT_BANDS.flat ? 'To lie flat, at the latest once blocked' : 'To lie flat';
  const about = aboutScheduleWords(nearestSchedule(Math.max(1, then.every)), one);
  const when = then.words ?? `${about}, as in the plan offered`;
  const apart = `set the ${verb}s of every other ${verb} ${one} between those of the one before, so that they do not stand in line and make corners`;
  if (staggered)
    return now.words !== null && now.words === then.words
      ? `${goal}, ${apart}.`
      : `${goal}, ${verb} ${stitches} stitches ${when}, and ${apart}.`;
  if (then.words !== null && (then.words !== now.words || wholeStitches(now.change) !== stitches))
    return `${goal}, ${verb} ${stitches} stitches ${then.words}.`;
  if (then.words !== null && then.firstRound !== now.firstRound)
    return `${goal}, keep to ${verb} ${many} ${then.words}, but work the first in ${one} ${then.firstRound}.`;
  const where =
    Math.abs(then.slowing) < 0.1
      ? 'spaced as in the plan offered'
      : then.slowing > 0
        ? 'closer together at first, farther apart later'
        : 'farther apart at first, closer together later';
  return `${goal}, ${verb} ${stitches} stitches ${about}, ${where}.`;
}

/** A tube at the centre is left out. */
function trimWords({ trimmed }: FlatOffer, { many }: CourseWords): string {
  if (trimmed === 0) return '';
  return ` Leave out ${trimmed === 1 ? 'one' : trimmed} of the plain ${many} at the centre: they make a tube there.`;
}

/** Stitches of a shaping round, which are whole: `8`, or `about 8` where the rounds differ. */
function wholeStitches(mean: number): string {
  const whole = Math.round(mean);
  return Math.abs(mean - whole) < 1e-9 ? String(whole) : `about ${whole}`;
}

/** Stitches a round on average: `6`, `5.4`. */
function rateOf(stitches: number): string {
  return stitches.toFixed(Math.abs(stitches - Math.round(stitches)) < 0.05 ? 0 : 1);
}

function whyNot(
  plan: Plan,
  report: PlanReport,
  budget: Budget,
  { shape: verb, one, many }: CourseWords,
  tried: boolean,
): string {
  const outsideIn = verb === 'decrease';
  if (hasShortRows(plan))
    return 'Short rows are not timed anew: each adds depth where it is worked and no length to the rim, so with fewer of them the piece cups less, and with more it ruffles less.';
  const { change, shapingRounds } = scheduleOf(plan);
  let flat = 0;
  for (const r of report.rounds) flat += budget.flat[r.n] / report.rounds.length;
  const need = Math.ceil(flat);
  if (shapingRounds === 0)
    return `Nothing is ${verb}d that could be timed anew: lying flat takes about ${need} stitches ${outsideIn ? 'fewer' : 'more'} in every ${one}.`;
  if (change < 0.99 * flat)
    return `To lie flat, ${verb} about ${need} stitches in every ${one}: ${wholeStitches(change)} are too few even when ${outsideIn ? 'a decrease' : 'an increase'} ${one} follows another.`;
  if (!tried)
    return `This piece is too large to try other timings on: lying flat takes about ${rateOf(flat)} stitches a ${one}.`;
  if (shapingRounds < 3)
    return `With ${shapingRounds === 1 ? `one shaping ${one}` : `two shaping ${many}`} there is hardly anything to time anew: spread the ${verb}s over more ${many}, about ${need} stitches a ${one}.`;
  const wall = plainAtRim(report.rounds, outsideIn);
  if (wall >= LEAST_WALL && wall > change / flat + 1)
    return `No other timing of these ${verb}s was found to lie flat with the ${wall} ${many} at the rim that are not shaped: they stand up as a wall. ${outsideIn ? 'Decrease' : 'Increase'} in them too, or work fewer of them. Lying flat takes about ${rateOf(flat)} stitches a ${one}, evenly all round.`;
  return `No other timing of these ${verb}s was found to lie flat: whole ${many} are too coarse, or they stand in the wrong places along the ${one}. Lying flat takes about ${rateOf(flat)} stitches a ${one}, evenly all round.`;
}

/** Rounds at the rim without shaping that are named where nothing lies flat. Chosen: of a square of 92 stitches three are enough. */
const LEAST_WALL = 3;

function plainAtRim(rounds: readonly RoundReport[], outsideIn: boolean): number {
  const fromRim = outsideIn ? rounds : rounds.toReversed();
  return fromRim.findIndex(({ decreases, increases }) => decreases !== increases);
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

/** What a stretch loses: its own stitches over its own rounds, or, where they hardly tell it, its share of what stands beside it. */
function blame(run: readonly RoundReport[], { Many, one, shape, change }: CourseWords): Advice {
  const first = run[0];
  const last = run[run.length - 1];
  const mean = (of: (r: RoundReport) => number) =>
    run.reduce((sum, r) => sum + of(r), 0) / run.length;
  const counted = mean((r) => r.decreases - r.increases) * (shape === 'decrease' ? 1 : -1);
  const flat = mean((r) => r.budget);
  const budget = flat.toFixed(1);
  const slow = first.pace === 'slow';
  const tells = slow ? counted < (1 - ON_PACE) * flat : counted > (1 + ON_PACE) * flat;
  const rate = tells ? counted.toFixed(1) : mean((r) => r.rate).toFixed(1);
  const shares = tells ? '' : ', evened out over those beside them,';
  const effect = slow ? 'the piece cups there' : 'the piece ruffles there';
  const text = `${Many} ${first.n}–${last.n}${shares} ${change} ${tells ? '' : 'about '}${rate} stitches a ${one} where lying flat takes ${budget}: too ${slow ? 'slow' : 'fast'}, ${effect}.`;
  return { text, every: null, planText: null, fromRound: first.n, toRound: last.n };
}
