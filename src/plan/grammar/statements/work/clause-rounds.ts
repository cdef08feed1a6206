/**
 * Over how many rounds a clause goes, and its words that ask for nothing: "for another 3 rounds", "back once more", "round and round".
 * In: a cursor within a clause. Out: what is told, the cursor behind it; null or false and the cursor unmoved otherwise.
 */
import { FILLERS } from '../../../lexicon/words.ts';
import { isUnit, unit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import { readFabric } from '../../steps/patterns.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Slots } from './slots.ts';

/** "the first 2 rounds", "knit the first round" */
export const FIRST = /\bfirst\b/;

/** `4 rounds`, `another 3 rnds`, `one more complete round`, `the next row` */
export function roundsHere(c: TokenCursor, slots: Pick<Slots, 'fabric'>): number | null {
  return c.attempt(() => {
    // "*k row, p row*"
    if (
      /^(?:k|p|knit|purl)$/.test(c.word(-1)) &&
      /^(?:row|round|rnd)$/.test(c.word()) &&
      !/^(?:and|after|upon|by)$/.test(c.word(1)) &&
      !c.isNumber(1)
    )
      return unit(c) && 1;
    // "Knit back once more."
    const back =
      /^(?:k|p|knit|purl)$/.test(c.word(-1)) &&
      c.takes(() => says(c, 'back|across once|again more?') && (c.done || c.mark('.,;')));
    if (back) return 1;
    // "knit to the end of the row": how far, and no row of its own.
    if (/^(?:across|along)$/.test(c.word(-1))) return null;
    // "all but the last 2 rounds"
    if ([-1, -2, -3].some((k) => /^(?:but|except|save|bar)$/.test(c.word(k)))) return null;
    if (c.word(-1) === 'of' && /^(?:end|beginning|beg|start|rest)$/.test(c.word(-2))) return null;
    c.phrase('for|over|during') ||
      says(c, 'in|on the next|following') ||
      (c.isNumber(1) && isUnit(c, 2) && c.phrase('in'));
    // "knit in the round"
    if (c.word(-1) === 'in' && c.word() === 'the' && isUnit(c, 1)) return null;
    let one = false;
    if (c.phrase('the first') && isUnit(c)) return unit(c) && 1;
    while (c.phrase('the|a|another|next|following|further|additional') || c.phrase('an'))
      one = true;
    // "the remaining 3 rounds"
    if (c.isNumber(1) && isUnit(c, 2)) c.phrase('remaining|rem|final');
    const n = c.number();
    if (n === null && !one) return null;
    // "purl a round, knit a round, then purl another", "purl the next"
    if (
      n === null &&
      /^(?:another|next)$/.test(c.word(-1)) &&
      /^(?:k|p|knit|purl|the)$/.test(c.word(-2)) &&
      (c.done || c.mark('.,;'))
    )
      return 1;
    if (n !== null && !Number.isInteger(n)) return null;
    says(c, 'of these|those|the|such');
    // "4 garter stitch rounds"
    const { i } = c;
    const fabric = readFabric(c);
    if (fabric && fabric.rule !== 'set' && fabric.rule !== 'rib' && unit(c)) {
      slots.fabric ??= fabric;
      return n ?? 1;
    }
    c.i = i;
    while (
      c.phrase(
        'more|last|final|remaining|further|additional|plain|straight|even|complete|full|next|whole|knit|purl|garter|stockinette|rs|ws',
      ) ||
      c.phrase('right|wrong side')
    );
    c.eatMark('-');
    // A ridge is two rows or rounds.
    if (c.phrase('ridge|ridges')) return 2 * (n ?? 1);
    // "the even rounds": some of all
    if (n === null && /s$/.test(c.word())) return null;
    if (!unit(c)) return null;
    if (n !== null && c.word() === 'more' && c.mark(',.;', 1)) c.i++;
    return n ?? 1;
  });
}

/** "Do this for 6 rounds": the last round, six times in all. */
export function thisForRounds(c: TokenCursor, slots: Slots): boolean {
  if (slots.verb !== 'work' && slots.verb !== 'repeat') return false;
  return c.takes(() => {
    if (!c.phrase('this|so for')) return null;
    const n = c.number();
    if (n === null || !Number.isInteger(n)) return null;
    const more = c.phrase('more|further');
    if (!unit(c)) return null;
    slots.which = { kind: 'last', count: 1 };
    Object.assign(slots.tail, { times: n, more, total: !more });
    return true;
  });
}

/** Words of place and manner within a clause, besides fillers. Any other word ends what was followed. */
const PASSED: ReadonlySet<string> = new Set(
  'last end into back together front centre center wraps side sides corner corners between through across them going outside inside middle method forth flat firmness tension'.split(
    ' ',
  ),
);

const ROUND_AND_ROUND = [
  'in the? round|rounds|rnd|rnds|circle',
  'round after|upon|by|and round',
  'rnd after rnd',
  'row after|upon|by row',
  'straight up|on|ahead',
  'round the? needles',
  'back and forth',
  'to and fro',
  'in rows :?',
];

/** Passes a word or mark that asks for nothing. */
export function passes(c: TokenCursor): boolean {
  const t = c.peek();
  if (!t) return false;
  if (c.anyPhrase(ROUND_AND_ROUND)) return true;
  if (t.kind === 'mark') {
    if (!',-&"\''.includes(t.text)) return false;
    c.i++;
    return true;
  }
  if (t.kind !== 'word') return false;
  if (!FILLERS.has(c.word()) && !PASSED.has(c.word())) return false;
  c.i++;
  return true;
}
