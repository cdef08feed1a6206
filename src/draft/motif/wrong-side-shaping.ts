/**
 * Why a draft worked flat shapes on wrong-side rows too. In: its rows and how often it has to be shaped. Out: words for
 * a knitter; null where no wrong-side row is shaped.
 */
import type { DraftRound } from '../../plan/write/plan-text.ts';

/** `perRow`: shaping rows that every row calls for. */
export function wrongSideShaping(
  rows: readonly DraftRound[],
  castOn: number,
  perRow: number,
): string | null {
  const shaped = rows.filter(({ after }, i) => after !== (rows[i - 1]?.after ?? castOn));
  const wrong = shaped.filter(({ wrongSide }) => wrongSide).length;
  if (wrong === 0) return null;
  const told = `${wrong} of its ${shaped.length} shaping rows ${wrong === 1 ? 'is a wrong-side row' : 'are wrong-side rows'}`;
  const [many, of] = perRow < 0.55 ? [11, 20] : [Math.min(10, Math.round(10 * perRow)), 10];
  return perRow > 0.5
    ? `${told}: at this gauge it has to be shaped in ${many === of ? 'nearly every row' : `about ${many} rows of ${of}`}, more often than the right side faces you.`
    : `${told}: with right-side rows alone it would lie less flat.`;
}
