/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import type { StepCursor } from './step-cursor.ts';
import { betweenEdges, type Step, shapedAtEnds } from './steps.ts';
import { type ReadStitch, readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

const BEFORE_MARKERS = wording(
  'k|knit { tog|together the last # @sts | { the last }? # @sts? tog|together } before each|every|all the? marker|markers',
);

export function readAtEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (readEdgeLast(cursor, items) || readEdgeFirst(cursor, items)) return true;
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
  '~\\s+ at the end { of { each|every|all|both the? @side | the|this round|rnd|row } }?',
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
