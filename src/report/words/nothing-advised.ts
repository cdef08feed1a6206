/** What to do where no other timing is advised. In: report. Out: a sentence that goes with verdict and reasons. */
import { FLAT_CLOSING } from '../closing.ts';
import type { Report } from '../report.ts';
import { liesFlat } from './verdict-words.ts';

export function nothingAdvised({ verdict, closing }: Pick<Report, 'verdict' | 'closing'>): string {
  if (liesFlat(verdict) && closing?.puckers)
    return `Go on decreasing to ${FLAT_CLOSING} stitches or fewer before you draw the centre up.`;
  if (verdict === 'flat after blocking') return 'Knit it as it is written, and block it.';
  if (liesFlat(verdict)) return 'Nothing: knit it as it is written.';
  if (verdict === 'tube')
    return 'Nothing, where a tube is meant. A piece that closes loses stitches towards its middle.';
  return 'There is no schedule to advise for this piece.';
}
