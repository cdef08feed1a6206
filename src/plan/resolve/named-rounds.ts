/**
 * "Work decrease round every 4th round 5 times", "work dec rnd, then knit 3 rnds, 5 times in all": rounds
 * described by name before, worked again with plain ones between them.
 */

import { roundName } from '../labels.ts';
import { type Place, sentenceAt, trimmed } from '../lex/source.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { sayNotFollowed } from '../prose-lines.ts';
import { type NamedLine, readCompound, readNamed } from '../repeat-lines.ts';
import { cycleSteps, patternSteps, readPlainRounds } from '../round-bodies.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { comesNearer, repeatTimes, repeatUntil } from './repeats.ts';
import { nextLabel, type RoundDef, unnumberedDef } from './round-defs.ts';
import type { RoundBook } from './round-scope.ts';

export class NamedRounds {
  readonly #piece: WorkedPiece;
  readonly #book: RoundBook;
  readonly #abbreviations: Abbreviations;

  constructor(piece: WorkedPiece, book: RoundBook, abbreviations: Abbreviations) {
    this.#piece = piece;
    this.#book = book;
    this.#abbreviations = abbreviations;
  }

  work(at: Place): void {
    const { source, found } = this.#piece;
    if (this.#workCompound(at)) return;
    for (const line of readNamed(sentenceAt(source, at))) {
      const def = this.#book.named(line.name) ?? this.#book.named(roundName(line.name));
      if (def) {
        if (!this.#workLine(line, def, at)) return;
      } else if (/\b(?:pattern|chart|same|plain|even|more|lace|cable)\b/.test(line.name)) {
        sayNotFollowed(at, source, found);
      } else {
        found.add(
          'error',
          'unknown-round',
          at.from,
          at.to,
          `there is no ${line.name} round before this`,
          `Describe it first: ${line.name[0].toUpperCase()}${line.name.slice(1)} round: …`,
        );
        return;
      }
    }
  }

  /** False where nothing tells how long to go on, which is said. */
  #workLine(line: NamedLine, def: RoundDef, at: Place): boolean {
    const piece = this.#piece;
    if (line.times === null && line.untilStitches === null) {
      piece.sayNoEnd(at);
      return false;
    }
    const plain: RoundDef = {
      ...def,
      steps: patternSteps('set', at.from, at.to),
      stated: null,
      label: nextLabel(piece.inRound),
      side: null,
    };
    const again = { ...def, stated: null };
    const before = piece.rounds.length;
    // "Decrease round: …" then "work decrease round every 4th round 5 times": the first is done.
    const first = !line.more && this.#book.justDescribed(line.name);
    const times = line.times === null ? Number.POSITIVE_INFINITY : line.times - (first ? 1 : 0);
    const target = line.untilStitches;
    const up = target !== null && target > piece.count;
    for (let i = 0; i < times && !piece.stopped; i++) {
      if (target !== null && piece.count === target) break;
      const { count } = piece;
      for (let j = 1; j < line.every && !piece.stopped; j++) piece.work(plain);
      piece.work(again);
      if (target === null) continue;
      if (!comesNearer(count, piece.count, up)) {
        const message = `this never leaves ${stitches(target)}`;
        piece.sayMissed(target, at, 'repeat-never-ends', message);
        break;
      }
      if (up ? piece.count > target : piece.count <= target) break;
    }
    this.#book.countSince(before);
    if (line.stated) piece.checkStated(line.stated, at);
    return true;
  }

  /** `Work dec rnd, then knit 3 rnds, 5 times in all`; false where the sentence is none such. */
  #workCompound(at: Place): boolean {
    const piece = this.#piece;
    const line = readCompound(sentenceAt(piece.source, at).replace(/\.\s[\s\S]*$/, ''));
    if (!line) return false;
    const defs: RoundDef[] = [];
    for (const part of line.parts) {
      const of = 'name' in part ? this.#defNamed(part.name) : this.#plainDefs(part.text, at);
      if (!of) return false;
      defs.push(...of);
    }
    const before = piece.rounds.length;
    const { tail } = line;
    const target = piece.targetOf(tail);
    if (target !== null) repeatUntil(piece, defs, target, -1, at);
    else {
      const done = tail.total && this.#justWorked(defs) ? 1 : 0;
      repeatTimes(piece, defs, (tail.times ?? 1) - done);
    }
    this.#book.countSince(before);
    if (tail.stated) piece.checkStated(tail.stated, at);
    return true;
  }

  #defNamed(name: string): RoundDef[] | null {
    const def = this.#book.named(name);
    return def ? [{ ...def, stated: null }] : null;
  }

  /** "knit 3 rnds"; null where the text is something else. */
  #plainDefs(text: string, at: Place): RoundDef[] | null {
    const plain = readPlainRounds(text, at.from, this.#abbreviations, null);
    if (plain.length === 0 || plain.some((p) => p.rounds === null)) return null;
    const defs: RoundDef[] = [];
    for (const p of plain) {
      for (let i = 0; i < Math.min(p.rounds ?? 0, MOST_ROUNDS); i++) {
        const place = trimmed(this.#piece.source, at);
        defs.push(unnumberedDef(place, this.#piece.inRound, cycleSteps(p, i)));
      }
    }
    return defs;
  }

  /** The last rounds worked are these; for plain ones it is enough that the count stayed. */
  #justWorked(defs: readonly RoundDef[]): boolean {
    const { history, rounds } = this.#piece;
    const done = history.slice(-defs.length);
    const first = rounds.length - defs.length;
    return (
      done.length === defs.length &&
      defs.every((d, i) => {
        const { before, after } = rounds[first + i];
        return d.steps === done[i].steps || (before === after && !this.#book.isNamed(d));
      })
    );
  }
}
