/**
 * Counts that the text states against the stitches that are there. Input: a stated count and the needles
 * after its round. Output: diagnostics for the first count that is wrong; those that only follow from it
 * are held back (`error-suppression.ts`). Counts stated for one side tell how many sides there are.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { StatedCount } from '../grammar/steps/stated-counts.ts';
import { type Place, type Source, trimmed } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import { ErrorSuppression } from './error-suppression.ts';
import type { Needle } from './needle.ts';
import { stitches } from './round-problems.ts';

/** Equal parts between markers, where there are more than two. */
function evenSides({ count, markers }: Pick<Needle, 'count' | 'markers'>): number | null {
  const parts = markers.length + 1;
  return parts > 2 && markers.every((at, i) => at * parts === (i + 1) * count) ? parts : null;
}

export class CountCheck {
  /** Equal sides of the piece; null until the text tells. */
  sides: number | null;
  readonly believed = new ErrorSuppression();
  readonly #source: Source;
  readonly #found: DiagnosticList;

  readonly #castOn: number;

  constructor(source: Source, found: DiagnosticList, sides: number | null, castOn: number) {
    this.#castOn = castOn;
    this.#source = source;
    this.#found = found;
    this.sides = sides;
  }

  /** Stitches of the whole round that are stated; null where that can't be told. */
  total(stated: StatedCount | null): number | null {
    if (!stated) return null;
    if (stated.total !== null) return stated.total;
    if (stated.perSide !== null && this.sides !== null) return stated.perSide * this.sides;
    return null;
  }

  /** Compares what is stated with the needles after round `last`. */
  /** `start`: the count before the first round that the words asked for. */
  check(
    stated: StatedCount,
    at: Place,
    needle: Needle,
    last: PlanRound | undefined,
    start = last?.before,
  ): void {
    const { count } = needle;
    this.#learnSides(stated, needle);
    const total = this.total(stated);
    const { believed } = this;
    const changed = start !== undefined && count - start === stated.change;
    if (stated.change !== null && last && !changed && (total === null || total === count))
      this.#checkChange(stated, at, last, needle);
    if (total === null) return;
    if (total === count) {
      believed.end();
      this.#checkShare(stated, at, count);
      return;
    }
    if (believed.active) {
      if (believed.needle?.count !== total) believed.beginWith(total, needle);
      return;
    }
    believed.beginWith(total, needle);
    const off = Math.abs(total - count);
    const hint =
      last && total === last.before
        ? 'That is the count before this round.'
        : `${stitches(off)} ${total > count ? 'fewer' : 'more'} than stated: check the decreases, or correct the number.`;
    this.#found.error(
      'stated-count-wrong',
      trimmed(this.#source, at),
      `the text says ${stitches(total)}, but ${count} ${count === 1 ? 'is' : 'are'} on the needles after this`,
      hint,
    );
  }

  #learnSides({ total, perSide }: StatedCount, { count, markers }: Needle): void {
    if (this.sides !== null || perSide === null || perSide <= 0) return;
    // Markers part the stitches into equal sides, whatever share is told.
    const even = evenSides({ count, markers });
    const sides = even ?? (total ?? count) / perSide;
    if (Number.isInteger(sides) && perSide > 1) this.sides = sides;
  }

  /** "(84 sts, 21 each side)": both counts have to hold. */
  #checkShare({ total, perSide }: StatedCount, at: Place, count: number): void {
    const { sides } = this;
    if (total === null || perSide === null || sides === null || perSide * sides === count) return;
    this.#found.error(
      'stated-count-wrong',
      trimmed(this.#source, at),
      `the text says ${perSide} on each of ${sides} sides, which makes ${perSide * sides}, but ${stitches(count)} are on the needles after this`,
      'Check the count, or how it is shared.',
    );
  }

  /** "(8 sts decreased)": wrong unless the round, each of its sides or what lies at each marker changes by so many. */
  #checkChange({ total, change }: StatedCount, at: Place, last: PlanRound, needle: Needle): void {
    const real = last.after - last.before;
    const sides = this.sides ?? evenSides(needle) ?? 1;
    if (change === null || change === 0) return;
    // "(2 sts decreased)" at each marker
    const markers = needle.markers.length || 1;
    if ([1, sides, markers, 2 * markers].some((n) => real === change * n)) return;
    // "56 stitches are gone": of all that were cast on.
    if (total === null && needle.count - this.#castOn === change) return;
    const word = change < 0 ? 'decreased' : 'increased';
    this.#found.error(
      'stated-change-wrong',
      trimmed(this.#source, at),
      `the text says ${stitches(Math.abs(change))} are ${word}, but the count goes from ${last.before} to ${last.after}`,
      'Count the decreases and increases of this round.',
    );
  }

  /** Reports a count that is never reached, unless a mistake before it may be the cause. */
  reportOnce(
    target: number | null,
    needle: Needle,
    at: Place,
    code: string,
    message: string,
    hint = '',
  ): void {
    if (!this.believed.active) this.#found.error(code, at, message, hint);
    this.believed.beginWith(target, needle);
  }
}
