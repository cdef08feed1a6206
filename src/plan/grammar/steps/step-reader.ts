/**
 * Instruction text of one round → Step tree. Recursive over brackets; asterisks are closed by the
 * "repeat from *" that follows them. Never fails: what it cannot read becomes a diagnostic and is left
 * out. The wordings of each sort of step have files of their own; this one is the order they are tried in.
 */

import type { Remark } from '../../diagnostics.ts';
import type { Abbreviations } from '../../lexicon/abbreviations.ts';
import { type Announced, readAgain, readAnnouncement } from './announcements.ts';
import { readAlternation, repeatedBracket } from './bracket-repeats.ts';
import { readBracketedRemark, readDefinition } from './bracketed-remarks.ts';
import { readAtEdges, readShapingOnEach } from './edge-stitches.ts';
import { readIdleWords } from './idle-words.ts';
import { isPlacing, readMarkerStep } from './marker-steps.ts';
import { foldBobbles } from './multi-increase.ts';
import { readPattern } from './pattern-steps.ts';
import { readSection } from './sections.ts';
import { AT_START, EACH_HALF, EACH_SIDE, ON_EACH_SIDE, TRAIL_EACH_SIDE } from './side-words.ts';
import { readSpread } from './spread-steps.ts';
import { closeStars, readRepeatFrom, readStar } from './star-repeats.ts';
import type { StatedCount } from './stated-counts.ts';
import { GAP, type OpenStar, StepCursor } from './step-cursor.ts';
import type { Amount, GroupStep, Step, StitchStep } from './steps.ts';
import {
  foldRunningPair,
  readAllRound,
  readCountedStitch,
  readOwnStitch,
  readPlainRun,
  readTradeStitch,
} from './stitch-runs.ts';
import { readStitch } from './stitch-words.ts';
import { readTrailingCount } from './trailing-counts.ts';
import { readUnknown } from './unread-words.ts';

/** Deepest nesting of brackets. Chosen: no pattern needs more, and reading stays safe. */
const DEEPEST = 30;

/** Most steps of one round or bracket. Chosen: far above any pattern; bounds the time. */
const MOST_STEPS = 20_000;

/** Unread words after which the rest of an instruction is given up. Chosen. */
const MOST_UNREAD = 200;

export interface ReadInstruction {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  /** Words that could not be read: the text is perhaps no instruction at all. */
  readonly unread: number;
  /** Some of them are errors, so that the count cannot be trusted. */
  readonly failed: boolean;
  /** The text ends in the middle of something. */
  readonly unfinished: boolean;
  /** Some wording would need to know where the instruction stops: "repeat from * to end" and so on. */
  readonly hasStitches: boolean;
  /** Colour that the round is worked in, where it says so. */
  readonly colour: string | null;
  /** Mistakes met while reading. */
  readonly remarks: readonly Remark[];
}

/** "knitting to the last 2 sts", "slipping the first st": as the imperative, of the same length. */
const GERUND =
  /(?<!(?:before|after|while|by|when|in|of) )\b(knit|purl|slip)(ting|ing|ping)(?= (?:\d|to |the |all |every |each |until |both |them ))(?! (?:all |the |each |every |your )*(?:markers?|m\b))/g;

function imperative(_: string, verb: string, ending: string): string {
  return verb + ' '.repeat(ending.length);
}

/** "(repeat 3 times)" behind stitches. */
const AGAIN_IN_BRACKETS =
  /[([]\s*(?=(?:rep(?:eat)?|work)\b\s+(?!\*)[^()[\]]{0,50}(?:times|twice|more|end|around|x\s*\d|\dx)[^()[\]]{0,30}[)\]])/y;
const CLOSES = /\s*[)\]]/y;

/** "Always knit 2 stitches together": again and again to the end. */
const ALWAYS = /\s*(?:always|continually|continuously|constantly|repeatedly)\s+(?=[kpsy2-9*([])/y;
const MULTIPLIER = /(\d{1,3})\s*x\s*(?=[(]|[a-z])/y;

class StepReader {
  readonly cursor: StepCursor;
  readonly #abbreviations: Abbreviations;
  /** Steps of `Needle 1: …` and so on, for "as needle 1". */
  readonly #parts = new Map<string, readonly Step[]>();
  /** The text names needles or sides. */
  readonly #byNeedle: boolean;

  constructor(text: string, base: number, abbreviations: Abbreviations) {
    this.cursor = new StepCursor(text.replace(GERUND, imperative), base, abbreviations.repeats);
    this.#abbreviations = abbreviations;
    this.#byNeedle = /needle|ndl|dpn|side|section|\bn ?\d/.test(text);
  }

  /** Everything up to the closing bracket, or to the end of the text. */
  readSequence(closer: string, depth: number, openedAt: number): Step[] {
    const stars: OpenStar[] = [];
    this.cursor.scopes.push(stars);
    const items = this.#readItems(stars, closer, depth, openedAt);
    this.cursor.scopes.pop();
    return items;
  }

  #readItems(stars: OpenStar[], closer: string, depth: number, openedAt: number): Step[] {
    const { cursor } = this;
    const { text } = cursor;
    const items: Step[] = [];
    let eachSideFrom = -1;
    let eachSideIndex = 0;
    let announced: Announced | null = null;
    let halvesFrom = -1;
    const wrapEachSide = (): void => {
      if (halvesFrom >= 0 && items.length > halvesFrom)
        items.push(...inHalves(cursor, items.splice(halvesFrom), cursor.i));
      halvesFrom = -1;
      if (eachSideFrom < 0 || items.length === eachSideIndex) return;
      const steps = items.splice(eachSideIndex);
      // "Decrease on each side: *…; rep from * to end" says itself how often.
      const said = announced !== null && steps.length === 1 && steps[0].kind === 'group';
      const times = announced?.amount && 'times' in announced.amount ? announced.amount : null;
      const [only] = steps;
      if (said && times && only.kind === 'group' && !('times' in only.amount) && !only.eachSide)
        items.push({ ...only, amount: times });
      else if (said) items.push(...steps);
      else items.push(wrapped(cursor, steps, eachSideFrom, announced));
      eachSideFrom = -1;
      announced = null;
    };

    const again = cursor.match(ALWAYS) !== null;
    for (;;) {
      cursor.match(GAP);
      const at = cursor.i;
      const c = text[at];
      if (c === undefined) break;
      if (c === closer) {
        cursor.i++;
        wrapEachSide();
        closeStars(cursor, stars);
        return items;
      }
      if (c === ')' || c === ']' || c === '}') {
        cursor.i++;
        cursor.say(
          'warning',
          'bracket-not-opened',
          at,
          `this closing "${c}" has no opening bracket`,
          'Remove it, or open a bracket before the stitches that belong together.',
        );
        continue;
      }
      if (c === '(' || c === '[' || c === '{') {
        if (
          c === '(' &&
          /^\((?:front|back|first|second)\s/.test(text.slice(at, at + 8)) &&
          this.#readSection(items)
        )
          continue;
        if (items.length > 0 && cursor.match(AGAIN_IN_BRACKETS)) {
          if (readRepeatFrom(cursor, items, stars) && cursor.match(CLOSES)) continue;
          cursor.i = at;
        }
        if (this.#readRemark(items[items.length - 1])) continue;
        const step = this.#readBracket(c, depth);
        if (step) items.push(step);
        continue;
      }
      if (c === '*') {
        readStar(cursor, items, stars);
        continue;
      }
      if (cursor.unread > MOST_UNREAD) {
        cursor.i = text.length;
        continue;
      }
      if (items.length > MOST_STEPS) {
        const most = MOST_STEPS.toLocaleString('en-US');
        cursor.i = text.length;
        cursor.say(
          'error',
          'round-too-long',
          at,
          `this round has more than ${most} instructions`,
          'Write what is repeated once, for example: (k2, p2) to end.',
        );
        continue;
      }
      if (items.length > 0 && readDefinition(cursor)) continue;
      const run = c === 'k' || c === 'p' ? readPlainRun(cursor, this.#abbreviations) : null;
      if (run) {
        items.push(run);
        continue;
      }
      if (this.#byNeedle && this.#readSection(items)) {
        if (/^rep\S* from \*/.test(text.slice(at, cursor.i))) stars.length = 0;
        continue;
      }
      if (items.length === 1 && eachSideFrom < 0 && cursor.match(AT_START)) {
        eachSideFrom = at;
        eachSideIndex = 0;
        continue;
      }
      const leads = readAnnouncement(cursor);
      if (leads) {
        wrapEachSide();
        if (leads.eachSide || leads.amount) {
          announced = leads;
          eachSideFrom = at;
          eachSideIndex = items.length;
        }
        continue;
      }
      if (readTrailingCount(cursor)) continue;
      const all = items.length > 0 ? readAgain(cursor) : null;
      if (all) {
        items.push(wrapped(cursor, items.splice(0), at, all));
        stars.length = 0;
        eachSideFrom = -1;
        announced = null;
        continue;
      }
      if ('(woaecfiup'.includes(c) && cursor.match(EACH_SIDE)) {
        if (items.length > 0 && eachSideFrom < 0 && !stitchesFollow(cursor)) {
          // "…, - on each needle"
          items.push(cursor.eachSide(items.splice(0), at));
          continue;
        }
        wrapEachSide();
        eachSideFrom = at;
        eachSideIndex = items.length;
        continue;
      }
      const halves = 'ob'.includes(c) && cursor.match(EACH_HALF);
      if (halves && items.length > 0 && eachSideFrom < 0 && !stitchesFollow(cursor)) {
        items.push(...inHalves(cursor, items.splice(0), at));
        continue;
      }
      if (halves) {
        wrapEachSide();
        halvesFrom = items.length;
        continue;
      }
      const trail = 'rwofiadbu'.includes(c) && cursor.match(TRAIL_EACH_SIDE);
      if (trail && items.length > 0 && eachSideFrom < 0) {
        // "*ssk, k16, k2tog; repeat on each needle": the asterisk is closed by it.
        const [star] = stars.splice(0);
        const steps = items.splice(star && star.index < items.length ? star.index : 0);
        items.push(cursor.eachSide(steps, at));
        continue;
      }
      if ('rwcf'.includes(c) && readRepeatFrom(cursor, items, stars)) continue;
      if (readAlternation(cursor, items)) continue;
      if (c === 'a' && stars.length === 0 && readAllRound(cursor, items)) continue;
      if ('ksa'.includes(c) && readAtEdges(cursor, items)) continue;
      if ('di'.includes(c) && readShapingOnEach(cursor, items)) continue;
      const step = this.#readStep(items.length === 0, depth);
      if (step === 'none') readUnknown(cursor, at, this.#abbreviations);
      else if (step !== null) {
        // "knit, decreasing 8 sts evenly": one instruction.
        const last = items[items.length - 1];
        if (last && goesToEnd(last)) sayFirstBehind(cursor, step);
        const openRun =
          last?.kind === 'stitch' && (!('times' in last.amount) || uncounted(cursor, last));
        if (openRun && (step.kind === 'spread' || (step.kind === 'group' && isPlacing(step)))) {
          items.pop();
        }
        items.push(step);
        explainsPattern(items);
        const open = stars[stars.length - 1]?.index ?? 0;
        foldRunningPair(cursor, items, Math.max(open, eachSideFrom < 0 ? 0 : eachSideIndex));
      }
    }
    wrapEachSide();
    closeStars(cursor, stars);
    this.#noteEnd(closer, openedAt);
    if (closer === '') sayNothingLeft(cursor, items);
    const last = items[items.length - 1];
    const alone = items.every((s) => s.kind === 'stitch' && 'times' in s.amount);
    if (
      items.length > 1 &&
      alone &&
      last.kind === 'stitch' &&
      last.afterComma &&
      'times' in last.amount
    ) {
      // "k13, k2tog, 6 times" without brackets
      const { times } = last.amount;
      const once: Step = { ...last, amount: { times: 1 } };
      const group = cursor.group([...items.slice(0, -1), once], items[0].from - cursor.base, {
        times,
      });
      return [{ ...group, otherSteps: items }];
    }
    const fixed = items.length > 0 && items.every((s) => 'amount' in s && 'times' in s.amount);
    if (again && fixed) {
      const [{ from }] = items;
      return [cursor.group(items, from - cursor.base, { kind: 'rest', count: 0 })];
    }
    return items;
  }

  /** The text has ended: within a bracket, or after words that want more. */
  #noteEnd(closer: string, openedAt: number): void {
    const { cursor } = this;
    if (closer === '') {
      cursor.unfinished ||= /(?:[,&]|\b(?:and|then|to|from|next|last|rep|repeat|k|p))\s*$/.test(
        cursor.text,
      );
      return;
    }
    cursor.unfinished = true;
    cursor.unread++;
    cursor.sayAt(
      'error',
      'bracket-not-closed',
      openedAt,
      openedAt + 1,
      `this "${cursor.text[openedAt]}" is never closed`,
      `Put a "${closer}" after the last stitch that belongs to it.`,
    );
  }

  #readRemark(last: Step | undefined): boolean {
    return readBracketedRemark(this.cursor, last, (text, base) => {
      const { steps, cursor } = this.#readInner(text, base);
      return { steps, unread: cursor.unread };
    });
  }

  #readSection(items: Step[]): boolean {
    return readSection(this.cursor, items, this.#parts, (text, base) =>
      this.#readInner(text, base),
    );
  }

  #readInner(text: string, base: number): { steps: readonly Step[]; cursor: StepCursor } {
    const inner = new StepReader(text, base, this.#abbreviations);
    return { steps: inner.readSequence('', 1, 0), cursor: inner.cursor };
  }

  #readBracket(open: string, depth: number): Step | null {
    const { cursor } = this;
    const at = cursor.i;
    const closer = open === '(' ? ')' : open === '[' ? ']' : '}';
    cursor.i++;
    if (depth >= DEEPEST) {
      cursor.say(
        'error',
        'brackets-too-deep',
        at,
        `brackets are nested more than ${DEEPEST} deep`,
        'Write the inner repeats as rounds or abbreviations of their own.',
      );
      cursor.i = cursor.text.length;
      return null;
    }
    const steps = foldBobbles(this.readSequence(closer, depth + 1, at));
    if (steps.length === 0) return null;
    const times = (depth === 0 ? cursor.declared.brackets : null) ?? 1;
    return repeatedBracket(cursor, steps, at, times);
  }

  /** One step; null for words without meaning, 'none' if nothing could be read. */
  #readStep(first: boolean, depth: number): Step | null | 'none' {
    const { cursor } = this;
    const marker = readMarkerStep(cursor);
    if (marker !== 'none') return marker;
    const told =
      readOwnStitch(cursor, this.#abbreviations) ?? readSpread(cursor) ?? readPattern(cursor);
    if (told) return told;
    const many = this.#readMultiplied(first, depth);
    if (many !== undefined) return many;
    const stitch = readTradeStitch(cursor, first);
    if (stitch) return stitch;
    if (readIdleWords(cursor)) return null;
    return readCountedStitch(cursor, first) ?? 'none';
  }

  /** `4 x (k2, p2)`; undefined where no number of times stands here. */
  #readMultiplied(first: boolean, depth: number): Step | null | 'none' | undefined {
    const { cursor } = this;
    const at = cursor.i;
    MULTIPLIER.lastIndex = at;
    const times = MULTIPLIER.exec(cursor.text);
    if (!times || readStitch(cursor.text, at)) return undefined;
    cursor.i = at + times[0].length;
    const inner =
      cursor.text[cursor.i] === '(' ? this.#readBracket('(', depth) : this.#readStep(first, depth);
    if (inner === null || inner === 'none') return inner;
    return cursor.group([inner], at, { times: Number(times[1]) });
  }
}

/** Steps worked as often as the words around them say. */
function wrapped(
  cursor: StepCursor,
  steps: readonly Step[],
  from: number,
  told: Announced | null,
): GroupStep {
  return told?.amount
    ? cursor.group(steps, from, told.amount, told.otherTimes)
    : cursor.eachSide(steps, from);
}

/** The same on both tips of a needle, which share the round equally. */
function inHalves(cursor: StepCursor, steps: readonly Step[], at: number): GroupStep[] {
  const half = (): GroupStep => ({ ...cursor.group(steps, at, { times: 1 }), part: true });
  return [half(), half()];
}

/** "k, dec 8 sts evenly": the letter alone. */
function uncounted(cursor: StepCursor, step: Step): boolean {
  return /^(?:k(?:nit)?|p(?:url)?)$/.test(
    cursor.text.slice(step.from - cursor.base, step.to - cursor.base),
  );
}

/** "in rib, k2 and p2 alternately": stitches up to the end behind a pattern up to the end say what it is. */
function explainsPattern(items: Step[]): void {
  const [named, told] = items.slice(-2);
  if (named?.kind !== 'pattern' || named.rule !== 'set' || told?.kind !== 'group') return;
  const open = (s: { amount: Amount }): boolean =>
    'kind' in s.amount &&
    (s.amount.kind === 'rest' || (s.amount.kind === 'end' && !s.amount.count));
  if (open(named) && open(told)) items.splice(-2, 1);
}

function goesToEnd(step: Step): boolean {
  return (
    (step.kind === 'stitch' || step.kind === 'pattern') &&
    'kind' in step.amount &&
    (step.amount.kind === 'rest' || step.amount.kind === 'end')
  );
}

/** "Knit, slipping the first stitch": the first stitch does not stand behind the others. */
function sayFirstBehind(cursor: StepCursor, step: Step): void {
  const from = step.from - cursor.base;
  const to = step.to - cursor.base;
  if (step.kind !== 'stitch' || !/\bfirst\s+(?:\d+\s+)?st/.test(cursor.text.slice(from, to)))
    return;
  cursor.sayAt(
    'error',
    'first-behind-others',
    from,
    to,
    'the first stitch is told here, behind all the others',
    'Tell the stitches in the order in which they are worked, for example: sl 1, knit to end.',
  );
  cursor.failed = true;
}

/** "Knit - purl the edge stitches": behind what goes to the end, nothing is left for what would go there too. */
function sayNothingLeft(cursor: StepCursor, items: readonly Step[]): void {
  const toEnd = items.filter(
    (s): s is GroupStep | StitchStep =>
      (s.kind === 'stitch' || (s.kind === 'group' && !s.eachSide && !s.part)) &&
      'kind' in s.amount &&
      (s.amount.kind === 'rest' || s.amount.kind === 'end') &&
      s.amount.count === 0,
  );
  const [first, second] = toEnd;
  if (!first || !second || (first.kind === 'stitch' && nameOf(second) === first.name)) return;
  cursor.sayAt(
    'error',
    'nothing-left-to-work',
    second.from - cursor.base,
    second.to - cursor.base,
    'what stands before this goes to the end, so that nothing is left for it',
    'Say which stitches are meant, for example: p1, k to last st, p1.',
  );
  cursor.failed = true;
}

function nameOf(step: GroupStep | StitchStep): string | null {
  if (step.kind === 'stitch') return step.name;
  const [only] = step.steps;
  return step.steps.length === 1 && only.kind === 'stitch' ? only.name : null;
}

/** Stitches stand behind this place, so that words before them lead to them. */
function stitchesFollow(cursor: StepCursor): boolean {
  const { text } = cursor;
  let { i } = cursor;
  while (/[\s,;.:]/.test(text[i] ?? '')) i++;
  if (/^[([]\s*\d+\s*(?:sts?\b|stitches|[)\]])/.test(text.slice(i, i + 20))) return false;
  return (
    '*([{'.includes(text[i] ?? ' ') ||
    readStitch(text, i) !== null ||
    /^(?:work|knit|purl|dec|inc)/.test(text.slice(i, i + 5))
  );
}

/** Reads `text`, which stands at `base` of the normalised source. */
export function readSteps(
  text: string,
  base: number,
  abbreviations: Abbreviations,
): ReadInstruction {
  const reader = new StepReader(text, base, abbreviations);
  let steps = foldBobbles(reader.readSequence('', 0, 0));
  if (
    ON_EACH_SIDE.test(text) &&
    steps.length > 0 &&
    !steps.some((s) => s.kind === 'group' && (s.eachSide || s.part))
  )
    steps = [reader.cursor.eachSide(steps, 0)];
  const { promised } = reader.cursor;
  const said = reader.cursor.stated;
  const stated =
    promised === null
      ? said
      : { total: null, perSide: null, ...said, change: said?.change ?? promised };
  const { unread, failed, unfinished, remarks, colour } = reader.cursor;
  const hasStitches = steps.some((s) => s.kind !== 'marker' && s.kind !== 'turn');
  return { steps, stated, unread, failed, unfinished, hasStitches, colour, remarks };
}
