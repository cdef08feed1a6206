/** The plan with its decreases timed anew, for advice and for comparing rates; failures are values. */
import { redraft } from '../../draft/rework/redraft.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Advice } from '../../report/report.ts';

export interface Retimed {
  readonly text: string;
  readonly notes: readonly string[];
}

/** Only a plan that changes its number of stitches has a rate. */
export function canRetime(plan: Plan): boolean {
  return plan.rounds.some((round) => round.after !== round.before);
}

/** `every`: rounds per shaping round, on average. Null where the plan cannot be retimed. */
export function retimedText(plan: Plan, every: number): Retimed | null {
  try {
    return redraft(plan, every);
  } catch {
    return null;
  }
}

/** Average rounds from one shaping round to the next in the plan as it is. */
export function presentRate(plan: Plan): number {
  const shaping = plan.rounds
    .filter((round) => round.after !== round.before)
    .map((round) => round.n);
  if (shaping.length < 2) return 1;
  return (shaping[shaping.length - 1] - shaping[0]) / (shaping.length - 1);
}

/** Schedules that knitters use, from every round to every sixth; rounds per shaping round. */
export const SCHEDULES: readonly { readonly every: number; readonly words: string }[] = [
  { every: 1, words: 'every round' },
  { every: 5 / 4, words: '4 rounds of 5' },
  { every: 4 / 3, words: '3 rounds of 4' },
  { every: 3 / 2, words: '2 rounds of 3' },
  { every: 5 / 3, words: '3 rounds of 5' },
  { every: 2, words: 'every 2nd round' },
  { every: 5 / 2, words: '2 rounds of 5' },
  { every: 3, words: 'every 3rd round' },
  { every: 4, words: 'every 4th round' },
  { every: 5, words: 'every 5th round' },
  { every: 6, words: 'every 6th round' },
];

function nearestSchedule(every: number): number {
  let nearest = 0;
  for (let k = 1; k < SCHEDULES.length; k++) {
    const closer =
      Math.abs(SCHEDULES[k].every - every) < Math.abs(SCHEDULES[nearest].every - every);
    if (closer) nearest = k;
  }
  return nearest;
}

/**
 * Three schedules to compare: the flat one where it is known, the present one, and one as far off to
 * the other side. A plan that is flat already stands between a quicker and a slower one.
 */
export function threeRates(present: number, flat: number | null): typeof SCHEDULES {
  const now = nearestSchedule(present);
  const middle = Math.max(1, Math.min(SCHEDULES.length - 2, nearestSchedule(flat ?? present)));
  const away = now === middle ? 2 : Math.abs(now - middle);
  const quicker = now < middle ? now : Math.max(0, middle - away);
  const slower = now > middle ? now : Math.min(SCHEDULES.length - 1, middle + away);
  return [SCHEDULES[quicker], SCHEDULES[middle], SCHEDULES[slower]];
}

/** One of the plans that can be set side by side. */
export interface RateChoice {
  readonly key: string;
  readonly words: string;
  /** Null where the plan cannot be worked so. */
  readonly text: () => string | null;
}

const WRITTEN = 'written';
const ADVISED = 'advised';

/** The plan itself, the plan advised for it, and the plan at every schedule: the first two are those of the verdict. */
export function rateChoices(plan: Plan, advised: Advice | null): RateChoice[] {
  const named = (every: number | null, by: string) => {
    const told = SCHEDULES.find((rate) => every !== null && Math.abs(rate.every - every) < 1e-6);
    return told ? `${told.words}, ${by}` : by;
  };
  const own = {
    key: WRITTEN,
    words: named(presentRate(plan), 'as written'),
    text: () => plan.text,
  };
  const better = advised && {
    key: ADVISED,
    words: named(advised.every, 'as advised'),
    text: () => advised.planText,
  };
  const rates = SCHEDULES.map(({ every, words }) => ({
    key: String(every),
    words,
    text: () => retimedText(plan, every)?.text ?? null,
  }));
  return [own, ...(better ? [better] : []), ...rates];
}

/** Keys of the three to begin with, from quick to slow: the plan and what is advised stand for their own rates. */
export function firstChoices(present: number, advised: Advice | null): string[] {
  const three = threeRates(present, advised?.every ?? null).map((rate) => rate.every);
  const now = SCHEDULES[nearestSchedule(present)].every;
  const keys = three.map((every) => (every === now ? WRITTEN : String(every)));
  if (!advised) return keys;
  if (keys[1] === WRITTEN) keys[present < (advised.every ?? present) ? 0 : 2] = WRITTEN;
  keys[1] = ADVISED;
  return keys;
}
