/**
 * Sentences and headings that say what a round is called and how it is worked, in whatever order of words: "By a taper round I
 * mean: …", "Whenever it says "pinch", work …", "In every decrease round you work each needle like this: …", "ALL ABOUT
 * DECREASING". Out: expressions for the words up to where the stitches begin; groups: the name, what stands in brackets
 * behind it, the parts that the stitches are told of.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { WORK_UNIT } from './wording.ts';

const WORD = "[a-zà-ÿ][a-zà-ÿ']{0,20}";
const PART =
  '(?:needles?|ndls?|dpns?|sides?|sections?|segments?|quarters?|wedges?|sectors?|panels?|parts?)';
const OF_EACH = `(?:(?:each|every|all)(?: of)?(?: the| your)?(?: (?:\\d|two|three|four|five|six|eight))? ${PART})`;
/** "(all four needles alike)", "(worked over each side)": what is told is told of one of them. */
export const OF_PART = new RegExp(
  OF_EACH.replace('(?:\\d|', '(\\d|').replace(/\(\?:(?=needles)/, '('),
  'i',
);

/** Words in front of a name, and between it and what it means: of themselves they ask for nothing. */
const TALK =
  'notes?|nb|n\\.b\\.|please|remember|special|instructions?|abbreviations?|patterns?|key|by|on|in|at|for|to|of|with|under|about|how|when(?:ever)?|where(?:ver)?|every time|each time|if|it|i|we|you|i.m|we.re|am|going|will|i.ll|we.ll|let.s|shall|now on|one|the|a|an|all|any|every|each|this|these|those|that|my|our|your|here|always|and|so|as|says?|said|write|writes|written|sees?|reads?|calls?|called|use|uses|used|terms?|words?|phrase|name|speak|mean|means|meant|understand|understood|describe|described|explain|explained|mention|mentioned|working|making|doing|work|make|do|is|are|pattern|text|chart|table|come|comes|asked|to work';
const SAYS =
  '(?:on|in|for) (?:every|each|all|the) (?:dec|inc|shap)[a-z]* (?:rounds?|rnds?|rows?)|is|are|you|we|i|one|should|must|have to|mean|means|meant|understood|stands? for|is short for|goes?|runs?|reads?|written|said|mentioned|called|call|calls|asked|worked|works|work|made|done|knitted|told|given|explained|described|do|always|all|alike|the|same|way|each time|every time|every one|here|below|above|once|only|from here on|this|these|that|it|so|thus|like|as|as follows|follows|following|in|for|just|simply|then|a round|consists? of|consisting of|when|which|where|but|and|use|using|term|word|how|to|now';
/** Stitches begin here, or where they are worked. */
const STITCHY = `(?=[*([]|(?:on|at|over|along|in|across|with) (?:each|every|all|both|the|either)|(?:each|every|all)(?: of)?(?: the)?(?: (?:\\d|two|three|four|six|eight))? ${PART}|(?:k|p) ?\\d|k2tog|p2tog|k3tog|ssk|skpo?|s2kp|sk2p|sl\\b|slip|knit|purl|yo\\b|yarn over|work (?:to|until|till|up)|(?:k|p) (?:to|until|till|2 tog)|\\d (?:sts?|stitches) )`;
const NO_LEAD = `(?!(?:${TALK}|next|last|first|following|same|cast|row \\d|round \\d)\\b)`;
const BRACKET = '(?: ?[([](?<short>[^()\\n[\\]]{1,48})[)\\]])?';

/**
 * "By a taper round I mean: …", "In every decrease round you work each needle like this: …", "Each segment in a reducing round: …",
 * "Where "pinch" is written, k2tog …". Words for a round, or quotes, mark the name.
 */
export const EXPLAINED = regex.iy`(?<lead>(?:(?<each>${OF_EACH}),? (?=(?:in|of|on) ))?(?:(?:${TALK})(?![a-z])[ ,:.]{1,2}){0,9}?)(?:${NO_LEAD}(?<name>${WORD}(?:[ -]${WORD}){0,2}?) ${WORK_UNIT}(?![a-z])|["“](?<quoted>${WORD}(?:[ -]${WORD}){0,3}?)(?:[ -]${WORK_UNIT})?["”](?: ${WORK_UNIT}(?![a-z]))?|(?<shaped>(?:(?:de|in)creas(?:es|ings?)|(?:de|in)crease(?= ?\()|shaping)(?: (?:method|technique))?))${BRACKET}(?<sign>)(?<long>)(?<says>(?:[ ,]{1,2}(?:${SAYS})(?![a-z])){0,10})(?:[ ,]{1,2}(?<spread>${OF_EACH})(?:[ ,]{1,2}(?:${SAYS})(?![a-z])){0,6}(?=[ ]?:))?(?:[ ]?:[ ]|[ ]?[-–][ ]|(?<loose>[.,]? ))(?:(?:work|you|we|then|do|always|just|simply) ){0,3}${STITCHY}`;

/** "HOW TO DECREASE", "Note on decreasing", "DECREASE ROUND (dr)": alone in its line, over what it means. */
export const ALONE = regex.iy`(?:(?:how to|notes?|tips?|on|for|about|all about|the|working|instructions?|special|method of|technique) ){0,4}(?<name>(?:${WORD}[ -]){0,2}?(?:(?:dec|inc|narrow|widen|shap|tak|reduc)[a-z]*(?: (?:tips?|method|notes?|technique|instructions?))?|(?:${WORD}[ -])${WORK_UNIT}))${BRACKET}(?<sign>)(?<long>)[ ]?:?[ \t]*(?=\n[ \t•-]*(?:\*|[([]|(?:on|at|each|every|all|always|work|knit|before|after|beg|start|k ?\d|k2tog|ssk|make)(?![a-z]{3})|(?:de|in)c(?:rease)?\b))`;

const ONLY_SAYS =
  /\b(?:means?|meant|stands?|says?|said|writes?|written|reads?|calls?|called|terms?|speak|underst\w+|always|all|each|every|whenever|wherever|when|where|to|how|working|making|consist\w*|mention\w*|explain\w*|describe\w*|is|are|goes|runs)\b|\b(?:in|on|for|by) (?:an?|any)\b/i;

/** "Decrease round. Knit 1 round.": rounds in turn, of which nothing is explained. */
export const onlyListed = (lead: string, says: string, loose: string | undefined): boolean =>
  loose !== undefined &&
  (/[.]/.test(loose) ? !/[:.]/.test(lead) : says === '' && (lead === '' || loose === ' '));

/** The words round the name say what it means, and ask for no round here. */
export const onlySays = (lead: string, says: string): boolean => ONLY_SAYS.test(`${lead} ${says}`);

/** Behind a sentence, where another may say what a name means. */
const NEXT = /[.;!] {1,3}(?=\(?[a-z"“])/gi;

/** "Work a taper round: 40 sts. (A taper round is: …)": such a telling on a line of its own. */
export function tellingsApart(text: string): Replacement[] {
  const out: Replacement[] = [];
  for (const { index, 0: stop } of text.matchAll(NEXT)) {
    const at = index + stop.length;
    const open = text[at] === '(';
    EXPLAINED.lastIndex = at + Number(open);
    const m = EXPLAINED.exec(text);
    const { lead = '', says = '' } = m?.groups ?? {};
    const round = m?.groups?.quoted ? lead : '';
    if (!m || says === '' || !onlySays(round, says) || /\n/.test(m[0])) continue;
    const line = text.slice(at).split('\n', 1)[0];
    const end = open ? line.indexOf(')', m[0].length) : line.search(/[.!]\s*$/);
    if (end < 0 || (!open && line.slice(0, end).includes('. '))) continue;
    out.push({ from: index + 1, to: at + Number(open), text: '\n' });
    if (open) out.push({ from: at + end, to: at + end + 1, text: '\n' });
    if (out.length > 20 || lead.length > 60) break;
  }
  return out;
}

/** "On each needle: k1, k2tog, …. This is called the tapering round.": the name told behind. */
const CALLED = regex.gim`^(?<lead>[ \t]{0,8}(?:\d{1,2}[.)] )?(?:[^:\n]{0,60}(?:goes|is worked|worked|works|like this|as follows)[^:\n]{0,20}: )?)(?<body>(?=[*([]|(?:on|at|over|along|in|each|every)\b|k ?\d|k2tog|ssk|knit)[^\n]{12,240}?)[.;,]? (?:(?:this|that|it|which)(?: sort of)?(?: round)? (?:is|will be|i(?:'ll)? call|we(?:'ll)? call)(?: called| known as| named| referred to as)?|(?:we(?:'ll| will)?|i(?:'ll| will)?|let's)? ?call (?:this|it|that)(?: round)?) (?:the |an? |my |our )?["“]?(?<name>${WORD}(?:[ -]${WORD}){0,2}?)["”]?(?:[ -](?:round|rnd|rd|row))["”]?(?: (?:below|from (?:here|now) on|in what follows|in the pattern))?[.!]?[ \t]*$`;

export function namesBehind(text: string): Replacement[] {
  const begun = text.search(/\bcast(?:ing)?[ -]on|\bco\b/i);
  return [...text.matchAll(CALLED)].flatMap(({ index, 0: all, groups }) => {
    const { body = '', name = '' } = groups ?? {};
    if (begun >= 0 && index > begun) return [];
    return [{ from: index, to: index + all.length, text: `${name} round means: ${body}` }];
  });
}

/** "Work the rounds in this order: A, A, B (48), 2 x A": each round on a line of its own. */
const IN_ORDER =
  /\b(?:(?:now |then )?(?:work|knit) )?(?:(?:the|these|your) )?(?:rounds?|rnds?|rows?)?(?: (?:are|is) worked)? ?(?:in (?:the|this) (?:following )?(?:order|sequence|succession)|in turn|in order)[ ]?: ?(?<list>ITEM(?:(?:[ ]?[,;/–-]|,? then|,? and)?[ ]ITEM){2,60})[.]?[ ]*$/;
const ITEM =
  '(?:(?:\\d{1,2} ?x ?)?[a-h](?: ?x ?\\d{1,2})?(?: ?[([]=? ?\\d{1,4}(?: ?sts?| ?stitches)?[)\\]])?)';
const LISTED = new RegExp(IN_ORDER.source.replaceAll('ITEM', ITEM), 'gim');

export function roundsInOrder(text: string): Replacement[] {
  return [...text.matchAll(LISTED)].map((m) => {
    const lines = [...(m.groups?.list ?? '').matchAll(new RegExp(ITEM, 'gi'))].flatMap(([item]) => {
      const many = Number(/(\d{1,2}) ?x|x ?(\d{1,2})/i.exec(item)?.slice(1).find(Boolean) ?? 1);
      const name = /(?<![a-z])[a-h](?![a-z])/i.exec(item)?.[0] ?? '';
      const count = /[([].*$/.exec(item)?.[0] ?? '';
      return Array.from(
        { length: Math.min(many, 60) },
        (_, i) => `Next round: ${name}${i + 1 === many && count ? ` ${count}` : ''}`,
      );
    });
    return { from: m.index, to: m.index + m[0].length, text: lines.join('\n') };
  });
}
