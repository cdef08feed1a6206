/**
 * Words and turns of translators for stitches and what is done with them, told as a plan of today tells them: "1 M right, 1 M
 * left in alternation", "2 together in knit", "entirely knit". Data of `wordings.ts`.
 */
import { BEGINS, COUNT, reads, STS, type Wording } from './wording.ts';

const PLAIN = '(?:knit|purl|k|p)';
const N_PLAIN = `(?:\\d{1,2} (?:${STS} )?${PLAIN}|${PLAIN} ?\\d{1,2})`;
const TURNS =
  '(?:in alternation|alternately|alternating|by turns|in turns?|in change|in alternate order)';

/** "1 st knit" and "k1" alike. */
function plain(told: string): string {
  const n = /\d+/.exec(told)?.[0] ?? '1';
  return `${/\bp/i.test(told) ? 'p' : 'k'}${n}`;
}

/** Rows of a table, as `tables.ts` leaves them. */
export const TABLED = /^[ \t]*\d{1,3}[ \t]*[:\ufdd0-\ufdef]/m;

export const TRANSLATED: readonly Wording[] = [
  reads('cast on')`${BEGINS}set on(?= (?:\d+|${COUNT}) ${STS})`,
  // "1 st knit, 1 st purl in alternation", "alternately 1 st knit, 1 st purl"
  reads(
    ([, , first, second]) => `*${plain(first)}, ${plain(second)}; rep from *`,
  )`\b(?<=[:;,.] ?|\b(?:knit|work) )((?:in the )?)(${N_PLAIN})(?:,? and |, ?)(${N_PLAIN}),? ${TURNS}(?=[ ]?(?:[.;)]|$))`,
  reads(
    ([, first, second]) => `*${plain(first)}, ${plain(second)}; rep from *`,
  )`\b(?<=[:;,.] ?|\b(?:knit|work) )${TURNS}:? (${N_PLAIN})(?:,? and |, ?)(${N_PLAIN})(?=[ ]?(?:[.;)]|$))`,
  // "entirely knit", "all in purl", "completely purled"
  reads(([, verb]) =>
    /^p/i.test(verb) ? 'purl' : 'knit',
  )`\b(?<=[:;,)] ?)(?:entirely|wholly|completely|fully|everything|all)(?: in)? (knit|purl)(?:ted|ed)?(?=[ ]?(?:[.;(=]|$))`,
  // "*k1, p1*, repeat *-* the round out", "*…*, repeat the round out", "continue thus to the end of the round"
  reads(
    'to end',
  )`\b(?<=(?<!from \*[ ]?[-–][ ]?)[*)\]][,;]? ?|from \* ?)(?:rep(?:eat)?\.? )?(?:the )?(?:whole )?(?:round|rnd|row|needle) out(?=[ ]?(?:[.;=(]|$))`,
  reads(
    'repeat to end',
  )`\b(?<=[*)\]][,;]? )(?:rep(?:eat)? (?:the )?(?:round|rnd)|(?:continue|cont\.?|go on|carry on|keep on|and) (?:thus|so|like this|in this way|like that)(?: to (?:the )?end(?: of (?:the )?(?:round|rnd|rd))?)?)(?=[ ]?(?:[.;=(]|$))`,
  // "finish the round knit"
  reads(
    '$1 to end',
  )`\b(?:finish|complete|end) the (?:round|rnd|rd|row|needle)(?: (?:in|by|with|off))? (knit|purl)(?:ting|ing|ted|ed)?(?=[ ]?(?:[.;,=(]|$))`,
  // "on every needle do this: k1, …"
  reads(
    ':',
  )`(?<=\b(?:needle|side|section|quarter|pin|one)),? (?:do|work|knit) (?:this|the following|like this|the same|so|thus):`,
  // "kfb in every single stitch"
  reads('$1')`\b(every|each) single(?= (?:st|sts|stitch|one|round|rnd|row|needle)\b)`,
  // "in every st knit 1 and 1 twisted", "knit 2 in each stitch (1 knit, 1 twisted)"
  reads(
    'kfb in every st',
  )`\b(?:in(?:to)? (?:every|each) ${STS},? (?:knit|k|work) ?1(?: knit)? and 1 (?:twisted|crossed|tbl|through the back)(?: knit)?|(?:knit|k|work) (?:2|two)(?: ${STS})? in(?:to)? (?:every|each) ${STS}(?: \([^()\n]{0,12}\b(?:knit|k ?1?)[, and1]{1,9}(?:twisted|crossed)(?: knit)?\))?|double (?:all|the|every)(?: the)? ${STS}: (?:knit|k) into (?:the )?front and (?:the )?back of each)(?![a-z])`,
  // "cast up 43 sts", "start 96 sts, close in a ring"
  reads('cast on')`\bcast up(?= (?:\d+|${COUNT}) ${STS})`,
  // "Decrease as in the table." where a table stands
  reads((m) =>
    TABLED.test(m.input) ? '' : null,
  )`${BEGINS}(?:now |then )?(?:follow(?= the)|(?:decrease|increase|work|knit|proceed|continue|go on)(?: on)? (?:as (?:in|per|shown in|given in|told in|the)|according to|following|by)) (?:the )?(?:following )?table(?: below| shows)?[.:;]`,
  // "Follow the rows below. Tick each one when it is finished."
  reads(
    '',
  )`${BEGINS}(?:(?:now|then|next|please|just),? ){0,2}(?:follow|work|knit|do)(?: through)? (?:the|these|all the) (?:rounds?|rows?|rnds?|instructions|lines|steps)(?: (?:listed|given|set out|written|as written|as given|here))? (?:below|that follow|in (?:order|turn|sequence)|one by one|one after (?:the other|another))(?:,? (?:in order|one by one|(?:round|row|line) by (?:round|row|line)|tick(?:ing)? (?:them|each|each one)(?: off)?(?: as you go)?))?[.:]`,
  reads(
    '',
  )`${BEGINS}(?:tick|cross|check|strike)(?: off)? (?:each|every|them|the)(?: (?:one|row|round|rnd|line|box|step))?(?: (?:off|out))?(?: (?:as|when|once|after) (?:you|it|they)[a-z' ]{2,30})?[.]`,
];
