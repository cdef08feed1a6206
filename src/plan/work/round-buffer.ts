/**
 * The stitches of one round as they are worked, one kind after the other, with how far along the needle
 * they have come. Works exactly the stitches that are there: what is asked beyond them is only
 * counted. One tape serves a whole plan, so it also keeps the limits on a plan's size.
 */
import type { StitchRegistry } from '../stitches/stitch-registry.ts';

/** Limit on stitches of a whole plan (DESIGN section 9: 200,000). */
export const MOST_STITCHES = 200_000;
/** Limit on steps worked for a whole plan, so that nested repeats of nothing come to an end. Chosen. */
const MOST_STEPS = 1_000_000;

/** A place on the tape, to work again from. */
export interface BufferMark {
  readonly works: number;
  readonly made: number;
  readonly at: number;
}

export class RoundBuffer {
  /** Set once a limit is passed; nothing more is worked then. */
  tooBig = false;
  readonly #list: StitchRegistry;
  #steps = 0;
  #total = 0;
  #out = new Int16Array(1024);
  #n = 0;
  #at = 0;
  #used = 0;
  #made = 0;
  #before = 0;

  constructor(list: StitchRegistry) {
    this.#list = list;
  }

  /** Begins a round over `before` stitches. */
  begin(before: number): void {
    this.#before = before;
    this.#n = 0;
    this.#at = 0;
    this.#used = 0;
    this.#made = 0;
  }

  /** Stitches asked for so far: a place on the needle, or beyond its `before` stitches. */
  get at(): number {
    return this.#at;
  }

  /** Stitches on the needle before the round. */
  get before(): number {
    return this.#before;
  }

  /** Loops left on the other needle so far. */
  get made(): number {
    return this.#made;
  }

  /** Stitches that nothing has been worked into yet. */
  get unworked(): number {
    return this.#before - this.#used;
  }

  /** More has been asked for than is on the needle. */
  get beyond(): boolean {
    return this.#at > this.#before;
  }

  /** The round's stitch kinds so far, in working order; valid until the next one is worked. */
  get works(): Int16Array {
    return this.#out.subarray(0, this.#n);
  }

  /** Counts a step; true where the plan has asked for too many. */
  busy(): boolean {
    if (++this.#steps > MOST_STEPS) this.tooBig = true;
    return this.tooBig;
  }

  /** Counts the loops of a finished round towards the limit of the plan. */
  keep(loops: number): void {
    this.#total += loops;
  }

  #reserve(more: number): boolean {
    if (this.#total + this.#made + more > MOST_STITCHES || this.#n + more > 2 * MOST_STITCHES) {
      this.tooBig = true;
      return false;
    }
    if (this.#n + more > this.#out.length) {
      const grown = new Int16Array(Math.max(this.#n + more, this.#out.length * 2));
      grown.set(this.#out.subarray(0, this.#n));
      this.#out = grown;
    }
    return true;
  }

  work(id: number, times: number): void {
    const consumes = this.#list.consumes[id];
    const makes = this.#list.makes[id];
    let fit = times;
    if (this.beyond) fit = 0;
    else if (consumes > 0) fit = Math.min(times, Math.floor((this.#before - this.#at) / consumes));
    this.#at += consumes * times;
    if (fit === 0) return;
    if (fit * Math.max(1, makes) > 2 * MOST_STITCHES || !this.#reserve(fit * Math.max(1, makes))) {
      this.tooBig = true;
      return;
    }
    this.#out.fill(id, this.#n, this.#n + fit);
    this.#n += fit;
    this.#used += consumes * fit;
    this.#made += makes * fit;
  }

  /** Counts the stitches up to `at` as asked for, without working them. */
  countTo(at: number): void {
    this.#at = at;
  }

  /** Works kind `id`, one loop each, into what the round leaves, so that later counts stay consistent. */
  fillUp(id: number): void {
    const rest = this.unworked;
    if (!this.#reserve(rest)) return;
    this.#out.fill(id, this.#n, this.#n + rest);
    this.#n += rest;
    this.#used += rest;
    this.#made += rest;
  }

  mark(): BufferMark {
    return { works: this.#n, made: this.#made, at: this.#at };
  }

  /**
   * Works what stands since `mark` again, up to `times` times and as often as it fits whole. Returns
   * how often it did; null where the plan gets too big.
   */
  again(mark: BufferMark, times: number): number | null {
    const length = this.#n - mark.works;
    const made = this.#made - mark.made;
    const each = this.#at - mark.at;
    const room = each > 0 ? Math.floor((this.#before - this.#at) / each) : times;
    const copies = Math.min(times, room);
    if (copies * Math.max(length, made) > 2 * MOST_STITCHES) {
      this.tooBig = true;
      return null;
    }
    if (!this.#reserve(copies * Math.max(length, made))) return null;
    for (let i = 0; i < copies; i++) {
      this.#out.copyWithin(this.#n, mark.works, mark.works + length);
      this.#n += length;
    }
    this.#at += copies * each;
    this.#used += copies * each;
    this.#made += copies * made;
    return copies;
  }
}
