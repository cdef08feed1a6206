/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';

const AT_BOTH =
  /k(?:nit)?\s*(\d)\s*(?:sts?\s*)?tog(?:ether)?\s+at\s+the\s+(?:beginning|beg|start)\s+and\s+(?:k(?:nit)?\s*)?(\d)\s*(?:sts?\s*)?tog(?:ether)?\s+at\s+the\s+end(?![a-z])/y;
const BEFORE_MARKERS =
  /k(?:nit)?\s*(?:tog(?:ether)?\s+the\s+last\s+(\d)\s*(?:sts?|stitches)|(?:the\s+last\s+)?(\d)\s*(?:sts?\s*)?tog(?:ether)?)\s+before\s+(?:each|every|all)\s+(?:the\s+)?markers?(?![a-z])/y;

/** "k2tog at the beginning and k2tog at the end", "knit together the last 2 sts before every marker" */
export function readAtEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (readAtEnds(cursor, items)) return true;
  if (readEdgeFirst(cursor, items)) return true;
  const both = cursor.match(AT_BOTH);
  const before = both ? null : cursor.match(BEFORE_MARKERS);
  if (!both && !before) return false;
  const last = Number(both?.[2] ?? before?.[1] ?? before?.[2]);
  const plain: Step = {
    kind: 'pattern',
    rule: 'set',
    amount: { kind: 'end', count: last },
    ...cursor.span(at),
  };
  const end = cursor.stitch(`k${last}tog`, at, { times: 1 });
  if (both) items.push(cursor.stitch(`k${both[1]}tog`, at, { times: 1 }), plain, end);
  else items.push(cursor.eachSide([plain, end], at));
  return true;
}

const EDGE_FIRST =
  /at\s+the\s+(?:beginning|beg|start)\s+of\s+(each|every)\s+(?:needle|side|section|dpn),?\s+(?:work\s+)?/y;
const EDGE_LAST =
  /[\s,;]*(?:and\s+)?at\s+the\s+end(?:\s+of\s+(?:each|every|the)\s+(?:needle|side|section|dpn|one|same))?,?\s+(?:work\s+)?/y;

/** "at the beginning of each needle ssk, at the end k2tog" */
function readEdgeFirst(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (!cursor.match(EDGE_FIRST)) return false;
  const first = readStitch(cursor.text, cursor.i);
  if (first) cursor.i = first.end;
  const second = first && cursor.match(EDGE_LAST) ? readStitch(cursor.text, cursor.i) : null;
  const wide = second && stitchKind(second.name)?.consumes;
  if (!first || !second || !wide) {
    cursor.i = at;
    return false;
  }
  cursor.i = second.end;
  const steps: Step[] = [
    cursor.stitch(first.name, at, { times: 1 }),
    { kind: 'pattern', rule: 'set', amount: { kind: 'end', count: wide }, ...cursor.span(at) },
    cursor.stitch(second.name, at, { times: 1 }),
  ];
  items.push(cursor.eachSide(steps, at));
  return true;
}

const AT_BEGINNING = /\s+at\s+the\s+(?:beginning|beg|start)\s+and\s+/y;
const AT_END =
  /\s+at\s+the\s+end(?:\s+of\s+(?:(each|every|all|all\s+the|both)\s+(?:needles?|sides?|sections?)|(?:the|this)\s+(?:round|rnd|row)))?(?![a-z])/y;

/** "ssk at the beginning and k2tog at the end of every needle" */
function readAtEnds(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const first = readStitch(cursor.text, at);
  if (!first || first.amount) return false;
  cursor.i = first.end;
  const second = cursor.match(AT_BEGINNING) && readStitch(cursor.text, cursor.i);
  const wide = second && stitchKind(second.name)?.consumes;
  if (second && wide && !second.amount) cursor.i = second.end;
  const ends = second && wide && !second.amount ? cursor.match(AT_END) : null;
  if (!second || !wide || !ends) {
    cursor.i = at;
    return false;
  }
  const steps: Step[] = [
    cursor.stitch(first.name, at, { times: 1 }),
    { kind: 'pattern', rule: 'set', amount: { kind: 'end', count: wide }, ...cursor.span(at) },
    cursor.stitch(second.name, at, { times: 1 }),
  ];
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
  const count = Number(m[2]);
  const once = { times: 1 };
  const rest = (stop: number): Step => ({
    kind: 'pattern',
    rule: 'set',
    amount: { kind: 'end', count: stop },
    ...cursor.span(at),
  });
  const steps: Step[] =
    count !== 2
      ? [{ kind: 'spread', name: decrease ? 'k2tog' : 'm1', times: count, ...cursor.span(at) }]
      : decrease
        ? [cursor.stitch('ssk', at, once), rest(2), cursor.stitch('k2tog', at, once)]
        : [cursor.stitch('kfb', at, once), rest(1), cursor.stitch('kfb', at, once)];
  items.push(cursor.eachSide(steps, at));
  return true;
}
