/**
 * Where instructions begin within a line: labels, cast-ons, endings, sentences of work. In: a passage, a line,
 * and how far the text has come. Out: the places with what begins there and what its first words said.
 */
import { PASSAGE } from '../lex/passage-marks.ts';
import { NOTE_WORDS, ORDER_LEADS } from '../lexicon/words.ts';
import { boundaryAt } from './boundaries.ts';
import { tellsChange } from './change-told.ts';
import { colourChange } from './colours.ts';
import { readCrossing } from './crossings.ts';
import { readEdges } from './edges.ts';
import { readGround } from './ground.ts';
import { hidesOrder } from './hidden-orders.ts';
import { ledIn } from './lead-in.ts';
import { leftoverInstructs } from './leftovers.ts';
import type { Line } from './lines.ts';
import { leftEnd, tellsOnly } from './only-told.ts';
import { LONGEST_WHOLE } from './over-again.ts';
import type { Passage } from './passage.ts';
import { isUnit } from './phrases.ts';
import { sentenceInstructs } from './prose.ts';
import { readRefused } from './refused.ts';
import { isRemark } from './remarks.ts';
import { shapedThus } from './shaped-thus.ts';
import {
  endsAtNumber,
  type Progress,
  passageMark,
  patternSet,
  type Start,
  tells,
  tellsShaping,
  turnNamed,
} from './start.ts';
import { mayFollow } from './start-follows.ts';
import { readCastOnHead } from './statements/cast-on.ts';
import { readEndHead } from './statements/ending-head.ts';
import { isBounded, readGoingOn } from './statements/going-on.ts';
import { labelBehind, labelHolds, leadsToLabel } from './statements/label/holds.ts';
import { readLabel } from './statements/label/label.ts';
import { joinsRing, readSetUpHead } from './statements/set-up.ts';
import { headsRounds, readWork } from './statements/work.ts';
import { closingStitches } from './stitch-sentences.ts';
import { stripesTold } from './stripes.ts';
import { readCheckNow, readTally } from './tallies.ts';
import type { TokenCursor } from './token-cursor.ts';
import { wholeRound } from './whole-round.ts';
import { isStitchWord, limits } from './word-law.ts';

/** Places of one line where an instruction may start; more make no plan. Chosen. */
const MOST_TRIED = 1_500;

/** Tokens behind a line that tell what stands at its end: a mark, the unit behind a number. */
const TOKENS_AHEAD = 3;

function castOnWorked({ castOn, worked, ended }: Progress): boolean {
  return castOn && worked && !ended;
}

/** Stitches cast on by those words, not only the name of a cast-on. */
const CASTS_ON =
  /\b(?:cast(?:ing)?[ -]*on|co|c\/o)\b[^.\n]{0,60}\d|\d[^.\n]{0,40}\bcast[ -]*on\b|\bcast \d/;

export class StartFinder {
  readonly #passage: Passage;
  readonly #progress: Progress;
  /** No words of the text cast on, so that a mere number of stitches must do so. */
  readonly bare: boolean;

  /** Beginnings that were looked ahead to, by place and how far the text had come. */
  readonly #ahead = new Map<string, Start | null>();

  constructor(passage: Passage, progress: Progress) {
    this.#passage = passage;
    this.#progress = progress;
    this.bare = !CASTS_ON.test(passage.text);
  }

  /** Only sure beginnings: a label with its mark, a cast-on, an ending. */
  startsLine(line: Line): boolean {
    const c = this.#passage.cursor(line.first, line.last);
    const label = readLabel(c);
    if (label?.marked) return true;
    c.i = line.first;
    if (readEndHead(c) || readCastOnHead(c, true, this.bare)) return true;
    const start = this.startAt(line.first, line.last);
    return start !== null && (start.kind !== 'round' || start.label.numbers.length > 0);
  }

  /** Every place of the line where an instruction begins. */
  starts(first: number, last: number): Start[] {
    const { castOn, worked, ended } = this.#progress;
    const what = `starts ${castOn} ${worked} ${ended}`;
    this.#ahead.clear();
    const found = this.#passage.recalled(what, first, last, TOKENS_AHEAD, () => ({
      starts: this.#starts(first, last),
      first,
    }));
    const by = first - found.first;
    const starts: Start[] = [];
    for (const s of found.starts) this.#note(starts, { ...s, at: s.at + by, next: s.next + by });
    return starts;
  }

  #starts(first: number, last: number): Start[] {
    const starts: Start[] = [];
    const here = this.startAt(first, last);
    const idle = here?.kind === 'going' && !here.going.asks && !here.instructs;
    const left = tellsOnly(this.#passage, this.#progress.castOn, first, last);
    const begin = idle || left ? null : here;
    if (begin) this.#note(starts, begin);
    const behind = begin && this.#behindPattern(begin, last);
    if (behind) this.#note(starts, behind);
    const inner = begin && this.#ruleWithin(begin, last);
    if (inner) this.#note(starts, inner);
    let tried = 0;
    const free = left ? leftEnd(this.#passage, first, last) : first;
    let i = (inner ?? behind ?? begin)?.next ?? free;
    if (begin?.kind === 'passage') i = this.#behindMark(starts, begin, last);
    while (i < last) {
      const mark =
        this.#passage.tokens[i].text === PASSAGE
          ? passageMark(this.#passage.tokens, i, last)
          : null;
      if (mark) {
        this.#note(starts, mark);
        i = this.#behindMark(starts, mark, last);
        continue;
      }
      const bound = boundaryAt(this.#passage, i, first, last);
      if (bound === null) {
        const behind = this.#behindColon(starts, i, first, last);
        if (behind) this.#note(starts, behind);
        i = behind?.next ?? i + 1;
        continue;
      }
      const at = bound.next;
      if (at >= last) break;
      if (this.#passage.tokens[at].text === PASSAGE) {
        i = at;
        continue;
      }
      const hard = bound.hard && '.!?'.includes(this.#passage.tokens[i].text);
      if (hard && tellsOnly(this.#passage, this.#progress.castOn, at, last)) {
        i = leftEnd(this.#passage, at, last);
        continue;
      }
      const current = starts[starts.length - 1];
      const t = this.#passage.tokens[at];
      const behind = this.#passage.tokens[at + 1];
      const skip =
        /^[kp]\d/.test(t.text) && !/^(?:rounds?|rnds?|rows?)$/.test(behind?.text ?? '')
          ? true
          : current !== undefined &&
            (t.text === '*' ||
              t.text === '(' ||
              t.text === '[' ||
              // "yo," is a stitch of a round.
              (behind?.kind === 'mark' && ',;)]*'.includes(behind.text) && isStitchWord(t))) &&
            !bound.hard;
      if (skip || ++tried > MOST_TRIED) {
        i = Math.max(i + 1, at);
        continue;
      }
      let start = this.#startAhead(at, last);
      if (!start && bound.hard) {
        const led = ledIn(this.#passage, at, last);
        if (led > at) start = this.startAt(led, last);
      }
      if (start && mayFollow(this.#passage, start, current, { bound, at, last })) {
        this.#note(starts, start);
        i = Math.max(start.next, at + 1);
      } else i = Math.max(i + 1, at);
    }
    return starts;
  }

  /** Notes what begins right behind the mark of a passage; gives the token that is looked at next. */
  #behindMark(starts: Start[], { next }: Start, last: number): number {
    let at = next;
    while (at < last && /^[.,;]$/.test(this.#passage.tokens[at].text)) at++;
    const start = at < last ? this.startAt(at, last) : null;
    if (!start || start.kind === 'passage') return at;
    this.#note(starts, start);
    return Math.max(start.next, at + 1);
  }

  /** "Rounds 3-22: odd rounds: knit; even rounds: …": the rule that the range heads. */
  #ruleWithin(begin: Start, last: number): Start | null {
    if (begin.kind !== 'round' || begin.label.numbers.length < 2 || begin.next >= last) return null;
    const c = this.#passage.cursor(begin.next, last);
    const label = readLabel(c);
    const ruled = label?.marked && (label.rule === 'odd' || label.rule === 'even');
    return ruled && label.numbers.length === 0 && !label.upTo
      ? { kind: 'round', label, at: begin.next, next: c.i }
      : null;
  }

  /** "Change to 4 mm needles: knit 6 rounds", "join: purl 3 rounds": an order behind a colon at `i`. */
  #behindColon(starts: readonly Start[], i: number, first: number, last: number): Start | null {
    const { tokens } = this.#passage;
    if (tokens[i].text !== ':' || i + 1 >= last) return null;
    const current = starts[starts.length - 1];
    if (current?.kind === 'round' || current?.kind === 'end') return null;
    const from = Math.max(first, this.#passage.sentenceStart(i));
    const lead = tokens[from].text;
    if (NOTE_WORDS.has(lead) || (!current && !ORDER_LEADS.has(lead))) return null;
    if (limits(tokens.slice(from, i))) return null;
    const start = this.startAt(i + 1, last);
    return start?.kind === 'work' || start?.kind === 'end' ? start : null;
  }

  /** "These 2 rounds form the pattern, which is repeated until 8 sts remain": what is to be done with it. */
  #behindPattern({ kind, next }: Start, last: number): Start | null {
    if (kind !== 'pattern') return null;
    const c = this.#passage.cursor(next, last);
    c.eatMark(':,;(-');
    c.phrase('and|so');
    const start = c.done ? null : this.startAt(c.i, last);
    return start?.kind === 'work' || (start?.kind === 'going' && start.going.asks) ? start : null;
  }

  #note(starts: Start[], start: Start): void {
    starts.push(start);
    if (start.kind === 'cast-on') this.#progress.castOn = true;
    if (start.kind === 'round' || start.kind === 'work') this.#progress.worked = true;
  }

  /** What begins exactly at token `at`, or null. */
  startAt(at: number, end: number): Start | null {
    const c = this.#passage.cursor(at, end);
    if (c.mark(PASSAGE)) return passageMark(this.#passage.tokens, at, end);
    const ground = this.#progress.ended ? null : readGround(c, this.#progress.castOn);
    if (ground) return { kind: 'ground', ...ground, at, next: c.i };
    c.i = at;
    const edges = this.#progress.ended ? null : readEdges(c);
    if (edges && (c.done || c.mark('.,;:)('))) return { kind: 'edges', edges, at, next: c.i };
    c.i = at;
    const back = (): void => {
      c.i = at;
    };
    // "You lose 2 stitches on each side every time" orders nothing.
    if (castOnWorked(this.#progress) && tellsChange(c)) return null;
    back();
    const stripes = stripesTold(c);
    if (stripes) return { kind: 'colour', colour: null, stripes, at, next: c.i };
    back();
    const tally = this.#progress.worked ? (readTally(c) ?? readCheckNow(c)) : null;
    if (tally) return { kind: 'tally', tally, at, next: c.i };
    back();
    const crosses = this.#progress.castOn ? readCrossing(c) : null;
    if (crosses && (c.done || c.mark('.,;'))) return { kind: 'crossing', crosses, at, next: c.i };
    back();
    if (isUnit(c) && c.isNumber(1)) {
      const named = this.#progress.worked ? turnNamed(c) : null;
      if (named) return { kind: 'pattern', which: named, at, next: c.i };
      const label = readLabel(c);
      const next = c.i;
      // "Rounds 3 and 4, over and over, until …"
      const several = label?.marked === true && label.numbers.length > 1;
      // "Rounds 3 and 4: repeat constantly until …"
      const again =
        /^(?:repeat|rep|always|constantly|continually|alternately)$/.test(c.word()) ||
        (c.isNumber() && /^(?:times|x|more|further)$/.test(c.word(1)));
      const comma = several && (c.here(-1) === ',' || (c.here(-1) === ':' && again));
      back();
      const repeats = comma && readWork(c)?.[0].kind === 'repeat';
      if (label?.marked && !repeats) return { kind: 'round', label, at, next };
      back();
    }
    if (this.#progress.castOn) {
      const change = colourChange(c);
      if (change) return { kind: 'colour', ...change, at, next: c.i };
      back();
      const refused = readRefused(c, this.#progress.ended);
      if (refused)
        return { kind: 'refused', at, next: this.#passage.sentenceEnd(c.i, end), ...refused };
      if (/^(?:bind|cast|bo|binding|casting|then|and|now)$/.test(c.word())) {
        const edge = readWork(c);
        if (edge?.[0].kind === 'edge') return { kind: 'work', clauses: edge, at, next: c.i };
        back();
      }
      if (!this.#progress.worked && c.takes(() => joinsRing(c)))
        return { kind: 'set-up', at, next: c.i };
      // "Pull the tail to close the hole" behind a cast-on ends nothing.
      if (readEndHead(c) && (this.#progress.worked || /\b(?:bind|cast|bo)/.test(c.slice(at, c.i))))
        return { kind: 'end', at, next: this.#passage.sentenceEnd(c.i, end) };
      back();
    }
    back();
    if (readCastOnHead(c, !this.#progress.castOn, this.bare)) {
      if (!this.#progress.castOn || this.#progress.ended) return { kind: 'cast-on', at, next: c.i };
    }
    back();
    if (!this.#progress.ended && readSetUpHead(c, this.#progress.worked))
      return { kind: 'set-up', at, next: c.i };
    back();
    if (this.#progress.castOn) {
      const which = patternSet(c);
      if (which) return { kind: 'pattern', which, at, next: c.i };
      back();
    }
    if (/^(?:work|knit)$/.test(c.word()) && isUnit(c, 1)) {
      // "Work round 1 as follows: …"
      const told = readLabel(c);
      if (told?.marked && told.numbers.length > 0)
        return { kind: 'round', label: told, at, next: c.i };
      back();
    }
    const read = readWork(c);
    const thus = read?.some((k) => k.kind === 'shape' && k.tellsBehind) ? read : null;
    const shaped = thus && shapedThus(this.#passage, thus, c.i, end);
    if (shaped) return { kind: 'work', ...shaped, at };
    const clauses = thus ? null : read;
    if (
      clauses &&
      (!c.mark(':') ||
        labelBehind(this.#passage.cursor(Math.min(c.i + 1, end), end), end) ||
        this.#onlySaysSo(c.i + 1, end)) &&
      !(clauses[0].kind === 'named' && c.mark('-') && c.peek()?.spaced)
    ) {
      const next = c.i;
      // "…, then every round until 8 sts remain, break yarn and draw it through"
      const ends = clauses.length > 1 && this.#startsBehind(next, end, 'end');
      const leaves = !ends && this.#leavesSome(next, end);
      const sure = !clauses.some(({ tail }) => tail.open || endsAtNumber(tail));
      if (!leaves && sure) return { kind: 'work', clauses, at, next };
      const going = this.#goingOn(at, end);
      if (going) return going;
      if (!leaves) return { kind: 'work', clauses, at, next };
      // "Decrease 8 sts evenly by knitting every 11th and 12th st together": read whole as one round's stitches.
      back();
      const whole = wholeRound(this.#passage, at, end);
      if (whole === null) return { kind: 'work', clauses, at, next };
      if (whole.kind !== 'round') return null;
      return whole;
    }
    back();
    const going = this.#goingOn(at, end);
    if (going && tells(going.going)) return going;
    const label = readLabel(c);
    const over = label?.unit === null && label.marked && label.numbers.length === 0;
    if (
      over &&
      (leadsToLabel(this.#passage.cursor(c.i, end), end) ||
        headsRounds(this.#passage.cursor(c.i, end)))
    )
      return null;
    if (label && labelHolds(label, c, end) && this.#countsRounds(at, c, end))
      return { kind: 'round', label, at, next: c.i };
    return going;
  }

  /** How the work goes on, where every word of the sentence is followed. */
  #goingOn(at: number, end: number): Extract<Start, { kind: 'going' }> | null {
    const { castOn, worked, ended } = this.#progress;
    if (!castOn || !worked || ended) return null;
    const c = this.#passage.cursor(at, end);
    const going = readGoingOn(c);
    const more = going !== null && this.#leavesSome(c.i, end) && !this.#startsBehind(c.i, end);
    if (!going || (more && !(isBounded(going) && this.#closes(c.i, end)))) return null;
    const stop = this.#passage.sentenceEnd(at, Math.min(end, at + LONGEST_WHOLE), '.;!?:');
    // "Do not work round 4 after the last of these" is followed.
    const limits = going.tail.endWith !== null && 'without' in going.tail.endWith;
    if (!limits && hidesOrder(this.#passage.tokens.slice(at, stop))) return null;
    const leads = this.#passage.tokens[stop]?.text === ':' && stop < end ? 1 : 0;
    const instructs =
      isBounded(going) ||
      (going.asks && going.tail.fewer !== null) ||
      sentenceInstructs(this.#passage.tokens.slice(at, stop + leads));
    return { kind: 'going', going, instructs, at, next: c.i };
  }

  /** Another instruction stands behind the comma or "then" at token `next`. */
  #startsBehind(next: number, end: number, kind?: Start['kind']): boolean {
    let at = next;
    while (at < end && at - next < 4 && /^(?:,|:|-|and|then)$/.test(this.#passage.tokens[at].text))
      at++;
    const start = at > next && at < end ? this.#startAhead(at, end) : null;
    return start !== null && (kind === undefined || start.kind === kind);
  }

  /** As `startAt`. Each beginning of a chain looks ahead to the next, and is itself come to later: read once. */
  #startAhead(at: number, end: number): Start | null {
    const { castOn, worked, ended } = this.#progress;
    const key = `${at} ${end} ${castOn} ${worked} ${ended}`;
    let start = this.#ahead.get(key);
    if (start === undefined) {
      start = this.startAt(at, end);
      this.#ahead.set(key, start);
    }
    return start;
  }

  /** "…until 3 sts are left, then k3tog and fasten off" */
  #closes(next: number, end: number): boolean {
    let stop = this.#passage.sentenceEnd(next, Math.min(end, next + LONGEST_WHOLE));
    for (let i = next + 1; i < stop; i++) if (readEndHead(this.#passage.cursor(i, stop))) stop = i;
    return closingStitches(this.#passage, next, stop) !== null;
  }

  /** "Purl 1 round, knit 1 round: that is the border done." */
  #onlySaysSo(next: number, end: number): boolean {
    const stop = this.#passage.sentenceEnd(next, Math.min(end, next + LONGEST_WHOLE));
    const words = this.#passage.tokens.slice(next, stop);
    return /^(?:that|this|it|these|which)$/.test(words[0]?.text ?? '') && isRemark(words, true);
  }

  /** Words behind token `next` in its sentence could ask for something. */
  #leavesSome(next: number, end: number): boolean {
    const stop = this.#passage.sentenceEnd(next, Math.min(end, next + LONGEST_WHOLE));
    const words = this.#passage.tokens.slice(next, stop);
    // "…, 1 plain round then 1 decrease round"
    if (words.length === 0) return false;
    const said = this.#passage.text.slice(words[0].from, words[words.length - 1].to);
    return leftoverInstructs(words) || tellsShaping(said);
  }

  /** "1. k - knit" before the cast-on, "2. Block" behind the end: numbers of a list, and of no rounds. */
  #countsRounds(at: number, c: TokenCursor, end: number): boolean {
    const { castOn, ended } = this.#progress;
    if ((castOn && !ended) || this.#passage.tokens[at].kind !== 'number') return true;
    const body = this.#passage.body(null, c.i, end);
    return body.kind !== 'steps' || (body.unread === 0 && body.hasStitches);
  }
}
