/**
 * Parts of a round told needle by needle, `Needle 1: …`, `1st needle, …`, "the other 3 needles like the first", each
 * worked over its own share. In: the cursor at such a label. Out: one group for each needle named.
 */
import { ORDINALS } from '../../lex/numbers.ts';
import { NAMED, OTHERS } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';
import { wording } from './wording.ts';

const LEAD = 'work|knit|on|for|over|along*';
const WORKED_LIKE =
  '{ are|is|worked|knitted|work|knit|also|then|in|exactly|just|all* { same as | the same way? as? | in? the? same way|manner? as? | as { given|told|described|worked for }? | as|like|alike|likewise|similarly|rep|repeat } on|for|with? }';

/** `Needle 1:` */
const SECTION = wording(
  `(? ${LEAD} ${NAMED} )?`,
  '(?:\\s*(?:as\\s+follows\\s*)?(?:[:.)]|-(?=\\s)|,(?=\\s)(?!\\s*(?:and\\s+)?(?:n|needle)?\\s?\\d)|(?<=\\)))|(?=\\s+(?:[*([]|[kp]\\d|(?:k|p|knit|purl|ssk|skp|yo|work)\\b)))\\s*',
);
/** "needles 2 and 3 the same as", and what they are like. */
const LIKEWISE = wording(`(? ${LEAD} { ${NAMED} | ${OTHERS} } )? :|,|-? ${WORKED_LIKE}`);
const LIKE = wording(`~\\s* { ${NAMED} | the? first|1st one? | this|that|it }`);
/** "repeat this on needles 2, 3 and 4", "repeat for the other 3 needles" */
const AGAIN_ON = wording(
  `and? { rep|repeat|work|do|same { from * }? { this|so|that|it | the same }? | the same } on|for|with|along|over? { ${NAMED} | ${OTHERS} } { the same | alike|likewise|similarly | in the same way }?`,
);
/** Where a needle's own text ends: behind a mark or a line's end. */
const BREAK = /[.;:,\n-]\s*(?:\*\s+)?|\s(?=and the same )/g;

/** `Needle 1: …`: every such part is worked over its own share of the round. */
export function readSection(
  cursor: StepCursor,
  items: Step[],
  parts: Map<string, readonly Step[]>,
  read: (text: string, base: number) => { steps: readonly Step[]; cursor: StepCursor },
): boolean {
  const { text } = cursor;
  const at = cursor.i;
  const likewise = parts.size > 0 ? cursor.match(LIKEWISE) : null;
  const again = likewise ?? (parts.size > 0 ? cursor.match(AGAIN_ON) : null);
  if (again) {
    const like = likewise && cursor.match(LIKE);
    const [first] = parts.values();
    const steps = (like && parts.get(needlesIn(like[0])[0])) ?? first;
    const others = /(?:other|remaining|rem\.?)\s+(\d)/.exec(again[0])?.[1];
    const list = others
      ? Array.from({ length: Number(others) }, (_, k) => `other ${k}`)
      : needlesIn(again[0]);
    if (list.length > 0) push(cursor, items, parts, list, steps, at);
    // "the remaining needles": as many as there are.
    else items.splice(0, items.length, cursor.eachSide(steps, at));
    return true;
  }
  const m = cursor.match(SECTION);
  if (!m) return false;
  const named = needlesIn(m[0]);
  const end = nextLabel(text, cursor.i);
  const inner = read(text.slice(cursor.i, end), cursor.base + cursor.i);
  cursor.unread += inner.cursor.unread;
  cursor.failed ||= inner.cursor.failed;
  cursor.remarks.push(...inner.cursor.remarks);
  // "(23 sts)" behind one needle of several is that needle's.
  const { stated } = inner.cursor;
  const own = stated !== null && stated.perSide === null && end < text.length;
  if (!own) cursor.stated ??= stated;
  cursor.i = end;
  push(cursor, items, parts, named, inner.steps, at);
  return true;
}

function push(
  cursor: StepCursor,
  items: Step[],
  parts: Map<string, readonly Step[]>,
  named: readonly string[],
  steps: readonly Step[],
  at: number,
): void {
  for (const n of named) {
    parts.set(n, steps);
    if (steps.length === 0) continue;
    const part: Step = { ...cursor.group(steps, at, { times: 1 }), part: true };
    const place =
      { front: 1, back: 2 }[n] ?? (/^\d/.test(n) ? Number(n) : Number.POSITIVE_INFINITY);
    PLACES.set(part, place);
    // "Needles 1 and 3: … Needles 2 and 4: …"
    const before = items.findIndex((s) => (PLACES.get(s) ?? 0) > place);
    items.splice(before < 0 ? items.length : before, 0, part);
  }
}

/** Which needle a part is worked over. */
const PLACES = new WeakMap<Step, number>();

/** Where the next needle is named at or behind `from`; the end of the text where none is. */
function nextLabel(text: string, from: number): number {
  BREAK.lastIndex = from;
  for (let m = BREAK.exec(text); m; m = BREAK.exec(text)) {
    const at = m.index + m[0].length;
    for (const re of [SECTION, LIKEWISE, AGAIN_ON]) {
      re.lastIndex = at;
      if (re.test(text)) return at;
    }
    BREAK.lastIndex = m.index + 1;
  }
  return text.length;
}

/** The needles that "needles 1, 2 and 4", "n1-n4", "2nd and 3rd needles" name. */
function needlesIn(words: string): string[] {
  const digits = words.replace(/\b[a-z]+\b/g, (word) => String(ORDINALS.get(word) ?? word));
  const side = /\b(front|back)\b/.exec(digits);
  if (side) return [side[1]];
  const out: string[] = [];
  for (const m of digits.matchAll(
    /(?<!\d)(\d)(?!\d)(?:st|nd|rd|th)?(?:\s*(?:-|to)\s*(?:the\s+)?(?:n|needle)?\s*(\d))?/g,
  )) {
    for (let n = Number(m[1]); n <= Number(m[2] ?? m[1]); n++) out.push(String(n));
  }
  return out;
}
