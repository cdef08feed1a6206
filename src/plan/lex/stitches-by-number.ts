/**
 * Stitches told with their number in front and the words behind it in any order, as translators and old leaflets do: "2
 * twisted knit together", "2 sts. together in k.", "work 2 together knit through the back", "7 st. k.". In: the designer's
 * text. Out: places, and the same told as a plan of today tells it. Data of `wordings.ts`.
 */
import { raw } from '../lexicon/expression.ts';
import { COUNT, reads, STS, type Wording } from './wording.ts';

/** Where a stitch begins among others, and where it ends. */
const HERE = raw`\b(?<=[,;:*()\[\]][ ]{0,2}|\b(?:then|and|needle|needles|side|section|pin|(?<!(?:knit|purl|work|k|p) )always) |^ {0,8})`;
const DONE = '(?=[ ]{0,2}(?:[,;.*()\\[\\]=]|$)| (?:and|then|&|for|around|to|all|repeat)\\b)';

const VERB = raw`(?:(?:in {1,2})?(?:the )?(?:knit(?:ted)?|purl(?:ed)?|knit ?wise|purl ?wise|k|p|r(?:ight)?|plain|slip(?:ped)?)(?![a-z0-9])\.?)`;
const TOGETHER = '(?:(?:taken |worked )?tog(?:ether)?(?![a-z])\\.?)';
const TWISTED =
  '(?:twisted|crossed|tbl|(?:through|thru|in|into) (?:the )?(?:backs?(?: (?:loops?|legs?|of (?:the )?(?:loops?|sts?|stitch(?:es)?)))?))(?![a-z])';
const LEANS = '(?:to the (?:right|left)(?![a-z])(?: \\((?:k2tog|ssk|skpo?)\\))?)';
const WORD = `(?:${TOGETHER}|${TWISTED}|${VERB}|${LEANS})`;
const NUMBERS: Readonly<Record<string, number>> = { one: 1, two: 2, three: 3, four: 4, five: 5 };

/** What the words come to; null where they tell nothing that a plan knows. */
function told(verb: string | undefined, count: string, words: string): string | null {
  const n = NUMBERS[count.toLowerCase()] ?? count;
  const all = `${verb ?? ''} ${words}`;
  const side = /\bp(?:url(?:ed|wise)?)?\b(?! ?tog)|\bpurl/i.test(all) ? 'p' : 'k';
  const twisted = new RegExp(TWISTED, 'i').test(words) ? ' tbl' : '';
  if (/tog/i.test(words)) {
    if (!(Number(n) >= 2 && Number(n) <= 9)) return null;
    const left = /to the left/i.test(words) && Number(n) === 2;
    return left ? (side === 'p' ? 'ssp' : 'ssk') : `${side}${n}tog${twisted}`;
  }
  if (verb || /to the/i.test(words)) return null;
  if (/slip/i.test(words)) return `slip ${n}`;
  return twisted ? `${side}${n}${twisted}` : `${side === 'p' ? 'purl' : 'knit'} ${n}`;
}

/** "overcast", "overdrawn", "slip-over": a stitch drawn over the one knitted behind it. */
const OVER_NOUN =
  '(?:over[ -]?cast|over[ -]?drawn|over[ -]?draw|slip[ -]?over|surjet|overlaid|covered|pass(?:ed)?[ -]over|draw(?:n)?[ -]over|pull(?:ed)?[ -]over|overlapped|overlap)';
const DECREASE = '(?:s|(?: |-)(?:dec(?:rease)?s?\\b\\.?|sts?\\b|stitch(?:es)?))?';

export const STITCHES_BY_NUMBER: readonly Wording[] = [
  reads(([, verb, count, sts, words]) =>
    /^\d/.test(count) || sts || /tog/i.test(words) ? told(verb, count, words) : null,
  )`${HERE}(?<!\b(?:rounds|rnds|rds|rows)[ ](?:\d|and|to|[ ,&-]){1,30})(?:(knit|purl|k|p|work|take) )?(?:the (?:next )?)?(\d{1,3}|${COUNT})([ ]{1,2}${STS})?((?:[ ]{1,2}(?:${WORD})){1,5})${DONE}`,
  // "knit the 1st and 2nd together", "knit to the last 2 and knit those together"
  reads(
    ([, verb]) => `${/^p/i.test(verb) ? 'p' : 'k'}2tog`,
  )`\b(knit|purl|k|p|work|take) the (?:1st and 2nd|first and second)(?: ${STS})? tog(?:ether)?(?![a-z])`,
  reads(
    ([, before, verb]) => `${before} ${/^p/i.test(verb) ? 'p' : 'k'}2tog`,
  )`((?:to|until) the last (?:2|two)(?: ${STS})?,?(?: and| then)*) (knit|purl|k|p|work|take) (?:those|these|them)(?: (?:2|two))? tog(?:ether)?(?![a-z])`,
  // "knit the first 2 sts of the needle together\"
  reads(
    '$1 the $2 $3 sts together',
  )`\b(knit|purl|k|p|work|take) the (first|last|next) (2|3|two|three)(?: ${STS})? (?:of|on) (?:the|this) (?:needle|side|section|pin) tog(?:ether)?(?![a-z])`,
  // "work 2 sts together as an overdrawn decrease", "the first 2 sts as a slip-over decrease"
  reads(
    '$1',
  )`\b(?:work|knit|take) (?:the )?(?:(?:first|last|next) )?(?:2|3|two|three) ${STS} (?:together )?as (?:an? )?((?:single |simple |double )?${OVER_NOUN}${DECREASE})(?![a-z])`,
  // "4 double overcasts", "1 overdrawn": where the text explains no other
  reads(([, count, sort, noun, after]) => {
    if (count === undefined && sort === undefined && !/dec/i.test(noun)) return null;
    const n = count === undefined ? '' : /^(?:an?|one)$/i.test(count) ? '1 ' : `${count} `;
    return `${n}${/double/i.test(sort ?? after ?? '') ? 'sk2p' : 'skp'}`;
  })`${HERE}(?:(\d{1,3}|an?|one|two|four|six) )?(?:(double|single|simple) )?(${OVER_NOUN}${DECREASE})(?: (simple|single|double))?(?=[ ]?(?:[,;.*()\[\]=]|$)| (?:and|then|over)\b)`,
];
