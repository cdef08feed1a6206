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
