/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import type { StepCursor } from './step-cursor.ts';
import { betweenEdges, type Step, shapedAtEnds } from './steps.ts';
import { type ReadStitch, readStitch } from './stitch-words.ts';

const BEGINNING = 'the\\s+(?:beginning|beg|start)';
const NEEDLE = '(?:needles?|sides?|sections?|dpns?)';
const BEFORE_MARKERS =
  /k(?:nit)?\s*(?:tog(?:ether)?\s+the\s+last\s+(\d)\s*(?:sts?|stitches)|(?:the\s+last\s+)?(\d)\s*(?:sts?\s*)?tog(?:ether)?)\s+before\s+(?:each|every|all)\s+(?:the\s+)?markers?(?![a-z])/y;

export function readAtEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (readEdgeLast(cursor, items) || readEdgeFirst(cursor, items)) return true;
  const before = cursor.match(BEFORE_MARKERS);
  if (!before) return false;
  const last = Number(before[1] ?? before[2]);
  items.push(cursor.eachSide(betweenEdges(null, `k${last}tog`, last, cursor.span(at)), at));
  return true;
}

const EDGE_FIRST = new RegExp(
  `at\\s+${BEGINNING}\\s+of\\s+(?:each|every)\\s+${NEEDLE},?\\s+(?:work\\s+)?`,
  'y',
);
const EDGE_SECOND = new RegExp(
  `[\\s,;]*(?:and\\s+)?at\\s+the\\s+end(?:\\s+of\\s+(?:each|every|the)\\s+(?:${NEEDLE}|one|same))?,?\\s+(?:work\\s+)?`,
  'y',
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

const AT_BEGINNING = new RegExp(`\\s+at\\s+${BEGINNING}\\s+and\\s+`, 'y');
const AT_END = new RegExp(
  `\\s+at\\s+the\\s+end(?:\\s+of\\s+(?:(each|every|all|all\\s+the|both)\\s+${NEEDLE}|(?:the|this)\\s+(?:round|rnd|row)))?(?![a-z])`,
  'y',
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
  if (ends[1]) items.push(cursor.eachSide(steps, at));
  else items.push(...steps);
  return true;
}

const ON_EACH =
  /(dec|inc)(?:r?eas(?:e|ing))?\.?\s+(\d{1,3})\s*(?:sts?|stitch(?:es)?)\s+(?:on|in|along|per|for)\s+(?:each|every)?\s*(?:needle|side|section|dpn)(?!\s+of)(?![a-z])/y;

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
