/** The shaping schedule that a plan keeps, in a knitter's words. In: Plan. Out: mean gap, words, first round. */
import type { Plan } from '../plan/plan.ts';
import { scheduleWithGaps, scheduleWords } from './schedule.ts';

export interface PlanSchedule {
  /** Stitches that a shaping round changes, on average. */
  readonly change: number;
  readonly shapingRounds: number;
  readonly firstRound: number;
  /** Rounds from one shaping round to the next, by the words or on average; NaN for fewer than two. */
  readonly every: number;
  /** `on 3 rounds of every 4`; null where the gaps are too uneven for words. */
  readonly words: string | null;
  /** Gaps grow towards the last round (+) or shrink (−), share of their mean. */
  readonly slowing: number;
}

export function scheduleOf(plan: Plan): PlanSchedule {
  const shaping = plan.rounds.filter((round) => round.after !== round.before);
  const changes = shaping.map((round) => Math.abs(round.after - round.before));
  const at = shaping.map((round) => round.n);
  const gaps = at.slice(1).map((n, k) => n - at[k]);
  const every = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  const half = gaps.length >> 1;
  const mean = (list: readonly number[]) =>
    list.reduce((sum, gap) => sum + gap, 0) / Math.max(1, list.length);
  const schedule = gaps.length > 0 ? scheduleWithGaps(gaps) : null;
  return {
    change: mean(changes),
    shapingRounds: shaping.length,
    firstRound: at[0] ?? 0,
    every: schedule ? schedule.rounds / schedule.shaping : every,
    words: schedule && scheduleWords(schedule, plan.worked === 'round' ? 'round' : 'row'),
    slowing: gaps.length > 1 ? (mean(gaps.slice(half)) - mean(gaps.slice(0, half))) / every : 0,
  };
}
