/**
 * Plan text → statements in order of the text. Walks each line from instruction to instruction; every rule
 * reads its words once and keeps what they say, and what lies between is prose. In: lines of tokens. Out:
 * nodes (`ast.ts`) that cover the text from the first word to the last.
 */
import type { Source } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import type { RoundBody, RoundLabel, Statement, WorkClause } from './ast.ts';
import { readBody } from './body.ts';
import { readColour } from './colours.ts';
import { joinLines, type Line } from './lines.ts';
import { isUnit } from './phrases.ts';
import { isStitchWord, leftoverInstructs, looksLikeRound, sentenceInstructs } from './prose.ts';
import { readRefused } from './refused.ts';
import { castOnOf, readCastOnHead } from './statements/cast-on.ts';
import { endingCount, endingOf, readEndHead } from './statements/ending.ts';
import { readLabel } from './statements/label.ts';
import { readSetUpHead, setUpOf } from './statements/set-up.ts';
import { readWork } from './statements/work.ts';
import { readStatedCount } from './steps/stated-counts.ts';
import { readStitch } from './steps/stitch-words.ts';
import { TokenCursor } from './token-cursor.ts';

/** Places of one line where an instruction may start; more make no plan. Chosen. */
const MOST_TRIED = 10_000;

type Start = { readonly at: number; readonly next: number } & (
  | { readonly kind: 'cast-on' | 'set-up' | 'end' }
  | { readonly kind: 'round'; readonly label: RoundLabel }
  | { readonly kind: 'work'; readonly clauses: readonly WorkClause[] }
  | { readonly kind: 'colour'; readonly colour: string }
  | {
      readonly kind: 'refused';
      readonly code: string;
      readonly message: string;
      readonly hint: string;
    }
);

/** A round whose text may still go on in the next line. */
interface OpenRound {
  label: RoundLabel | null;
  /** First token of the statement, first of its body, and the one behind the last. */
  at: number;
  body: number;
  end: number;
  item?: number;
  /** Brackets open and asterisks met up to token `seen`. */
  depth: number;
  stars: number;
  seen: number;
}

export class StatementReader {
  readonly statements: Statement[] = [];
  readonly #tokens: readonly Token[];
  readonly #text: string;
  readonly #abbreviations: Abbreviations;
  /** No words of the text cast on, so that a mere number of stitches must do so. */
  readonly #bare: boolean;
  #castOn = false;
  #ended = false;
  #worked = false;
  #open: OpenRound | null = null;
  /** Rounds of a heading that "odd rounds" and "even rounds" below it share. */
  #range: readonly number[] | null = null;
  /** "1. Cast on …": numbers in front of lines count steps, not rounds. */
  #steps = false;

  constructor(tokens: readonly Token[], source: Source, abbreviations: Abbreviations) {
    this.#tokens = tokens;
    this.#text = source.norm;
    this.#abbreviations = abbreviations;
    this.#bare = !/\b(?:cast(?:ing)?[ -]*on|co|c\/o)\b/.test(this.#text);
  }

  read(lines: readonly Line[]): Statement[] {
    const joined = joinLines(lines, this.#tokens, (line) => this.#startsLine(line));
    let blank = true;
    for (const line of joined) {
      if (line.taken || line.first === line.last) {
        blank = true;
        continue;
      }
      this.#line(line, blank);
      blank = false;
    }
    this.#closeRound();
    return this.statements;
  }

  #cursor(from: number, end: number): TokenCursor {
    return new TokenCursor(this.#tokens, this.#text, from, end);
  }

  /** Only sure beginnings: a label with its mark, a cast-on, an ending. */
  #startsLine(line: Line): boolean {
    const c = this.#cursor(line.first, line.last);
    const label = readLabel(c);
    if (label?.marked) return true;
    c.i = line.first;
    if (readEndHead(c) || readCastOnHead(c, true, this.#bare)) return true;
    const start = this.#startAt(line.first, line.last);
    return start !== null && (start.kind !== 'round' || start.label.numbers.length > 0);
  }

  // ---- one line ---------------------------------------------------------------------------------

  #line(line: Line, blank: boolean): void {
    const { last } = line;
    let first = line.first;
    const heading = this.#tokens[first].text === '#';
    const indented = this.#tokens[first].from > line.from;
    first = this.#bullets(first, last);
    if (heading || first >= last) {
      this.#closeRound();
      this.#push({
        kind: 'prose',
        heading: true,
        instructs: false,
        ...this.#span(line.first, last),
      });
      return;
    }
    const numbered = this.#item(first, last);
    if (numbered) first = numbered.next;
    const captioned = this.#caption(first, last);
    if (captioned > first) {
      this.#closeRound();
      this.#push({
        kind: 'prose',
        heading: false,
        instructs: false,
        ...this.#span(first, captioned),
      });
      first = captioned;
    }
    const starts = this.#starts(first, last);
    const firstAt = starts[0]?.at ?? last;
    if (firstAt > first) this.#free(first, firstAt, indented, blank, firstAt < last);
    for (let i = 0; i < starts.length; i++) {
      const end = starts[i + 1]?.at ?? last;
      this.#place(starts[i], end, i === 0 ? numbered?.n : undefined);
    }
  }

  /** Marks of lists in front of a line. */
  #bullets(from: number, end: number): number {
    let i = from;
    while (i < end) {
      const t = this.#tokens[i];
      if (t.kind !== 'mark') break;
      const next = this.#tokens[i + 1];
      if (t.text === '•' || t.text === '>' || t.text === '#' || (t.text === '-' && next?.spaced))
        i++;
      else if (
        t.text === '*' &&
        next?.spaced &&
        /^(?:round|rnd|row|cast|co|bind|join|repeat)$/.test(next.text)
      )
        i++;
      else if (t.text === '*' && next?.text === '*') i += 2;
      else break;
    }
    return i;
  }

  /** "Edge: knit 3 rows": words before a colon that ask for nothing; gives the place behind them. */
  #caption(first: number, last: number): number {
    if (!this.#castOn || this.#ended || isUnit(this.#cursor(first, last))) return first;
    let i = first;
    while (i < last && i - first < 7 && this.#tokens[i].text !== ':') {
      const t = this.#tokens[i];
      if (t.text === ',' && i > first) {
        // "Edging, rows 1-4: …"
        const label = this.#cursor(i + 1, last);
        return isUnit(label) && label.isNumber(1) && readLabel(label)?.marked ? i + 1 : first;
      }
      if (t.kind !== 'word' && !(t.kind === 'mark' && t.text === '-')) return first;
      if (isStitchWord(t)) return first;
      i++;
    }
    if (i >= last - 1 || i === first || this.#tokens[i].text !== ':') return first;
    const c = this.#cursor(first, last);
    if (readLabel(c) || this.#startAt(first, last)) return first;
    if (/^(?:needles?|ndl|side|section|n|front|back|on|each|every)$/.test(this.#tokens[first].text))
      return first;
    return i + 1;
  }

  /** `3. Knit 2 rounds`: the number in front of an instruction that is no round's. */
  #item(first: number, last: number): { n: number; next: number } | null {
    const c = this.#cursor(first, last);
    c.phrase('step');
    c.eatMark('(');
    const t = c.peek();
    const n = c.number();
    if (n === null || !t || !/^\d{1,3}$/.test(t.text) || !c.eatMark('.):')) return null;
    const next = c.i;
    const start = this.#startAt(next, last);
    if (start?.kind === 'cast-on') this.#steps = true;
    if (!start) return this.#steps && this.#castOn ? { n, next } : null;
    if (start.kind === 'round' && start.label.numbers.length > 0 && !start.label.marked)
      return null;
    return { n, next };
  }

  /** Every place of the line where an instruction begins. */
  #starts(first: number, last: number): Start[] {
    const starts: Start[] = [];
    const begin = this.#startAt(first, last);
    if (begin) this.#note(starts, begin);
    let tried = 0;
    let i = begin ? begin.next : first;
    while (i < last) {
      const bound = this.#boundary(i, first);
      if (bound === null) {
        i++;
        continue;
      }
      const at = bound.next;
      if (at >= last) break;
      const current = starts[starts.length - 1];
      const t = this.#tokens[at];
      const skip =
        /^[kp]\d/.test(t.text) &&
        !/^(?:rounds?|rnds?|rows?)$/.test(this.#tokens[at + 1]?.text ?? '')
          ? true
          : current !== undefined &&
            (t.text === '*' || t.text === '(' || t.text === '[') &&
            !bound.hard;
      if (skip || ++tried > MOST_TRIED) {
        i = Math.max(i + 1, at);
        continue;
      }
      const start = this.#startAt(at, last);
      if (start && this.#allowed(start, current, bound, at)) {
        this.#note(starts, start);
        i = Math.max(start.next, at + 1);
      } else i = Math.max(i + 1, at);
    }
    return starts;
  }

  #note(starts: Start[], start: Start): void {
    starts.push(start);
    if (start.kind === 'cast-on') this.#castOn = true;
    if (start.kind === 'round' || start.kind === 'work') this.#worked = true;
  }

  /** A place between instructions at token `i`: hard behind a full stop, soft behind a comma or "then". */
  #boundary(
    i: number,
    first: number,
  ): { next: number; hard: boolean; closing: boolean; comma: boolean } | null {
    const t = this.#tokens[i];
    let next = i + 1;
    const hard = t.kind === 'mark' && '.;!?'.includes(t.text);
    const closing = t.kind === 'mark' && ')]}'.includes(t.text);
    const comma = t.kind === 'mark' && (t.text === ',' || t.text === '-');
    const joins = t.kind === 'word' && /^(?:and|then)$/.test(t.text) && i > first;
    if (!hard && !closing && !comma && !joins) {
      // Right behind an instruction that has been read to its end.
      return null;
    }
    if (t.text === '-' && (!t.spaced || !this.#tokens[i + 1]?.spaced)) return null;
    if (hard || closing)
      while (this.#tokens[next]?.text === '*' && !this.#tokens[next].spaced) next++;
    if (!joins) while (/^(?:and|then|,)$/.test(this.#tokens[next]?.text ?? '') && !hard) next++;
    return { next, hard, closing, comma };
  }

  /** Whether `start` may follow `current` behind such a boundary. */
  #allowed(
    start: Start,
    current: Start | undefined,
    bound: { hard: boolean; closing: boolean; comma: boolean },
    at: number,
  ): boolean {
    if (current && at - current.at <= 2 && this.#onlyJoins(current.at, at)) return false;
    const range = current?.kind === 'round' && current.label.numbers.length > 1;
    if (range && start.kind === 'work' && this.#tokens[at - 1].text === ';') return false;
    if (bound.hard) return !(current?.kind === 'end' && start.kind === 'end' && false);
    const opening =
      current === undefined ||
      current.kind === 'cast-on' ||
      current.kind === 'set-up' ||
      current.kind === 'colour';
    const worked = current?.kind === 'work';
    if (current?.kind === 'end' && start.kind === 'end') return false;
    if (bound.closing) {
      if (start.kind === 'round') return start.label.marked;
      return start.kind !== 'work' || opening || worked || !plainOnly(start);
    }
    if (current && this.#opensMore(current.at, at)) return false;
    switch (start.kind) {
      case 'end':
        return true;
      case 'work':
        return opening || worked || (current?.kind === 'round' && goesOnLong(start));
      case 'set-up':
        return (
          opening &&
          current !== undefined &&
          current.kind !== 'set-up' &&
          !/^(?:pm|place|placing|mark|put|hang|add)$/.test(this.#tokens[at].text)
        );
      case 'colour':
        return worked;
      case 'round':
        if (current?.kind === 'round') return follows(current.label, start.label);
        return start.label.marked && start.label.numbers.length > 0 && !bound.comma && opening;
      default:
        return false;
    }
  }

  /** Nothing but "and then" stands between two tokens. */
  #onlyJoins(from: number, to: number): boolean {
    for (let i = from; i < to; i++)
      if (!/^(?:and|then|now|,)$/.test(this.#tokens[i].text)) return false;
    return true;
  }

  /** More brackets are opened than closed between two tokens. */
  #opensMore(from: number, to: number): boolean {
    let depth = 0;
    for (let i = to - 1; i >= from && to - i < 120; i--) {
      const { text } = this.#tokens[i];
      if (text === ')' || text === ']') depth++;
      else if ((text === '(' || text === '[') && --depth < 0) return true;
    }
    return false;
  }

  /** What begins exactly at token `at`, or null. */
  #startAt(at: number, end: number): Start | null {
    const c = this.#cursor(at, end);
    const back = (): void => {
      c.i = at;
    };
    if (isUnit(c) && c.isNumber(1)) {
      const label = readLabel(c);
      if (label?.marked) return { kind: 'round', label, at, next: c.i };
      back();
    }
    if (this.#castOn) {
      const refused = readRefused(c, this.#ended);
      if (refused) return { kind: 'refused', at, next: this.#sentenceEnd(c.i, end), ...refused };
      if (/^(?:bind|cast|bo|binding|casting|then|and|now)$/.test(c.word())) {
        const edge = readWork(c);
        if (edge?.[0].kind === 'edge') return { kind: 'work', clauses: edge, at, next: c.i };
        back();
      }
      if (readEndHead(c)) return { kind: 'end', at, next: this.#sentenceEnd(c.i, end) };
    }
    back();
    if (readCastOnHead(c, !this.#castOn, this.#bare)) {
      if (!this.#castOn || this.#ended) return { kind: 'cast-on', at, next: c.i };
    }
    back();
    if (!this.#ended && readSetUpHead(c, this.#worked)) return { kind: 'set-up', at, next: c.i };
    back();
    if (this.#castOn) {
      const colour = colourSentence(c);
      if (colour) return { kind: 'colour', colour, at, next: c.i };
      back();
    }
    const clauses = readWork(c);
    if (
      clauses &&
      !c.mark(':') &&
      !(clauses[0].kind === 'named' && c.mark('-') && c.peek()?.spaced)
    ) {
      return { kind: 'work', clauses, at, next: c.i };
    }
    back();
    const label = readLabel(c);
    if (label && this.#labelHolds(label, c, end)) return { kind: 'round', label, at, next: c.i };
    return null;
  }

  /** Without a colon, stitches must follow, or it is a sentence about rounds. */
  #labelHolds(label: RoundLabel, c: TokenCursor, end: number): boolean {
    if (label.marked) return true;
    const t = c.peek();
    if (!t || c.i >= end) return label.numbers.length > 0;
    if (t.kind === 'mark') return '*([{'.includes(t.text);
    if (/^(?:as|same|rep|repeat|dec|decrease|inc|increase|work)$/.test(c.word()))
      return c.peek(1) !== null;
    if (
      /^(?:[kp]|knit|purl)$/.test(c.word()) &&
      /^(?:the|all|every|across|to|until|and)$/.test(c.word(1))
    )
      return true;
    return readStitch(this.#text, t.from) !== null && t.text !== 'inc';
  }

  #sentenceEnd(from: number, end: number): number {
    let i = from;
    while (i < end) {
      const t = this.#tokens[i];
      if (t.kind === 'mark' && '.;!'.includes(t.text)) return i;
      i++;
    }
    return end;
  }

  #span(from: number, end: number): { from: number; to: number } {
    return { from: this.#tokens[from].from, to: this.#tokens[Math.max(from, end - 1)].to };
  }

  // ---- nodes ------------------------------------------------------------------------------------

  #push(statement: Statement): void {
    this.statements.push(statement);
  }

  #place(start: Start, end: number, item: number | undefined): void {
    const at = this.#span(start.at, end);
    const numbered = item === undefined ? {} : { item };
    const c = this.#cursor(start.at, end);
    if (start.kind === 'round') {
      const label = this.#withinRange(start.label);
      this.#closeRound();
      this.#open = {
        label,
        at: start.at,
        body: start.next,
        end,
        item,
        depth: 0,
        stars: 0,
        seen: start.next,
      };
      return;
    }
    this.#closeRound();
    this.#range = null;
    switch (start.kind) {
      case 'cast-on':
        this.#push({
          kind: 'cast-on',
          castOn: castOnOf(c.slice(start.at, end) + this.#lastCell(end)),
          ...at,
          ...numbered,
        });
        this.#stray(start.next, end);
        break;
      case 'set-up':
        this.#push({ kind: 'set-up', setUp: setUpOf(c.slice(start.at, end)), ...at, ...numbered });
        this.#stray(start.next, end);
        break;
      case 'work':
        this.#push({ kind: 'work', clauses: start.clauses, ...at, ...numbered });
        this.#leftover(start.next, end);
        break;
      case 'colour':
        this.#push({ kind: 'colour', colour: start.colour, ...at });
        break;
      case 'refused':
        this.#push({
          kind: 'refused',
          code: start.code,
          message: start.message,
          hint: start.hint,
          ...at,
        });
        break;
      case 'end': {
        const text = c.slice(start.at, end);
        this.#push({ kind: 'end', text, count: endingCount(text), ...at, ...numbered });
        this.#ended = true;
        break;
      }
    }
  }

  /** The count in the last column of a table's line that goes on at token `from`. */
  #lastCell(from: number): string {
    if (from >= this.#tokens.length) return '';
    const begin = this.#tokens[from].from;
    const line = /[^\n]{0,200}/y;
    line.lastIndex = begin;
    const rest = line.exec(this.#text)?.[0] ?? '';
    if (this.#text.slice(this.#tokens[from - 1].to, begin).includes('\n')) return '';
    return /^join[^=.\d]*(=\d+)\s*$/.exec(rest)?.[1] ?? '';
  }

  /** Stitches within a sentence that only sets up: words of another instruction that went astray. */
  #stray(from: number, end: number): void {
    let at = from;
    const asks = (i: number): boolean => {
      const next = i + 1 < end ? this.#tokens[i + 1] : null;
      if (this.#tokens[i].kind === 'number')
        return next !== null && /^(?:rnds?|rounds?|rows?)$/.test(next.text);
      const { text } = this.#tokens[i];
      const verb = /^(?:knit|purl|k|p|work|repeat|rep)$/.test(text);
      if (verb && (next?.kind === 'number' || next?.kind === 'ordinal')) return true;
      // "Cast on 80 sts, purl to the end": a clause of its own.
      const before = this.#tokens[i - 1]?.text ?? '';
      if (!/^(?:[,;.:]|and|then)$/.test(before)) return false;
      if (/^(?:knit|purl|k|p|repeat|rep|decrease|dec|increase|inc)$/.test(text))
        return (
          next === null || !/^(?:side|sides|on|in|cast|method|-|stitch|stitches)$/.test(next.text)
        );
      return text === 'work' && next !== null && /^(?:the|to|all|every|each|a)$/.test(next.text);
    };
    while (at < end && !isStitchWord(this.#tokens[at]) && !asks(at)) at++;
    if (at < end)
      this.#push({ kind: 'prose', heading: false, instructs: true, ...this.#span(at, end) });
  }

  /** What stands behind the words that an instruction took, up to the next one. */
  #leftover(from: number, end: number): void {
    let i = from;
    let inSentence = true;
    while (i < end) {
      const stop = this.#sentenceEnd(i, end);
      const whole = inSentence ? i : this.#stitchSentence(i, end);
      if (whole > i) {
        i = whole;
        continue;
      }
      const words = this.#tokens.slice(i, stop);
      if (words.length > 0) {
        const count = readStatedCount(
          this.#text
            .slice(words[0].from, words[words.length - 1].to)
            .replace(/^[\s([{=:-]+|[\s)\]}.]+$/g, ''),
        );
        if (count && !inSentence)
          this.#push({ kind: 'count', stated: count, ...this.#span(i, stop) });
        else {
          const instructs = inSentence ? leftoverInstructs(words) : sentenceInstructs(words);
          this.#push({ kind: 'prose', heading: false, instructs, ...this.#span(i, stop) });
        }
      }
      inSentence = false;
      i = stop + 1;
    }
  }

  /** A sentence of stitches behind an instruction, which is a round by itself; gives the place behind it. */
  #stitchSentence(from: number, end: number): number {
    let stop = from;
    while (stop < end && !'.!?'.includes(this.#tokens[stop].text)) stop++;
    let at = from;
    const colon = this.#tokens
      .slice(from, Math.min(stop, from + 8))
      .findIndex((t) => t.text === ':');
    if (colon > 0 && !sentenceInstructs(this.#tokens.slice(from, from + colon + 1)))
      at += colon + 1;
    const body = this.#body(null, at, stop);
    if (body.kind !== 'steps' || body.unread > 0 || body.failed || !body.hasStitches) return from;
    if (body.steps.every((s) => s.kind === 'pattern')) return from;
    this.#worked = true;
    this.#push({ kind: 'round', label: null, body, ...this.#span(at, stop) });
    return Math.min(end, stop + 1);
  }

  /** Words that start no statement: they go on with the round before, are a round by themselves, or prose. */
  #free(from: number, end: number, indented: boolean, blank: boolean, partial: boolean): void {
    const at = this.#span(from, end);
    const text = this.#text.slice(at.from, at.to);
    const stated = readStatedCount(text.replace(/^[\s([{=-]+|[\s)\]}.]+$/g, ''));
    if (stated && /\bsts?\b|stitch|[([]/.test(text)) {
      this.#closeRound();
      this.#push({ kind: 'count', stated, ...at });
      return;
    }
    const open = this.#open;
    if (open && !blank) {
      const needle =
        /^(?:needles?|ndl|n)$/.test(this.#tokens[from].text) &&
        this.#tokens[from + 1]?.kind === 'number';
      const unfinished = needle || this.#unfinished(open);
      const small = !this.#tokens[from].capital;
      const body = unfinished ? null : this.#body(null, from, end);
      const clean = body?.kind === 'steps' && body.unread === 0 && body.steps.length > 0;
      const goesOn =
        unfinished ||
        (clean &&
          (indented || small) &&
          (open.label !== null || indented) &&
          (indented || !this.#complete(open)));
      if (goesOn) {
        open.end = end;
        return;
      }
    }
    this.#closeRound();
    if (!this.#castOn || this.#ended) {
      const round = this.#ended && looksLikeRound(this.#tokens.slice(from, end));
      this.#push({ kind: 'prose', heading: true, instructs: round, ...at });
      return;
    }
    // Part of a sentence whose other part is an instruction.
    const next = this.#tokens[end - 1];
    if (partial && !(next.kind === 'mark' && '.;:!?'.includes(next.text))) {
      const instructs = this.#tokens.slice(from, end).some((t) => t.kind === 'number');
      if (instructs) {
        this.#push({ kind: 'prose', heading: false, instructs, ...at });
        return;
      }
    }
    const body = this.#body(null, from, end);
    if (body.kind === 'steps') {
      const clean = body.unread === 0 && !body.failed && body.steps.length > 0;
      const patternOnly = body.steps.every((s) => s.kind === 'pattern') && !/\bwork\b/.test(text);
      if ((clean && body.hasStitches && !patternOnly) || looksLikeStitches(text)) {
        this.#worked = true;
        this.#open = { label: null, at: from, body: from, end, depth: 0, stars: 0, seen: from };
        return;
      }
    }
    this.#prose(from, end);
  }

  /** Sentences that no rule follows. */
  #prose(from: number, end: number): void {
    let i = from;
    let heading = true;
    while (i < end) {
      let stop = i;
      while (
        stop < end &&
        !(this.#tokens[stop].kind === 'mark' && '.!?'.includes(this.#tokens[stop].text))
      )
        stop++;
      const words = this.#tokens.slice(i, stop);
      if (words.length > 0) {
        const text = this.#text.slice(words[0].from, words[words.length - 1].to);
        const stated = readStatedCount(text);
        if (stated && /\bsts?\b|stitch/.test(text))
          this.#push({ kind: 'count', stated, ...this.#span(i, stop) });
        else {
          const to = Math.min(end, stop + 1);
          this.#push({
            kind: 'prose',
            heading: heading && (stop >= end || words.length < 4),
            instructs: sentenceInstructs(words),
            ...this.#span(i, to),
          });
        }
      }
      heading = false;
      i = stop + 1;
    }
  }

  // ---- rounds that go on ------------------------------------------------------------------------

  #body(label: RoundLabel | null, from: number, end: number): RoundBody {
    return readBody(this.#cursor(from, end), label, this.#abbreviations);
  }

  /** "Rows 5-48:" over "odd rows: …" and "even rows: …": those are the rows between them. */
  #withinRange(label: RoundLabel): RoundLabel {
    const open = this.#open;
    const shared = (label.rule === 'odd' || label.rule === 'even') && label.numbers.length === 0;
    if (!shared) this.#range = null;
    else if (open?.label && open.body >= open.end && open.label.numbers.length > 1) {
      this.#range = open.label.numbers;
      this.#open = null;
      const at = this.#span(open.at, open.end);
      this.#push({ kind: 'prose', heading: true, instructs: false, ...at });
    }
    if (!shared || !this.#range) return label;
    const numbers = this.#range.filter((n) => (n % 2 === 0) === (label.rule === 'even'));
    return numbers.length > 0 ? { ...label, numbers, rule: null } : label;
  }

  #closeRound(): void {
    const open = this.#open;
    if (!open) return;
    this.#open = null;
    const body = this.#body(open.label, open.body, open.end);
    const numbered = open.item === undefined ? {} : { item: open.item };
    this.#push({
      kind: 'round',
      label: open.label,
      body,
      ...this.#span(open.at, open.end),
      ...numbered,
    });
  }

  /** The round breaks off in the middle of something. */
  #unfinished(open: OpenRound): boolean {
    if (open.body >= open.end) return true;
    for (; open.seen < open.end; open.seen++) {
      const { text } = this.#tokens[open.seen];
      if (text === '(' || text === '[' || text === '{') open.depth++;
      else if (text === ')' || text === ']' || text === '}') open.depth--;
      else if (text === '*' && this.#tokens[open.seen - 1]?.text !== '*') open.stars++;
    }
    if (open.depth > 0) return true;
    const last = this.#tokens[open.end - 1];
    // "Next round: k" is whole.
    if (open.end - open.body === 1 && /^[kp]$/.test(last.text)) return false;
    if (/^(?:[,&]|and|then|to|from|next|last|rep|repeat|k|p|work)$/.test(last.text)) return true;
    // "*k2, p2" waits for its "rep from *".
    return open.stars % 2 === 1;
  }

  /** The round says how it ends: "to end", "around", "(88 sts)". */
  #complete(open: OpenRound): boolean {
    if (open.end - open.body > 150) return false;
    const body = this.#body(open.label, open.body, open.end);
    if (body.kind !== 'steps') return true;
    if (body.stated) return true;
    const end = body.steps[body.steps.length - 1];
    if (!end || !('amount' in end) || 'times' in end.amount) return false;
    return end.amount.kind === 'rest' || (end.amount.kind === 'end' && end.amount.count === 0);
  }
}

/** Stitches enough that a line must be meant as an instruction. */
function looksLikeStitches(text: string): boolean {
  const found = text.match(
    /(?<![a-z0-9])(?:[kp]\d{1,4}|k2tog|p2tog|k3tog|ssk|ssp|skp|sk2p|s2kp|cdd|yo|yfwd|kfb|pfb|m1[lrp]?|sl\s?\d|psso|\d\/\d\s*[lr]p?c|rep from)(?![a-z0-9])/g,
  );
  return (found?.length ?? 0) >= 2;
}

/** "Round 1 purl, round 2 knit": the second label numbers the next round. */
function follows(label: RoundLabel, next: RoundLabel): boolean {
  const last = label.numbers[label.numbers.length - 1];
  return last !== undefined && next.unit !== null && next.numbers[0] === last + 1;
}

function plainOnly(start: Extract<Start, { kind: 'work' }>): boolean {
  return start.clauses[0].kind === 'plain';
}

/** Shaping or a repeat that lasts: it cannot be a part of one round's stitches. */
function goesOnLong(start: Extract<Start, { kind: 'work' }>): boolean {
  const [first] = start.clauses;
  if (first.kind !== 'shape') return false;
  const { tail } = first;
  return tail.every !== null || tail.untilStitches !== null || tail.times !== null;
}

/** "Change to CC.", "Break off MC and join CC." */
function colourSentence(c: TokenCursor): string | null {
  return c.attempt(() => {
    let colour: string | null = null;
    c.phrase('now|then|next');
    if (c.phrase('break|cut off?')) {
      c.phrase('the');
      const dropped = readColour(c) ?? readColourName(c);
      if (!dropped) return null;
      c.eatMark(',.;');
      c.phrase('and|then');
    }
    colour = readColour(c);
    if (!colour) return null;
    const t = c.peek();
    return !t || (t.kind === 'mark' && '.;'.includes(t.text)) ? colour : null;
  });
}

function readColourName(c: TokenCursor): string | null {
  const w = c.word();
  if (!/^(?:mc|cc\d?)$/.test(w)) return null;
  c.i++;
  return w.toUpperCase();
}

export { endingOf };
