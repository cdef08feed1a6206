/**
 * What the numbers and names of rounds mean at this place of the text: numbers begin anew with each
 * section, names such as "decrease round" hold throughout, numbered lines stand for the rounds of their
 * line. Input: rounds as they are described. Output: their meaning, where a later line names them.
 */
import type { Crossing, Parity, RoundsRef } from '../grammar/ast.ts';
import { roundName } from '../grammar/phrases.ts';
import type { Place } from '../lex/source.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { numberedLabel, type RoundDef } from './round-defs.ts';

/** "All even rounds: knit" */
export interface RoundRule {
  readonly parity: Parity;
  /** First and last number it holds for. */
  readonly from: number;
  readonly to: number;
  readonly unit: 'round' | 'row';
  readonly def: RoundDef;
}

/** Rounds whose numbers count on from one another. */
export interface Section {
  readonly defs: Map<number, RoundDef>;
  /** Described, but not worked yet. */
  readonly pending: Set<number>;
  /** Numbers whose instruction could not be read, which has been said. */
  readonly failed: Set<number>;
  readonly rules: RoundRule[];
  /** "WS: purl": what rows of that side are like where no number tells. */
  readonly sided: Map<'RS' | 'WS', RoundDef>;
  /** Number that the text should give next. */
  next: number;
  /** Rounds worked since the section began, repeats included. */
  worked: number;
  /** Rounds of the piece before the section. */
  readonly startRound: number;
}

function newSection(next: number, startRound: number): Section {
  const [defs, pending, failed] = [new Map(), new Set<number>(), new Set<number>()];
  return { defs, pending, failed, rules: [], sided: new Map(), next, worked: 0, startRound };
}

/** A rule for rounds of that sort holds for round `n`. */
function holdsFor(parity: Parity, n: number, wrong: boolean, inRound: boolean): boolean {
  switch (parity) {
    case 'rest':
      return true;
    case 'even':
      return n % 2 === 0;
    case 'odd':
      return n % 2 === 1;
    case 'ws':
      return wrong || (inRound && n % 2 === 0);
    default:
      return !wrong;
  }
}

export class RoundScope {
  section: Section = newSection(1, 0);
  /** Rounds of the piece before the last heading. */
  sinceHeading = 0;
  readonly #piece: WorkedPiece;
  readonly #named = new Map<string, RoundDef>();
  /** Names whose meaning could not be read, which has been said. */
  readonly #failed = new Set<string>();
  /** Names that numbered rounds go by besides. */
  readonly #called = new Set<string>();
  /** Rounds that form the pattern, and how many had been worked when that was said. */
  #pattern: { readonly defs: RoundDef[]; readonly round: number } | null = null;
  #lastNamed: { name: string; round: number } | null = null;
  /** Rounds of the piece at the marks around a passage, by how many asterisks they are. */
  readonly #passages = new Map<number, { readonly start: number; readonly end: number | null }>();
  /** Rounds worked before each number of a numbered list. */
  readonly #items = new Map<number, number>();

  constructor(piece: WorkedPiece) {
    this.#piece = piece;
  }

  /** Numbers begin anew, with `next`. */
  beginSection(next: number): void {
    this.section = newSection(next, this.#piece.rounds.length);
  }

  /** Counts what has been worked since the piece had `before` rounds to the section. */
  countSince(before: number): void {
    this.section.worked += this.#piece.rounds.length - before;
  }

  /** "Work C6F instead of k6 on rounds 6 and 12": numbers of this section. */
  cross(crosses: Crossing, at: Place): void {
    const { startRound } = this.section;
    const done = this.#piece.rounds.length;
    if (!this.#piece.crossings.tell(crosses, at, done, startRound)) this.#piece.sayNotFollowed(at);
  }

  /** "These 2 rows form the pattern" */
  setPattern(defs: RoundDef[]): void {
    this.#pattern = { defs, round: this.#piece.rounds.length };
  }

  // ---- names ----------------------------------------------------------------------------------

  /** `name`, with `number` behind it if there are several, means `def`, which is worked next. */
  describe(name: string, number: string, def: RoundDef): void {
    this.#named.set(`${name}${number}`, def);
    if (number === '') this.#called.delete(name);
    this.#lastNamed = { name, round: this.#piece.rounds.length + 1 };
  }

  /** `name` means `def`, which is not worked yet. */
  mean(name: string, def: RoundDef): void {
    this.#named.set(name, def);
    this.#called.delete(name);
  }

  /** What `name` means could not be read; true where that is new. */
  failed(name: string): boolean {
    const isNew = !this.#failed.has(name);
    this.#failed.add(name);
    return isNew;
  }

  hasFailed(name: string): boolean {
    return this.#failed.has(name);
  }

  /** "Rnd 4 (inc rnd)", "this is the decrease round": the name of a round that is worked anyway. */
  call(name: string, def: RoundDef): void {
    this.#named.set(name, def);
    this.#called.add(name);
  }

  /** No round stands under this name alone. */
  onlyCalled(name: string): boolean {
    return this.#called.has(name);
  }

  named(name: string): RoundDef | undefined {
    return this.#named.get(name);
  }

  /** The last round worked is where `name` was described. */
  justDescribed(name: string): boolean {
    return this.#lastNamed?.name === name && this.#lastNamed.round === this.#piece.rounds.length;
  }

  isNamed(def: RoundDef): boolean {
    for (const named of this.#named.values()) if (named.steps === def.steps) return true;
    return false;
  }

  // ---- passages ------------------------------------------------------------------------------

  /** A mark of `level` asterisks stands here: it begins a passage, or ends the one that it began. */
  notePassage(level: number): void {
    const open = this.#passages.get(level);
    const at = this.#piece.rounds.length;
    this.#passages.set(
      level,
      open && open.end === null ? { ...open, end: at } : { start: at, end: null },
    );
  }

  #fetchPassage(level: number, at: Place): RoundDef[] {
    const { history } = this.#piece;
    const passage = this.#passages.get(level);
    const rounds = passage ? history.slice(passage.start, passage.end ?? undefined) : [];
    if (rounds.length === 0)
      this.#piece.sayLost('unknown-round', at, 'there are no rounds between these marks to repeat');
    return rounds;
  }

  // ---- numbered lines -------------------------------------------------------------------------

  /** `3. Knit 2 rounds`: "repeat step 3" will mean the rounds of that line. */
  noteItem(n: number): void {
    this.#items.set(n, this.#piece.rounds.length);
  }

  /** The rounds of numbered lines; says so where a number is unknown. */
  #fetchItems(numbers: readonly number[], at: Place): RoundDef[] {
    const out: RoundDef[] = [];
    for (const n of numbers) {
      const start = this.#items.get(n);
      if (start !== undefined) {
        const later = [...this.#items.values()].filter((i) => i > start);
        const end = later.length > 0 ? Math.min(...later) : undefined;
        out.push(...this.#piece.history.slice(start, end));
        continue;
      }
      const def = this.section.defs.get(n);
      if (!def) {
        this.#piece.sayLost('unknown-round', at, `there is no step ${n} before this`);
        return [];
      }
      out.push(def);
    }
    return out;
  }

  // ---- numbers --------------------------------------------------------------------------------

  /** What a rule says of round `n`, if it were worked now; null where none holds. */
  ruleFor(n: number): RoundDef | null {
    const { inRound, wrongSideNow: wrong } = this.#piece;
    const { rules } = this.section;
    const last = rules.filter((r) => r.parity === 'rest');
    for (const { parity, from, to, unit, def } of [
      ...rules.filter((r) => r.parity !== 'rest'),
      ...last,
    ]) {
      if (n < from || n > to) continue;
      if (holdsFor(parity, n, wrong, inRound))
        return { ...def, label: numberedLabel(n, unit, def.side, inRound) };
    }
    const sided = inRound ? undefined : this.section.sided.get(wrong ? 'WS' : 'RS');
    return sided ? { ...sided, label: numberedLabel(n, 'row', sided.side, inRound) } : null;
  }

  /** The last round described before this whose number is even, or odd. */
  lastOfParity(even: boolean): RoundDef | null {
    const { defs, next } = this.section;
    for (let n = next; n > 0; n--) {
      if ((n % 2 === 0) !== even) continue;
      const def = (n < next ? defs.get(n) : undefined) ?? this.ruleFor(n);
      if (def) return def;
    }
    return null;
  }

  /** Definitions of earlier rounds by number or name; says so where one is unknown. */
  fetch(numbers: readonly number[], name: string, at: Place): RoundDef[] {
    if (numbers.length === 0) return this.#fetchNamed(name, at);
    const out: RoundDef[] = [];
    let failed = false;
    for (const n of numbers) {
      const def = this.section.defs.get(n) ?? this.ruleFor(n);
      if (def) out.push(def);
      else if (this.section.failed.has(n)) failed = true;
      else {
        this.#piece.sayLost(
          'unknown-round',
          at,
          `round ${n} is not described before this`,
          'Repeats can only name rounds that stand above.',
        );
        return [];
      }
    }
    return failed ? [] : out;
  }

  #fetchNamed(name: string, at: Place): RoundDef[] {
    const { history } = this.#piece;
    const def = /^(?:last|previous|preceding)$/.test(name)
      ? history[history.length - 1]
      : this.#named.get(roundName(name));
    if (def) return [def];
    this.#piece.sayLost('unknown-round', at, `there is no ${name} round before this`);
    return [];
  }

  /** The next two rounds as rules describe them. */
  #byRules(at: Place): RoundDef[] {
    const { rules, worked } = this.section;
    const next = Math.max(this.section.next, worked + 1);
    const wrong = this.#piece.wrongSideNow;
    const defs = [0, 1].map((i) =>
      rules.findLast(({ parity }) =>
        parity === 'even' || parity === 'odd'
          ? (parity === 'even') === ((next + i) % 2 === 0)
          : (parity === 'ws') === ((i === 0) === wrong),
      ),
    );
    const [one, two] = defs.map((r) => r?.def);
    if (one && two) return [one, two];
    this.#piece.sayLost('unknown-round', at, 'it is not told what every other round is like');
    return [];
  }

  // ---- which rounds -----------------------------------------------------------------------------

  /** The rounds that a clause names; none where one of them is unknown, which is said. */
  refs(which: RoundsRef, at: Place): RoundDef[] {
    return [...this.#piece.colours.repeated(this.#refs(which, at))];
  }

  #refs(which: RoundsRef, at: Place): RoundDef[] {
    const { history, found } = this.#piece;
    const { section } = this;
    switch (which.kind) {
      case 'passage':
        return this.#fetchPassage(which.level, at);
      case 'items':
        return this.#fetchItems(which.numbers, at);
      case 'numbers':
        // "Repeat 3 and 4" of a list whose lines are no rounds
        if (this.section.defs.size === 0 && which.numbers.every((n) => this.#items.has(n)))
          return this.#fetchItems(which.numbers, at);
        return this.fetch(which.numbers, '', at);
      case 'since': {
        const count = Math.max(1, section.next - which.number);
        const numbers = Array.from({ length: count }, (_, i) => which.number + i);
        return this.fetch(numbers, '', at);
      }
      case 'set':
        if (this.#pattern?.round === history.length) return this.#pattern.defs;
        this.#piece.sayNotFollowed(at);
        return [];
      case 'these': {
        if (this.#pattern && this.#pattern.round === history.length) return this.#pattern.defs;
        if (which.one && history.length > 0) return history.slice(-1);
        const since = history.slice(Math.max(this.sinceHeading, section.startRound));
        const these = since.length > 0 ? since : history.slice(section.startRound);
        if (these.length === 0)
          this.#piece.sayLost('unknown-round', at, 'there are no rounds before this to repeat');
        return these;
      }
      case 'parity': {
        const rule = this.lastOfParity(which.even);
        if (!rule)
          this.#piece.sayLost(
            'unknown-round',
            at,
            `there is no ${which.even ? 'even' : 'odd'} round before this`,
          );
        return rule ? [rule] : [];
      }
      case 'rules':
        return this.#byRules(at);
      case 'named':
        return this.fetch([], which.name, at);
      case 'letters': {
        const defs = which.names.flatMap((name) => this.fetch([], name, at));
        return defs.length < which.names.length ? [] : defs;
      }
      case 'last': {
        const told = this.#pattern?.round === history.length ? this.#pattern.defs : null;
        if (told?.length === which.count) return told;
        if (which.count > history.length) {
          const message = `the last ${which.count} rounds are repeated, but only ${history.length} have been worked`;
          found.error('unknown-round', at, message);
        }
        return history.slice(-which.count);
      }
    }
  }
}
