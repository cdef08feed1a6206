/**
 * The same plan made to lie flat: its shaping timed anew in several ways and, where single decreases stand over
 * one another, staggered; the first that is proved flat by relaxing it. Timings that can be told in words come
 * first; then `flat-timing.ts` looks, as it does for drafts and gradings.
 * In: plan, its numbers, the measuring handed in by `knit.ts`. Out: the plan, or null.
 */
import { parsePlan } from '../../plan/parse.ts';
import { type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import { rateShare } from '../../report/budget.ts';
import { nearestSchedule } from '../../report/schedule.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import type { ShapingGap } from '../rework/rebuild-plan.ts';
import { PlanTimer, retimedText } from '../rework/redraft.ts';
import { staggerSingles } from '../rework/stagger.ts';
import { timeFlat } from './flat-timing.ts';
import { type CourseWidths, levelGap } from './level-gap.ts';
import { type Measures, planKey, remembered } from './measures.ts';

export interface FlatterNumbers {
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
  /** Stitches a round that lie flat, shaping as it stands and shaping spread. */
  readonly flatRate: number;
  readonly spreadRate: number;
  readonly widths: CourseWidths;
}

export interface FlatterMeasures extends Pick<Measures, 'measure'> {
  /** Share of a turn that a plan is off at most, relaxed where need be; null where it is too big for that. */
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
/** Stitches measured in the trials that can be told in words. Chosen: under a second. */
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
  const search = new Search(plan, numbers.corners, measures);
  const anyTiming: (() => void)[] = [];
  for (const base of [{ plan, trimmed: 0 }, trimCentre(plan)]) {
    if (base === null) continue;
    const way = { staggered: false, trimmed: base.trimmed };
    const timer = new PlanTimer(base.plan);
    const work = (gap: ShapingGap | null) => gap && timer.work(withinReach(gap));
    search.answer(numbers.flatRate, way, (rate) => work(evenly(base.plan, rate)));
    search.answer(numbers.flatRate, way, (rate) => work(inShare(base.plan, rate)));
    search.try(work(levelGap(numbers.widths, isOutsideIn(base.plan))), way);
    const loose = staggerSingles(base.plan);
    if (loose === null) {
      anyTiming.push(() => search.time(timer, numbers.flatRate, way));
      continue;
    }
    search.try(loose, { ...way, staggered: true });
    const apart = new PlanTimer(loose);
    search.answer(numbers.spreadRate, { ...way, staggered: true }, (rate) => {
      const gap = evenly(loose, rate);
      const timed = gap && apart.work(withinReach(gap));
      return timed && (staggerSingles(timed) ?? timed);
    });
  }
  const told = search.best(wanted);
  if (told !== null) return told;
  for (const time of anyTiming) time();
  return search.best(wanted);
}

interface Way {
  readonly staggered: boolean;
  readonly trimmed: number;
}

/** Plans tried and measured by their rounds; the best of them relaxed. */
class Search {
  private readonly trials: (Way & { plan: Plan; error: number })[] = [];
  private readonly tried: Set<string>;
  private readonly measure: Measures['measure'];
  private readonly proofs = new Map<string, number | null>();
  private work = 0;

  constructor(
    private readonly given: Plan,
    private readonly corners: number,
    private readonly measures: FlatterMeasures,
  ) {
    this.tried = new Set([planKey(given)]);
    this.measure = remembered({ measure: measures.measure, relax: () => null }).measure;
  }

  /** Rate over the flat one that the plan turned out to have; null where it was tried or too much. */
  try(plan: Plan | null, way: Way): number | null {
    if (plan === null || this.work > MOST_WORK || this.isFlat()) return null;
    const key = planKey(plan);
    if (this.tried.has(key)) return null;
    this.tried.add(key);
    this.work += stitchesOf(plan);
    const found = this.measure(plan);
    if (found === null) return null;
    this.trials.push({ ...way, plan, error: found.flatnessError });
    return rateShare(found.coneAngleRad, this.corners);
  }

  /** Corrects the rate by what it came to, then varies it a little. */
  answer(flatRate: number, way: Way, work: (rate: number) => Plan | null): void {
    let rate = flatRate;
    for (let k = 0; k < MOST_ANSWERS; k++) {
      const came = this.try(work(rate), way);
      if (came === null || !(came > 0.2 && came < 5)) break;
      rate /= came;
    }
    for (const factor of FACTORS) if (!this.isFlat()) this.try(work(rate * factor), way);
  }

  /** Any timing at all, where none that can be told in words will do. */
  time(timer: PlanTimer, flatRate: number, way: Way): void {
    const parts = Math.max(1, this.corners);
    const { candidate, flatnessError } = timeFlat(
      {
        corners: this.corners,
        work: (timing) => {
          const profile = timing?.rateProfile;
          const pace = (before: number) =>
            flatRate * (profile?.[Math.min(profile.length - 1, Math.round(before / parts))] ?? 1);
          const ahead = ((timing?.shift ?? 0) * parts) / flatRate;
          const plan = timer.work(
            withinReach((change, before) => change / pace(before)),
            ahead,
          );
          const counts = [plan.castOn, ...plan.rounds.map((round) => round.after)];
          return { plan, counts: counts.map((count) => Math.round(count / parts)) };
        },
      },
      this.measure,
    );
    if (Number.isFinite(flatnessError) && !this.tried.has(planKey(candidate.plan)))
      this.trials.push({ ...way, plan: candidate.plan, error: flatnessError });
  }

  /** Whether a trial is flat by its rounds: the search can rest. */
  private isFlat(): boolean {
    return this.trials.some((trial) => trial.error <= FLAT_ON_RINGS);
  }

  private proved(plan: Plan): number | null {
    const known = this.proofs.get(plan.text);
    if (known !== undefined) return known;
    const proof = this.measures.atRest(plan);
    this.proofs.set(plan.text, proof);
    return proof;
  }

  best(wanted: number): FlatterPlan | null {
    // As they come where they are flat enough: the first are the easiest to knit.
    const enough = Math.min(wanted, GOOD);
    const rank = (error: number) => Math.max(error, enough);
    const order = this.trials.toSorted((a, b) => rank(a.error) - rank(b.error));
    let best: FlatterPlan | null = null;
    for (const { error, ...trial } of order.slice(0, MOST_RELAXED)) {
      if (error > Math.min(GIVE_UP, wanted * 2)) break;
      // As its text reads.
      const plan = parsePlan(retimedText(trial.plan, this.given));
      const found = { ...trial, plan, flatnessError: this.proved(plan) ?? error };
      if (found.flatnessError <= enough) return found;
      if (found.flatnessError <= wanted && !(best && best.flatnessError <= found.flatnessError))
        best = found;
    }
    return best;
  }
}

/** Without the plain rounds at the centre beyond one gap: they make a tube there. Null: there are none. */
function trimCentre(plan: Plan): { plan: Plan; trimmed: number } | null {
  const shaped = plan.rounds.map((round) => round.after !== round.before);
  const [first, last] = [shaped.indexOf(true), shaped.lastIndexOf(true)];
  if (first < 0 || last === first) return null;
  const keep = Math.ceil((last - first) / (shaped.filter(Boolean).length - 1));
  const outsideIn = isOutsideIn(plan);
  const plain = outsideIn ? plan.rounds.length - 1 - last : first;
  const trimmed = plain - keep;
  if (trimmed < 1 || plan.worked === 'flat') return null;
  const rounds = outsideIn ? plan.rounds.slice(0, -trimmed) : plan.rounds.slice(trimmed);
  const renumbered = rounds.map((round, k) => ({
    ...round,
    n: k + 1,
    label: `Round ${k + 1}`,
    steps: undefined,
  }));
  return { plan: { ...plan, rounds: renumbered }, trimmed };
}

function isOutsideIn(plan: Plan): boolean {
  return plan.castOn >= stitchesAtEnd(plan);
}

/** One shaping round in so many, a schedule that can be told in words. */
function evenly(plan: Plan, rate: number): ShapingGap | null {
  const changes = shapingChanges(plan);
  if (changes.length < 2) return null;
  const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
  const { rounds, shaping } = nearestSchedule(mean / rate);
  return () => rounds / shaping;
}

/** Every shaping round followed by as many rounds as its own stitches ask for. */
function inShare(plan: Plan, rate: number): ShapingGap | null {
  return shapingChanges(plan).length < 2 ? null : (change) => change / rate;
}

function withinReach(gap: ShapingGap): ShapingGap {
  return (change, before, index) => Math.min(MOST_GAP, Math.max(1, gap(change, before, index)));
}

function shapingChanges(plan: Plan): number[] {
  return plan.rounds.map((r) => Math.abs(r.after - r.before)).filter((change) => change > 0);
}

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + round.after, plan.castOn);
}
