/**
 * Words of a fabric within a clause of prose: its stitches behind it, the fabric said again, what it is in brackets. In: a
 * cursor and the slots of the clause. Out: true where it stands here, kept in the slots.
 */
import { KNIT_VERBS, PURL_VERBS, ROUND_WORDS, ROW_WORDS } from '../../../lexicon/words.ts';
import { limitsWork } from '../../limits.ts';
import { onlyTells } from '../../narration/only-tells.ts';
import { eatStitches, isUnit } from '../../phrases.ts';
import { saysAny } from '../../rules.ts';
import {
  type Fabric,
  plainExplained,
  readFabric,
  ribExplained,
  turnsExplained,
} from '../../steps/patterns.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Slots } from './slots.ts';

/** "6 rounds of rib, knit 2, purl 2", "stocking stitch, that is knit all rounds": the fabric told once more in other words. */
export function fabricTold(c: TokenCursor, slots: Slots): boolean {
  const { fabric, rounds, tail } = slots;
  if (fabric === null) return false;
  if (fabric.rule === 'set' || fabric.rule === 'rib') {
    const rib = c.attempt(() => ribExplained(c));
    if (!rib) return false;
    // "k2, p2 rib, k1, p1" contradicts itself.
    if (fabric.rib && fabric.rib.join() !== rib.join()) return false;
    slots.fabric = { rule: 'rib', rib };
    return true;
  }
  // "moss stitch (k1, p1)": how it begins
  if (fabric.rule === 'seed')
    return c.mark('(') && c.takes(() => ribExplained(c)?.join() === '1,1' || null);
  if (fabric.rule === 'stockinette') return plainExplained(c);
  const made = rounds ?? tail.forRounds;
  if (fabric.rule !== 'garter' || made === null) return false;
  const first = turnsExplained(c, made);
  if (first) slots.tail.startWith = [first];
  return first !== null;
}

/** "6 rounds of *k2, p2; rep from * to end": the stitches alone. */
export function fabricByStitches(c: TokenCursor): Fabric | null {
  return c.attempt(() => {
    c.phrase('of|in');
    const rib = c.mark('*') ? ribExplained(c) : null;
    return rib && { rule: 'rib' as const, rib };
  });
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

const YOS = 'the|all|each|every|your|these* yarn? yo|yos|yarnover|yarnovers|over|overs';
const TWISTED =
  'twisted|crossed|tbl|through|into|in|by|from|the|their|back|of|loop|loops|leg|legs|strand*';
const TWISTS = [
  `,|;|.|(|and|but|with|while|then|always|,* ${YOS} are|is|being|to|be|worked|always|then* knit|knitted|purl|purled|knitting|purling? ${TWISTED}`,
  `,|;|.|(|and|but|with|while|then|always|,* knit|purl|knitting|purling|taking|take|work|working ${YOS} ${TWISTED}`,
];

/** "Purl 1 round, the yarn overs are purled twisted": in which way the round's yarn overs are worked. */
export function yarnOversTwisted(c: TokenCursor, slots: Slots): boolean {
  const { verb, fabric, rounds } = slots;
  if (fabric !== null || rounds === null || (verb !== 'knit' && verb !== 'purl')) return false;
  return c.takes(() => {
    const { i } = c;
    if (!saysAny(c, TWISTS)) return null;
    const said = c.slice(i, c.i);
    if (!/\b(?:twisted|crossed|tbl|back)\b/.test(said)) return null;
    if (/\bpurl/.test(said) ? verb !== 'purl' : /\bknit/.test(said) && verb !== 'knit') return null;
    if (said.includes('(')) c.eatMark('.)') === '.' && c.eatMark(')');
    slots.fabric = { rule: verb === 'purl' ? 'p, yo tbl' : 'k, yo tbl' };
    return true;
  });
}

const BACKS = [
  'into|in|through|thru the|its|their? back|backs loop|loops|leg|legs? of all? the|each|every? @sts',
  'into|in|through|thru the|its|their? back|backs loop|loops|leg|legs',
  'tbl',
];

/** "knit 1 round into the backs of the sts" */
export function throughBacks(c: TokenCursor, slots: Slots): boolean {
  const { verb, fabric, rounds } = slots;
  if (fabric !== null || rounds === null || !/^(?:knit|purl|work)$/.test(verb)) return false;
  if (!saysAny(c, BACKS)) return false;
  slots.twisted = true;
  return true;
}

const EARLIER = [
  ',|and|once|again|exactly|just* as|like at|in|on|for? the? before|beginning|start|first|other|lower|bottom|opposite|edge|edging|end|border one|ones|edge|edging|end|border|round|rounds|row|rows*',
  ',? to match the? beginning|start|first|other|lower|bottom|opposite|edge|edging|end|border|side|one*',
  ',? again|more|over once? more?',
  ',? once|1 more|again',
];

/** "rib as at the beginning", "garter stitch to match the other edge": it has been worked before. */
export function asEarlier(c: TokenCursor, { fabric }: Slots): boolean {
  return fabric !== null && saysAny(c, EARLIER) !== null;
}

/** "4 ridges in garter stitch": the fabric said again. */
export function repeatsFabric(c: TokenCursor, fabric: Fabric): boolean {
  if (fabric.rule === 'set') return false;
  return c.takes(() => JSON.stringify(readFabric(c)) === JSON.stringify(fabric));
}

const FACES = [
  ',|(|-|which|this|that|it|being|is|a|an|the* right|wrong|rs|ws side? facing? you? of? the? work? @unit? )?',
  'on|from|over the? right|wrong|rs|ws side? of? the? work?',
];

/** "(this is a wrong-side row)", "on the right side", ", WS facing": the side that one row is worked on. */
export function facing(c: TokenCursor, { rounds, tail }: Slots): boolean {
  if (rounds !== 1 || tail.startWith.length > 0) return false;
  return c.takes(() => {
    const { i } = c;
    if (!saysAny(c, FACES) || (isUnit(c, -1) === false && !c.done && !ENDS_CLAUSE.test(c.here())))
      return null;
    tail.startWith = [/\b(?:wrong|ws)\b/.test(c.slice(i, c.i)) ? 'WS' : 'RS'];
    return true;
  });
}

const ENDS_CLAUSE = /^(?:[.,;:)(]|and|then|until)$/;

/** "(knit 1 round, purl 1 round)" behind a fabric only explains it. */
const TELLS_PACE =
  /\b(?:every|each) (?:other|second|third|alternate|\d+(?:nd|rd|th)) (?:rounds?|rnds?|rows?)\b|\balternate (?:rounds|rnds|rows)\b|\d ?(?:sts?|stitches|dec|inc)/;

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
  if (!/\b(?:rounds?|rnds?|rows?|ridges?)\b/.test(text) && /\d/.test(text)) return false;
  // "(6 sts every other round)" tells how many, and how often.
  if (TELLS_PACE.test(text)) return false;
  if (/\b(?:ssk|k2tog|yo)\b/.test(text) || limitsWork(text)) return false;
  // "(You will have worked 12 rows)" is held against the piece.
  if (onlyTells(inside)) return false;
  const known =
    fabric !== null && fabric.rule !== 'set' && (fabric.rule !== 'rib' || fabric.rib !== undefined);
  if (!known && /\*|\b[kp] ?\d/.test(text)) return false;
  c.i = close + 1;
  return true;
}
