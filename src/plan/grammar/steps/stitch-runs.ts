/**
 * Stitches as they stand in an instruction: `k5`, `k2tog twice`, `knit to last 2 sts`, `2 knit`, and the
 * plan's own abbreviations. Input: a cursor at the word. Output: the step with its amount, the cursor
 * behind it; null where no stitch stands there.
 */
import type { Abbreviations } from '../../lexicon/abbreviations.ts';
import { nothingFollows, OVER_AND_OVER, readAmount, timesInAll } from './amounts.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Amount, Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';

const EACH_OF = /\s+in(?:to)?\s+(?:the\s+)?next\s+(?:st|stitch)(?![a-z])/y;
/** "2 knit", "3 purl sts", "9 k sts", "1 edge st" */
const COUNTED =
  /(\d{1,4})\s*(?:(k(?:nit)?|p(?:url)?|plain(?=\s*[,;.)]|\s+and\b))(?![a-z0-9])(?:\s*(?:sts?|stitch(?:es)?)\b)?|(?:edge|selvedge|selvage|border|plain|corner)\s+(?:sts?|stitch(?:es)?)(?![a-z]))/y;
const ROUND_BEHIND_COMMA =
  /^\s*[,;]\s*(?:and\s+so\s+(?:on\s+)?)?(?:all\s+(?:the\s+way\s+)?(?:a?round)|around)(?![a-z])/;
const ALL_ROUND = /(?:all\s+(?:the\s+way\s+)?(?:a?round)|around)(?![a-z])/y;
const IN_TURN = /\balternat/;

/** What has been read is worked again and again, as the words here say. */
function againFollows(cursor: StepCursor): boolean {
  const { i } = cursor;
  cursor.match(/[\s,;]+/y);
  const found = cursor.match(OVER_AND_OVER) !== null;
  cursor.i = i;
  return found;
}

/**
 * "…, all the way round", "knit 1, purl 1 in alternation", "k1, p1, over and over": the steps so far from `index` on, again
 * and again; of those in alternation the last two.
 */
export function readAllRound(cursor: StepCursor, items: Step[], index: number): boolean {
  const at = cursor.i;
  const again = items.length > index ? cursor.match(OVER_AND_OVER) : null;
  if (!again) {
    const many = items.length > 1 && /[,;]\s*$/.test(cursor.text.slice(0, at));
    if (!many || !cursor.match(ALL_ROUND)) return false;
  }
  const pair = again && IN_TURN.test(again[0]);
  const last = items[items.length - 1];
  const alone = again && last?.kind === 'group' ? items.length - 1 : again ? index : 0;
  const read = pair ? readAmount(cursor) : null;
  const steps = items.splice(pair ? Math.max(index, items.length - 2) : alone);
  const amount = read?.amount ?? { kind: 'rest', count: 0 };
  items.push(cursor.group(steps, steps[0].from - cursor.base, amount));
  return true;
}

/** "1 skp", "2 yo": a number before a stitch in letters. */
const NUMBERED = /(\d{1,3})\s+(?=[a-z])/y;

/** The commonest words by far, `k5,` and `p2)`, without trying anything else. */
export function readPlainRun(cursor: StepCursor, abbreviations: Abbreviations): Step | null {
  const { text, i: at } = cursor;
  let i = at + 1;
  let times = 0;
  for (; i < at + 8; i++) {
    const digit = text.charCodeAt(i) - 48;
    if (!(digit >= 0 && digit <= 9)) break;
    times = times * 10 + digit;
  }
  if (i === at + 1 || i === at + 8 || abbreviations.shadowsPlain) return null;
  const next = text[i];
  if (next === ',' || next === ';') {
    // "k5, to last 2 sts" says more; only a following stitch or bracket ends it for sure.
    let j = i + 1;
    while (text[j] === ' ') j++;
    const c = text[j];
    if (c === undefined || !'kpsym[*'.includes(c)) return null;
    if ((c === 'k' || c === 'p') && !(text[j + 1] >= '0' && text[j + 1] <= '9')) return null;
  } else if (next !== undefined && !')]}'.includes(next)) return null;
  cursor.i = i;
  return cursor.stitch(text[at], at, { times });
}

/** "inc 1", "increase 1 st": into which stitch is not told. */
const INC_ALONE = /^inc(?:rease)?\.?\s*(?:1|one)\s*(?:sts?\.?|stitch(?:es)?)?$/;

/** A stitch of the trade. `first`: no step stands before it. */
export function readTradeStitch(cursor: StepCursor, first: boolean): Step | null {
  const at = cursor.i;
  const stitch = readStitch(cursor.text, at);
  if (!stitch) return null;
  cursor.i = stitch.end;
  if (stitch.doubt) cursor.say('warning', 'ambiguous-stitch', at, stitch.doubt);
  const inc = stitch.name === 'kfb' && INC_ALONE.test(cursor.text.slice(at, stitch.end));
  const step = withAmount(cursor, stitch.name, stitch.amount, stitch.spelled, first, at);
  return inc && step.kind === 'stitch' ? { ...step, otherName: 'm1' } : step;
}

export function readCountedStitch(cursor: StepCursor, first: boolean): Step | null {
  const at = cursor.i;
  const m = cursor.match(COUNTED);
  if (m)
    return withAmount(
      cursor,
      /^p(?!lain)/.test(m[2] ?? '') ? 'p' : 'k',
      { times: Number(m[1]) },
      false,
      first,
      at,
    );
  const n = cursor.match(NUMBERED);
  const stitch = n && readStitch(cursor.text, cursor.i);
  if (!n || !stitch || stitch.name.length < 2 || stitch.name.startsWith('sl'))
    return cursor.back(at, null);
  cursor.i = stitch.end;
  // "1 inc in each st"
  const each = n[1] === '1' ? stitch.amount : null;
  return withAmount(cursor, stitch.name, each ?? { times: Number(n[1]) }, false, first, at);
}

/**
 * "k1, p1 to end": a last stitch with its count and an end repeats what stands before it. In: the steps so far from
 * `index` on, the last of them just read. Out: those steps as one repeat; read the other way the last alone runs on.
 */
export function foldRunningPair(cursor: StepCursor, items: Step[], index: number): void {
  const last = items[items.length - 1];
  if (last?.kind !== 'group' || 'times' in last.amount || last.steps.length !== 1) return;
  const [one] = last.steps;
  const before = items.slice(index, -1);
  const counted = (s: Step): boolean => s.kind === 'stitch' && 'times' in s.amount;
  if (last.eachSide || before.length === 0 || !before.every(counted)) return;
  if (one.kind !== 'stitch' || !counted(one)) return;
  const at = before[0].from - cursor.base;
  const pair = (from: number) => {
    const steps = [...before.slice(from), one];
    return cursor.group(steps, steps[0].from - cursor.base, last.amount);
  };
  const two = before.length - 1;
  const otherSteps = two > 0 ? [...before.slice(0, two), pair(two)] : [...before, last];
  items.splice(index, items.length, { ...pair(0), ...cursor.span(at), otherSteps });
}

/** The plan's own abbreviations. */
export function readOwnStitch(cursor: StepCursor, abbreviations: Abbreviations): Step | null {
  const at = cursor.i;
  // "work DD 4 times", "1 overlaid decrease"
  cursor.match(/(?:work|make|do)\s+(?:an?\s+)?(?=[a-z0-9])/y);
  const many = cursor.match(/(\d{1,3})\s+(?=[a-z])/y);
  const own = abbreviations.matchAt(cursor.text, cursor.i);
  if (!own || (many && own.kind === null)) return cursor.back(at, null);
  cursor.i += own.name.length;
  if (many && cursor.text[cursor.i] === 's') cursor.i++;
  if (own.kind === null && own.steps.length === 0) {
    cursor.unread++;
    const message = `two stitches are called "${own.name}", so it can't be told which is meant`;
    cursor.say('error', 'ambiguous-stitch', at, message, 'Give each of them a name of its own.');
  }
  const counted = many && { times: Number(many[1]) };
  if (own.kind !== null) return withAmount(cursor, own.kind, counted, false, true, at);
  const read = readAmount(cursor);
  const amount: Amount = read?.times
    ? { times: timesInAll(read.times) }
    : (read?.amount ?? { times: 1 });
  return cursor.group(own.steps, at, amount);
}

/**
 * The stitch `name` that began at `at`, with the amount behind it. `counted`: the amount within the word
 * itself (the 5 of `k5`). `spelled`: the word is written out.
 */
function withAmount(
  cursor: StepCursor,
  name: string,
  counted: Amount | null,
  spelled: boolean,
  first: boolean,
  at: number,
): Step {
  let amount = counted;
  const single = amount !== null && 'times' in amount;
  const before = cursor.i;
  // "k1, yo, knit to corner, yo, all the way round": all of them.
  if (
    !first &&
    !/^[kp]$/.test(name) &&
    ROUND_BEHIND_COMMA.test(cursor.text.slice(before, before + 24))
  )
    return cursor.stitch(name, at, amount ?? { times: 1 });
  const read = againFollows(cursor) ? null : readAmount(cursor);
  const comma =
    read?.times && /[,;-]/.test(cursor.text.slice(before, before + 3).trimStart()[0] ?? '');
  if (read?.times) {
    const n = single ? (amount as { times: number }).times : 1;
    amount = { times: n * timesInAll(read.times) };
  } else if (read && (amount === null || !single)) {
    amount = read.amount;
  } else if (read && single) {
    // "k1 to end" and "p2tog 2 to last 3 sts" run on; "k5 to marker" may also say both.
    const n = (amount as { times: number }).times;
    const target = read.amount;
    if (n === 1 && name !== 'k' && name !== 'p') amount = target;
    else {
      const step = { ...cursor.stitch(name, at, { times: n }), to: cursor.base + before };
      const group = cursor.group([step], at, target);
      const further = 'kind' in target && target.kind !== 'rest' && target.kind !== 'end';
      return further ? { ...group, otherSteps: [step] } : group;
    }
  }
  if (amount === null) {
    cursor.match(EACH_OF);
    const alone = first && nothingFollows(cursor);
    const plain = name === 'k' || name === 'p';
    amount = plain && (spelled || alone) ? { kind: 'rest', count: 0 } : { times: 1 };
  }
  const step = cursor.stitch(name, at, amount);
  return comma && !first && !single ? { ...step, afterComma: true } : step;
}
