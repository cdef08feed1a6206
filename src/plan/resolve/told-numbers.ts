/**
 * Numbers told in narration against what is known at that place: the stitches on the needles and on each part, what the last
 * rounds lost or gained, how many rounds there are. In: the numbers as the grammar read them, the piece. Out: for each what
 * is so instead; undefined where it holds, a question for the end where it is told of what comes.
 */
import type { Counted, RoundSort, ToldNumber } from '../grammar/narration/told-numbers.ts';
import type { PlanRound } from '../plan.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';

export type Judged = string | undefined | (() => string | undefined);

const shapes = ({ before, after }: PlanRound): boolean => after !== before;
const numberOf = ({ label }: PlanRound): number => Number(/\d+/.exec(label)?.[0]);

export class NumbersKnown {
  readonly #piece: WorkedPiece;
  /** Rounds that were worked before each of the last sentences. */
  readonly #starts: readonly number[];

  constructor(piece: WorkedPiece, starts: readonly number[]) {
    this.#piece = piece;
    this.#starts = starts;
  }

  judge(told: ToldNumber): Judged {
    const { when, counted } = told;
    const later = (): string | undefined =>
      counted.some((c) => this.#comes(told, c)) ? undefined : this.#instead(counted[0]);
    if (counted.some((c) => this.#holds(told, c))) return undefined;
    const open = counted.some((c) => c.of === 'round' && !c.last);
    const ofRound = told.round !== null;
    const unshaped = counted.some((c) => c.of === 'stitches' && c.change && c.each);
    if (when === 'later' || open || unshaped || ofRound) return later;
    return this.#instead(counted[0]);
  }

  /** Ways of parting the round that a text may mean. */
  #parts(): number[] {
    const { counts, rounds } = this.#piece;
    const all = [counts.sides, this.#piece.sections(), ...this.#piece.partings()];
    const ways = new Set(all.filter((n): n is number => n !== null && n > 1));
    if (ways.size > 0) return [...ways];
    // Before anything is known, a square has four, and another piece as many as it may.
    return rounds.length > 0 ? [4] : [4, 3, 5, 6, 8, 10, 12];
  }

  /** `value` on each part of `count` stitches, but for those at the edges of a flat piece. */
  #shares(value: number, count: number, change: boolean): boolean {
    const spare = this.#piece.inRound || change ? 0 : 2;
    return this.#parts().some((p) => {
      const rest = count - p * value;
      return rest >= 0 && rest <= spare;
    });
  }

  #holds(told: ToldNumber, c: Counted): boolean {
    const { value, when, round } = told;
    const piece = this.#piece;
    const { rounds, count } = piece;
    const last = rounds.at(-1);
    switch (c.of) {
      case 'stitches': {
        if (c.change) return this.#changed(value, c.share, c.each ? rounds : null);
        const at =
          round === null ? [] : rounds.filter((r) => numberOf(r) === round || r.n === round);
        if (round !== null && at.length > 0)
          return at.some((r) => this.#are(value, r.after, c.share));
        const start = rounds[0]?.before ?? count;
        const all = [start, ...rounds.map((r) => r.after)];
        if (when === 'before' && all.some((n) => this.#are(value, n, c.share))) return true;
        return this.#are(value, count, c.share) || this.#gaps(value, c.share);
      }
      case 'product':
        return this.#isProduct(value, c);
      case 'rounds':
        return this.#isMany(value, c.sort);
      case 'round': {
        if (c.sort !== null && this.#ofSort(c.sort).length === value) return true;
        if (!last) return false;
        if (c.last || c.sort !== null) return [numberOf(last), rounds.length].includes(value);
        return value <= rounds.length || rounds.some((r) => numberOf(r) === value);
      }
      case 'times': {
        const shaped = rounds.filter(shapes).length;
        const since = this.#starts.flatMap((n) => {
          const made = rounds.slice(n);
          return [made.length, made.filter(shapes).length];
        });
        return [shaped, rounds.length, ...since].some((n) => value === n || value === n + 1);
      }
    }
  }

  #are(value: number, count: number, share: boolean): boolean {
    if (share) return this.#shares(value, count, false);
    if (value === count) return true;
    // The two stitches of a seam are told by themselves.
    return !this.#piece.inRound && value <= 2 && this.#parts().some((p) => count % p === value);
  }

  /** So many lie between markers. */
  #gaps(value: number, share: boolean): boolean {
    return share && this.#piece.gaps().includes(value);
  }

  /** So many are lost or gained: by the last round, the last sentences, all of them; by any of `all`. */
  #changed(value: number, share: boolean, all: readonly PlanRound[] | null): boolean {
    const { rounds, count } = this.#piece;
    const start = rounds[0]?.before ?? count;
    const asked = rounds.find((r) => r.askedAt === rounds.at(-1)?.askedAt);
    const made = (all ?? rounds.slice(-1)).map((r) => r.after - r.before);
    const since = this.#starts.map((n) => count - (rounds[n]?.before ?? count));
    const changes = [...made, ...since, count - start, count - (asked?.before ?? count)];
    return changes.some((n) => {
      const by = Math.abs(n);
      return by > 0 && (share ? this.#shares(value, by, true) : by === value);
    });
  }

  #isProduct(value: number, { each, extra }: Extract<Counted, { of: 'product' }>): boolean {
    const { rounds, count, inRound } = this.#piece;
    const spare = extra === 0 && !inRound ? 2 : 0;
    const all = [count, ...rounds.map((r) => r.before)];
    return all.some((n) => {
      const rest = n - value * each - extra;
      return rest >= 0 && rest <= spare;
    });
  }

  #ofSort(sort: RoundSort): PlanRound[] {
    const { rounds } = this.#piece;
    return rounds.filter((r) => {
      if (sort === 'decrease') return r.after < r.before;
      if (sort === 'increase') return r.after > r.before;
      return sort === null || (!shapes(r) && this.#piece.isLike(r, sort));
    });
  }

  #isMany(value: number, sort: RoundSort): boolean {
    const { rounds } = this.#piece;
    const those = this.#ofSort(sort);
    const since = this.#starts.map((n) => those.filter((r) => r.n > n).length);
    // "12 rounds of holes": those that shape.
    const shaped = sort === null ? rounds.filter(shapes).length : those.length;
    return [those.length, shaped, ...since].includes(value);
  }

  /** All is worked: it comes somewhere. */
  #comes({ value, round }: ToldNumber, c: Counted): boolean {
    const { rounds: all } = this.#piece;
    const those = round === null ? [] : all.filter((r) => numberOf(r) === round || r.n === round);
    const rounds = those.length > 0 ? those : all;
    switch (c.of) {
      case 'stitches':
        if (!c.change) return rounds.some((r) => this.#are(value, r.after, c.share));
        return this.#changed(value, c.share, rounds) || !rounds.some(shapes);
      case 'round':
        return value <= rounds.length || rounds.some((r) => numberOf(r) === value);
      case 'rounds':
        return this.#isMany(value, c.sort);
      default:
        return false;
    }
  }

  /** What is so instead. */
  #instead(c: Counted): string {
    const { rounds, count, inRound } = this.#piece;
    const last = rounds.at(-1);
    const unit = inRound ? 'round' : 'row';
    switch (c.of) {
      case 'stitches': {
        if (c.change) {
          const by = last ? Math.abs(last.after - last.before) : 0;
          return `the last ${unit} makes ${stitches(by)} ${last && last.after > last.before ? 'more' : 'fewer'}`;
        }
        const [p] = this.#parts();
        return c.share && p
          ? `${stitches(count)} are on the needles, ${Math.floor(count / p)} on each of ${p} parts`
          : `${stitches(count)} are on the needles`;
      }
      case 'product':
        return `${stitches(count)} are on the needles`;
      case 'rounds':
      case 'times': {
        const sort = c.of === 'rounds' ? c.sort : null;
        return `${this.#ofSort(sort).length} ${sort ? `${sort} ` : ''}${unit}s are worked up to here`;
      }
      case 'round':
        return `${last?.label || `${unit} ${rounds.length}`} has been worked last, the ${rounds.length}th of all`;
    }
  }
}
