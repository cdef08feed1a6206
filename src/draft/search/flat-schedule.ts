/**
 * The nearest whole-stitch schedule that lies flat: plan and measured gauge → the plan re-timed.
 *
 * Flat rule as in `decrease-schedule.ts`: 2n·tan(π/n)·h/w stitches a round for n corners, 2πh/w for
 * spread shaping. Each shaping round is followed by as many plain rounds as its stitches ask for.
 */
import type { Plan } from '../../plan/plan.ts';
import { nearestSchedule, scheduleWords } from '../../report/schedule.ts';
import { flatRate } from '../motif/decrease-schedule.ts';
import { decomposeColumns } from '../rework/column-model.ts';
import { type Redraft, rescheduleShaping } from '../rework/redraft.ts';

export interface FlatNumbers {
  /** Stitch width and round height of the ground, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Corner lines; 0 where the shaping is spread. */
  readonly corners: number;
}

export interface FlatSchedule extends Redraft {
  /** Rounds between shaping rounds on average, after and before. NaN where nothing is shaped. */
  readonly every: number;
  readonly everyBefore: number;
  /** The schedule in a knitter's words, e.g. `decrease on 3 rounds of every 4`. */
  readonly words: string;
}

export function flatSchedule(plan: Plan, numbers: FlatNumbers): FlatSchedule {
  const changes = decomposeColumns(plan).rounds.map((round) => round.change);
  const shaping = changes.filter((change) => change !== 0);
  const first = changes.findIndex((change) => change !== 0);
  const last = changes.length - 1 - [...changes].reverse().findIndex((change) => change !== 0);
  const rate = flatRate(
    Math.max(3, numbers.corners),
    numbers.corners < 3,
    numbers.stitchMm,
    numbers.roundMm,
  );
  if (shaping.length < 2) {
    const words = 'this plan has no decreases that could be timed anew';
    return {
      ...rescheduleShaping(plan, () => 1),
      every: Number.NaN,
      everyBefore: Number.NaN,
      words,
    };
  }
  const mean = shaping.reduce((sum, change) => sum + Math.abs(change), 0) / shaping.length;
  const steady = commonest(shaping.map(Math.abs));
  const exact = steady / rate;
  const schedule = nearestSchedule(exact);
  const every = Math.max(1, schedule.rounds / schedule.shaping);
  const stretch = every / exact;
  const timed = rescheduleShaping(plan, (change) => Math.max(1, (stretch * change) / rate));
  const notes = [...timed.notes];
  if (mean / rate < 1)
    notes.push(
      `Lying flat would take ${round2(rate)} stitches a round; this plan loses ${round2(mean)} at a time. ` +
        'Even decreasing every round it cups: work double decreases, or a stitch that is less tall.',
    );
  const verb = shaping[0] < 0 ? 'decrease' : 'increase';
  return {
    text: timed.text,
    notes,
    every,
    everyBefore: (last - first) / (shaping.length - 1),
    words: `${verb} ${scheduleWords(schedule)}`,
  };
}

function commonest(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let best = values[0];
  for (const [value, count] of counts) if (count > (counts.get(best) ?? 0)) best = value;
  return best;
}

function round2(x: number): number {
  return Math.round(x * 100) / 100;
}
