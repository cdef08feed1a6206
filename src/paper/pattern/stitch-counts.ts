/**
 * The stitches after every round, where the pattern tells a run of shaped rounds in one line.
 * In: a Plan and its lines. Out: lines such as `Rounds 2-11 end with 124, 124, 116 … sts`; none where every
 * round has its count beside it already.
 */
import type { Plan } from '../../plan/plan.ts';
import type { RoundLine } from './round-lines.ts';

/** Rounds to a line. Chosen: counts are easily found in tens. */
const A_LINE = 10;

export function countLines(plan: Plan, lines: readonly RoundLine[]): string[] {
  const word = plan.worked === 'round' ? 'Rounds' : 'Rows';
  const hidden = lines.some(({ first, last }) =>
    plan.rounds.slice(first - 1, last).some((round) => round.after !== plan.rounds[last - 1].after),
  );
  if (!hidden) return [];
  const out: string[] = [];
  for (let from = 0, end = 0; from < plan.rounds.length; from = end) {
    // The last round stands beside those before it.
    end = plan.rounds.length - from <= A_LINE + 1 ? plan.rounds.length : from + A_LINE;
    const counts = plan.rounds.slice(from, end).map((round) => round.after);
    out.push(`${word} ${from + 1}-${end} end with ${counts.join(', ')} sts.`);
  }
  return out;
}
