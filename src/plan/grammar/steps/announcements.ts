/**
 * Words in front of stitches that say how they are worked: "Decrease on each needle:", "Four times in all:", "over
 * every 4 sts work", and behind them: "do this 4 times", "and so on to the end". In: a cursor at such words. Out: how
 * often the stitches are worked, with what else was said kept; null and the cursor unmoved otherwise.
 */
import { readAmount } from './amounts.ts';
import { cornersIn, ON_NEEDLES, TRAIL_EACH_SIDE } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Amount } from './steps.ts';
import { readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

/** How often announced stitches are worked; all null where the words only lead to them. */
export interface Announced {
  readonly eachSide: boolean;
  readonly amount: Amount | null;
  /** Other number of times that the words can mean. */
  readonly otherTimes: number | null;
  /** They stand about each corner: "decrease at each corner: k2tog, ssk". */
  readonly corner?: boolean;
  /** At every marker, unless the stitches say themselves how often. */
  readonly atMarkers?: boolean;
}

/** What one stretch of leading words says. */
interface Told {
  strong?: boolean;
  weak?: boolean;
  each?: boolean;
  corner?: boolean;
  atMarkers?: boolean;
  amount?: Amount;
  change?: number;
  total?: number;
  /** What follows says it again in stitches. */
  on?: boolean;
}

interface Chunk {
  readonly re: RegExp;
  readonly says: (m: RegExpExecArray) => Told;
}

function chunk(rule: string, says: Chunk['says']): Chunk {
  return { re: wording(rule), says };
}

const IN_ALL =
  '{ in all|total|succession | in a row | one after the other | altogether|over|around }';
const often: Chunk['says'] = (m) => ({
  strong: true,
  amount: { times: m[1] === undefined ? 2 : Number(m[1]) },
});

const CHUNKS: readonly Chunk[] = [
  // "repeat the following 4 times", "4 times in all"
  chunk(
    `repeat|rep|work|do? { all|these|this | the following | what follows }? { # times|x | twice } ${IN_ALL}?`,
    often,
  ),
  // "work * to * 4 times"
  chunk(
    `repeat|rep|work|do? from|between? * to|-|and? * { # times|x | twice } ${IN_ALL}? ~\\s*(?=:)`,
    often,
  ),
  // "over each of the next 4 groups of 12 sts"
  chunk(
    'over|across|on|in|for each|every { of the next? # }? { group|groups|set|sets|block|blocks of }? ~\\d{1,7}(?!\\d) @sts',
    (m) => ({ weak: true, amount: m[1] ? { times: Number(m[1]) } : { kind: 'rest', count: 0 } }),
  ),
  // "24 sts will be on your needles after this round"
  chunk(
    '# @sts will|should be|remain { left | on your|the needle|needles }? { { after|in | at the end of } this|the @unit }?',
    (m) => ({ strong: true, total: Number(m[1]) }),
  ),
  // "you make 8 new stitches by yarn overs"
  chunk(
    'make|gain|add # new|extra|more @sts { by { yarn overs|over | yarnover|yarnovers|yo|yos|increase|increases } }?',
    (m) => ({ strong: true, change: Number(m[1]) }),
  ),
  // "decrease once more, leaving out the k1s: …"
  chunk('~(?:dec|inc)(?:r?ease|r)?(?![a-z])\\.? one|once more|last|final time?', () => ({
    strong: true,
  })),
  chunk(
    'now|but|this|time* leaving|omitting|skipping|dropping|without out? the|any|your? { k1|p1|plain|edge|first|last|knit|k1s|p1s }* @sts?',
    () => ({}),
  ),
  // "increasing 8 sts", "work the decreases"
  chunk(
    'work|working|make|making? the|a|your|these? ~\\b(dec|inc)(?:r?eas(?:e|es|ing)|s)?(?![a-z])\\.? { by? { # | a|an } @sts? }?',
    (m) => ({
      strong: true,
      ...(m[2] ? { change: (m[1] === 'dec' ? -1 : 1) * Number(m[2]) } : null),
    }),
  ),
  // "decrease 1 st at both ends of each needle (k2tog, k to last 2, ssk)"
  chunk('~(dec|inc)(?:r?ease|r|s)?(?![a-z])\\.? { by? { # | a|an } @sts? }?', (m) => ({
    strong: true,
    ...(m[2] ? { change: (m[1] === 'dec' ? -1 : 1) * Number(m[2]) } : null),
  })),
  // "on both sides of the markers", "at the corners", "before and after the markers"
  chunk(
    '{ at|on|before|beside | each side of } { and after | both|either side|sides of }? the|these|each|every|all the? #? @corner',
    (m) => ({ weak: true, corner: true, atMarkers: /markers?$/.test(m[0]) }),
  ),
  // "on each of the 4 sides", "at both ends of each needle", "every needle"
  chunk(
    'at|on|in|over|along|for|across|to|working|work* { the? { beginning|start and the? end | both|each|either end|ends|side|sides|edge|edges | center|centre|middle|end|ends|edge|edges } of }? each|every|all|both { of the }? the? #? { @corner | @side }',
    (m) => {
      const corner = /(?:corner|marker)s?$/.test(m[0]);
      return { weak: true, each: !corner, corner, atMarkers: /markers?$/.test(m[0]) };
    },
  ),
  // "at each marked st: knit to 1 st before it, …"
  chunk(
    'at|on|in|for|with? each|every|all|both { of the }? the? #? marked|corner|centre|center|middle|pinned @sts ~(?=\\s*[:,-])',
    () => ({ weak: true, each: true }),
  ),
  // "…, i.e. work to the last 3 sts"
  chunk('{ i.e.|ie|namely|viz|meaning | that|this is|means { to say }? } ,|:?', () => ({
    on: true,
  })),
  chunk('per needle|side|section|edge|dpn|wedge|quarter', () => ({ weak: true, each: true })),
  // "in round 2", "on this round"
  chunk('in|on|for the|this? %|next|following|same? @unit #?', () => ({})),
  // "cross the cables"
  chunk(
    'cross|crossing|turn|turning|twist|twisting|work|working all? of? the|your|every|each #? cable|cables { { to the }? left|right }?',
    () => ({ strong: true }),
  ),
  chunk('{ as follows | thus | like this|so | in { this | the following } way|manner }', () => ({
    weak: true,
  })),
  chunk(
    'is|are? all? worked|knitted|made|done|work|working? { in? exactly? the same way|manner? | alike | in turn | one after the other }',
    () => ({}),
  ),
  chunk(
    '{ you|we now|will|should? | now|then|and|so|but|working|worked|evenly | work ~(?!\\s*(?:to|until|till|even|in)\\b) }',
    () => ({}),
  ),
];

/** Words that lead to stitches, up to a colon or the stitches themselves. */
export function readAnnouncement(cursor: StepCursor): Announced | null {
  const start = cursor.i;
  // "Increase on each needle: …" leads to the stitches that do so.
  const shapes = /^(?:de|in)c(?:r?ease)?s? (?!in\b(?! this| the following))/.test(
    cursor.text.slice(start, start + 30),
  );
  if (!shapes && readStitch(cursor.text, start)) return null;
  const told: Told = {};
  let colon = false;
  for (let n = 0; n < 12; n++) {
    const found = CHUNKS.some(({ re, says }) => {
      const m = cursor.match(re);
      if (m) Object.assign(told, says(m));
      return m !== null;
    });
    if (!found) break;
    cursor.match(/[\s,]+/y);
    const marked = cursor.match(told.strong ? /(?:[:.]|-(?=\s))\s*/y : /(?::|-(?=\s))\s*/y);
    const opens =
      told.strong &&
      (told.each || told.change !== undefined) &&
      '(['.includes(cursor.text[cursor.i] ?? ' ');
    colon ||= marked !== null || told.on === true || opens === true;
  }
  const leads = colon ? told.strong || told.weak : told.weak && !told.strong;
  if (!leads || !stitchesBegin(cursor)) return cursor.back(start, null);
  const { change, total, each, amount, atMarkers = false } = told;
  if (change !== undefined && !each) cursor.promised ??= change;
  if (total !== undefined) cursor.stated ??= { total, perSide: null, change: null };
  const corner = told.corner === true && !each && !amount;
  const eachSide = (each ?? false) && !amount;
  return { eachSide, amount: amount ?? null, otherTimes: null, corner, atMarkers };
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
  const upTo = /^(?:(?:then|now|you|simply) )*work (?:to|until|till|even|in)\b/.test(
    text.slice(i, i + 30),
  );
  const edges =
    /^(?:start|begin)(?:ning|ing)? (?:each|every|with)|^at the (?:start|beginning|beg)\b/.test(
      text.slice(i, i + 30),
    );
  return upTo || edges || '*([{'.includes(text[at] ?? ' ') || readStitch(text, at) !== null;
}

const AGAIN = wording(
  'and|then|now* { so on | all of? this|that | the same again | do|work|repeat|rep|make exactly|just? { all of? }? { this|these|that|it|so|them|everything | the same | the above } { { # }? { @sts | steps|sequence|instructions|whole } }? } { again|over|likewise | once more }*',
);
/** "over each 24 sts" */
const OVER_EACH = wording('over|across|on each|every # @sts');

/** Words behind stitches that have all of them worked again: "do this 4 times", "repeat on needles 2, 3 and 4". */
export function readAgain(cursor: StepCursor): Announced | null {
  const start = cursor.i;
  const side = { eachSide: true, amount: null, otherTimes: null };
  if (cursor.match(OVER_EACH))
    return { eachSide: false, amount: { kind: 'rest', count: 0 }, otherTimes: null };
  const again = cursor.match(AGAIN);
  if (
    cursor.match(ON_NEEDLES) &&
    (again || /rep|do|work|same|like/.test(cursor.text.slice(start, cursor.i)))
  )
    return side;
  if (!again) return cursor.back(start, null);
  const read = readAmount(cursor);
  if (read?.times) {
    const { times, more, total } = read.times;
    const repeats = /rep|same again/.test(again[0]) && !total;
    const all = repeats || more ? times + 1 : times;
    return {
      eachSide: false,
      amount: { times: all },
      otherTimes: repeats && !more ? times : null,
    };
  }
  if (read) return { eachSide: false, amount: read.amount, otherTimes: null };
  const trail = cursor.match(TRAIL_EACH_SIDE);
  const times = trail && cornersIn(trail[0]);
  if (times) return { eachSide: false, amount: { times }, otherTimes: null };
  if (trail) return side;
  return cursor.back(start, null);
}
