/**
 * Crossings and lace groups that come again on the same columns. In: the rounds of a piece by their columns. Out: each group with the
 * rounds it was worked in and the interval between them, and what it works in a round to come.
 */
import type { WorkedRound } from './column-model.ts';

/** A crossing or lace group that comes again on the same columns. */
export interface Series {
  readonly columns: readonly number[];
  readonly rounds: Map<number, readonly string[]>;
  readonly last: number;
  /** Rounds between repeats; 0 where it happens once. */
  readonly every: number;
}

export function seriesOf(rounds: readonly WorkedRound[]): Series[] {
  const found = new Map<
    string,
    { columns: readonly number[]; rounds: Map<number, readonly string[]> }
  >();
  rounds.forEach((round, i) => {
    for (const item of round.items) {
      if (item.role !== 'block') continue;
      const key = item.columns.join(',');
      const series = found.get(key) ?? { columns: item.columns, rounds: new Map() };
      series.rounds.set(i + 1, item.names);
      found.set(key, series);
    }
  });
  return [...found.values()].map((series) => {
    const at = [...series.rounds.keys()];
    return { ...series, last: at[at.length - 1], every: commonStep(at) };
  });
}

/** Most frequent difference between neighbours; 0 for fewer than two. */
function commonStep(at: readonly number[]): number {
  const counts = new Map<number, number>();
  for (let i = 1; i < at.length; i++) {
    const step = at[i] - at[i - 1];
    counts.set(step, (counts.get(step) ?? 0) + 1);
  }
  let best = 0;
  for (const [step, count] of counts) if (count > (counts.get(best) ?? 0)) best = step;
  return best;
}

/** Names of the group if it falls due in this round. */
export function namesIn(series: Series, round: number): readonly string[] | null {
  const known = series.rounds.get(round);
  if (known) return known;
  if (series.every === 0 || round < series.last || (round - series.last) % series.every !== 0)
    return null;
  // The lean may alternate: take the names an even number of repeats back where they are known.
  const back = (round - series.last) / series.every;
  return (
    series.rounds.get(back % 2 === 0 ? series.last : series.last - series.every) ??
    series.rounds.get(series.last) ??
    null
  );
}
