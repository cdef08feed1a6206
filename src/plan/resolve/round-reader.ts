/**
 * The text behind a round's label → what each round of the label means: stitches, "as round 3", "knit 2
 * rounds", or a bind-off. What cannot be read is said, and leaves the count as it is.
 */

import { readSteps } from '../grammar/steps/step-reader.ts';
import type { RoundLabel } from '../labels.ts';
import { type Place, trimmed } from '../lex/source.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { cycleSteps, patternSteps, readLike, readPlainRounds } from '../round-bodies.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import type { RoundDef } from './round-defs.ts';
import type { RoundBook } from './round-scope.ts';

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
const BINDS_OFF =
  /^[\s"']*(?:bind(?:ing)?[\s-]*off|cast[\s-]*off|b\/?o(?![a-z]))(?!\s*(?:first\s+|next\s+)?\d+\s*(?:sts?|stitches)?\s*(?:,|;|at\s|then\s|and\s|[kp]))/;

export class RoundReader {
  readonly #piece: WorkedPiece;
  readonly #book: RoundBook;
  readonly #abbreviations: Abbreviations;

  constructor(piece: WorkedPiece, book: RoundBook, abbreviations: Abbreviations) {
    this.#piece = piece;
    this.#book = book;
    this.#abbreviations = abbreviations;
  }

  /**
   * One definition for each of the `count` rounds of the label (or a cycle of them), without labels;
   * none where the text says nothing that could be worked. `at`: the label with its text.
   */
  read(label: RoundLabel | null, at: Place, count: number): RoundDef[] {
    const { source, found } = this.#piece;
    const bodyFrom = label?.end ?? at.from;
    const body = source.norm.slice(bodyFrom, at.to);
    const base: RoundDef = {
      steps: [],
      stated: label?.stated ?? null,
      from: at.from,
      to: trimmed(source, at).to,
      label: '',
      side: label?.side ?? null,
      ends: false,
    };
    if (BINDS_OFF.test(body)) return [{ ...base, ends: true }];
    const like = readLike(body);
    if (like) {
      const defs = this.#book.fetch(like.numbers, like.name, at);
      if (defs.length === 0) return [];
      const restFrom = bodyFrom + body.length - like.rest.length;
      const rest = readSteps(like.rest, restFrom, this.#abbreviations, null);
      return defs.map((d) => ({ ...base, steps: d.steps, stated: rest.stated ?? base.stated }));
    }
    const several = this.#readSeveral(body, bodyFrom, base, count);
    if (several) return several;
    const read = readSteps(body, bodyFrom, this.#abbreviations, found);
    const { failed } = read;
    const unread = read.unread > 0;
    const stated = read.stated ?? base.stated;
    if (read.steps.length === 0 && !unread) {
      found.add(
        'warning',
        'round-empty',
        at.from,
        at.to,
        'nothing is said about what to work here',
        'Write the stitches after the label, for example: knit.',
      );
      return [];
    }
    // Nothing could be read: the count stays as it is, and only the words are reported.
    const nothing = !read.hasStitches && unread;
    const steps = nothing ? patternSteps('set', at.from, at.to) : read.steps;
    return [{ ...base, steps, stated, unread, failed }];
  }

  /** "Knit 4 rounds" behind a label of 4 rounds; null where the text is something else. */
  #readSeveral(body: string, bodyFrom: number, base: RoundDef, count: number): RoundDef[] | null {
    if (!/\b(?:rounds?|rnds?|rows?)\b/.test(body)) return null;
    const plain = readPlainRounds(body.slice(0, 2000), bodyFrom, this.#abbreviations, null);
    if (plain.length === 0 || plain.some((p) => p.rounds === null)) return null;
    const total = plain.reduce((sum, p) => sum + (p.rounds ?? 0), 0);
    if (total !== count && (plain.length > 1 || count <= 1)) return null;
    const defs: RoundDef[] = [];
    for (const p of plain) {
      for (let i = 0; i < Math.min(count, p.rounds ?? 1); i++) {
        defs.push({ ...base, steps: cycleSteps(p, i), stated: p.stated ?? base.stated });
      }
    }
    return defs;
  }
}
