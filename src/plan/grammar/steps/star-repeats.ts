/**
 * Repeats told by asterisks, `*k2, p2; rep from * to end`, and by "repeat" alone. Input: the steps read so
 * far in one bracket and its open asterisks. Output: the repeated steps taken off the end and put back as
 * one group; false where no repeat is told.
 */
import { type ReadAmount, readAmount } from './amounts.ts';
import { readAgain } from './announcements.ts';
import { CLOSE_EACH, cornersIn, TRAIL_EACH_SIDE } from './side-words.ts';
import { readStatedCount } from './stated-counts.ts';
import { GAP, type OpenStar, type StepCursor } from './step-cursor.ts';
import type { GroupStep, Step } from './steps.ts';
import { countFollows } from './trailing-counts.ts';
import { wording } from './wording.ts';

const REPEAT_FROM = wording(
  "rep|rep.|repeat|reps|repeats|work|cont|cont.|continue always|constantly|continually|again|all? { the? instruction|instructions|st|sts|stitch|stitches|section|sequence|pattern|part }? working? from|fr.|fr|between|bet.|bet|btw|the? the? { ~(\\*+)(?:'?s(?![a-z]))? { to|-|and|through? ~\\*+ }? | asterisk|asterisks|star|stars | the? beg.|beg|beginning|start }",
);
const REPEAT_BARE = wording(
  'rep|rep.|repeat { these|this|the #? { @sts | sequence|pattern } }?',
  '(?=\\s*(?:to\\s|around|across|until|all\\s|\\d|twice|once|another|a\\s|for|x|[([,;=-]|\\.|$))',
);
/** "from * work 4 times in all": the verb behind the asterisk, or none. */
const FROM_STAR = wording(
  'from the? ~(\\*+) { to|-|until ~\\*+ }? ,? { rep|repeat|repeated|repeating|work|worked|working|knit|do | go on }? this|it|again|so?',
  '\\s*(?=\\d{1,3}\\s*(?:times|x\\b|more)|once|twice|to\\s+(?:the\\s+)?end|around|all\\s+round|(?:on|in|at|for)\\s+(?:each|every|all|the\\s+(?:other|remaining)))',
);

/** "*…*, work 6 times": the verb. */
const WORK_SO_OFTEN =
  /[\s,]*(?:work|knit|do)(?:ed)?\s+(?=(?:a\s+total\s+of\s+)?\d{1,3}\s*(?:times|x)\b)/y;
const BETWEEN_STARS =
  /[\s,]*(?:from|between)\s+(?:the\s+)?(?:\*\s*(?:to|and|-)\s*\*|\*s|asterisks?)/y;
const IN_ALL = /[\s,]*(?:in\s+(?:all|total)|altogether|overall)(?![a-z])/y;

/** An asterisk: it opens a repeat, closes one, or stands around a remark in italics. */
export function readStar(cursor: StepCursor, items: Step[], stars: OpenStar[]): void {
  const at = cursor.i;
  let level = 0;
  while (cursor.text[cursor.i] === '*') {
    level++;
    cursor.i++;
  }
  if (readItalics(cursor)) return;
  const open = stars.findLastIndex((s) => s.level === level);
  if (open >= 0 && items.length > stars[open].index) {
    // A second asterisk closes the repeat if "repeat…", a number of times or the end follows.
    const start = cursor.i;
    const take = (): { steps: Step[]; from: number } => {
      const star = stars[open];
      stars.length = open;
      return { steps: items.splice(star.index), from: star.at };
    };
    cursor.match(GAP);
    if (cursor.match(CLOSE_EACH)) {
      const { steps, from } = take();
      items.push(cursor.eachSide(steps, from));
      return;
    }
    const again = readAgain(cursor);
    if (again) {
      const { steps, from } = take();
      if (again.amount) items.push(cursor.group(steps, from, again.amount, again.otherTimes));
      else items.push(cursor.eachSide(steps, from));
      return;
    }
    const rep = cursor.match(REPEAT_FROM) ?? cursor.match(REPEAT_BARE) ?? cursor.match(FROM_STAR);
    if (!rep) cursor.match(WORK_SO_OFTEN);
    let { read, each } = readHowOften(cursor, rep !== null);
    const ends = atEnd(cursor) || ')]}'.includes(cursor.text[cursor.i]);
    // "*…*, 4 times from * to * in all"
    if (read && cursor.match(BETWEEN_STARS) && cursor.match(IN_ALL) && read.times)
      read = { ...read, times: { ...read.times, total: true } };
    if (rep || read || ends || countFollows(cursor)) {
      const { steps, from } = take();
      const again = { read, each, repeated: rep !== null };
      items.push(starGroup(cursor, steps, from, again));
      return;
    }
    cursor.i = start;
  }
  stars.push({ level, index: items.length, at });
}

/** "*8 sts dec'd, 72 sts*": a remark in italics, its first asterisk read. */
function readItalics(cursor: StepCursor): boolean {
  const inner = /[^*\n]{3,80}(?=\*)/y;
  inner.lastIndex = cursor.i;
  const remark = inner.exec(cursor.text)?.[0] ?? '';
  const count = /\d\s*sts?\b|stitches/.test(remark) ? readStatedCount(remark) : null;
  if (!count) return false;
  cursor.i += remark.length + 1;
  cursor.stated ??= count;
  return true;
}

function atEnd(cursor: StepCursor): boolean {
  const rest = /[\s.,;]*$/y;
  rest.lastIndex = cursor.i;
  return rest.test(cursor.text);
}

/** How often a repeat is worked, as its words say. */
interface HowOften {
  readonly read: ReadAmount | null;
  /** Once on each needle or side. */
  readonly each?: boolean;
  /** "Repeat" is said, so that it has been worked once. */
  readonly repeated: boolean;
}

/** "until the round is complete", "to the end of the last needle", "in turn": says no more than that it fills the round. */
const FILLS_ROUND =
  /[\s,]*(?:(?:until|till|to)\s+(?:the\s+|this\s+)?(?:(?:round|rnd|row)\s+(?:is|has\s+been)\s+(?:complete|completed|finished|done|worked)|(?:end|beginning|start|beg)(?:\s+of\s+(?:the\s+)?(?:(?:last|final|third|fourth|sixth|eighth|[3468]th|3rd)\s+(?:needle|side)|round|rnd|row))?)|in\s+turn|(?:all\s+)?(?:the\s+way\s+)?a?round|(?:the\s+)?(?:whole|entire)?\s*(?:round|rnd|row)(?=\s*(?:[.,;(=-]|$)))(?![a-z])/y;

/** How often, how far and where, in any order: "on each needle to end of round", "3 times more, once on each needle". */
function readHowOften(
  cursor: StepCursor,
  sides: boolean,
): { read: ReadAmount | null; each: boolean } {
  let read = null as ReadAmount | null;
  let each = false;
  for (let n = 0; n < 4; n++) {
    const trail = sides && cursor.match(TRAIL_EACH_SIDE);
    const corners = trail && cornersIn(trail[0]);
    if (corners) read = { amount: { times: corners }, times: null };
    else if (trail) each = true;
    else if ((each || read?.times) && cursor.match(FILLS_ROUND)) continue;
    else {
      const next: ReadAmount | null = read?.times ? null : readAmount(cursor);
      if (next) read = each && !next.times ? read : next;
      else if (!cursor.match(FILLS_ROUND)) break;
      else read ??= { amount: { kind: 'rest', count: 0 }, times: null };
    }
  }
  return { read, each };
}

function starGroup(
  cursor: StepCursor,
  steps: readonly Step[],
  from: number,
  { read, each, repeated }: HowOften,
): GroupStep {
  const { stars } = cursor.declared;
  if (each && !read?.times) return cursor.eachSide(steps, from);
  if (!read && stars !== null && !repeated) return cursor.group(steps, from, { times: stars });
  if (!read) return cursor.group(steps, from, { kind: 'rest', count: 0 });
  const { times } = read;
  if (!times) return cursor.group(steps, from, read.amount);
  if (!repeated || times.total) return cursor.group(steps, from, { times: times.times });
  // Worked once, then repeated; without "more" some patterns mean the total.
  return cursor.group(steps, from, { times: times.times + 1 }, times.more ? null : times.times);
}

/** Puts the steps from place `index` on back as one repeat. */
function repeatFrom(cursor: StepCursor, items: Step[], index: number, read: ReadAmount): void {
  const steps = items.splice(index);
  items.push(starGroup(cursor, steps, steps[0].from - cursor.base, { read, repeated: true }));
}

/** "k2, p2; repeat to end" without any asterisk: everything so far. */
function readBareRepeat(cursor: StepCursor, items: Step[], stars: OpenStar[]): boolean {
  if (items.length === 0) return false;
  const start = cursor.i;
  if (!cursor.match(REPEAT_BARE)) return false;
  const read = readAmount(cursor);
  if (!read) return cursor.back(start, false);
  const star = stars.pop();
  stars.length = 0;
  repeatFrom(cursor, items, star && star.index < items.length ? star.index : 0, read);
  return true;
}

/** "repeat from *" or "repeat" alone. */
export function readRepeatFrom(cursor: StepCursor, items: Step[], stars: OpenStar[]): boolean {
  const at = cursor.i;
  const m = cursor.match(REPEAT_FROM) ?? cursor.match(FROM_STAR);
  if (!m) return readBareRepeat(cursor, items, stars);
  if (stars.length === 0 && /^(?:work|cont)/.test(m[0]) && !/from|between/.test(m[0])) {
    // "work *ssk, k11 …": the asterisk opens a repeat.
    return cursor.back(at, false);
  }
  const level = m[1]?.length ?? 1;
  let open = stars.findLastIndex((s) => s.level === level);
  if (open < 0) open = stars.length - 1;
  const { read, each } = readHowOften(cursor, true);
  if (open < 0) {
    const hint = 'Put a * before the first stitch that is repeated.';
    if (items.length > 0 && read && /(?:beg|beginning|start)\.?\s*$/.test(m[0])) {
      repeatFrom(cursor, items, 0, read);
    } else if (items.length > 0 && read && /^\s*rep/.test(m[0])) {
      // No asterisk: most likely everything so far.
      cursor.say(
        'warning',
        'repeat-without-star',
        at,
        'there is no * to repeat from; read as repeating everything from the beginning',
        hint,
      );
      repeatFrom(cursor, items, 0, read);
    } else cursor.say('error', 'repeat-without-star', at, 'there is no * to repeat from', hint);
    return true;
  }
  const star = stars[open];
  stars.length = open;
  const steps = items.splice(star.index);
  if (steps.length === 0) return true;
  items.push(starGroup(cursor, steps, star.at, { read, each, repeated: true }));
  return true;
}

/** Asterisks that no repeat has closed by the end of their bracket; `items`: the steps so far. */
export function closeStars(cursor: StepCursor, stars: OpenStar[], items: Step[]): void {
  // "All * repeats are worked 6 times.": the end of the round closes it.
  const times = cursor.declared.stars;
  const [only] = stars;
  if (times !== null && stars.length === 1 && only.index < items.length) {
    const steps = items.splice(only.index);
    items.push(cursor.group(steps, only.at, { times }));
    stars.length = 0;
    return;
  }
  for (const star of stars) {
    cursor.unfinished = true;
    cursor.sayAt(
      'warning',
      'star-without-repeat',
      star.at,
      star.at + star.level,
      'nothing says how often to repeat from this *',
      'Add for example "; rep from * to end" after the stitches to repeat.',
    );
  }
  stars.length = 0;
}
