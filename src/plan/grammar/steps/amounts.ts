/**
 * How often or how far a step is worked: `5 times`, `x 4`, `twice more`, `to last 2 sts`, `to 3 sts before marker`,
 * `around`, `over next 8 sts`. In: a cursor behind the step. Out: the amount, the cursor behind it; null and the cursor
 * unmoved where there is none.
 */
import { readIdleWords } from './idle-words.ts';
import { readPlace } from './places.ts';
import { GAP, type StepCursor } from './step-cursor.ts';
import type { Amount, Target } from './steps.ts';
import { wording } from './wording.ts';

const TO = wording('even|across|around|along|on|straight? { up? to|until | as far as | till }');
const AGAIN =
  '{ over and over again? | again and again | on and on | in|by turn|turns|alternation | all? the? { way } along | all along | and? so on|forth | turn and turn about | round and round | repeatedly|alternately|alternating }';
/** "over and over until 6 stitches are left" */
const AGAIN_TO = wording(AGAIN, '(?=\\s*,?\\s*(?:until|till|to|up\\s+to)\\s)');
/** Over how many: as far as the stitches told, or to the end. */
const NEXT: readonly RegExp[] = [
  wording(
    'over|across|in|into|on|for|with the? next|first|following|foll|foll.|last|remaining # @sts',
  ),
  wording('over|across|on|for the|these|those? # @sts'),
];
/** "knit one, purl one, over and over" */
export const OVER_AND_OVER = wording(
  `${AGAIN} { right|all? { across|along|over|through|throughout|round|around { all? of? the|this whole|entire? @stretch|stitches|sts }? } }?`,
  '(?=\\s*(?:[.;,)(=-]|and\\b|then\\b|ending\\b|finishing\\b|with\\b|$))',
);
const REST: readonly RegExp[] = [
  OVER_AND_OVER,
  // "k all"
  wording(
    'all { of? the? @sts }?',
    '(?=\\s*(?:[.;,)=]|[([]\\s*=?\\s*\\d+\\s*(?:sts?|stitches)?\\s*[)\\]]|$))',
  ),
  wording(
    'over|across|around|in|into|on { each|every|all | the remaining|rem|whole|entire } { of the }? remaining|rem? #? { @sts | @unit }',
  ),
  // "knit into the back of every st"
  wording('of each|every|all { of? the }? @sts'),
  // "the rest of the wedge", "what is left", "all that remains on the needle"
  wording(
    'for|over|across|along? { the? rest|remainder | what|whatever|all { that|which }? is|are|remains|remain left|over? } { of|on|in { the|this|that|each|every|your? @stretch | it|them } }?',
    '(?!\\s*(?:in|are|is|as|of|on|at)\\b)',
  ),
  wording(
    'for|over|along|through|throughout? { the|this whole|entire | all of? the|this } @stretch',
  ),
  // "knit the round out", "knit the round to its end"
  wording(
    'out? the|this round|rnd|row|needle|pin|side|section { out | to its|the end }',
    '(?=\\s*(?:[.,;(=-]|$))',
  ),
  wording('out the|this round|rnd|row|needle|pin|side'),
  wording(
    '{ all the? way? round|rnd | all the way | all? { the way }? { around|across|along|round|throughout|continuously|continually | all round | at a time } } { the|this? whole|entire? @stretch }?',
  ),
];

function matchAny(cursor: StepCursor, list: readonly RegExp[]): RegExpExecArray | null {
  for (const re of list) {
    const m = cursor.match(re);
    if (m) return m;
  }
  return null;
}

/** "to last 2 sts", "around"; null and the cursor unmoved otherwise. */
function readTarget(cursor: StepCursor): Target | null {
  const at = cursor.i;
  const c = cursor.text[at];
  if (c === undefined || !'tuaoiewlsfrcb'.includes(c)) return null;
  if (cursor.match(AGAIN_TO)) cursor.match(/[\s,]+/y);
  if (cursor.match(TO)) {
    cursor.match(/\s+/y);
    const to = readPlace(cursor);
    if (to) return to;
    cursor.i = at;
  }
  const next = matchAny(cursor, NEXT);
  if (next) return { kind: 'next', count: Number(next[1]) };
  if (!matchAny(cursor, REST)) return null;
  // "around to last 2 sts", "in each st to end": the narrower wording counts.
  const end = cursor.i;
  cursor.match(/[\s,]+/y);
  const inner = readTarget(cursor);
  if (!inner) cursor.i = end;
  return inner ?? { kind: 'rest', count: 0 };
}

export interface ReadTimes {
  readonly times: number;
  /** "3 more times": on top of what has been worked. */
  readonly more: boolean;
  /** "3 times in total". */
  readonly total: boolean;
}

const MORE = 'more|further|additional|extra';
const TOTAL =
  '{ in total | total|altogether | in all | in succession | in a row | one|1 after the other }';
const TIMES: readonly RegExp[] = [
  wording('{ in total|all | altogether } # times|x', '(?![a-z0-9])'),
  wording(
    `for? { a total of }? for? another|a|an? # ${MORE}? times|time|rep|reps|repeats ${MORE}? ${TOTAL}?`,
  ),
  wording(`{ a total of }? { once|twice|thrice | one time } ${MORE}? ${TOTAL}?`),
  wording(`# x { ${TOTAL} | ${MORE} }`),
  wording('x|times #', '(?![a-z0-9/])'),
  // not "k1, * 2 st. knit together"
  wording('* #', '(?![a-z0-9/]|\\s*(?:sts?\\b|stitch|knit|purl|slip|[kp]\\b|tog))'),
  // not "k1, 4 x (k2, p2)", but "4x (112 sts)"
  wording('# x', '(?![a-z0-9]|\\s*[([{*](?!\\s*=?\\s*\\d+\\s*(?:sts?|stitches)?\\s*[)\\]}]))'),
  wording(`# ${MORE}`, '(?![a-z\\s]*(?:rounds?|rnds?|rows?|sts?\\b|stitch))'),
];
/** "4 times around", "4 times over" */
const AROUND = wording(
  '{ around|over|across|this|so | like this | in|on|per|each|every the|each|every? round|rnd|row }',
  '(?=\\s*(?:[.,;(=-]|$))',
);

/** "5 times", "x 3", "(twice more)"; null and the cursor unmoved otherwise. An `x` stands for ×. */
function readTimes(cursor: StepCursor): ReadTimes | null {
  const at = cursor.i;
  const open = cursor.match(/[([]\s*/y);
  const m = matchAny(cursor, TIMES);
  if (!m || (open && !cursor.match(/\s*[)\]]/y))) return cursor.back(at, null);
  const end = cursor.i;
  if (!cursor.match(/\s+/y) || !cursor.match(AROUND)) cursor.i = end;
  return {
    times:
      m[1] === undefined ? (/thrice/.test(m[0]) ? 3 : /twice/.test(m[0]) ? 2 : 1) : Number(m[1]),
    more: /\b(?:more|further|additional|extra|another)\b/.test(m[0]),
    total: /total|altogether|\bin\s+all/.test(m[0]),
  };
}

export interface ReadAmount {
  readonly amount: Amount;
  /** How a number of times was worded; null for a target. */
  readonly times: ReadTimes | null;
}

const TO_THE_END =
  /[\s,]*(?:to|until)\s+(?:the\s+|you\s+(?:reach|come\s+to)\s+the\s+)?end(?![a-z])(?:\s+of\s+(?:the\s+)?(?:round|rnd|row))?/y;

/** Times or a target, with any gap before it. */
export function readAmount(cursor: StepCursor): ReadAmount | null {
  const start = cursor.i;
  cursor.match(/[\s,;]+/y);
  // "[…] - 4 times"
  cursor.match(/-\s+(?=\d{1,3}\s*(?:times|x)(?![a-z0-9]))/y);
  const times = closesStar(cursor) ? null : readTimes(cursor);
  if (times) {
    // "3 times to end", "3 times around": the target only repeats what the number says.
    cursor.match(TO_THE_END);
    return { amount: { times: times.times }, times };
  }
  const target = readTarget(cursor);
  if (target) return { amount: target, times: null };
  return cursor.back(start, null);
}
/** How often in all, for what has not been worked yet: "3 more times" means once and 3 times more. */
export function timesInAll(times: ReadTimes): number {
  return times.more ? times.times + 1 : times.times;
}

/** The asterisk here closes an open one; only right behind a bracket can it still mean "times". */
function closesStar(cursor: StepCursor): boolean {
  const { text, i } = cursor;
  if (text[i] !== '*' || !cursor.scopes.some((s) => s.length > 0)) return false;
  return !(/[)\]}]/.test(text[i - 1] ?? '') && /^\*\d+(?!\s*times)/.test(text.slice(i, i + 12)));
}

/** Only the end of the round, a turn or a stated count comes behind this place. */
export function nothingFollows(cursor: StepCursor): boolean {
  const { i, colour, stated, promised } = cursor;
  while (cursor.match(GAP) || readIdleWords(cursor));
  const only = cursor.i > i && endsHere(cursor);
  Object.assign(cursor, { i, colour, stated, promised });
  return only || endsHere(cursor);
}

function endsHere(cursor: StepCursor): boolean {
  return /^(?:\s|[.,;]|turn|plac(?:e|ing) (?:a )?markers? (?:in|after) (?:sts|every) [\d, ]+(?:every \d+|sts)?|removing markers|(?:work|knit|treat)ing\s+(?:each|every|the|all)\s+(?:double|wrapped)\s+(?:sts?|stitch(?:es)?)\s+as\s+(?:1|one)(?:\s+(?:st|stitch))?(?![a-z])|\.\s*\([^()\d]*\)|\([^a-z]*(?:\d+\s*(?:sts?|stitches)[^)]*)?\)|[-=]\s*\d+\s*(?:sts?|stitches)?)*$/.test(
    cursor.text.slice(cursor.i, cursor.i + 200),
  );
}
