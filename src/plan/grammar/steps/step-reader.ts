/**
 * Instruction text of one round → Step tree. Recursive over brackets; asterisks are closed by the
 * "repeat from *" that follows them. Never fails: what it cannot read becomes a diagnostic and is left
 * out. The wordings of each sort of step have files of their own; this one is the order they are tried in.
 */
import type { Abbreviations } from '../../lexicon/abbreviations.ts';
import { readBesideStitches } from './beside-stitches.ts';
import { repeatedBracket } from './bracket-repeats.ts';
import { readBracketedRemark, readDefinition } from './bracketed-remarks.ts';
import { readAtEdges } from './edge-stitches.ts';
import { readIdleWords } from './idle-words.ts';
import { readLastOmitted, readMarkerStep } from './marker-steps.ts';
import { foldBobbles, foldIntoEach } from './multi-increase.ts';
import { readPattern, readRibbing } from './pattern-steps.ts';
import { readPlacedShaping } from './placed-shaping.ts';
import { readSection } from './sections.ts';
import { readLeading, readSides, Sequence, uncounted } from './sequence.ts';
import { ON_EACH_SIDE } from './side-words.ts';
import { plainOf, readSpread } from './spread-steps.ts';
import { closeStars, readRepeatFrom, readStar } from './star-repeats.ts';
import { GAP, StepCursor } from './step-cursor.ts';
import { goesToEnd, sayFirstBehind, sayNothingLeft, sayNotOpened } from './step-order.ts';
import type { ReadInstruction, Step } from './steps.ts';
import {
  allTimes,
  fills,
  readNeighbours,
  readSaysAgain,
  readTimesBehind,
  worksOf,
} from './steps-before.ts';
import {
  foldRunningPair,
  readAllRound,
  readCountedStitch,
  readOwnStitch,
  readPlainRun,
  readTradeStitch,
} from './stitch-runs.ts';
import { readStitch } from './stitch-words.ts';
import { readOverThem, readTrailingCount } from './trailing-counts.ts';
import { readRemark, readUnknown } from './unread-words.ts';

/** Deepest nesting of brackets. Chosen: no pattern needs more, and reading stays safe. */
const DEEPEST = 30;

/** Most steps of one round or bracket. Chosen: far above any pattern; bounds the time. */
const MOST_STEPS = 20_000;

/** Unread words after which the rest of an instruction is given up. Chosen. */
const MOST_UNREAD = 200;

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

/** "the last 2 ssk", "the first 2 sts k2tog": which stitches, before what is done with them. */
const STS_AHEAD =
  /the (?:first|last|next|final|remaining) (?:2|3) (?:(?:sts?|stitches) )?(?=(?:ssk|skp|k[23]tog|p2tog|sk2p|s2kp|cdd)(?![a-z0-9]))/y;

/** "Always knit 2 stitches together": again and again to the end. */
const ALWAYS = /\s*(?:always|continually|continuously|constantly|repeatedly)\s+(?=[kpsy2-9*([])/y;
const EDGES = /\b(?:beg|begin\w*|start\w*|edges?|first|there|each|every|both|either|past|after)\b/;
/** "(front needle): …" */
const NAMES_NEEDLE = /^\((?:front|back|first|second)\s/;
const MULTIPLIER = /(\d{1,3})\s*x\s*(?=[(]|[a-z])/y;

function sayTooLong(cursor: StepCursor): void {
  const at = cursor.i;
  const most = MOST_STEPS.toLocaleString('en-US');
  cursor.i = cursor.text.length;
  cursor.say(
    'error',
    'round-too-long',
    at,
    `this round has more than ${most} instructions`,
    'Write what is repeated once, for example: (k2, p2) to end.',
  );
}

class StepReader {
  readonly cursor: StepCursor;
  readonly #abbreviations: Abbreviations;
  /** Steps of `Needle 1: …` and so on, for "as needle 1". */
  readonly #parts = new Map<string, readonly Step[]>();
  /** The text names needles or sides. */
  readonly #byNeedle: boolean;
  /** … or ribbing. */
  readonly #ribs: boolean;
  /** … or where a stitch stands at the ends of them. */
  readonly #byEdge: boolean;
  /** How many readers this one's text is a part of. */
  readonly #within: number;

  constructor(text: string, base: number, abbreviations: Abbreviations, within = 0) {
    this.#within = within;
    this.cursor = new StepCursor(text.replace(GERUND, imperative), base, abbreviations.repeats);
    this.#abbreviations = abbreviations;
    this.#byNeedle = /needle|ndl|dpn|side|section|\bn ?\d/.test(text);
    this.#ribs = text.includes('rib');
    this.#byEdge = EDGES.test(text);
  }

  /** Everything up to the closing bracket, or to the end of the text. */
  readSequence(closer: string, depth: number, openedAt: number): Step[] {
    const seq = new Sequence(this.cursor);
    this.cursor.scopes.push(seq.stars);
    const items = this.#readItems(seq, closer, depth, openedAt);
    this.cursor.scopes.pop();
    return items;
  }

  #readItems(seq: Sequence, closer: string, depth: number, openedAt: number): Step[] {
    const { cursor } = this;
    const { items, stars } = seq;
    const again = cursor.match(ALWAYS) !== null;
    for (;;) {
      const gap = cursor.match(GAP);
      // "On each side: k2tog, knit the rest of the side. Knit the edge st."
      if (seq.led && gap?.[0].includes('.') && fills(items.at(-1))) seq.close();
      const c = cursor.text[cursor.i];
      if (c === undefined) break;
      if (c === closer) {
        cursor.i++;
        seq.close();
        closeStars(cursor, stars, items);
        return items;
      }
      if (c === ')' || c === ']' || c === '}') sayNotOpened(cursor, c);
      else if (c === '(' || c === '[' || c === '{') this.#readOpened(seq, c, depth);
      else if (c === '*') readStar(cursor, items, stars);
      else if (cursor.unread > MOST_UNREAD) cursor.i = cursor.text.length;
      else if (items.length > MOST_STEPS) sayTooLong(cursor);
      else if (!this.#readWords(seq, c)) this.#readNext(seq, depth);
    }
    seq.close();
    closeStars(cursor, stars, items);
    this.#noteEnd(closer, openedAt);
    if (closer === '') sayNothingLeft(cursor, items);
    const all = allTimes(cursor, items);
    if (all) return [all];
    const fixed = items.length > 0 && items.every((s) => 'amount' in s && 'times' in s.amount);
    return again && fixed ? [seq.takeAll({ kind: 'rest', count: 0 })] : items;
  }

  /** A bracket: a needle's name, a repeat of what stands before it, a remark, or stitches. */
  #readOpened(seq: Sequence, c: string, depth: number): void {
    const { cursor } = this;
    const { items, stars } = seq;
    const at = cursor.i;
    if (NAMES_NEEDLE.test(cursor.text.slice(at, at + 8)) && this.#readSection(items)) return;
    if (items.length > 0 && cursor.match(AGAIN_IN_BRACKETS)) {
      if (readRepeatFrom(cursor, items, stars) && cursor.match(CLOSES)) return;
      cursor.i = at;
    }
    if (this.#readRemark(items[items.length - 1])) {
      readTimesBehind(cursor, items);
      return;
    }
    const step = this.#readBracket(c, depth);
    if (step) items.push(step);
  }

  /** Words that say how the steps around them are worked, or plain stitches; false where none stand here. */
  #readWords(seq: Sequence, c: string): boolean {
    const { cursor } = this;
    const { items, stars } = seq;
    const at = cursor.i;
    const last = items.at(-1);
    if (last && (readDefinition(cursor) || readSaysAgain(cursor, items))) return true;
    if (last && (readLastOmitted(cursor, last) || readNeighbours(cursor, last))) return true;
    const run =
      (this.#ribs ? readRibbing(cursor) : null) ??
      (c === 'k' || c === 'p' ? readPlainRun(cursor, this.#abbreviations) : null);
    if (run) {
      items.push(run);
      return true;
    }
    if (items.length > 0 && (readOverThem(cursor, worksOf(items)) || readRemark(cursor)))
      return true;
    if (this.#byNeedle && this.#readSection(items)) {
      if (/^rep\S* from \*/.test(cursor.text.slice(at, cursor.i))) stars.length = 0;
      return true;
    }
    return (
      (this.#byEdge && readBesideStitches(cursor, items)) ||
      (this.#byEdge && 'ksatwbmdohecfipyn21lr('.includes(c) && readAtEdges(cursor, items)) ||
      ('diwmlra1o'.includes(c) && readPlacedShaping(cursor, items)) ||
      readLeading(seq) ||
      readTrailingCount(cursor) ||
      readSides(seq, c) ||
      ('rwcf'.includes(c) && readRepeatFrom(cursor, items, stars)) ||
      ('aoitr'.includes(c) && stars.length === 0 && readAllRound(cursor, items, seq.ledFrom))
    );
  }

  /** One more step, or words that mean nothing here. */
  #readNext({ items, stars, ledFrom }: Sequence, depth: number): void {
    const { cursor } = this;
    const at = cursor.i;
    const step = this.#readStep(items.length === 0, depth);
    if (step === 'none') readUnknown(cursor, at, this.#abbreviations);
    if (step === 'none' || step === null) return;
    if (stars.length === 0 && foldIntoEach(cursor, items, step, at)) return;
    const last = items[items.length - 1];
    if (last && goesToEnd(last)) sayFirstBehind(cursor, step);
    // "knit, decreasing 8 sts evenly": one instruction.
    const openRun =
      last?.kind === 'stitch' && (!('times' in last.amount) || uncounted(cursor, last));
    if (openRun && step.kind === 'spread') {
      items.pop();
      items.push({ ...step, ...plainOf(last) });
    } else items.push(step);
    foldRunningPair(cursor, items, Math.max(stars[stars.length - 1]?.index ?? 0, ledFrom));
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
      return { steps, unread: cursor.unread + cursor.asides };
    });
  }

  #readSection(items: Step[]): boolean {
    // Labels one behind the other without a mark between lie in one another.
    if (this.#within >= DEEPEST) return false;
    return readSection(this.cursor, items, this.#parts, (text, base) =>
      this.#readInner(text, base),
    );
  }

  #readInner(text: string, base: number): { steps: readonly Step[]; cursor: StepCursor } {
    const inner = new StepReader(text, base, this.#abbreviations, this.#within + 1);
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
    cursor.match(STS_AHEAD);
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

/** "Knit to 3 sts before each marker, k2tog, …": told for every marker. */
const UP_TO_EACH_MARKER = /\b(?:before|of|to) (?:each|every) (?:stitch )?(?:m|mkr|marker)\b/;

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
  const [run] = steps;
  if (
    steps.length > 1 &&
    UP_TO_EACH_MARKER.test(text.slice(run.from - base, run.to - base)) &&
    !steps.some((s) => s.kind === 'group')
  )
    steps = [reader.cursor.eachSide(steps, 0)];
  const { promised } = reader.cursor;
  const said = reader.cursor.stated;
  const stated =
    promised === null
      ? said
      : { total: null, perSide: null, ...said, change: said?.change ?? promised };
  const { unread, failed, unfinished, remarks, colour, tells } = reader.cursor;
  const hasStitches = steps.some((s) => s.kind !== 'marker' && s.kind !== 'turn');
  const told = tells.length > 0 ? { tells } : null;
  return { steps, stated, unread, failed, unfinished, hasStitches, colour, remarks, ...told };
}
