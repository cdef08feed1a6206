/**
 * A round told with its order in front: "Purl Round 1.", "First, knit row 3, which is a WS row". In: the designer's text.
 * Out: the same told with its label in front, where that round is told nowhere else.
 */
import { regex } from '../lexicon/expression.ts';
import { toldIn } from './classes-of-rounds.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { BEGINS } from './wording.ts';

const UNIT = '(round|rnd|rd|row)';
const ORDER = regex.gim`${BEGINS}(?:first,? |then |now )?(knit|purl) (?:all (?:of |(?:the )?sts (?:of|in|on) )?)?(?:the )?${UNIT} (one|\d{1,3})(?: (?:plain|straight))?(?:,? (?:which|this|that|it) is an? ((?:ws|rs|wrong|right)(?:[- ]side)?) row)?(?=[ ]?(?:[.;]|$))`;

export function ordersBeforeLabels(text: string): Replacement[] {
  let told: ReadonlySet<number> | null = null;
  return readAs(text, ORDER, ([, verb, unit, number, side]) => {
    const n = number.toLowerCase() === 'one' ? 1 : Number(number);
    told ??= toldIn(text);
    if (told.has(n)) return null;
    return `${unit} ${n}${side ? ` (${/^w/i.test(side) ? 'WS' : 'RS'})` : ''}: ${verb}`;
  });
}
