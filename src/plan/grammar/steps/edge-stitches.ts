/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import { ON_NEEDLES, TRAIL_EACH_SIDE } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import { type Amount, betweenEdges, type Step, shapedAtEnds } from './steps.ts';
import { type ReadStitch, readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

const BEFORE_MARKERS = wording(
  'k|knit { tog|together the last # @sts | { the last }? # @sts? tog|together } before each|every|all the? marker|markers',
);

const TWO = '{ k2tog | k|knit|knitting|take|taking|work|working # @sts? tog|together }';
const OF_EACH = 'of|on each|every|all the? @side';
/** "knit 2 together at both ends of every needle", "… at the beginning of each needle and again at the end" */
const BOTH_ENDS = wording(
  `${TWO} { at|on|in both|each|either end|ends|edge|edges ${OF_EACH} | at the beginning|start { and the? end ${OF_EACH} | ${OF_EACH} and again? at the end { of it|them | ${OF_EACH} }? } } { ,|and? knitting|working { the rest }? plain? in? between? them? }?`,
);
/** "knit the first 2 and the last 2 sts of every needle together" */
const FIRST_AND_LAST = wording(
  `k|knit|knitting|work|take the? first # @sts? and the? last # @sts? ${OF_EACH} tog|together`,
);
/** "knit the 3 sts on each needle together" */
const ALL_OF_EACH = wording(
  `k|knit the|all|remaining|last|those* # @sts? { that|which remain|are left? }? ${OF_EACH} tog|together`,
);

/** Stitches knitted together on every needle: at both its ends, or all it holds. */
function readTogether(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const ends = cursor.match(BOTH_ENDS) ?? cursor.match(FIRST_AND_LAST);
  const all = ends ? null : cursor.match(ALL_OF_EACH);
  const numbers = (ends ?? all)?.slice(1).filter((n) => n !== undefined) ?? [];
  if (!ends && !all) return false;
  const n = Number(numbers[0] ?? 2);
  const name = `k${n}tog`;
  if (!stitchKind(name) || numbers.some((k) => Number(k) !== n)) {
    cursor.i = at;
    return false;
  }
  const span = cursor.span(at);
  const last = items[items.length - 1];
  // "knit, knitting 2 together …": one instruction.
  if (ends && last?.kind === 'stitch' && !('times' in last.amount)) items.pop();
  const stitch = (of: string, amount: Amount): Step => ({
    kind: 'stitch',
    name: of,
    amount,
    ...span,
  });
  const once = stitch(name, { times: 1 });
  const plain = stitch('k', { kind: 'end', count: n });
  items.push(cursor.eachSide(ends ? [once, plain, once] : [once], at));
  return true;
}

export function readAtEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (readTogether(cursor, items) || readBothEdges(cursor, items)) return true;
  const before = cursor.match(BEFORE_MARKERS);
  if (!before) return false;
  const last = Number(before[1] ?? before[2]);
  items.push(cursor.eachSide(betweenEdges(null, `k${last}tog`, last, cursor.span(at)), at));
  return true;
}

const SIDE =
  '{ it|them | each|every|the|a|this|that|your|all|both|one|same* { @side | round|rnd|row } }';
const NEAR = 'just|immediately|right|directly?';
const NEXT = 'each|every|the|next|following|other* next|following|other? marker|markers|m|one|1';
const FIRST = `{ at the|its? beginning|beg|start { of ${SIDE} }? | ${NEAR} after|past each|every|the marker|m }`;
const LAST = `{ at the|its? end { of ${SIDE} }? | there | ${NEAR} before ${NEXT} }`;
const FIRST_LED = wording(`{ ${FIRST} | begin|start ${SIDE} with } ,? work?`, '\\s+');
const FIRST_TOLD = wording(`~\\s+ ${FIRST}`);
const LAST_LED = wording(`{ ${LAST} | end|finish ${SIDE} with } ,? work?`, '\\s+');
const LAST_TOLD = wording(`~\\s+ ${LAST}`);
const AND = wording('~[\\s,;]* and? then?', '\\s*');
/** "knit across", "knitting the rest plain in between" */
const BETWEEN = wording(
  `~[\\s,;]* and|then|with* knit|knitting|working|k|work { the rest | the|all @sts }? plain? { { across|along|over { it | the @side }? | to|until the? end of it|the|side* | in? between { them | the @side }? } | ~(?<=rest|plain|sts|stitches) }`,
);

const ALL_ROUND = /[\s,]*all\s+(?:the\s+way\s+)?a?round(?![a-z])/y;

/** "ssk at the start of each side, knit across, k2tog at the end of it", "at the beginning of each needle ssk, at the end k2tog" */
function readBothEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const edge = (led: RegExp, told: RegExp): string | null => {
    const ahead = cursor.match(led) !== null;
    const stitch = stitchHere(cursor);
    if (!stitch || stitch.amount || !(ahead || cursor.match(told))) return null;
    return stitch.name;
  };
  const first = edge(FIRST_LED, FIRST_TOLD);
  let knits = first !== null && cursor.match(BETWEEN) !== null;
  if (first !== null) cursor.match(AND);
  const second = first === null ? null : edge(LAST_LED, LAST_TOLD);
  const wide = second !== null && stitchKind(second)?.consumes;
  if (first === null || second === null || !wide) {
    cursor.i = at;
    return false;
  }
  if (cursor.match(BETWEEN)) knits = true;
  const plain = cursor.stitch('k', at, { kind: 'end', count: wide });
  const steps = betweenEdges(first, second, wide, cursor.span(at));
  if (knits) steps.splice(1, 1, plain);
  if (/\b(?:each|every|all|both)\b/.test(cursor.text.slice(at, cursor.i))) {
    if (!cursor.match(TRAIL_EACH_SIDE) && !cursor.match(ON_NEEDLES)) cursor.match(ALL_ROUND);
    items.push(cursor.eachSide(steps, at));
  } else items.push(...steps);
  return true;
}

function stitchHere(cursor: StepCursor): ReadStitch | null {
  const read = readStitch(cursor.text, cursor.i);
  if (read) cursor.i = read.end;
  return read;
}

const ON_EACH = wording(
  '~(dec|inc)(?:r?eas(?:e|ing))?(?![a-z])\\.? # @sts on|in|along|per|for each|every? @side',
  '(?!\\s+of)',
);

/** "knit, decreasing 2 sts on each needle": at both ends of it, or evenly along it. */
export function readShapingOnEach(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const m = cursor.match(ON_EACH);
  if (!m) return false;
  const last = items[items.length - 1];
  // "knit, decreasing …": one instruction.
  if (last?.kind === 'stitch' && !('times' in last.amount)) items.pop();
  const decrease = m[1] === 'dec';
  const times = Number(m[2]);
  const span = cursor.span(at);
  const steps: Step[] =
    times === 2
      ? shapedAtEnds(decrease, span)
      : [{ kind: 'spread', name: decrease ? 'k2tog' : 'm1', times, ...span }];
  items.push(cursor.eachSide(steps, at));
  return true;
}
