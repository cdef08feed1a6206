/**
 * Sentences that tell numbers in free words, held against the piece where they stand: every number of stitches and rounds, the
 * side of the last row, the stitches drawn up at the end. In: the place of such a sentence. Out: an error at the number that
 * is otherwise, some of them once all is worked.
 */
import { readToldNumbers } from '../grammar/narration/told-numbers.ts';
import { atHand, type ToldCount } from '../grammar/told-counts.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { tokenize } from '../lex/tokens.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { NumbersKnown } from './told-numbers.ts';

/** "thread the 12 sts", "through the 12 stitches" */
const DRAWN =
  /\b(?:thread|through|draw|graft|gather|close)\b[^.;\d]{0,24}\b(\d+)(?: (?:remaining|live|last))? (?:sts?|stitches|loops)\b/;
/** "…, a WS row" at the end of what was worked. */
const ENDS_ON =
  /(?:^\W*|\b(?:end|ends|ending|ended|finish|finishes|finishing|stop|stops|last)\b[^.;]*[,( ])(?:which is |that is |it is )?an? (rs|ws|right[- ]side|wrong[- ]side) (?:row|one)\b(?= ?(?:[,.;)]|$))/;

const numbersIn = (told: ToldCount): number[] =>
  Object.values(told).filter((v): v is number => typeof v === 'number');

export class Narration {
  readonly #piece: WorkedPiece;
  readonly #settle: () => void;
  readonly #starts: readonly number[];
  /** Numbers told of what is still to come. */
  readonly #questions: { value: number; at: Place; is: () => string | undefined }[] = [];

  /** `settle`: works what the text has told up to here; `starts`: rounds that were worked before each of the last sentences. */
  constructor(piece: WorkedPiece, settle: () => void, starts: readonly number[]) {
    this.#piece = piece;
    this.#settle = settle;
    this.#starts = starts;
  }

  /** Every number of stitches and rounds that no frame of counts has taken. */
  numbers(at: Place, told: readonly ToldCount[] = []): void {
    const piece = this.#piece;
    const { norm } = piece.source;
    const map = Int32Array.from({ length: at.to - at.from + 1 }, (_, i) => i);
    const words = atHand(norm.slice(at.from, at.to));
    const numbers = readToldNumbers(tokenize({ norm: words, text: words, map }));
    // A part of an order that has lost the words before it: "split 48/48", "see photo 2".
    const part = /[a-z0-9/]\s*$/.test(norm.slice(Math.max(0, at.from - 2), at.from));
    // "Stop after the round 3 that has 16 stitches"
    if (part && (words.trim().split(/\s+/).length < 3 || /^\W*(?:that|who|with)\b/.test(words)))
      return;
    if (told.some((t) => /^(?:sum|share|list)$/.test(t.kind))) return;
    const taken = new Set(told.flatMap(numbersIn));
    const left = numbers.filter((n) => !taken.has(n.value));
    if (left.length === 0) return;
    this.#settle();
    if (piece.counts.believed.active) return;
    const known = new NumbersKnown(piece, this.#starts);
    const behind = at.to - words.length;
    for (const number of left) {
      known.learn(number, at);
      const is = known.judge(number);
      const place = { from: behind + number.from, to: behind + number.to };
      if (typeof is === 'string') {
        this.#sayNumber(number.value, is, place);
        return;
      }
      if (is) this.#questions.push({ value: number.value, at: place, is });
    }
  }

  /** Stitches that are told once the piece has ended: those that were there before. */
  atTheEnd(at: Place): void {
    const { rounds, source } = this.#piece;
    const last = rounds.at(-1);
    const m = DRAWN.exec(source.norm.slice(at.from, at.to));
    if (!m || !last || this.#piece.counts.believed.active) return;
    const told = Number(m[1]);
    const parts = this.#piece.counts.sides ?? 4;
    const left = [last.after, last.before, last.after / parts, last.after / 2, 1];
    if (left.includes(told)) return;
    const from = at.from + m.index + m[0].lastIndexOf(m[1]);
    this.#sayNumber(told, `${stitches(last.after)} were left`, { from, to: from + m[1].length });
  }

  /** "row 16, a WS row": which side the last row is on. */
  side(words: string, at: Place): void {
    const side = ENDS_ON.exec(words)?.[1];
    if (!side || this.#piece.inRound) return;
    this.#settle();
    const last = this.#piece.rounds.at(-1);
    const wrong = /^w/.test(side);
    if (!last || last.wrongSide === wrong || this.#piece.counts.believed.active) return;
    this.#piece.found.error(
      'told-otherwise',
      trimmed(this.#piece.source, at),
      `this is called a ${wrong ? 'wrong' : 'right'}-side row, but the last row worked is a ${wrong ? 'right' : 'wrong'}-side one`,
      'Check the side, or how many rows are worked.',
    );
  }

  #sayNumber(value: number, is: string, at: Place): void {
    this.#piece.found.error(
      'told-number-wrong',
      at,
      `${value} is told here, but ${is}`,
      'Check the number, or the rounds before it.',
    );
  }

  /** All is worked: what was told of it before. */
  check(): void {
    for (const { value, at, is } of this.#questions) {
      const instead = is();
      if (instead) this.#sayNumber(value, instead, at);
    }
  }
}
