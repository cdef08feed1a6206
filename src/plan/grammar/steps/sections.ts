/**
 * Parts of a round told needle by needle, `Needle 1: …`, each worked over its own share. In: the cursor at such a label.
 * Out: one group for each needle named.
 */
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';

const SECTION =
  /(?:(?:on|for)\s+)?\(?(?:(?:needles?|ndl|sides?|section|n(?=\d))\s*(\d)(?:\s*(?:,\s*and|,|and|&|-|to)\s*n?\s*\d)*|(front|back|first|second)\s+needle)\)?\s*(?:[:.)-]\s*|(?<=\)))/y;
const NEXT_SECTION =
  /\b(?:needles?|ndl|side|section|n(?=\d))\s*\d(?:\s*(?:,|and|&|,\s*and)\s*n?\s*\d)*\s*[:-]|\((?:front|back|first|second)\s+needle\)/;
const SAME_ON =
  /[\s.;,]*(?:(?:and\s+)?(?:rep(?:eat)?|work|do)\s+(?:this\s+|the\s+same\s+|so\s+)?(?:on|for|with|along)?\s*(?:needles?|sides?|n(?=\d))\s*\d(?:\s*(?:,\s*and|,|and|&|-|to)\s*n?\s*\d)*(?:\s+(?:the\s+same|alike|likewise|similarly|in\s+the\s+same\s+way))?|needles?\s*\d(?:\s*(?:,\s*and|,|and|&|-|to)\s*n?\s*\d)*\s+(?:the\s+same|alike|likewise|similarly))[\s.;]*$/;
const LIKE_SECTION =
  /^\s*(?:work\s+)?(?:as|same\s+as|like|rep(?:eat)?)\s+(?:for\s+)?(?:(?:needle|ndl|side|section|n)\s*(\d)|(front|back|first|second)\s+needle)/;

/** `Needle 1: …`: every such part is worked over its own share of the round. */
export function readSection(
  cursor: StepCursor,
  items: Step[],
  parts: Map<string, readonly Step[]>,
  read: (text: string, base: number) => { steps: readonly Step[]; cursor: StepCursor },
): boolean {
  const { text } = cursor;
  const at = cursor.i;
  const m = cursor.match(SECTION);
  if (!m) return false;
  // The parts are equal shares: from here to the next label or the end is one side's work.
  const next = text.slice(cursor.i).search(NEXT_SECTION);
  const end = next < 0 ? text.length : cursor.i + next;
  const named = m[2] ? [m[2]] : needleNumbers(m[0]);
  let body = text.slice(cursor.i, end);
  // "Repeat on needles 2, 3 and 4."
  const also = SAME_ON.exec(body);
  if (also) {
    named.push(...needleNumbers(also[0]));
    body = body.slice(0, also.index);
  }
  const like = LIKE_SECTION.exec(body);
  const known = like ? parts.get(like[1] ?? like[2]) : undefined;
  const inner = known ? null : read(body, cursor.base + cursor.i);
  const steps = known ?? inner?.steps ?? [];
  for (const n of named) parts.set(n, steps);
  if (inner) {
    cursor.unread += inner.cursor.unread;
    cursor.failed ||= inner.cursor.failed;
    cursor.stated ??= inner.cursor.stated;
    cursor.remarks.push(...inner.cursor.remarks);
  }
  cursor.i = end;
  if (steps.length === 0) return true;
  for (let i = 0; i < named.length; i++) {
    items.push({ ...cursor.group(steps, at, { times: 1 }), part: true });
  }
  return true;
}

/** The needles that "needles 1, 2 and 4", "n1-n4" name. */
function needleNumbers(words: string): string[] {
  const out: string[] = [];
  for (const m of words.matchAll(/(\d)(?:\s*(?:-|to)\s*n?\s*(\d))?/g)) {
    for (let n = Number(m[1]); n <= Number(m[2] ?? m[1]); n++) out.push(String(n));
  }
  return out;
}
