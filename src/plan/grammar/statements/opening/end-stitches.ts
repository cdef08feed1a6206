/**
 * How the first and the last stitch close the ring, told in any order: "slip the last st cast on to the left needle and knit
 * it together with the first", "swap the first and last sts, lifting the outer over the inner", "the last one is only for the join
 * and is knitted together with the first". In: a cursor at such words. Out: how many stitches it takes; null and the cursor
 * unmoved where another thing is said.
 */
import type { Token } from '../../../lex/tokens.ts';
import { isUnit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { OpeningRule } from './opening.ts';

/** Most tokens of such words. Chosen: bounds the time. */
const LONGEST = 60;

const words = (list: string): ReadonlySet<string> => new Set(list.trim().split(/\s+/));

const HANDLES = words(`
  slip slipping slipped sl lift lifting lifted pass passing passed put putting place placing placed move moving moved return returning
  transfer transferring draw drawing drawn pull pulling pulled take taking taken bring bringing knit knitting knitted k work working worked
`);
const SWAPS = words(`
  swap swapping swapped exchange exchanging exchanged cross crossing crossed change changing changed switch switching switched trade
  trading
`);
const TOGETHER = words('together tog k2tog ssk skp p2tog');
/** What stands beside these words. */
const BESIDES = words(`
  the a an your very this that it them they these is are be being now then and with on onto to into from off over under behind through
  of for in by at as so up back only just again both each other another one 1 2 last first 1st extra final outer inner top bottom cast st sts stitch stitches
  loop loops left right hand lh rh needle needles tip tips side round rnd ring circle join joining joined joins close closing
  closed closes tight tightly snug gap hole places position positions make making there no not without carefully pair pairs leave
  used meant , - ( ) :
`);

/** The words from here on; how many stitches they take. */
export function endsJoined(c: TokenCursor): number | null {
  return c.attempt(() => {
    let first = false;
    let last = false;
    let together = false;
    let over = false;
    let swaps = false;
    let handles = false;
    const start = c.i;
    for (let n = 0; n < LONGEST && !c.done && !c.mark('.;!'); n++, c.i++) {
      const word = c.here();
      // ", 60 sts": what is left
      if (c.isNumber() && (c.peek()?.value ?? 0) > 2) break;
      // "and knit 1 round"
      if (c.isNumber() && isUnit(c, 1)) return null;
      first ||= /^(?:first|1st|inner|next)$/.test(word);
      last ||= /^(?:last|final|extra|outer)$/.test(word);
      together ||= TOGETHER.has(word) || (word === 'as' && c.here(1) === '1');
      over ||= word === 'over';
      swaps ||= SWAPS.has(word);
      handles ||= HANDLES.has(word);
      // Two pairs of them: a join that no plan holds.
      if (/^(?:first|last)$/.test(word) && c.peek(1)?.value === 2) return null;
      if (BESIDES.has(word) || HANDLES.has(word) || SWAPS.has(word) || TOGETHER.has(word)) continue;
      if (word === 'next') continue;
      break;
    }
    while (c.i > start && /^(?:,|:|-|\(|and|then)$/.test(c.here(-1))) c.i--;
    // "slip the last st to the left needle and k2tog"
    const onNeedle = /\bneedle|\blh\b|\brh\b/.test(c.slice(start, c.i));
    if (!last || !(first || (together && onNeedle))) return null;
    if (together) return 1;
    // Lifted over the first and put where that was, it loses none.
    const back = /\bover\b.*\bleft\b/.test(c.slice(start, c.i));
    if (over && handles) return swaps || back ? 0 : 1;
    return swaps ? 0 : null;
  });
}

const BEGINS = [...HANDLES, ...SWAPS, 'k2tog', 'ssk', 'skp', 'p2tog', 'by', 'to', 'the'].join('|');

export const END_STITCHES: OpeningRule = {
  says: [BEGINS],
  means: (o, _n, c) => {
    c.i--;
    const takes = endsJoined(c);
    if (takes === null) return false;
    o.joins = true;
    if (takes === 0) o.join = { method: 'crossed', halfTurns: 0 };
    else {
      o.joinExtra ??= 'of-them';
      o.takesLast = takes;
    }
    // "… with the first st. 60 sts": the full stop is the word's.
    const left = c.attempt<Token>(() =>
      says(c, '# @sts') && (c.done || c.mark('.,;)')) ? c.peek(-2) : null,
    );
    if (left?.kind === 'number') o.totals.push(left.value);
    return true;
  },
};
