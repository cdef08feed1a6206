/**
 * When to shape, so that a piece of given stitches lies flat by what its fabric measures, panels' pull-in
 * included; the flat rate alone knows the ground only. Used by draft, grade and re-timing alike.
 *
 * In: a design that can be worked at any timing, and the measuring. Out: the flattest of the timings that
 * were tried.
 */
import type { Plan } from '../../plan/plan.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { type RateProfile, SHIFTS, type Timing } from '../motif/decrease-schedule.ts';
import type { MeasuredFabric } from './measured-columns.ts';
import type { Measures } from './measures.ts';
import { correctRate, perturbRate, scaleRate } from './rate-profile.ts';

/** A design worked at one timing. */
export interface Candidate {
  readonly plan: Plan;
  /** Stitches of a segment on every course, the cast-on first. */
  readonly counts: readonly number[];
  /** False where this timing loses a part of the design: it is not taken. */
  readonly whole?: boolean;
  /** Shaping rounds that stand on the other side than the piece is shaped on; see `shapedOffSide`. */
  readonly offSide?: number;
  /** Rounds from each shaping round to the next. */
  readonly spacing?: readonly number[];
}

export interface Timeable<C extends Candidate> {
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
  /** Null: at the flat rate throughout. */
  readonly work: (timing: Timing | null) => C;
  /** Whether its shaping waits for a round of one side, unless the timing frees it. */
  readonly sided?: boolean;
  /** Spacing of another size of the same pattern, which is followed where it lies flat. */
  readonly like?: readonly number[];
}

export interface Timed<C> {
  readonly candidate: C;
  /** Share of a full turn, by the rounds' turning; infinite where nothing could be measured. */
  readonly flatnessError: number;
}

interface Trial<C> {
  readonly candidate: C;
  readonly timing: Timing | null;
  readonly fabric: MeasuredFabric;
  /** Flatness error, and what shaping on the other side adds to it. */
  readonly cost: number;
}

export function timeFlat<C extends Candidate>(
  design: Timeable<C>,
  measure: Measures['measure'],
): Timed<C> {
  const first = design.work(null);
  const size = stitchesOf(first.plan);
  const fabric = size <= MAX_STITCHES ? measure(first.plan) : null;
  if (!fabric) return { candidate: first, flatnessError: Number.POSITIVE_INFINITY };
  const alike = design.like && timeAlike(design, first, design.like, measure);
  if (alike) return alike;
  const begun = trialOf(first, null, fabric);
  // On its side first; where that does not lie flat, from the beginning on either side.
  const trials = design.sided ? 2 * GAINS.length : MAX_TRIALS;
  const best = bestOf(design, begun, trials, measure);
  const found = design.sided ? onEitherSide(design, best, measure) : best;
  return { candidate: found.candidate, flatnessError: found.fabric.flatnessError };
}

function trialOf<C extends Candidate>(
  candidate: C,
  timing: Timing | null,
  fabric: MeasuredFabric,
): Trial<C> {
  return { candidate, timing, fabric, cost: costOf(candidate, fabric) };
}

/** The best of so many trials at most. */
function bestOf<C extends Candidate>(
  design: Timeable<C>,
  begun: Trial<C>,
  trials: number,
  measure: Measures['measure'],
): Trial<C> {
  let best = begun;
  let work = stitchesOf(begun.candidate.plan);
  const tried = new Set([begun.candidate.counts.join()]);
  for (let k = 0; k < trials && work < MAX_WORK; k++) {
    if (best.cost <= wantedAfter(k)) break;
    const timing = propose(k, best, design.corners);
    const candidate = design.work(timing);
    const key = candidate.counts.join();
    if (tried.has(key) || candidate.whole === false) continue;
    tried.add(key);
    const fabric = measure(candidate.plan);
    work += stitchesOf(candidate.plan);
    const trial = fabric && trialOf(candidate, timing, fabric);
    if (trial && trial.cost < best.cost) best = trial;
  }
  return best;
}

/** A design that is shaped on one side, where it is not flat so: as if it had none, and the better of both. */
function onEitherSide<C extends Candidate>(
  design: Timeable<C>,
  sided: Trial<C>,
  measure: Measures['measure'],
): Trial<C> {
  if (sided.cost <= wantedAfter(2 * GAINS.length)) return sided;
  const most = Math.max(...sided.candidate.counts);
  const even: Timing = { rateProfile: evenRate(most, 1), shift: 0 };
  const free: Timeable<C> = {
    ...design,
    work: (timing) => design.work({ ...(timing ?? even), anySide: true }),
  };
  const first = free.work(null);
  const fabric = first.whole === false ? null : measure(first.plan);
  const begun = fabric && trialOf(first, even, fabric);
  const found = begun && bestOf(free, begun, MAX_TRIALS, measure);
  return found && found.cost < sided.cost ? found : sided;
}

/** Share of a turn that a shaping round on the other side counts as. Chosen: a row or two rather than a piece to block. */
const OFF_SIDE = 0.0005;

function costOf({ offSide = 0 }: Candidate, { flatnessError }: MeasuredFabric): number {
  return flatnessError + OFF_SIDE * offSide;
}

/** The design shaped as another size is, without the rounds that it has not: flat as it is, or once blocked; else null. */
function timeAlike<C extends Candidate>(
  design: Timeable<C>,
  { spacing = [], offSide = 0 }: C,
  like: readonly number[],
  measure: Measures['measure'],
): Timed<C> | null {
  let best: Timed<C> | null = null;
  for (const gaps of shortened(like, spacing.length)) {
    const candidate = design.work({ rateProfile: [], shift: 0, spacing: gaps });
    if (candidate.whole === false || (candidate.offSide ?? 0) > offSide) continue;
    const flatnessError = measure(candidate.plan)?.flatnessError ?? Number.POSITIVE_INFINITY;
    if (flatnessError <= DEFAULT_BANDS.flat) return { candidate, flatnessError };
    if (flatnessError < (best?.flatnessError ?? DEFAULT_BANDS.blocking))
      best = { candidate, flatnessError };
  }
  return best;
}

/** So many gaps in the same order, without a stretch of them: the stretch nearest to the end first. */
function shortened(gaps: readonly number[], count: number): readonly number[][] {
  if (count > gaps.length) return [];
  const known = new Set<string>();
  return Array.from({ length: count + 1 }, (_, k) => [
    ...gaps.slice(0, count - k),
    ...gaps.slice(gaps.length - k),
  ]).filter((each) => known.size < known.add(each.join()).size);
}

/**
 * Trial k from the best so far: first what is off is answered course by course and as a whole, then even
 * rates are tried with every shift (on either side), then the rate is waved a little, the longest waves first.
 */
function propose<C extends Candidate>(
  k: number,
  { candidate, timing, fabric }: Trial<C>,
  corners: number,
): Timing {
  const { counts } = candidate;
  const most = Math.max(...counts);
  const profile = timing?.rateProfile ?? evenRate(most, 1);
  const shift = timing?.shift ?? 0;
  if (k < 2 * GAINS.length) {
    const gain = GAINS[k >> 1];
    return k % 2 === 0
      ? { rateProfile: correctRate(profile, counts, fabric, corners, gain), shift }
      : {
          rateProfile: scaleRate(profile, most, fabric, corners),
          shift: k > 1 ? SHIFTS[k >> 1] : shift,
        };
  }
  const grid = GRID[k - 2 * GAINS.length];
  if (grid) return { rateProfile: evenRate(most, grid.rate), shift: grid.shift };
  const wave = WAVES[(k - 2 * GAINS.length - GRID.length) % WAVES.length];
  return {
    rateProfile: perturbRate(profile, most, wave.crests, wave.height),
    shift,
  };
}

function evenRate(most: number, rate: number): RateProfile {
  return new Float64Array(most + 1).fill(rate);
}

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + round.after, plan.castOn);
}

/** Flatness error that is good enough after so many trials: flat at first, then what blocking evens out. */
function wantedAfter(trials: number): number {
  const { flat, blocking } = DEFAULT_BANDS;
  return Math.min(blocking, flat + ((blocking - flat) * trials) / PATIENCE);
}

/** Trials after which no more than blocking is asked for. Chosen. */
const PATIENCE = 60;
/** Share of what is off that a trial answers: the courses answer together, so less is often more. */
const GAINS = [1, 0.5, 0.75, 0.3];
/** Even rates and shifts that are tried: a short piece hangs on where its few decreases fall. Chosen. */
const GRID = [1, 0.95, 1.05, 0.9, 1.1].flatMap((rate) => SHIFTS.map((shift) => ({ rate, shift })));
/** Waves of the rate from centre to rim that are tried. Chosen. */
const WAVES = [0.1, -0.1, 0.05, -0.05, 0.2, -0.2].flatMap((height) =>
  [0, 1, 2, 3, 4].map((crests) => ({ crests, height })),
);
/** Trials, and stitches measured in all of them, before the best is taken. Chosen: about a second. */
const MAX_TRIALS = 120;
const MAX_WORK = 80_000;
/** Beyond this many stitches one measuring takes too long: the flat rate must do. Chosen. */
const MAX_STITCHES = 40_000;
