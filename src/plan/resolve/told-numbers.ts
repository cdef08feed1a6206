/**
 * Numbers told in narration against what is known at that place: the stitches on the needles and on each part, what the last
 * rounds lost or gained, how many rounds there are. In: the numbers as the grammar read them, the piece. Out: for each what
 * is so instead; undefined where it holds, a question for the end where it is told of what comes.
 */
import type { Counted, RoundSort, ToldNumber } from '../grammar/narration/told-numbers.ts';
import type { Place } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { numberTold, shapes } from './rounds-told.ts';

export type Judged = string | undefined | (() => string | undefined);

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
    const ofRound = told.round !== null || told.nth !== null;
    const unshaped = counted.some((c) => c.of === 'stitches' && c.change && c.each);
    if (when === 'later' || open || unshaped || ofRound) return later;
    return this.#instead(counted[0]);
  }

  /** "12 on each needle" tells how many needles there are, where nothing else has. */
  learn({ value, when, round, counted: [first] }: ToldNumber, at: Place): void {
    if (first.of !== 'stitches' || !first.share || first.change) return;
    if (when !== 'now' || round !== null || this.#known().length > 0) return;
    this.#piece.checkStated({ total: null, perSide: value, change: null }, at);
  }

  /** Ways in which the round is parted, as far as the text has told. */
  #known(): number[] {
    const { counts } = this.#piece;
    const all = [counts.sides, this.#piece.sections(), ...this.#piece.partings()];
    return [...new Set(all.filter((n): n is number => n !== null && n > 1))];
  }

  /** … or such as there may be. */
  #ways(): number[] {
    const known = this.#known();
    if (known.length > 0) return known;
    // Before anything is known, a square has four, and another piece as many as it may.
    return this.#piece.rounds.length > 0 ? [4] : [4, 3, 5, 6, 8, 10, 12];
  }

  /** Holes or ridges: of the last round, the last that has any, of the last sentences, of all. */
  #made(what: 'holes' | 'ridges'): number[] {
    const { rounds, inRound } = this.#piece;
    const holes = (r: PlanRound): number => this.#piece.namesOf(r).filter((n) => n === 'yo').length;
    const of = (r: PlanRound): number =>
      what === 'holes' ? holes(r) : this.#piece.isLike(r, 'purl') ? 1 : 0;
    const all = rounds.map(of);
    const sum = (from: number): number => all.slice(from).reduce((a, b) => a + b, 0);
    const flat = what === 'ridges' && !inRound ? [rounds.length, rounds.length + 1] : [];
    return [
      all.findLast((n) => n > 0) ?? 0,
      sum(0),
      ...this.#starts.map(sum),
      ...flat.map((n) => Math.floor(n / 2)),
    ];
  }

  /** `value` on each part of `count` stitches, but for those at the edges of a flat piece. */
  #shares(value: number, count: number, change: boolean): boolean {
    const spare = this.#piece.inRound || change ? 0 : 2;
    // Nothing has told how many parts there are: so many as this makes.
    if (this.#known().length === 0 && value > 1 && count % value === 0) return true;
    return this.#ways().some((p) => {
      const rest = count - p * value;
      return rest >= 0 && rest <= spare;
    });
  }

  #holds(told: ToldNumber, c: Counted): boolean {
    const { value, when, round } = told;
    const piece = this.#piece;
    const { rounds, count } = piece;
    if (told.nth) return this.#afterNth(told.nth, value, c);
    switch (c.of) {
      case 'stitches': {
        if (c.change) return this.#changed(value, c.share, c.each ? rounds : null);
        const at =
          round === null ? [] : rounds.filter((r) => numberTold(r) === round || r.n === round);
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
        return this.#isMany(value, c.sort, c.all);
      case 'round': {
        const those = this.#ofSort(c.sort);
        if (c.sort !== null && those.length === value) return true;
        const it = those.at(-1);
        if (!it) return false;
        // "(round 4)" may say again which round is meant.
        if (c.alone && value <= (this.#starts.at(-1) ?? 0)) return true;
        if (c.last || c.sort !== null) return [numberTold(it), it.n].includes(value);
        return value <= rounds.length || rounds.some((r) => numberTold(r) === value);
      }
      case 'parts':
        return this.#ways().some((n) => n === value || n === value + 1);
      case 'stitch':
        return c.middle ? 2 * value === count + 1 : value <= count;
      case 'halves':
        return [1, 2, 3].some((middle) => 2 * value + middle === count);
      case 'sum':
        return c.total === count;
      case 'holes':
      case 'ridges':
        return this.#made(c.of).some(
          (n) => n === value || this.#ways().some((p) => p * value === n),
        );
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
    return !this.#piece.inRound && value <= 2 && this.#ways().some((p) => count % p === value);
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

  #isMany(value: number, sort: RoundSort, all = false): boolean {
    const { rounds } = this.#piece;
    const those = this.#ofSort(sort);
    const since = all ? [] : this.#starts.map((n) => those.filter((r) => r.n > n).length);
    // "12 rounds of holes": those that shape.
    const shaped = sort === null ? rounds.filter(shapes).length : those.length;
    return [those.length, shaped, ...since].includes(value);
  }

  /** "After the 2nd decrease round 64 sts" */
  #afterNth({ n, sort }: NonNullable<ToldNumber['nth']>, value: number, c: Counted): boolean {
    const shaped = this.#piece.rounds.filter(({ before, after }) =>
      /^(?:dec|narrow)/.test(sort)
        ? after < before
        : /^(?:inc|wid)/.test(sort)
          ? after > before
          : after !== before,
    );
    const of = shaped[n - 1];
    if (!of || c.of !== 'stitches') return false;
    return this.#are(value, c.change ? Math.abs(of.after - of.before) : of.after, c.share);
  }

  /** All is worked: it comes somewhere. */
  #comes(told: ToldNumber, c: Counted): boolean {
    const { value, round } = told;
    if (told.nth) return this.#afterNth(told.nth, value, c);
    const { rounds: all } = this.#piece;
    const those = round === null ? [] : all.filter((r) => numberTold(r) === round || r.n === round);
    const rounds = those.length > 0 ? those : all;
    switch (c.of) {
      case 'stitches':
        if (!c.change) return rounds.some((r) => this.#are(value, r.after, c.share));
        return this.#changed(value, c.share, rounds) || !rounds.some(shapes);
      case 'round':
        return value <= rounds.length || rounds.some((r) => numberTold(r) === value);
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
        const [p] = this.#ways();
        return c.share && p
          ? `${stitches(count)} are on the needles, ${Math.floor(count / p)} on each of ${p} parts`
          : `${stitches(count)} are on the needles`;
      }
      case 'parts':
        return `the round is parted into ${this.#ways().join(' or ')}`;
      case 'stitch':
        return `the middle one of ${stitches(count)} is the ${(count + 1) / 2}th`;
      case 'holes':
      case 'ridges':
        return `the last ones make ${this.#made(c.of)[0]}`;
      case 'product':
      case 'halves':
      case 'sum':
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
