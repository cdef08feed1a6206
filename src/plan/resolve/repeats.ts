/**
 * "Repeat rounds 1 and 2 until 8 sts remain": which rounds are meant, and working them again until a
 * count, a length or a number of times is reached. An end that the rounds never come to is said.
 */

import { type Place, sentenceAt } from '../lex/source.ts';
import { type RepeatLine, readRepeat } from '../repeat-lines.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { type RoundDef, repeatedLabel } from './round-defs.ts';
import type { RoundBook } from './round-scope.ts';

const THEN_ROUNDS =
  /(,?\s*(?:(?:and|,)\s*)?then\s+(?:work\s+)?)(?=(?:rep(?:eat)?\s+)?(?:the\s+)?(?:rounds?|rnds?|rds?|rows?|r)\.?\s*\d)/g;

/** Words of a repeat that have its plain stretches follow the count. */
const FOLLOWS =
  /\bas\s+(?:set|est|before)|\bin\s+(?:this|the\s+same)\s+(?:way|manner)|\b(?:less|fewer)\b|\bmore\s+(?:sts?|stitch)|\b(?:keep|maintain|shorten|dec(?:r?eas)?)ing\b|\bin\s+pat(?:t|tern)\b/;

export class RoundRepeats {
  /** Rounds of the piece before the last heading. */
  sinceHeading = 0;
  readonly #piece: WorkedPiece;
  readonly #book: RoundBook;

  constructor(piece: WorkedPiece, book: RoundBook) {
    this.#piece = piece;
    this.#book = book;
  }

  /** Works the sentence at `at`, which may hold several repeats: "rep rows 1-8 once more, then rows 1-4 once". */
  repeat(at: Place): void {
    const text = sentenceAt(this.#piece.source, at);
    let start = 0;
    for (const m of text.matchAll(THEN_ROUNDS)) {
      const before = text.slice(start, m.index);
      if (before.trim() !== '') this.#repeatOne(before, at);
      start = m.index + m[1].length;
    }
    const last = text.slice(start);
    this.#repeatOne(start === 0 || /^\s*rep/.test(last) ? last : `rep ${last}`, at);
  }

  #repeatOne(text: string, at: Place): void {
    const piece = this.#piece;
    const line = readRepeat(text);
    if (!line) {
      const message = 'it is not clear what is repeated here';
      piece.found.add('warning', 'repeat-not-read', at.from, at.to, message);
      return;
    }
    const defs = this.#defsOf(line, text, at);
    if (defs.length === 0) return;
    if (line.untilStitches === null && line.untilMm === null && line.times === null) {
      piece.sayNoEnd(at);
      return;
    }
    const follows = FOLLOWS.test(text) ? { follows: { from: at.from, to: at.to } } : null;
    const again = defs.map((d) => ({
      ...d,
      stated: null,
      label: repeatedLabel(d.label),
      ...follows,
    }));
    const before = piece.rounds.length;
    const target = piece.targetOf(line);
    if (target !== null) {
      const lastOne = line.endWith === null ? -1 : line.numbers.indexOf(line.endWith);
      repeatUntil(piece, again, target, lastOne, at);
    } else if (line.untilMm !== null) this.#repeatToLength(again, line.untilMm, at);
    else {
      let times = line.times ?? 1;
      if (line.forRounds !== null) times = Math.max(1, Math.floor(line.forRounds / defs.length));
      if (line.total && this.#justWorked(defs)) times -= 1;
      repeatTimes(piece, again, times);
    }
    this.#book.countSince(before);
    if (line.stated) piece.checkStated(line.stated, at);
  }

  /** The rounds that a line names; none where one of them is unknown, which is said. */
  #defsOf(line: RepeatLine, text: string, at: Place): RoundDef[] {
    const { history, found } = this.#piece;
    const { section } = this.#book;
    if (line.steps) return this.#book.fetchItems(line.numbers, at);
    if (line.numbers.length > 0) {
      let { numbers } = line;
      if (numbers.length === 1 && /\bfrom\s+(?:the\s+)?(?:rounds?|rnds?|rows?)/.test(text)) {
        // "repeat from round 3": everything since then.
        const since = Array.from(
          { length: Math.max(0, section.next - numbers[0]) },
          (_, i) => numbers[0] + i,
        );
        if (since.length > 0) numbers = since;
      }
      const defs = this.#book.fetch(numbers, '', at);
      return defs.length < numbers.length ? [] : defs;
    }
    if (line.these) return history.slice(Math.max(this.sinceHeading, section.startRound));
    if (line.last > history.length) {
      const message = `the last ${line.last} rounds are repeated, but only ${history.length} have been worked`;
      found.add('error', 'unknown-round', at.from, at.to, message);
    }
    return history.slice(-line.last);
  }

  #justWorked(defs: readonly RoundDef[]): boolean {
    const tail = this.#piece.history.slice(-defs.length);
    return tail.length === defs.length && tail.every((d, i) => d.steps === defs[i].steps);
  }

  #repeatToLength(defs: readonly RoundDef[], mm: number, at: Place): void {
    const rounds = this.#piece.roundsFor(mm, at);
    if (rounds === null) return;
    // Rounds that bind everything off add no height.
    while (this.#piece.rounds.length < rounds && this.#piece.goesOn) this.#piece.workAll(defs);
  }
}

export function repeatTimes(piece: WorkedPiece, defs: readonly RoundDef[], times: number): void {
  for (let i = 0; i < times && !piece.stopped; i++) piece.workAll(defs);
}

/**
 * Works the rounds in turn until `target` stitches remain; where `lastOne` is no less than 0, only behind
 * that one of them.
 */
export function repeatUntil(
  piece: WorkedPiece,
  defs: readonly RoundDef[],
  target: number,
  lastOne: number,
  at: Place,
): void {
  const start = piece.count;
  const up = target > start;
  const reached = (): boolean => (up ? piece.count >= target : piece.count <= target);
  if (start === target) return;
  for (;;) {
    const before = piece.count;
    for (let i = 0; i < defs.length; i++) {
      if (piece.stopped) return;
      piece.work(defs[i]);
      if (reached() && (lastOne < 0 || lastOne === i)) break;
    }
    if (reached()) break;
    if (!comesNearer(before, piece.count, up)) {
      piece.sayMissed(
        target,
        at,
        'repeat-never-ends',
        `these rounds take the count from ${before} to ${piece.count}: ${target} would never be reached`,
        'Check that the repeated rounds decrease (or increase) as meant.',
      );
      return;
    }
  }
  if (piece.count !== target) {
    piece.sayMissed(
      target,
      at,
      'repeat-misses-count',
      `repeating these rounds never leaves ${stitches(target)}: the count goes past it to ${piece.count}`,
      'Check the count before the repeat, or the number that should remain.',
    );
  }
}

/** The count has changed, and in the direction that is wanted. */
export function comesNearer(before: number, after: number, up: boolean): boolean {
  return up ? after > before : after < before;
}
