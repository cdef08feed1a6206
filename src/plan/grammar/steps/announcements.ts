/**
 * Words in front of stitches that say how they are worked: "Decrease on each needle:", "Four times in all:", "over
 * every 4 sts work", and behind them: "do this 4 times", "and so on to the end". In: a cursor at such words. Out: how
 * often the stitches are worked, with what else was said kept; null and the cursor unmoved otherwise.
 */
import { NUM } from '../../lex/numbers.ts';
import { STS } from '../../lexicon/words.ts';
import { readAmount } from './amounts.ts';
import { TRAIL_EACH_SIDE } from './each-side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Amount } from './steps.ts';
import { readStitch } from './stitch-words.ts';

/** How often announced stitches are worked; all null where the words only lead to them. */
export interface Announced {
  readonly eachSide: boolean;
  readonly amount: Amount | null;
  /** Other number of times that the words can mean. */
  readonly otherTimes: number | null;
}

const SIDE = '(?:sides?|needles?|dpns?|sections?|quarters?|wedges?|segments?|panels?)';
const EDGE = '(?![a-z0-9])';
const UNIT = '(?:rounds?|rnds?|rows?)';
const NTH = '(?:\\d+(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|next|following|same)';

/** What one stretch of leading words says. */
interface Told {
  strong?: boolean;
  weak?: boolean;
  each?: boolean;
  amount?: Amount;
  change?: number;
  total?: number;
}

interface Chunk {
  readonly re: RegExp;
  readonly says: (m: RegExpExecArray) => Told;
}

function chunk(source: string, says: Chunk['says']): Chunk {
  return { re: new RegExp(`(?:${source})${EDGE}`, 'y'), says };
}

const CHUNKS: readonly Chunk[] = [
  // "repeat the following 4 times", "4 times in all"
  chunk(
    `(?:(?:repeat|rep|work|do)\\s+)?(?:(?:all|the\\s+following|these|this|what\\s+follows)\\s+)?(?:(\\d{1,3})\\s*(?:times|x)|(twice))(?:\\s+(?:in\\s+all|in\\s+total|altogether|over|around))?`,
    (m) => ({ strong: true, amount: { times: m[2] ? 2 : Number(m[1]) } }),
  ),
  // "work * to * 4 times"
  chunk(
    `(?:(?:repeat|rep|work|do)\\s+)?(?:from|between)?\\s*\\*\\s*(?:to|-|and)?\\s*\\*\\s*(?:(\\d{1,3})\\s*(?:times|x)|(twice))(?:\\s+(?:in\\s+all|in\\s+total|altogether|over|around))?(?=\\s*:)`,
    (m) => ({ strong: true, amount: { times: m[2] ? 2 : Number(m[1]) } }),
  ),
  // "over each of the next 4 groups of 12 sts"
  chunk(
    `(?:over|across|on|in|for)\\s+(?:each|every)\\s+(?:of\\s+the\\s+(?:next\\s+)?(${NUM})\\s+)?(?:(?:groups?|sets?|blocks?)\\s+of\\s+)?${NUM}\\s*${STS}`,
    (m) => ({ weak: true, amount: m[1] ? { times: Number(m[1]) } : { kind: 'rest', count: 0 } }),
  ),
  // "24 sts will be on your needles after this round"
  chunk(
    `(${NUM})\\s*${STS}\\s+(?:will|should)\\s+(?:be|remain)(?:\\s+(?:left|on\\s+(?:your|the)\\s+needles?))?(?:\\s+(?:after|at\\s+the\\s+end\\s+of|in)\\s+(?:this|the)\\s+${UNIT})?`,
    (m) => ({ strong: true, total: Number(m[1]) }),
  ),
  // "you make 8 new stitches by yarn overs"
  chunk(
    `(?:make|gain|add)\\s+(${NUM})\\s+(?:new|extra|more)\\s+${STS}(?:\\s+by\\s+(?:yarn\\s*overs?|yos?|increases?|lifted\\s+increases))?`,
    (m) => ({ strong: true, change: Number(m[1]) }),
  ),
  // "increasing 8 sts", "work the decreases"
  chunk(
    `(?:(?:work|make)(?:ing)?\\s+)?(?:the\\s+|a\\s+|your\\s+|these\\s+)?(dec|inc)(?:r?eas(?:e|es|ing)|s)?\\.?(?:\\s+(?:by\\s+)?(?:(${NUM})|an?)(?:\\s*${STS})?)?`,
    (m) => ({
      strong: true,
      ...(m[2] ? { change: (m[1] === 'dec' ? -1 : 1) * Number(m[2]) } : null),
    }),
  ),
  // "on each of the 4 sides", "at both ends of each needle", "every needle"
  chunk(
    `(?:(?:at|on|in|over|along|for|across|to|working|work)\\s+)*(?:(?:the\\s+)?(?:(?:beginning|start)\\s+and\\s+(?:the\\s+)?end|(?:both|each|either)\\s+(?:ends?|sides?|edges?)|cent(?:re|er)|middle|ends?|edges?)\\s+of\\s+)?(?:each|every|all|both)\\s+(?:of\\s+the\\s+)?(?:the\\s+)?(?:\\d+\\s+)?(?:(${SIDE})|corners?|markers?|markers?)`,
    (m) => ({ weak: true, each: m[1] !== undefined }),
  ),
  // "on both sides of the markers", "at the corners", "before and after the markers"
  chunk(
    `(?:at|on|before|beside|each\\s+side\\s+of)\\s+(?:(?:and\\s+after|both\\s+sides\\s+of|either\\s+side\\s+of)\\s+)?(?:the|these)\\s+(?:\\d+\\s+)?(?:corners?|markers?)`,
    () => ({ weak: true }),
  ),
  // "in round 2", "on this round"
  chunk(
    `(?:in|on|for)\\s+(?:(?:the|this)\\s+)?(?:${NTH}\\s+)?${UNIT}(?:\\s+\\d{1,3})?`,
    () => ({}),
  ),
  // "cross the cables"
  chunk(
    '(?:cross|turn|twist|work)(?:ing)?\\s+(?:all\\s+)?(?:of\\s+)?(?:the|your|every|each)\\s+(?:\\d+\\s+)?cables?(?:\\s+(?:to\\s+the\\s+)?(?:left|right))?',
    () => ({ strong: true }),
  ),
  chunk(
    'as\\s+follows|thus|like\\s+(?:this|so)|in\\s+(?:this|the\\s+following)\\s+(?:way|manner)',
    () => ({
      weak: true,
    }),
  ),
  chunk(
    '(?:(?:is|are)\\s+)?(?:all\\s+)?(?:worked|knitted|made|done|work|working)?\\s*(?:(?:in\\s+)?(?:exactly\\s+)?the\\s+same(?:\\s+(?:way|manner))?|alike|in\\s+turn|one\\s+after\\s+the\\s+other)',
    () => ({}),
  ),
  chunk(
    '(?:you|we)(?:\\s+(?:now|will|should))?|now|then|and|so|work(?:ing|ed)?|evenly',
    () => ({}),
  ),
];

/** Words that lead to stitches, up to a colon or the stitches themselves. */
export function readAnnouncement(cursor: StepCursor): Announced | null {
  const start = cursor.i;
  if (readStitch(cursor.text, start)) return null;
  const told: Told = {};
  let colon = false;
  for (let n = 0; n < 12 && !colon; n++) {
    const found = CHUNKS.some(({ re, says }) => {
      const m = cursor.match(re);
      if (m) Object.assign(told, says(m));
      return m !== null;
    });
    if (!found) break;
    cursor.match(/[\s,]+/y);
    colon = cursor.match(told.strong ? /(?:[:.]|-(?=\s))\s*/y : /(?::|-(?=\s))\s*/y) !== null;
  }
  const leads = colon ? told.strong || told.weak : told.weak && !told.strong;
  if (!leads || !stitchesBegin(cursor)) {
    cursor.i = start;
    return null;
  }
  const { change, total, each, amount } = told;
  if (change !== undefined && !each) cursor.promised ??= change;
  if (total !== undefined) cursor.stated ??= { total, perSide: null, change: null };
  return { eachSide: (each ?? false) && !amount, amount: amount ?? null, otherTimes: null };
}

/** Stitches or a repeat of them stand right here. */
function stitchesBegin(cursor: StepCursor): boolean {
  const { text } = cursor;
  const { i } = cursor;
  cursor.match(
    /(?:(?:first|then|now|you|simply|work|(?:begin|start)(?:ning|ing)?\s+with)\s+(?:an?\s+)?)+/y,
  );
  const at = cursor.i;
  cursor.i = i;
  if (/^[([]\s*\d+\s*(?:sts?\b|stitches|[)\]])/.test(text.slice(at, at + 20))) return false;
  return '*([{'.includes(text[at] ?? ' ') || readStitch(text, at) !== null;
}

const NEEDLES = `(?:(?:the\\s+)?(?:(?:${SIDE}|n(?=\\s*\\d))\\s*)?\\d(?:st|nd|rd|th)?(?:\\s*(?:,\\s*and|,|and|&|-|to)\\s*(?:n\\s*)?\\d(?:st|nd|rd|th)?)+(?:\\s+${SIDE})?|(?:(?:all|each|every)\\s+(?:of\\s+)?)?(?:the\\s+)?(?:(?:other|remaining|rem\\.?|rest\\s+of\\s+the|\\d+)\\s+)+${SIDE})`;
const AGAIN = new RegExp(
  `(?:(?:and|then|now)\\s+)*(?:so\\s+on|all\\s+(?:of\\s+)?(?:this|that)|(?:do|work|repeat|rep|make)\\s+(?:exactly\\s+)?(?:all\\s+(?:of\\s+)?)?(?:this|these|that|it|so|the\\s+same|the\\s+above|them|everything)(?:\\s+(?:${NUM}\\s+)?(?:${STS}|steps|sequence|instructions|whole))?)${EDGE}`,
  'y',
);
const ON_NEEDLES = new RegExp(
  `[\\s,]*(?:(?:do|work|repeat|rep|(?:the\\s+|do\\s+the\\s+)?same|likewise)\\s+)?(?:on|for|with|over|along)\\s+${NEEDLES}(?:\\s+(?:the\\s+same|alike|likewise|in\\s+the\\s+same\\s+way))?${EDGE}`,
  'y',
);
/** "over each 24 sts" */
const OVER_EACH = new RegExp(
  `(?:over|across|on)\\s+(?:each|every)\\s+${NUM}\\s*${STS}${EDGE}`,
  'y',
);

/** Words behind stitches that have all of them worked again: "do this 4 times", "repeat on needles 2, 3 and 4". */
export function readAgain(cursor: StepCursor): Announced | null {
  const start = cursor.i;
  const side = { eachSide: true, amount: null, otherTimes: null };
  if (cursor.match(OVER_EACH))
    return { eachSide: false, amount: { kind: 'rest', count: 0 }, otherTimes: null };
  const again = cursor.match(AGAIN);
  if (
    cursor.match(ON_NEEDLES) &&
    (again || /rep|do|work|same|likewise/.test(cursor.text.slice(start, cursor.i)))
  )
    return side;
  if (!again) {
    cursor.i = start;
    return null;
  }
  const read = readAmount(cursor);
  if (read?.times) {
    const { times, more, total } = read.times;
    const repeats = /rep/.test(again[0]) && !total;
    const all = repeats || more ? times + 1 : times;
    return {
      eachSide: false,
      amount: { times: all },
      otherTimes: repeats && !more ? times : null,
    };
  }
  if (read) return { eachSide: false, amount: read.amount, otherTimes: null };
  if (cursor.match(TRAIL_EACH_SIDE)) return side;
  cursor.i = start;
  return null;
}
