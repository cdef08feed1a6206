/**
 * Works the statements of a plan in order, each by what it is: labelled and plain rounds here, repeats,
 * named rounds, shaping told in prose and the ending in files of their own. Input: statements after the
 * cast-on. Output: the worked piece, with diagnostics for what does not come out.
 */

import { endingCount, readEnding } from '../ending-lines.ts';
import { readSteps } from '../grammar/steps/step-reader.ts';
import type { RoundLabel } from '../labels.ts';
import { type Place, sentenceAt, trimmed } from '../lex/source.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { checkProse, sayNotFollowed } from '../prose-lines.ts';
import { cycleSteps, readPlainRounds } from '../round-bodies.ts';
import type { Statement } from '../statements.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { NamedRounds } from './named-rounds.ts';
import { RoundRepeats } from './repeats.ts';
import { numberedLabel, sideWords, unnumberedDef } from './round-defs.ts';
import { RoundOrder } from './round-order.ts';
import { RoundReader } from './round-reader.ts';
import { RoundBook } from './round-scope.ts';
import { workShaping } from './shaping.ts';

/** Kinds of statements that would be lost behind the end of the piece. */
const WORK: ReadonlySet<Statement['kind']> = new Set([
  'shape',
  'round',
  'plain',
  'repeat',
  'named',
]);

/** Works everything after the cast-on. */
export function workStatements(
  statements: readonly Statement[],
  piece: WorkedPiece,
  abbreviations: Abbreviations,
): void {
  new StatementWorker(statements, piece, abbreviations).run();
}

class StatementWorker {
  readonly #statements: readonly Statement[];
  readonly #piece: WorkedPiece;
  readonly #abbreviations: Abbreviations;
  readonly #book: RoundBook;
  readonly #reader: RoundReader;
  readonly #order: RoundOrder;
  readonly #repeats: RoundRepeats;
  readonly #named: NamedRounds;
  /** Index of the statement at work. */
  #at = 0;

  constructor(statements: readonly Statement[], piece: WorkedPiece, abbreviations: Abbreviations) {
    this.#statements = statements;
    this.#piece = piece;
    this.#abbreviations = abbreviations;
    this.#book = new RoundBook(piece);
    this.#reader = new RoundReader(piece, this.#book, abbreviations);
    this.#order = new RoundOrder(piece, this.#book, this.#reader);
    this.#repeats = new RoundRepeats(piece, this.#book);
    this.#named = new NamedRounds(piece, this.#book, abbreviations);
  }

  run(): void {
    const piece = this.#piece;
    for (this.#at = 0; this.#at < this.#statements.length && !piece.stopped; this.#at++) {
      const s = this.#statements[this.#at];
      if (piece.ended) {
        if (!WORK.has(s.kind)) continue;
        piece.found.add(
          'warning',
          'rounds-after-ending',
          s.from,
          s.to,
          'the piece has ended before this; it is not worked',
          'Only one piece is followed. Move the bind-off below its last round, or make this a plan of its own.',
        );
        break;
      }
      piece.askedBy(s);
      this.#noteItem(s);
      this.#statement(s);
    }
    if (!piece.stopped) this.#order.flush();
    piece.checkSize();
  }

  /** `3. Knit 2 rounds`: the number in front of a statement. */
  #noteItem(s: Statement): void {
    const { norm } = this.#piece.source;
    const start = norm.lastIndexOf('\n', s.from - 1) + 1;
    if (s.from - start > 12) return;
    const m = /^\s*(?:step\s*)?\(?(\d{1,3})[.):]\s*$/.exec(norm.slice(start, s.from));
    if (m) this.#book.noteItem(Number(m[1]));
  }

  #statement(s: Statement): void {
    const piece = this.#piece;
    switch (s.kind) {
      case 'round':
        this.#round(s.label, s);
        break;
      case 'repeat':
        this.#order.flushFor(s);
        this.#repeats.repeat(s);
        break;
      case 'plain':
        this.#order.flush();
        this.#plain(s);
        break;
      case 'named':
        this.#order.flush();
        this.#named.work(s);
        break;
      case 'shape':
        this.#order.flush();
        workShaping(s, piece, this.#book);
        break;
      case 'end':
        this.#order.flush();
        this.#end(s);
        break;
      case 'count':
        this.#order.flush();
        piece.checkStated(s.stated, s);
        break;
      case 'heading':
        checkProse(s, piece.source, piece.found);
        this.#order.headingSince = true;
        this.#repeats.sinceHeading = piece.rounds.length;
        break;
      default:
        break;
    }
  }

  #round(label: RoundLabel | null, at: Place): void {
    if (label === null || (label.numbers.length === 0 && label.rule === null)) {
      this.#order.flush();
      this.#unnumbered(label, at);
    } else if (label.again) this.#writtenAgain(label, at);
    // A rule alone is collected when its section begins.
    else if (label.numbers.length > 0) this.#numbered(label, at);
  }

  /** A round written out again; its number is not checked. */
  #writtenAgain(label: RoundLabel, at: Place): void {
    for (const n of label.numbers) {
      for (const def of this.#reader.read(label, at, 1)) {
        this.#piece.work({ ...def, label: `${this.#labelFor(n, label)} (repeat)` });
      }
    }
    this.#book.section.worked += label.numbers.length;
  }

  #numbered(label: RoundLabel, at: Place): void {
    const { numbers } = label;
    const [first] = numbers;
    const section = this.#order.sectionFor(first, this.#statements, this.#at);
    const defs = this.#reader.read(label, at, numbers.length);
    if (defs.length === 0) {
      for (const n of numbers) section.failed.add(n);
      return;
    }
    if (first > section.next && section.worked + 1 !== first) this.#order.fillGap(first, at);
    if (first > section.next && section.worked + 1 === first && section.pending.size === 0) {
      section.next = first;
    }
    for (let i = 0; i < numbers.length; i++) {
      const n = numbers[i];
      if (section.defs.has(n) && n < section.next && i > 0) continue;
      const def = { ...defs[i % defs.length], label: this.#labelFor(n, label) };
      // A count behind a range is that of its last round.
      const last = i + 1 === numbers.length;
      section.defs.set(n, last ? def : { ...def, stated: null });
      if (n >= section.next) section.pending.add(n);
    }
    this.#order.drain();
  }

  #labelFor(n: number, label: RoundLabel): string {
    return numberedLabel(n, this.#unitOf(label), label.side, this.#piece.inRound);
  }

  #unitOf(label: RoundLabel | null): 'round' | 'row' {
    return label?.unit ?? (this.#piece.inRound ? 'round' : 'row');
  }

  /** "Next round", "Decrease round", or stitches without any label. */
  #unnumbered(label: RoundLabel | null, at: Place): void {
    const piece = this.#piece;
    const repeat = Math.min(label?.repeat ?? 1, MOST_ROUNDS);
    const defs = this.#reader.read(label, at, repeat);
    const name = label?.name || 'next';
    const side = sideWords(label?.side ?? null, piece.inRound);
    const suffix = label?.suffix ?? [];
    for (let i = 0; i < repeat && defs.length > 0 && piece.goesOn; i++) {
      const number = suffix[i] === undefined ? '' : ` ${suffix[i]}`;
      const text = `${name[0].toUpperCase()}${name.slice(1)} ${this.#unitOf(label)}${number}${side}`;
      const def = { ...defs[i % defs.length], label: text };
      if (name !== 'next') this.#book.describe(name, number, def);
      piece.work(i + 1 < repeat ? { ...def, stated: null } : def);
      this.#book.section.worked++;
    }
  }

  /** "Knit 4 rounds", "work 5 cm even" */
  #plain(at: Place): void {
    const piece = this.#piece;
    const text = sentenceAt(piece.source, at);
    const parts = readPlainRounds(text, at.from, this.#abbreviations, piece.found);
    if (parts.length === 0) {
      const read = readSteps(text, at.from, this.#abbreviations, null);
      if (!read.hasStitches && read.unread > 0) sayNotFollowed(at, piece.source, piece.found);
      else this.#unnumbered(null, at);
      return;
    }
    const place = trimmed(piece.source, at);
    const before = piece.rounds.length;
    for (const part of parts) {
      let { rounds } = part;
      if (rounds === null) {
        const n = piece.roundsFor(part.lengthMm ?? 0, at);
        if (n === null) return;
        rounds = part.fromStart ? n - piece.rounds.length : n;
      }
      for (let i = 0; i < rounds && !piece.stopped; i++) {
        const last = i + 1 === rounds;
        const steps = last && part.last ? part.last : cycleSteps(part, i);
        const def = unnumberedDef(place, piece.inRound, steps);
        piece.work(last ? { ...def, stated: part.stated } : def);
      }
    }
    this.#book.countSince(before);
  }

  #end(at: Place): void {
    const piece = this.#piece;
    const text = sentenceAt(piece.source, at);
    const endingFollows = this.#statements[this.#at + 1]?.kind === 'end';
    const ending = readEnding(text, piece.ending, endingFollows);
    if (ending === null) return;
    piece.ending = ending;
    piece.ended = true;
    const count = endingCount(text);
    if (count === null || count === piece.count || piece.counts.believed.active) return;
    const { from, to } = trimmed(piece.source, at);
    piece.found.add(
      'error',
      'ending-count-wrong',
      from,
      to,
      `this ends with ${stitches(count)}, but ${piece.count} are on the needles`,
      'Check the counts of the last rounds.',
    );
  }
}
