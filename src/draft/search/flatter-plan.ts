/**
 * The same plan made to lie flat: its shaping timed anew in several ways and, where single decreases stand
 * over one another, staggered; the first that is proved flat by relaxing it.
 * In: plan, its numbers, two ways of measuring handed in by `knit.ts`. Out: the plan's text, or null.
 */
import { parsePlan } from '../../plan/parse.ts';
import type { Plan } from '../../plan/plan.ts';
import { samePlan } from '../../plan/write/meaning.ts';
import { writePlan } from '../../plan/write/write-plan.ts';
import { nearestSchedule } from '../../report/schedule.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { rescheduleShaping } from '../rework/redraft.ts';
import { staggerSingles } from '../rework/stagger.ts';
import { type CourseWidths, levelPlan } from './level-plan.ts';

export interface FlatterNumbers {
  /** Stitches a round that lie flat, shaping as it stands and shaping spread. */
  readonly flatRate: number;
  readonly spreadRate: number;
  readonly widths: CourseWidths;
}

export interface FlatterMeasures {
  /** By the rounds alone: share of a turn that they are off, and their rate over the flat one; null where
   * the plan cannot be laid out. */
  readonly onRings: (plan: Plan) => { readonly error: number; readonly rate: number } | null;
  /** Share of a turn, relaxed; null where the piece is too big for that. */
  readonly atRest: (plan: Plan) => number | null;
}

export interface FlatterPlan {
  readonly plan: Plan;
  readonly staggered: boolean;
  /** Plain rounds left out at the centre. */
  readonly trimmed: number;
  /** Share of a full turn that it is off. */
  readonly flatnessError: number;
}

/** Timings relaxed before it is given up. Chosen: each takes about as long as the piece itself. */
const MOST_RELAXED = 3;
/** Stitches measured in all trials. Chosen: under a second. */
const MOST_WORK = 40_000;
/** Share of a turn off at which no other timing is looked for. Chosen: half of what counts as flat. */
const FLAT_ON_RINGS = DEFAULT_BANDS.flat / 2;
/** Answers to what a trial was off, one after another. Chosen: the second is seldom needed. */
const MOST_ANSWERS = 3;
/** Factors on the best rate that are tried: short pieces hang on where their few decreases fall. Chosen. */
const FACTORS = [1.03, 0.97, 1.07, 0.93];
/** Longest gap between shaping rounds. As in `redraft.ts`. */
const MOST_GAP = 60;
/** Share of a turn off at which the plainest schedule is kept though another is flatter. Chosen: well
 * within what blocking evens out. */
const GOOD = 0.02;
/** Rings tell the sheet's misfit within a factor; beyond this relaxing is not worth trying. Chosen. */
const GIVE_UP = 0.06;

/** `wanted`: share of a turn that it may be off. */
export function flatterPlan(
  plan: Plan,
  numbers: FlatterNumbers,
  measures: FlatterMeasures,
  wanted: number = DEFAULT_BANDS.blocking,
): FlatterPlan | null {
  const search = new Search(plan, measures);
  const bases = [{ plan, trimmed: 0 }, trimCentre(plan)].filter((base) => base !== null);
  for (const { plan: base, trimmed } of bases) {
    search.answer(numbers.flatRate, { staggered: false, trimmed }, (rate) => evenly(base, rate));
    search.answer(numbers.flatRate, { staggered: false, trimmed }, (rate) => inShare(base, rate));
    search.try(levelPlan(base, numbers.widths).text, { staggered: false, trimmed });
    const loose = staggered(base.text);
    if (loose === null) continue;
    search.try(loose, { staggered: true, trimmed });
    search.answer(numbers.spreadRate, { staggered: true, trimmed }, (rate) => {
      const timed = evenly(parsePlan(loose), rate);
      return timed && (staggered(timed) ?? timed);
    });
  }
  return search.best(wanted);
}

interface Way {
  readonly staggered: boolean;
  readonly trimmed: number;
}

/** Plans tried and measured by their rounds; the best of them relaxed. */
class Search {
  private readonly trials: (Way & { plan: Plan; error: number })[] = [];
  private work = 0;

  constructor(
    private readonly given: Plan,
    private readonly measures: FlatterMeasures,
  ) {}

  /** Rate over the flat one that the plan turned out to have; null where it was tried or too much. */
  try(text: string, way: Way): number | null {
    const plan = parsePlan(text);
    if (this.work > MOST_WORK || this.isFlat() || samePlan(plan, this.given)) return null;
    if (this.trials.some((trial) => samePlan(trial.plan, plan))) return null;
    this.work += stitchesOf(plan);
    const found = this.measures.onRings(plan);
    if (found === null) return null;
    this.trials.push({ ...way, plan, error: found.error });
    return found.rate;
  }

  /** Corrects the rate by what it came to, then varies it a little. */
  answer(flatRate: number, way: Way, work: (rate: number) => string | null): void {
    let rate = flatRate;
    for (let k = 0; k < MOST_ANSWERS; k++) {
      const text = work(rate);
      const came = text === null ? null : this.try(text, way);
      if (came === null || !(came > 0.2 && came < 5)) break;
      rate /= came;
    }
    if (this.isFlat()) return;
    for (const factor of FACTORS) {
      const text = work(rate * factor);
      if (text !== null) this.try(text, way);
    }
  }

  /** Whether a trial is flat by its rounds: the search can rest. */
  private isFlat(): boolean {
    return this.trials.some((trial) => trial.error <= FLAT_ON_RINGS);
  }

  best(wanted: number): FlatterPlan | null {
    // As they come where they are flat enough: the first are the easiest to knit.
    const enough = Math.min(wanted, GOOD);
    const rank = (error: number) => Math.max(error, enough);
    const order = this.trials.toSorted((a, b) => rank(a.error) - rank(b.error));
    let best: FlatterPlan | null = null;
    for (const { error, ...trial } of order.slice(0, MOST_RELAXED)) {
      if (error > Math.min(GIVE_UP, wanted * 2)) break;
      const found = { ...trial, flatnessError: this.measures.atRest(trial.plan) ?? error };
      if (found.flatnessError <= enough) return found;
      if (found.flatnessError <= wanted && !(best && best.flatnessError <= found.flatnessError))
        best = found;
    }
    return best;
  }
}

function staggered(text: string): string | null {
  const apart = staggerSingles(parsePlan(text));
  return apart && writePlan(apart);
}

/** Without the plain rounds at the centre beyond one gap: they make a tube there. Null: there are none. */
function trimCentre(plan: Plan): { plan: Plan; trimmed: number } | null {
  const shaped = plan.rounds.map((round) => round.after !== round.before);
  const [first, last] = [shaped.indexOf(true), shaped.lastIndexOf(true)];
  if (first < 0 || last === first) return null;
  const keep = Math.ceil((last - first) / (shaped.filter(Boolean).length - 1));
  const outsideIn = plan.castOn >= plan.rounds[plan.rounds.length - 1].after;
  const plain = outsideIn ? plan.rounds.length - 1 - last : first;
  const trimmed = plain - keep;
  if (trimmed < 1 || plan.worked === 'flat') return null;
  const rounds = outsideIn ? plan.rounds.slice(0, -trimmed) : plan.rounds.slice(trimmed);
  const text = writePlan({
    ...plan,
    rounds: rounds.map((round, k) => ({
      ...round,
      n: k + 1,
      label: `Round ${k + 1}`,
      steps: undefined,
    })),
  });
  return { plan: parsePlan(text), trimmed };
}

/** One shaping round in so many, a schedule that can be told in words. */
function evenly(plan: Plan, rate: number): string | null {
  const changes = shapingChanges(plan);
  if (changes.length < 2) return null;
  const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
  const { rounds, shaping } = nearestSchedule(mean / rate);
  return timed(plan, () => rounds / shaping);
}

/** Every shaping round followed by as many rounds as its own stitches ask for. */
function inShare(plan: Plan, rate: number): string | null {
  if (shapingChanges(plan).length < 2) return null;
  return timed(plan, (change) => change / rate);
}

function timed(plan: Plan, gap: (change: number) => number): string {
  return rescheduleShaping(plan, (change) => Math.min(MOST_GAP, Math.max(1, gap(change)))).text;
}

function shapingChanges(plan: Plan): number[] {
  return plan.rounds.map((r) => Math.abs(r.after - r.before)).filter((change) => change > 0);
}

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + round.after, plan.castOn);
}
