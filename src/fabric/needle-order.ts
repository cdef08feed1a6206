/**
 * The loops on the needle from round to round, and in which order a round takes them: short rows turn before
 * the end, so that some loops wait. In: the plan's rounds in turn with the loops that each made. Out: loops
 * right to left as seen from the right side (in the round from where rounds begin), and in working order.
 */
import type { PlanRound } from '../plan/plan.ts';

/** What the needle holds after each course, where a plan has short rows. */
export interface HeldNeedles {
  /** [courses + 1] offsets into `ids`. */
  readonly start: Int32Array;
  /** Loops on the needle, right to left as seen from the right side; those of earlier courses wait. */
  readonly ids: Int32Array;
  /** [courses] 1 where the course ends at a turn before the end. */
  readonly turned: Uint8Array;
}

export class NeedleOrder {
  /** Right to left from the right side; in the round from its beginning. */
  #loops: number[];
  readonly #inRound: boolean;
  /** In the round, behind a turn: place of the yarn. */
  #at: number | null = null;
  /** Of the round being worked: what it meets, what it has left, and how much of either lies before the round begins. */
  #order: readonly number[] = [];
  #left: number[] = [];
  #taken = 0;
  #begins = 0;
  #atBeginning = 0;
  readonly #kept: number[] = [];
  readonly #start: number[];
  readonly #turned: number[];

  constructor(castOn: number[], inRound: boolean) {
    this.#loops = castOn;
    this.#inRound = inRound;
    this.#kept.push(...castOn);
    this.#start = [0, castOn.length];
    this.#turned = [0];
  }

  /** Loops in the order in which the round takes them. */
  begin({ wrongSide, before }: PlanRound): readonly number[] {
    const n = this.#loops.length;
    const at = this.#at;
    this.#left = [];
    this.#atBeginning = 0;
    this.#taken = 0;
    this.#begins = at === null ? 0 : (wrongSide ? at : before - at) % before;
    if (at === null) this.#order = wrongSide ? this.#loops.toReversed() : this.#loops;
    else {
      this.#order = this.#loops.map(
        (_, i) => this.#loops[(wrongSide ? at - 1 - i + 2 * n : at + i) % n],
      );
    }
    return this.#order;
  }

  /** A stitch takes so many loops and leaves these. */
  work(consumes: number, made: readonly number[]): void {
    if (this.#taken < this.#begins) this.#atBeginning = this.#left.length + made.length;
    this.#taken += consumes;
    for (const loop of made) this.#left.push(loop);
  }

  /** The next loop waits. */
  wait(): void {
    this.work(1, [this.#order[this.#taken]]);
  }

  end({ wrongSide, shortRow }: PlanRound): void {
    const left = this.#left;
    const n = left.length;
    const turnedAt = shortRow?.turnedAt ?? null;
    const backwards = wrongSide ? left.toReversed() : left;
    if (this.#inRound) {
      // Place of the round's beginning among the loops as seen from the right side.
      const begins = wrongSide ? n - this.#atBeginning : this.#atBeginning;
      this.#loops = backwards.map((_, i) => backwards[(begins + i) % n]);
      const place = turnedAt === null ? null : wrongSide ? n - turnedAt : turnedAt;
      this.#at = place === null ? null : (place - begins + n) % n;
    } else this.#loops = backwards;
    for (const loop of this.#loops) this.#kept.push(loop);
    this.#start.push(this.#kept.length);
    this.#turned.push(turnedAt === null ? 0 : 1);
  }

  held(): HeldNeedles {
    return {
      start: Int32Array.from(this.#start),
      ids: Int32Array.from(this.#kept),
      turned: Uint8Array.from(this.#turned),
    };
  }
}
