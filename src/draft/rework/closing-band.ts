/**
 * The band that a piece grown outwards closes with: rounds of another fabric at its rim, such as a garter border.
 *
 * In: the columns of a plan. Out: for every round of the piece timed anew, the round of the plan whose pattern it
 * has: the band stays as deep as it was and at the rim; before it the pattern goes on as set.
 */
import type { WorkedColumns } from './column-model.ts';
import { goOn } from './pattern-period.ts';

/** The round of the plan (1-based) that a round is patterned after, of `total` rounds in all. */
export interface RoundPattern {
  readonly planRound: (round: number, total: number) => number;
  /** Whether the round belongs to the closing band. */
  readonly inBand: (round: number, total: number) => boolean;
}

/** Columns looked at, evenly along the rim. Chosen: enough to tell a change of fabric. */
const MOST_COLUMNS = 48;
/** Rounds that a column must have been worked to have a pattern. Chosen: two repeats of garter. */
const SET_BY = 4;
/** Share of the columns that leave their pattern at once where a band begins. Chosen: rib to garter is half. */
const LEAVES = 0.4;
/** Share of the rounds before which no band begins. Chosen: what is deeper is the fabric itself. */
const EARLIEST = 1 / 3;
/** Longest repeat of rounds before the band that is looked for. As in `pattern-period.ts`. */
const LONGEST_REPEAT = 24;

type Known = readonly (readonly (string | undefined)[])[];

export function roundPattern(worked: WorkedColumns): RoundPattern {
  const rounds = worked.rounds.length;
  const known = knownStitches(worked);
  const outwards = worked.rounds.reduce((sum, round) => sum + round.change, 0) > 0;
  const first = outwards ? bandBegin(known, rounds) : rounds + 1;
  const depth = rounds - first + 1;
  const repeat = depth > 0 ? repeatBefore(known, first) : 1;
  const inBand = (round: number, total: number) => round > total - depth;
  return {
    inBand,
    planRound: (round, total) => {
      if (depth === 0) return round;
      if (inBand(round, total)) return round + rounds - total;
      if (round < first) return round;
      return round - repeat * Math.ceil((round - first + 1) / repeat);
    },
  };
}

/** Right-side names by column and round (1-based), of some columns evenly along the rim. */
function knownStitches(worked: WorkedColumns): Known {
  const known: (string | undefined)[][] = Array.from({ length: worked.columns }, () => []);
  worked.rounds.forEach(({ items }, i) => {
    for (const item of items) if (item.role === 'column') known[item.column][i + 1] = item.name;
  });
  const old = known.filter((names) => names.filter(Boolean).length > SET_BY);
  const step = Math.max(1, Math.ceil(old.length / MOST_COLUMNS));
  return old.filter((_, i) => i % step === 0);
}

/** First round of the band; one beyond the last where there is none. */
function bandBegin(known: Known, rounds: number): number {
  for (let round = Math.floor(rounds * EARLIEST) + 1; round <= rounds; round++) {
    let all = 0;
    let leave = 0;
    for (const names of known) {
      const before = names.slice(0, round);
      if (names[round] === undefined || before.filter(Boolean).length < SET_BY) continue;
      all++;
      if (names[round] !== goOn(before, round)) leave++;
    }
    if (2 * all >= known.length && leave > LEAVES * all) return round;
  }
  return rounds + 1;
}

/** Rounds after which the fabric before the band repeats; 1 where no repeat holds. */
function repeatBefore(known: Known, first: number): number {
  for (let repeat = 1; repeat <= LONGEST_REPEAT && 2 * repeat < first; repeat++) {
    const holds = known.every((names) => {
      for (let i = 1; i + repeat < first; i++)
        if (names[i] && names[i + repeat] && names[i] !== names[i + repeat]) return false;
      return true;
    });
    if (holds) return repeat;
  }
  return 1;
}
