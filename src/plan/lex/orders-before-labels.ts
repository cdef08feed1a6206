/**
 * A round told with its order in front: "Purl Round 1.", "First, knit row 3, which is a WS row". In: the designer's text.
 * Out: the same told with its label in front, where that round is told nowhere else.
 */
import { toldIn } from './classes-of-rounds.ts';
import type { Replacement } from './numbers.ts';
import { BEGINS } from './wording.ts';

const UNIT = '(round|rnd|rd|row)';
const ORDER = new RegExp(
  `${BEGINS}(?:first,? |then |now )?(knit|purl) (?:all (?:of |(?:the )?sts (?:of|in|on) )?)?(?:the )?${UNIT} (one|\\d{1,3})(?: (?:plain|straight))?(?:,? (?:which|this|that|it) is an? ((?:ws|rs|wrong|right)(?:[- ]side)?) row)?(?=[ ]?(?:[.;]|$))`,
  'gim',
);

export function ordersBeforeLabels(text: string): Replacement[] {
  const found = [...text.matchAll(ORDER)];
  if (found.length === 0) return [];
  const told = toldIn(text);
  return found.flatMap(({ index, 0: said, 1: verb, 2: unit, 3: number, 4: side }) => {
    const n = number.toLowerCase() === 'one' ? 1 : Number(number);
    if (told.has(n)) return [];
    const label = `${unit} ${n}${side ? ` (${/^w/i.test(side) ? 'WS' : 'RS'})` : ''}: ${verb}`;
    return [{ from: index, to: index + said.length, text: label }];
  });
}
