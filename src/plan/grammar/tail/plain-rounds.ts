/**
 * Plain rounds beside those that shape: "one purl row", "2 rounds without decreases", and where they lie: "between", "after
 * each of them". In: a cursor at the words. Out: what they say; null and the cursor unmoved otherwise.
 */
import { regex } from '../../lexicon/expression.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';

const SHAPES =
  'decreases|decrease|decs|dec|decreasing|decreasings|increases|increase|incs|inc|increasing|shaping|shapings';
/** What a round is called that shapes nothing. */
const QUALITY =
  'plain|even|straight|unshaped|resting|rest|knit|knitted|k|purl|purled|p|stockinette';
const BEFORE = `whole|single|complete|further|next|later|following|other|${QUALITY}`;
const WITHOUT = `without|no|not any|further|more|the? ${SHAPES}`;
const BEHIND = [
  `being|is|are|that|which|to|be|always|all|just|worked|done|made* ${QUALITY} plain|even|straight?`,
  `being|is|are|that|which|to|be|always|just|worked|done|made|knitted* with? ${WITHOUT}`,
  `with|of|in plain? knit|knitting|purl|purling`,
];

/** So many rounds, and their stitch where it is told. */
export interface PlainRounds {
  readonly n: number;
  readonly stitch: 'k' | 'p' | null;
}

/** "a purl round", "2 plain rounds", "one round without decreases", "a plain one knitted" */
export function plainRounds(c: TokenCursor): PlainRounds | null {
  return c.attempt(() => {
    const start = c.i;
    // "each even round purl": of the numbers, not plain ones
    if (says(c, 'in|on? each|every|all|the|those* even @unit|ones') && /s$/.test(c.word(-1)))
      return null;
    c.i = start;
    if (says(c, 'in|on? each|every even @unit')) return null;
    const named =
      says(c, `in|on? a|an|the|another|every|each|all|#* ${BEFORE}* @unit|one|ones`) ??
      says(c, `in|on? a|an|the|another|# ${BEFORE} ${BEFORE}* #`);
    if (!named) return null;
    const numbers = named.filter((n) => n !== null);
    const count = c.slice(start, c.i);
    // "1 more plain 1"
    if (c.here(-1) === '1' && c.isNumber(-1)) numbers.pop();
    else if (!/^(?:ones?|r\w*)$/.test(c.word(-1))) return null;
    const behind = saidBehind(c);
    const said = c.slice(start, c.i);
    if (!behind && !KINDS.test(count)) return null;
    if (/\beven (?:@|r\w*ds?|rows?)\b/.test(said) && /\b(?:each|every|all)\b/.test(said))
      return null;
    const stitch = /\b(?:purl\w*|p)\b/.test(said) ? 'p' : KNITTED.test(said) ? 'k' : null;
    return { n: numbers[0] ?? 1, stitch };
  });
}

/** "knit without decreases", "worked plain" */
function saidBehind(c: TokenCursor): boolean {
  const { i } = c;
  for (let k = 0; k < 3 && saysAny(c, BEHIND); k++);
  return c.i > i;
}

const KINDS = regex.plain`\b(?:${QUALITY})\b`;
const KNITTED = /\b(?:knit\w*|k|stockinette)\b(?! with)/;

const EACH = `each|every|it|that|them|these|those|the|of|#|time|${SHAPES}`;
const WHERE = [
  ['between', `always|worked* in? between|in-between ${EACH}* @unit?`],
  ['between', 'coming|going|working|on|the|way|return|returning* back'],
  ['after', `to? after|following|follows|follow|behind|upon ${EACH}* @unit?`],
  ['before', `before ${EACH}* @unit?`],
] as const;

export type Where = (typeof WHERE)[number][0];

/** "between each", "after every decrease round", "before it" */
export function whereBeside(c: TokenCursor): Where | null {
  return WHERE.find(([, rule]) => says(c, rule))?.[0] ?? null;
}

const LEAD =
  ',|and|;|(|with|having|working|work|leaving|but|while|always|then|there|is|are|being|comes|come*';
/** "in alternation with" */
const IN_TURN =
  ',|and|always|in|by|each|every|time* turn|turns|alternation|alternating|alternately|about with|and';
const FOLLOWED =
  ',|and|;|(|always|each|every|time|one|these|them|being|is|are* followed by always|just|only?';

/** "knitting a row", "purling 2 rounds without decreases" */
function workedRounds(c: TokenCursor): PlainRounds | null {
  const { i } = c;
  const n = says(c, 'knitting|purling a|an|one|another|# @unit');
  if (!n) return null;
  const purled = c.word(i - c.i) === 'purling';
  // "knitting 1 round without decreases": as the others
  const stitch = purled ? 'p' : saidBehind(c) ? null : 'k';
  return { n: n[0] ?? 1, stitch };
}

/** "with one plain round after each", "each time followed by a purl round", "(1 round without decreases in between)" */
export function plainRoundsBeside(
  c: TokenCursor,
): (PlainRounds & { readonly where: Where }) | null {
  return c.attempt(() => {
    const { i } = c;
    const followed = says(c, FOLLOWED) !== null;
    const turns = !followed && says(c, IN_TURN) !== null;
    if (!followed && !turns) says(c, LEAD);
    const led = c.slice(i, c.i);
    const worked = workedRounds(c);
    const rounds = worked ?? plainRounds(c);
    if (!rounds) return null;
    // "with a purl round each time", "with a purl round"
    const bare =
      turns ||
      worked !== null ||
      (/\b(?:with|having|working)\b/.test(led) && rounds.stitch !== null);
    const where = followed ? 'after' : whereBeside(c);
    if (!where && !bare) return null;
    says(c, 'each|every time|round|row');
    if (led.includes('(')) c.eatMark(')');
    return { ...rounds, where: where ?? 'between' };
  });
}
