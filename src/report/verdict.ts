/**
 * The verdict: one rule from how the rounds turn (`rim-angle.ts`) and how the sheet stands (`posture.ts`).
 * In: those, and what it takes to press the sheet flat (share of a full turn). Out: one of the words below.
 * The rule, as DEVELOPERS.md tells it; what it promises is tested over random plans.
 */
import type { Posture } from './posture.ts';
import type { RimAngle } from './rim-angle.ts';
import type { VerdictBands } from './verdict-bands.ts';

export type Verdict =
  | 'flat'
  | 'flat after blocking'
  | 'cups'
  | 'ruffles'
  | 'saddle'
  | 'cup inside, ruffled rim'
  | 'ruffled inside, cupped rim'
  | 'buckles'
  | 'tube'
  | 'twisted band';

/** Rise below this share of the side counts as lying level. Chosen: 2 mm in 20 cm. */
const LEVEL = 0.01;
/** A cup or a wave is there if it makes up this share of the rise. Chosen. */
const NOTABLE = 0.25;
/** Rounds too fast (or slow) that make up less than this share of the others are a detail. Chosen. */
const MINOR = 0.25;

export interface VerdictFacts {
  readonly shape: string;
  readonly angle: RimAngle;
  /** In the air, without weight. */
  readonly posture: Posture;
  /** As it lies on a table; null where that is not known. */
  readonly laid: Posture | null;
  /** What pressing the sheet flat takes, as the share of a turn that a plain cone would be off; asked
   * only where the rounds alone do not tell. */
  readonly pressed: () => number;
}

export interface Judgement {
  readonly verdict: Verdict;
  /** How far from flat, share of a full turn; 0 where it lies flat by itself. */
  readonly misfit: number;
}

export function isLevel({ riseMm, sideMm }: Posture): boolean {
  return riseMm <= LEVEL * sideMm;
}

/**
 * How far a rise and a misfit may come out otherwise by another way to the same rest, as a share. Measured: 0.2 and 1e-8;
 * chosen wider. And a rise on the table, mm: in a piece of 2 cm measured 0.57, the slack of its contacts.
 */
const OTHER_WAY = { rise: 0.5, riseMm: 0.6, misfit: 0.01 };

/** Whether another way to the same rest might bring another word: then only one way may tell it. */
export function hangsOnLittle(
  { riseMm, sideMm, misfit }: { riseMm: number; sideMm: number; misfit: number },
  bands: VerdictBands,
): boolean {
  const near = (is: number, limit: number, share: number) =>
    is < limit * (1 + share) && limit < is * (1 + share);
  return (
    near(riseMm, LEVEL * sideMm, OTHER_WAY.rise) ||
    Math.abs(riseMm - LEVEL * sideMm) < OTHER_WAY.riseMm ||
    [bands.flat, bands.blocking].some((band) => near(misfit, band, OTHER_WAY.misfit))
  );
}

export function judge(facts: VerdictFacts, bands: VerdictBands): Judgement {
  const { shape, angle, posture, laid, pressed } = facts;
  if (shape === 'twisted band') return { verdict: 'twisted band', misfit: 1 };
  if (shape === 'tube') return { verdict: 'tube', misfit: 1 };
  const off = Math.abs(angle.surplus);
  if (isLevel(posture)) {
    return off <= bands.blocking
      ? { verdict: 'flat', misfit: 0 }
      : { verdict: 'flat after blocking', misfit: off };
  }
  const misfit = off > bands.blocking ? off : Math.max(off, pressed());
  // Half a per cent stands up in the air; it is flat if its own weight lays it down.
  if (misfit <= bands.flat && isLevel(laid ?? posture)) return { verdict: 'flat', misfit };
  if (misfit <= bands.blocking) return { verdict: 'flat after blocking', misfit };
  const verdict = standing(angle, posture, bands);
  // Right round for round: where its own weight is enough to lay it level, blocking is.
  if (verdict === 'buckles' && laid && isLevel(laid))
    return { verdict: 'flat after blocking', misfit };
  return { verdict, misfit };
}

/** Whether the word is the same however the sheet comes to lie: then it can be told before it is laid on its table. */
export function stands(facts: VerdictFacts, bands: VerdictBands): boolean {
  const lain = judge({ ...facts, laid: { ...facts.posture, riseMm: 0 } }, bands);
  return lain.verdict === judge({ ...facts, laid: null }, bands).verdict;
}

/** Whether some rounds are notably too slow, and some too fast. */
function blamed(angle: RimAngle, bands: VerdictBands): { slow: boolean; fast: boolean } {
  const least = Math.max(bands.blocking, MINOR * Math.max(angle.slow, angle.fast));
  return { slow: angle.slow > least, fast: angle.fast > least };
}

/**
 * Whether the word for a piece that stands up follows from its rounds, however high it comes to stand. Rounds that are right
 * one by one do not tell: its weight may lay it level.
 */
export function roundsDecide(angle: RimAngle, bands: VerdictBands): boolean {
  const { slow, fast } = blamed(angle, bands);
  return slow !== fast;
}

/** Rim off by more than this share stands up in any large piece. Chosen: twice what blocking takes. */
const FAR_OFF = 0.06;
/** Smaller pieces may be stiff enough to lie level all the same. Chosen. */
const LARGE = 2_000;

/** The word of a piece of so many loops that is far off, by its rounds alone; null where only its fabric tells. */
export function wordOfRounds(angle: RimAngle, loops: number, bands: VerdictBands): Verdict | null {
  const { slow, fast } = blamed(angle, bands);
  const far = Math.abs(angle.surplus) > FAR_OFF && loops >= LARGE;
  if (!angle.round || !far || slow === fast) return null;
  return slow ? 'cups' : 'ruffles';
}

/** The word for a piece that stands up, by which rounds are to blame and what the sheet does. */
function standing(angle: RimAngle, posture: Posture, bands: VerdictBands): Verdict {
  const { slow, fast } = blamed(angle, bands);
  if (slow && !fast) return 'cups';
  if (fast && !slow) return 'ruffles';
  // The rounds are right one by one: it is off along a round, or open.
  if (!slow) return 'buckles';
  const cups = posture.cupMm > NOTABLE * posture.riseMm;
  const waves = posture.waveMm > NOTABLE * posture.riseMm;
  if (cups && !waves && angle.surplus < -bands.blocking) return 'cups';
  if (waves && !cups && angle.surplus > bands.blocking) return 'ruffles';
  if (angle.slowAt < angle.fastAt) return 'cup inside, ruffled rim';
  return cups ? 'ruffled inside, cupped rim' : 'saddle';
}
