/**
 * Parts of a round told needle by needle, `Needle 1: …`, `1st needle, …`, "the other 3 needles like the first", each
 * worked over its own share. In: the cursor at such a label. Out: one group for each needle named.
 */
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';

const NOUN = '(?:needles?|ndls?|dpns?|sides?|sections?)';
const NTH = '(?:1st|2nd|3rd|[4-9]th|first|second|third|fourth|fifth|sixth|seventh|eighth)';
const SEPARATOR = '[ ]*(?:,[ ]*and|,|and|&|\\+|-|to)[ ]*(?:the[ ]+)?';
/** `needles 1, 2 and 4`, `n1-n4`, `the 2nd, 3rd and 4th needles`, `front needle` */
const NAMED = `(?:the\\s+)?(?:(?:${NOUN}|n(?=\\s?\\d))\\s*\\d(?![\\d/])(?:${SEPARATOR}(?:n|needle)?\\s?\\d(?![\\d/]))*|(?:${NTH})(?:${SEPARATOR}${NTH})*\\s+${NOUN}|(?:front|back)\\s+needle)`;
const OTHERS = `(?:(?:each|all|every)\\s+(?:of\\s+)?)?(?:the\\s+)?(?:(?:other|remaining|rem\\.?)\\s+)+(?:(?<others>\\d)(?:\\s+${NOUN})?|${NOUN})`;
const MARK =
  '(?:\\s*(?:as\\s+follows\\s*)?(?:[:.)]|-(?=\\s)|,(?=\\s)(?!\\s*(?:and\\s+)?(?:n|needle)?\\s?\\d)|(?<=\\))))';
const STITCH_NEXT = '(?=\\s+(?:[*([]|[kp]\\d|(?:k|p|knit|purl|ssk|skp|yo|work)\\b))';
const LEAD = '(?:(?:work|knit|on|for|over|along)\\s+){0,2}';
/** What a needle named before is worked like. */
const LIKE = `(?:(?:are|is|worked|knitted|work|knit|also|then|in|exactly|just|all)\\s+)*(?:same\\s+as|the\\s+same(?:\\s+way)?(?:\\s+as)?|(?:in\\s+)?(?:the\\s+)?same(?:\\s+(?:way|manner))?(?:\\s+as)?|as|like|alike|likewise|similarly|rep(?:eat)?)(?:\\s+(?:on|for|with))?(?:\\s+(?<like>${NAMED}|(?:the\\s+)?(?:first|1st)(?:\\s+one)?|this|that|it))?`;

const SECTION = new RegExp(`\\(?${LEAD}(${NAMED})\\)?(?:${MARK}|${STITCH_NEXT})\\s*`, 'y');
const LIKEWISE = new RegExp(
  `\\(?${LEAD}(?:${NAMED}|${OTHERS})\\)?\\s*(?:[:,-]\\s*)?${LIKE}(?![a-z])`,
  'y',
);
/** "repeat this on needles 2, 3 and 4", "repeat for the other 3 needles" */
const AGAIN_ON = new RegExp(
  `(?:and\\s+)?(?:rep(?:eat)?|work|do|same)\\s+(?:from\\s+\\*\\s+)?(?:(?:this|the\\s+same|so|that|it)\\s+)?(?:(?:on|for|with|along|over)\\s+)?(?:${NAMED}|${OTHERS})(?:\\s+(?:the\\s+same|alike|likewise|similarly|in\\s+the\\s+same\\s+way))?(?![a-z])`,
  'y',
);
/** Where a needle's own text ends: behind a mark or a line's end. */
const BREAK = /[.;:,\n-]\s*(?:\*\s+)?/g;

/** `Needle 1: …`: every such part is worked over its own share of the round. */
export function readSection(
  cursor: StepCursor,
  items: Step[],
  parts: Map<string, readonly Step[]>,
  read: (text: string, base: number) => { steps: readonly Step[]; cursor: StepCursor },
): boolean {
  const { text } = cursor;
  const at = cursor.i;
  const again = parts.size > 0 ? (cursor.match(LIKEWISE) ?? cursor.match(AGAIN_ON)) : null;
  if (again) {
    const [first] = parts.values();
    const { others, like } = again.groups ?? {};
    const model = like === undefined ? undefined : needlesIn(like)[0];
    const steps = (model === undefined ? undefined : parts.get(model)) ?? first;
    const named = needlesIn(again[0].slice(0, again[0].length - (like?.length ?? 0)));
    const list = others ? Array.from({ length: Number(others) }, (_, i) => `other ${i}`) : named;
    if (list.length > 0) push(cursor, items, parts, list, steps, at);
    // "the remaining needles": as many as there are.
    else items.splice(0, items.length, cursor.eachSide(steps, at));
    return true;
  }
  const m = cursor.match(SECTION);
  if (!m) return false;
  const named = needlesIn(m[1]);
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

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'];

/** The needles that "needles 1, 2 and 4", "n1-n4", "2nd and 3rd needles" name. */
function needlesIn(words: string): string[] {
  const digits = words.replace(
    /\b(?:first|second|third|fourth|fifth|sixth|seventh|eighth)\b/g,
    (w) => String(ORDINALS.indexOf(w) + 1),
  );
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
