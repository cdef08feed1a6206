/**
 * Plan text → statements in order of the text. Walks each line from instruction to instruction; every rule
 * reads its words once and keeps what they say, and what lies between is prose. In: lines of tokens. Out:
 * nodes (`ast.ts`) that cover the text from the first word to the last.
 */
import type { Source } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { type Announced, findAnnounced, placeAnnounced } from './announced-rounds.ts';
import type { RoundLabel, Statement } from './ast.ts';
import { readChangeTold } from './change-told.ts';
import { countsInFront, isCountInFront } from './counts-in-front.ts';
import { placeInTime } from './elsewhere.ts';
import { garbledCaption } from './garbled.ts';
import { statementsOf } from './instruction-statements.ts';
import { afterBullets, afterCaption, starBullets } from './line-fronts.ts';
import { joinLines, type Line } from './lines.ts';
import { itemNumber } from './number-lists.ts';
import { goesOnWith, looksLikeStitches, type OpenRound } from './open-round.ts';
import { ordersBehind, sayAbove } from './out-of-place.ts';
import { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { behindChat, behindProse, proseSentences, sentencesBehind } from './prose-sentences.ts';
import type { Recall } from './recall.ts';
import { isRemark } from './remarks.ts';
import { tellRounds } from './rounds-told.ts';
import type { Progress, Start } from './start.ts';
import { StartFinder } from './starts.ts';
import { isGaugeSentence } from './statements/gauge.ts';
import { ordersStitches, readStatedCount } from './steps/stated-counts.ts';
import { closingStitches, isLame, tellStitches } from './stitch-sentences.ts';
import { parted, toldTail } from './words-between.ts';

export class StatementReader {
  readonly statements: Statement[] = [];
  readonly #passage: Passage;
  readonly #progress: Progress = { castOn: false, worked: false, ended: false };
  readonly #finder: StartFinder;
  #open: OpenRound | null = null;
  /** Rounds of a heading that "odd rounds" and "even rounds" below it share. */
  #range: readonly number[] | null = null;
  /** Numbers in front of lines are counts, as in a margin. */
  #countsInFront = false;
  /** Asterisks in front of lines are marks of a list, and open no repeats. */
  #starBullets = false;
  /** "1. Cast on …": numbers in front of lines count steps, not rounds. */
  #steps = false;
  /** Prose that announces the rounds below it. */
  readonly #announced = new Map<Statement, Announced>();

  constructor(
    tokens: readonly Token[],
    source: Source,
    abbreviations: Abbreviations,
    recall: Recall,
  ) {
    this.#passage = new Passage(tokens, source, abbreviations, recall);
    this.#finder = new StartFinder(this.#passage, this.#progress);
    recall.begin(`${this.#finder.bare} ${abbreviations.said}`);
  }

  read(lines: readonly Line[]): Statement[] {
    const joined = joinLines(
      lines,
      this.#passage.tokens,
      (line) =>
        this.#finder.startsLine(line) ||
        isGaugeSentence(this.#passage.text.slice(line.from, line.to)),
    );
    this.#countsInFront = countsInFront(joined, this.#passage.tokens);
    this.#starBullets = starBullets(joined, this.#passage.tokens);
    let blank = true;
    for (const [k, line] of joined.entries()) {
      if (!isLeft(line)) {
        blank = true;
        continue;
      }
      const { castOn, ended } = this.#progress;
      const below = castOn && !ended ? firstLeft(joined, k + 1) : undefined;
      const found = below && findAnnounced(this.#passage, this.#finder, line, below);
      if (!found || found.at > line.first)
        this.#line(found ? { ...line, last: found.at } : line, blank);
      if (found) {
        this.#closeRound();
        this.#pushProse(found.at, line.last, true, false);
        this.#announced.set(this.statements[this.statements.length - 1], found.announced);
      }
      blank = false;
    }
    this.#closeRound();
    const placed = placeInTime(placeAnnounced(this.statements, this.#announced), this.#passage);
    return sayAbove(tellRounds(placed, this.#passage), this.#passage, joined);
  }

  // ---- one line ---------------------------------------------------------------------------------

  /** "84 - purl": the number in front is the count that the round leaves. */
  #countInFront(line: Line): boolean {
    const { tokens } = this.#passage;
    const stated = tokens[line.first].value;
    if (!this.#progress.castOn || !isCountInFront(line, tokens)) return false;
    const body = this.#passage.body(null, line.first + 2, line.last);
    if (body.kind !== 'steps' || body.steps.length === 0) return false;
    this.#closeRound();
    const total = { total: stated, perSide: null, change: null };
    const at = this.#passage.span(line.first, line.last);
    this.#push({
      kind: 'round',
      label: null,
      body: { ...body, stated: body.stated ?? total },
      ...at,
    });
    return true;
  }

  #line(line: Line, blank: boolean): void {
    const { last } = line;
    let first = line.first;
    if (this.#countsInFront && this.#countInFront(line)) return;
    const heading =
      this.#passage.tokens[first].text === '#' && (this.#passage.tokens[first + 1]?.spaced ?? true);
    const indented = this.#passage.tokens[first].from > line.from;
    first = afterBullets(this.#passage, first, last, this.#starBullets);
    if (heading || first >= last) {
      this.#closeRound();
      this.#pushProse(line.first, last, true, false);
      return;
    }
    const numbered = this.#item(first, last);
    if (numbered) first = numbered.next;
    const from = first;
    const before = this.statements.length;
    const { castOn, ended } = this.#progress;
    const captioned =
      castOn && !ended ? afterCaption(this.#passage, this.#finder, first, last) : first;
    if (captioned > first) {
      this.#closeRound();
      this.#pushProse(
        first,
        captioned,
        false,
        garbledCaption(this.#passage.tokens.slice(first, captioned)),
      );
      first = captioned;
    }
    const starts = this.#finder.starts(first, last);
    const firstAt = starts[0]?.at ?? last;
    if (firstAt > first) this.#free(first, firstAt, indented, blank, firstAt < last);
    for (let i = 0; i < starts.length; i++) {
      let end = starts[i + 1]?.at ?? last;
      // "CO: | join, 20 per side = 80": one row of a table.
      const tabled = starts[i].kind === 'cast-on' && starts[i + 1]?.kind === 'set-up';
      if (tabled && this.#passage.tokens[last - 2]?.text === '=') {
        end = last;
        starts.splice(i + 1);
      }
      this.#place(starts[i], end, i === 0 ? numbered?.n : undefined);
    }
    if (numbered && starts[0]?.at !== from) this.#numberLine(from, before, numbered.n);
  }

  /** "3. Decrease: on each needle …": the number is that of whatever the line begins with. */
  #numberLine(first: number, before: number, item: number): void {
    const { from } = this.#passage.span(first, first + 1);
    let at = before;
    while (at < this.statements.length && this.statements[at].from < from) at++;
    if (at < this.statements.length) this.statements[at] = { ...this.statements[at], item };
    else if (this.#open && this.#open.at >= first) this.#open.item = item;
  }

  /** `3. Knit 2 rounds`: the number in front of an instruction that is no round's. */
  #item(first: number, last: number): { n: number; next: number } | null {
    const c = this.#passage.cursor(first, last);
    const step = c.phrase('step|stage|part|section');
    c.eatMark('(');
    const t = c.peek();
    const n = step ? itemNumber(c) : c.number();
    const plain = t !== null && /^(?:\d{1,3}|[a-h])$/.test(t.text);
    if (n === null || !plain || !(c.eatMark('.):') || (step && c.mark('-') && c.eatMark('-'))))
      return null;
    const next = c.i;
    const start = this.#finder.startAt(next, last);
    if (start?.kind === 'cast-on') this.#steps = true;
    if (!start) return (this.#steps || step) && this.#progress.castOn ? { n, next } : null;
    if (start.kind === 'round' && start.label.numbers.length > 0 && !start.label.marked)
      return null;
    return { n, next };
  }

  // ---- nodes ------------------------------------------------------------------------------------

  #push(statement: Statement): void {
    this.statements.push(statement);
    if (statement.kind === 'round') this.#progress.worked = true;
  }

  #pushProse(from: number, end: number, heading: boolean, instructs: boolean): void {
    this.#push({ kind: 'prose', heading, instructs, ...this.#passage.span(from, end) });
  }

  #pushAll(statements: readonly Statement[]): void {
    for (const s of statements) this.#push(s);
  }

  #place(start: Start, end: number, item: number | undefined): void {
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
    this.#pushAll(statementsOf(start, end, this.#passage, this.#progress, item));
  }

  /** Words that start no statement: they go on with the round before, are a round by themselves, or prose. */
  #free(from: number, end: number, indented: boolean, blank: boolean, partial: boolean): void {
    const { tokens } = this.#passage;
    const at = this.#passage.span(from, end);
    const text = this.#passage.text.slice(at.from, at.to);
    const stated = readStatedCount(text.replace(/^[\s([{=-]+|[\s)\]}.]+$/g, ''));
    const lone = this.#progress.worked && /^\s*(?:1[3-9]|[2-9]\d|\d{3,5})\s*\.\s*$/.test(text);
    const change = readChangeTold(this.#passage.cursor(from, end)) !== null;
    const lost = this.#progress.ended && ordersBehind(tokens.slice(from, end));
    const orders = ordersStitches(text);
    if (stated && !change && !lost && !orders && (lone || /\bsts?\b|stitch|[([]/.test(text))) {
      this.#closeRound();
      this.#push({ kind: 'count', stated, ...at });
      return;
    }
    const open = this.#open;
    if (open && !blank) {
      const goesOn = goesOnWith(this.#passage, open, from, end, indented);
      if (goesOn) {
        open.end = end;
        return;
      }
    }
    this.#closeRound();
    if (this.#progress.ended) {
      this.#pushAll(sentencesBehind(this.#passage, from, end, true));
      return;
    }
    if (!this.#progress.castOn) {
      this.#pushProse(from, end, true, false);
      return;
    }
    // Part of a sentence whose other part is an instruction.
    const next = tokens[end - 1];
    if (partial && !(next.kind === 'mark' && '.;:!?'.includes(next.text))) {
      const first = this.#passage.sentenceEnd(from, end, '.!?') + 1;
      if (first < end) {
        this.#pushAll(proseSentences(this.#passage, from, first, true));
        this.#free(first, end, indented, blank, partial);
        return;
      }
      // "Knit the 3 sts together, break the yarn …"
      const closing = closingStitches(this.#passage, from, end, false);
      if (closing) {
        this.#push(closing);
        return;
      }
      const lead = tokens.slice(from, end);
      if (lead.some((t) => t.kind === 'number')) {
        this.#pushProse(from, end, false, !isRemark(lead, true));
        return;
      }
    }
    const body = this.#passage.body(null, from, end);
    const told = isLame(body) ? behindProse(this.#passage, from, end) : from;
    if (told > from) {
      this.#pushProse(from, told, true, false);
      this.#free(told, end, indented, true, partial);
      return;
    }
    if (body.kind === 'steps') {
      const clean = body.unread === 0 && !body.failed && body.steps.length > 0;
      const patternOnly = !tellStitches(body.steps) && !/\bwork\b/.test(text);
      const told = looksLikeStitches(text) && sentenceInstructs(tokens.slice(from, end));
      if ((clean && body.hasStitches && !patternOnly) || told) {
        this.#progress.worked = true;
        this.#open = { label: null, at: from, body: from, end, depth: 0, stars: 0, seen: from };
        return;
      }
    }
    this.#pushAll(proseSentences(this.#passage, from, end, true));
  }

  // ---- rounds that go on ------------------------------------------------------------------------

  /** "Rows 5-48:" over "odd rows: …" and "even rows: …": those are the rows between them. */
  #withinRange(label: RoundLabel): RoundLabel {
    const open = this.#open;
    const shared = (label.rule === 'odd' || label.rule === 'even') && label.numbers.length === 0;
    if (!shared) this.#range = null;
    else if (open?.label && open.body >= open.end && open.label.numbers.length > 1) {
      this.#range = open.label.numbers;
      this.#open = null;
      this.#pushProse(open.at, open.end, true, false);
    }
    if (!shared || !this.#range) return label;
    const numbers = this.#range.filter((n) => (n % 2 === 0) === (label.rule === 'even'));
    return numbers.length > 0 ? { ...label, numbers, rule: null } : label;
  }

  #closeRound(): void {
    const open = this.#open;
    if (!open) return;
    this.#open = null;
    // "Edging:" over rounds of its own is a heading.
    const { label } = open;
    if (
      open.body >= open.end &&
      label?.unit === null &&
      label.numbers.length + label.suffix.length === 0 &&
      !label.rule
    ) {
      this.#pushProse(open.at, open.end, true, false);
      return;
    }
    const all = this.#passage.body(open.label, open.body, open.end);
    // "Round 4. Here come the corners. On each needle: kfb, …"
    const told = isLame(all) ? behindChat(this.#passage, open.body, open.end) : open.body;
    const whole = told > open.body ? this.#passage.body(open.label, told, open.end) : all;
    const apart = isLame(whole)
      ? (toldTail(this.#passage, open.label, told, open.end) ??
        parted(this.#passage, open.label, told, open.end))
      : null;
    const numbered = open.item === undefined ? {} : { item: open.item };
    this.#push({
      kind: 'round',
      label: open.label,
      body: apart?.body ?? whole,
      ...this.#passage.span(open.at, apart?.at ?? open.end),
      ...numbered,
    });
    if (apart) this.#pushAll(apart.behind);
  }
}

/** The first line from place `from` on with words that nothing has read yet. */
function firstLeft(lines: readonly Line[], from: number): Line | undefined {
  let k = from;
  while (k < lines.length && !isLeft(lines[k])) k++;
  return lines[k];
}

/** A line with words that nothing has read yet. */
function isLeft(line: Line): boolean {
  return !line.taken && line.first < line.last;
}
