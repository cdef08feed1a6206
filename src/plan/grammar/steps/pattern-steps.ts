/**
 * Stitches told by a pattern's name or by what is on the needles: `in garter st`, `knit the knits`,
 * `work 5 sts as set`, `cont in pattern to last 2 sts`. Input: a cursor at the words. Output: the step, the
 * cursor behind it; null where there is none.
 */
import { NUM } from '../../lex/numbers.ts';
import { STS } from '../../lexicon/words.ts';
import { nothingFollows, readAmount } from './amounts.ts';
import { GAP, type StepCursor } from './step-cursor.ts';
import type { Amount, PatternRule, Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';

const PATTERNS: readonly { re: RegExp; rule: PatternRule }[] = [
  {
    re: /(?:work(?:ing)?\s+)?(?:k(?:nit)?\s+(?:all\s+|into\s+)?(?:the\s+)?(?:k|knit)s?(?:\s+(?:sts?|stitches))?\s*(?:,|and|&)?\s*(?:and\s+)?p(?:url)?\s+(?:all\s+|into\s+)?(?:the\s+)?(?:p|purl)s?(?:\s+(?:sts?|stitches))?(?![a-z0-9])|(?:all\s+)?(?:the\s+)?(?:sts?|stitches)\s+as\s+they\s+(?:appear|present(?:\s+themselves)?|face(?:\s+you)?|come|show|look))/y,
    rule: 'knits',
  },
  {
    re: /(?:work(?:ing)?\s+)?(?:k(?:nit)?\s+(?:all\s+)?(?:the\s+)?(?:p|purl)s?(?:\s+(?:sts?|stitches))?\s*(?:,|and|&)?\s*(?:and\s+)?p(?:url)?\s+(?:all\s+)?(?:the\s+)?(?:k|knit)s?(?:\s+(?:sts?|stitches))?(?![a-z0-9])|(?:work\s+)?(?:in\s+)?(?:seed|moss)(?:\s+st(?:itch)?)?(?:\s+as\s+(?:set|established))?(?![a-z]))/y,
    rule: 'seed',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?garter(?:\s+st(?:itch)?\.?)?(?:\s+as\s+(?:set|established))?(?![a-z])/y,
    rule: 'garter',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?rev(?:erse)?\.?\s+(?:stoc?k(?:inette|ing)(?:\s+st(?:itch)?)?|st\.?\s*st\.?)(?![a-z])/y,
    rule: 'reverse',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?(?:stoc?k(?:inette|ing)(?:\s+st(?:itch)?\.?)?|st\.?\s*st\.?|stst)(?![a-z])/y,
    rule: 'stockinette',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?|keep)\s+)?(?:(?:in\s+)?(?:the\s+)?(?:est(?:ablished)?\.?\s+)?(?:pat(?:t|tern)?s?\.?|rib(?:bing)?)(?:\s+as\s+(?:set|est(?:ablished)?\.?|before))?|(?:in\s+)?(?:as\s+(?:set|est(?:ablished)?\.?|before|usual))|even(?:\s+in\s+pat(?:t|tern)?)?|straight|across|all\s+(?:the\s+)?(?:sts?|stitches)(?:\s+as\s+(?:set|est(?:ablished)?))?)(?![a-z])/y,
    rule: 'set',
  },
  { re: /(?:work|patt)(?![a-z])/y, rule: 'set' },
];
const PATTERN_COUNT = new RegExp(
  `\\s*(?:(?:over|across|for)\\s+)?(?:the\\s+)?(?:next\\s+|first\\s+|last\\s+)?(${NUM})(?!\\s*(?:rounds?|rnds?|rows?|cm|inch|ins?\\b|"))\\s*(?:${STS})?(?:\\s+(?:as\\s+(?:set|est(?:ablished)?)|in\\s+pat(?:t|tern)?(?:\\s+as\\s+(?:set|established))?))?(?![a-z0-9])`,
  'y',
);

export function readPattern(cursor: StepCursor): Step | null {
  const at = cursor.i;
  const c = cursor.text[at];
  if (!'kpwgsrceaimn'.includes(c) || /^[kp]\d/.test(cursor.text.slice(at, at + 2))) return null;
  const first = PATTERNS.find(({ re }) => cursor.match(re));
  if (!first) return null;
  let amount: Amount | null = null;
  const m = cursor.match(PATTERN_COUNT);
  if (m) amount = { times: Number(m[1]) };
  // "work to last 2 sts as set", "work in pattern as set to marker"
  const read = readAmount(cursor);
  if (read && amount === null) amount = read.amount;
  // "as set, decreasing on rounds 6, 8 and 10"
  cursor.match(
    /[\s,]*(?:dec|inc)[a-z]*\s+(?:as\s+before\s+)?on\s+(?:rounds?|rnds?|rows?)\s+\d+(?:\s*(?:,|and|&|-|,\s*and)\s*\d+)*/y,
  );
  const rule = readLateRule(cursor, first.rule);
  const again = amount === null ? readAmount(cursor) : null;
  if (again) amount = again.amount;
  const bare = /^(?:work|across|even|patt)\s*$/.test(cursor.text.slice(at, cursor.i));
  if (first.rule === 'set' && amount === null && bare && !nothingFollows(cursor)) {
    return readVerbOnly(cursor, at);
  }
  return {
    kind: 'pattern',
    rule,
    amount: amount ?? { kind: 'rest', count: 0 },
    ...cursor.span(at),
  };
}

/** The rule named behind the amount ("work 5 sts in garter st"), else `rule`. */
function readLateRule(cursor: StepCursor, rule: PatternRule): PatternRule {
  const start = cursor.i;
  cursor.match(/[\s,]*/y);
  const word = cursor.text.slice(cursor.i, cursor.i + 3);
  const opens = /^(?:in|as|eve|str)/.test(word) && !/^as\s*f/.test(word);
  for (const late of opens ? PATTERNS : []) {
    if (rule !== 'set' && late.rule === 'set') break;
    if (late.rule === 'knits') continue;
    if (cursor.match(late.re)) return late.rule;
  }
  // A comma stays read, a mere space doesn't.
  if (cursor.text.slice(start, cursor.i).trim() === '') cursor.i = start;
  return rule;
}

/** "work" before stitches is only a verb: an empty group, so that nothing is worked. */
function readVerbOnly(cursor: StepCursor, at: number): Step | null {
  const end = cursor.i;
  cursor.match(GAP);
  const c = cursor.text[cursor.i];
  const follows = c === '*' || c === '(' || c === '[' || readStitch(cursor.text, cursor.i) !== null;
  if (!follows) {
    cursor.i = at;
    return null;
  }
  cursor.i = end;
  return cursor.group([], at, { times: 1 });
}
