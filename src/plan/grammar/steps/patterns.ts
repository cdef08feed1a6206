/**
 * Fabrics named in prose, as steps of one round after another: "garter st", "k2, p2 rib", "st st", "in
 * pattern". In: a cursor at the words. Out: the fabric, the cursor behind it; null otherwise.
 */
import type { Place } from '../../lex/source.ts';
import { COLOUR_WORDS } from '../../lexicon/colour-words.ts';
import { isUnit } from '../phrases.ts';
import { says, saysAny } from '../rules.ts';
import { readStitchNumber } from '../stitch-number.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { PatternRule, Step } from './steps.ts';

/** Knit and purl stitches of a ribbing. */
export type Rib = readonly [number, number];

export interface Fabric {
  readonly rule: PatternRule;
  readonly rib?: Rib;
}

const STITCH = 'st|stitch|sts';

/** "in garter st (knit 1 round, purl 1 round)" */
export function readFabric(c: TokenCursor): Fabric | null {
  return c.attempt<Fabric>(() => {
    c.phrase('in|over|working');
    c.phrase('in');
    c.phrase('a|the|your');
    if (c.phrase('established|est|set')) c.phrase('the');
    const found = rib(c) ?? readKnits(c) ?? named(c);
    if (!found) return null;
    c.phrase('as set|est|established');
    says(c, 'on|over|across all of? the? @sts');
    return found;
  });
}

const AS_THEY_APPEAR = [
  'knit|k|knitting into? the|all|every* knit|knits|k ones|@sts? and|,|&* purl|p|purling into? the|all|every* purl|purls|p ones|@sts? as? they* come|appear|present|show|look?',
  'knit|k|knitting the|all|every* @sts that|which look|looks|are like? knit|knits @sts? and|,* purl|p|purling the|all|those|ones* @sts? that|which look|looks|are like? purl|purls @sts?',
  'knit|knitting over|on|above|into the? knit|knits and|,* purl|purling over|on|above|into the? purl|purls',
];

/** "knit the knits and purl the purls", "knit over knit and purl over purl" */
export function readKnits(c: TokenCursor): Fabric | null {
  return saysAny(c, AS_THEY_APPEAR) ? { rule: 'knits' } : null;
}

function named(c: TokenCursor): Fabric | null {
  if (c.phrase('rev|reverse')) {
    if (stockinette(c)) return { rule: 'reverse' };
    return null;
  }
  if (c.phrase('garter') || c.phrase(`g ${STITCH}`)) {
    c.phrase(STITCH) || c.phrase('ridges|ridge');
    return { rule: 'garter' };
  }
  if (stockinette(c) || (/^(?:in|work)$/.test(c.word(-1)) && c.phrase(`knit ${STITCH}`)))
    return { rule: 'stockinette' };
  // "in moss green"
  if (!COLOUR_WORDS.has(c.word(1)) && c.phrase('seed|moss|pearl')) {
    c.phrase(STITCH);
    if (!isUnit(c, 1)) c.phrase('pattern|patt|pat');
    return { rule: 'seed' };
  }
  // "the pattern row" is a round by that name.
  if (c.phrase('pattern|patt|pat')) return isUnit(c) ? null : { rule: 'set' };
  if (says(c, `rib|ribbing ${STITCH}|pattern?`)) return { rule: 'rib' };
  return null;
}

function stockinette(c: TokenCursor): boolean {
  if (c.phrase('stockinette|stocking|stockingette|stst|stocknette|jersey') || c.phrase('st st')) {
    c.phrase(STITCH);
    return true;
  }
  return false;
}

/** `k2, p2 rib`, `2x2 ribbing`, `single rib`, `knit 1, purl 1 rib` */
function rib(c: TokenCursor): Fabric | null {
  return c.attempt<Fabric>(() => {
    if (c.phrase('single|double|twisted')) {
      const said = c.word(-1);
      const n = said === 'double' ? 2 : 1;
      const rule = said === 'twisted' ? 'twisted rib' : 'rib';
      return c.phrase('rib|ribbing') ? { rule, rib: [n, n] } : null;
    }
    const k = readStitchNumber(c, 'k');
    if (k !== null) {
      c.eatMark(',/');
      c.phrase('x|and|by');
      const p = readStitchNumber(c, 'p');
      if (p === null) return null;
      c.eatMark('-');
      // The tail reads "for" and "until".
      const ends = c.done || c.mark(',.;') || /^(?:for|until)$/.test(c.word());
      return ends || c.phrase('rib|ribbing|ribs') ? { rule: 'rib', rib: [k, p] } : null;
    }
    const words = c.phrase('rib|ribbing');
    const inside = words ? c.attempt(() => ribExplained(c)) : null;
    if (inside) return { rule: 'rib', rib: inside };
    const a = c.number();
    if (a === null) return null;
    if (!(c.phrase('x|by') || c.eatMark('/-'))) return null;
    const b = c.number();
    if (b === null || (!words && !c.phrase('rib|ribbing'))) return null;
    return a > 0 && b > 0 && a < 100 && b < 100 ? { rule: 'rib', rib: [a, b] } : null;
  });
}

/** ", that is knit all rounds", ", knitting every round", "(every round knit)": plain fabric told in other words. */
export function plainExplained(c: TokenCursor): boolean {
  return c.takes(() => {
    const { i } = c;
    says(c, ',|:|(|-* that|ie|so|is|just|always|you|means*');
    const open = c.slice(i, c.i).includes('(');
    const told =
      says(c, 'knit|knitting|k|working all|every|each|the|plain* @unit|@sts plain?') ??
      says(c, 'all|every|each|the* @unit|@sts knit|knitted|plain');
    if (!told) return null;
    if (open) return c.eatMark(')') !== null;
    return c.done || c.mark('.,;(') || /^(?:for|until|and|then)$/.test(c.word());
  });
}

/** ": purl 1 round, knit 1 round, purl 1 round", "(1 purl, 1 knit)": what each round of garter stitch is; the first of them. */
export function turnsExplained(c: TokenCursor, rounds: number): 'knit' | 'purl' | null {
  return c.attempt(() => {
    if (!c.eatMark(':(,-')) return null;
    if (c.here(-1) !== '(') c.eatMark('(');
    says(c, '#|a|each|every ridge|ridges =|is|are|means|:|takes of?');
    const verbs: string[] = [];
    for (let n = 0; n <= rounds; n++) {
      says(c, 'a|one|# @unit? of|in|all?');
      const verb = /^(?:purl|p|knit|k)$/.test(c.word()) ? c.word() : null;
      if (!verb) return null;
      c.i++;
      says(c, 'a|one|# @unit?') ?? says(c, '@unit');
      verbs.push(verb[0]);
      if (!says(c, ',|and|then*')) break;
    }
    const often =
      c.eatMark(')') &&
      (says(c, '# times|x') ?? says(c, 'x #') ?? (c.phrase('twice') ? [2] : null));
    if (often && often[0] !== null && verbs.length * often[0] !== rounds) return null;
    const turns = verbs.every((v, i) => i === 0 || v !== verbs[i - 1]);
    if (verbs.length < 2 || rounds % verbs.length || !turns || !(c.done || c.mark('.;,')))
      return null;
    return verbs[0] === 'k' ? 'knit' : 'purl';
  });
}

/** One stitch over the whole round. */
export function stitchSteps(name: string, { from, to }: Place): Step[] {
  return [{ kind: 'stitch', name, amount: { kind: 'rest', count: 0 }, from, to }];
}

/** A pattern over the whole round. */
export function patternSteps(rule: PatternRule, { from, to }: Place, rib?: Rib): Step[] {
  return [{ kind: 'pattern', rule, rib, amount: { kind: 'rest', count: 0 }, from, to }];
}

/** Rounds that a verb and a fabric mean, the last of them again and again. */
export function cycleOf(
  verb: 'knit' | 'purl' | 'work',
  fabric: Fabric | null,
  even: boolean,
  { from, to }: Place,
): Step[][] {
  const at = { from, to };
  if (verb === 'purl' && fabric?.rule !== 'p, yo tbl') return [stitchSteps('p', at)];
  if (fabric && fabric.rule !== 'set') return [patternSteps(fabric.rule, at, fabric.rib)];
  if (verb === 'knit' && !fabric && !even) return [stitchSteps('k', at)];
  return [patternSteps('set', at)];
}

const LEADS_TO_RIB =
  ':|,|-|=|of|with|in|that|which|where|for|each|every|all|both|the|@unit|one|1|is|are|being|ie|working|work|worked|always|namely|as|follows|thus|so|like|this*';
const RIB_AGAIN =
  ',|;|*|rep|repeat|repeated|repeating|from|alternately|alternating|in|turn|alternation|to|end|all|round|around|across|the|way|and|so|on|of|each|every|rounds|throughout*';

/** `(1 k, 1 p)`, `: k2, p2`, `, knit 2 and purl 2 alternately`, `, each round *k2, p2; rep from * to end` behind "rib" */
export function ribExplained(c: TokenCursor): Rib | null {
  const open = c.eatMark('([') !== null;
  says(c, LEADS_TO_RIB);
  if (/^(?:each|every)$/.test(c.word(-1)) && c.peek()?.text === '1') c.i++;
  says(c, LEADS_TO_RIB);
  c.eatMark('*');
  const one = (letter: 'k' | 'p'): number | null => {
    const n = readStitchNumber(c, letter);
    if (n !== null) return n;
    const before = c.number();
    return before !== null && c.phrase(letter === 'k' ? 'k|knit' : 'p|purl') ? before : null;
  };
  const k = one('k');
  c.eatMark(',/');
  c.phrase('and|then');
  const p = one('p');
  if (k === null || p === null) return null;
  const { i } = c;
  while (says(c, RIB_AGAIN));
  const again = c.i > i && /[a-z]/.test(c.slice(i, c.i));
  while (/^(?:and|,|;|for|in)$/.test(c.here(-1))) c.i--;
  if (open) return c.eatMark(')]') ? [k, p] : null;
  // "rep from * 3 times"
  if (c.isNumber() && !/^[,;]$/.test(c.here(-1))) return null;
  return again || c.done || !(c.isNumber() || /^[kp]\d|^(?:knit|purl|k|p|ssk|yo)$/.test(c.here()))
    ? [k, p]
    : null;
}
