/**
 * Words of a fabric within a clause of prose: its stitches behind it, the fabric said again, what it is in brackets. In: a
 * cursor and the slots of the clause. Out: true where it stands here, kept in the slots.
 */
import { KNIT_VERBS, PURL_VERBS, ROUND_WORDS, ROW_WORDS } from '../../../lexicon/words.ts';
import { limitsWork } from '../../limits.ts';
import { eatStitches } from '../../phrases.ts';
import { type Fabric, readFabric, ribExplained } from '../../steps/patterns.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Slots } from './slots.ts';

const KNITS_ALL = /^(?:knit|k) (?:all|every|each) (?:the )?(?:sts?|stitch(?:es)?|rounds?|rnds?)$/;

/** "Rib for 8 rounds: 2 knit, 2 purl" */
export function explainsRib(c: TokenCursor, slots: Slots): boolean {
  const { fabric } = slots;
  if (!fabric || !('rule' in fabric) || fabric.rule !== 'set' || !c.mark(':=(')) return false;
  const rib = c.attempt(() => ribExplained(c));
  if (rib) slots.fabric = { rib };
  return rib !== null;
}

const ROUND_LIST: ReadonlySet<string> = new Set([...ROUND_WORDS, ...ROW_WORDS, 'r', 'and', 'to']);

/** "Work 1 round purl", "work 1 round in knit sts": the verb stands behind. */
export function stitchesNamed(c: TokenCursor, slots: Slots): boolean {
  if (slots.verb !== 'work' || slots.rounds === null || slots.fabric !== null) return false;
  return c.takes(() => {
    c.phrase('in|of|all');
    if (!c.isWord(KNIT_VERBS) && !c.isWord(PURL_VERBS)) return null;
    const purl = c.isWord(PURL_VERBS);
    c.i++;
    eatStitches(c);
    if (!c.done && !c.mark('.;,(')) return null;
    slots.verb = purl ? 'purl' : 'knit';
    return true;
  });
}

/** "4 ridges in garter stitch": the fabric said again. */
export function repeatsFabric(c: TokenCursor, fabric: Fabric): boolean {
  if ('rule' in fabric && fabric.rule === 'set') return false;
  return c.takes(() => JSON.stringify(readFabric(c)) === JSON.stringify(fabric));
}

/** "(knit 1 round, purl 1 round)" behind a fabric only explains it. */
export function explanation(c: TokenCursor, { fabric }: Slots): boolean {
  if (!c.mark('([')) return false;
  const close = c.closing(40);
  if (close < 0) return false;
  const text = c.slice(c.i + 1, close);
  // "(R5, R7, …, R13)" says which rounds those are.
  const inside = c.tokens.slice(c.i + 1, close);
  if (inside.every((t) => t.kind !== 'word' || ROUND_LIST.has(t.text))) {
    c.i = close + 1;
    return true;
  }
  // "stocking stitch (all sts knit)"
  const knit = fabric && 'rule' in fabric && fabric.rule === 'stockinette' && KNITS_ALL.test(text);
  if (knit) {
    c.i = close + 1;
    return true;
  }
  if (!/\b(?:rounds?|rnds?|rows?|ridges?)\b/.test(text) && /\d/.test(text)) return false;
  if (/\b(?:ssk|k2tog|yo)\b/.test(text) || limitsWork(text)) return false;
  c.i = close + 1;
  return true;
}
