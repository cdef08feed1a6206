/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
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
  if (readTogether(cursor, items) || readEdgeLast(cursor, items) || readEdgeFirst(cursor, items))
    return true;
  const before = cursor.match(BEFORE_MARKERS);
  if (!before) return false;
  const last = Number(before[1] ?? before[2]);
  items.push(cursor.eachSide(betweenEdges(null, `k${last}tog`, last, cursor.span(at)), at));
  return true;
}

const BEGINNING = 'at the beginning|beg|start';
const EDGE_FIRST = wording(`${BEGINNING} of each|every @side ,? work?`, '\\s*');
const EDGE_SECOND = wording(
  '~[\\s,;]* and? at the end { of { each|every|the @side|one|same } }? ,? work?',
  '\\s*',
);

/** "at the beginning of each needle ssk, at the end k2tog" */
function readEdgeFirst(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const first = cursor.match(EDGE_FIRST) && stitchHere(cursor);
  const second = first && cursor.match(EDGE_SECOND) ? stitchHere(cursor) : null;
  const wide = second && stitchKind(second.name)?.consumes;
  if (!first || !second || !wide) {
    cursor.i = at;
    return false;
  }
  items.push(cursor.eachSide(betweenEdges(first.name, second.name, wide, cursor.span(at)), at));
  return true;
}

function stitchHere(cursor: StepCursor): ReadStitch | null {
  const read = readStitch(cursor.text, cursor.i);
  if (read) cursor.i = read.end;
  return read;
}

const AT_BEGINNING = wording(`~\\s+ ${BEGINNING} and`, '\\s+');
const AT_END = wording(
  '~\\s+ at the end { of { each|every|all|both the? @side | the|this round|rnd|row } }? { ,|and? knitting|working { the rest | the|all @sts }? plain? in? between? them? }?',
);

/** "ssk at the beginning and k2tog at the end of every needle" */
function readEdgeLast(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const first = stitchHere(cursor);
  const second = first && !first.amount && cursor.match(AT_BEGINNING) ? stitchHere(cursor) : null;
  const wide = second && stitchKind(second.name)?.consumes;
  const ends = wide && !second.amount ? cursor.match(AT_END) : null;
  if (!first || !second || !wide || !ends) {
    cursor.i = at;
    return false;
  }
  const steps = betweenEdges(first.name, second.name, wide, cursor.span(at));
  if (/\b(?:each|every|all|both)\b/.test(ends[0])) items.push(cursor.eachSide(steps, at));
  else items.push(...steps);
  return true;
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
