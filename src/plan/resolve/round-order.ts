/**
 * The order in which numbered rounds are worked: each as soon as its number is next, gaps filled by rules
 * such as "all even rounds". Input: numbers as the text describes them. Output: rounds worked in turn; a
 * number that is missing, told twice or out of order is said.
 */
import type { RoundBody, RoundLabel, Statement, WorkClause } from '../grammar/ast.ts';
import type { Place } from '../lex/source.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import type { RoundDef } from './round-defs.ts';
import type { RoundReader } from './round-reader.ts';
import type { RoundScope, Section } from './round-scope.ts';

export class RoundOrder {
  /** A heading stands between here and the last number, so that counting may start anew. */
  headingSince = true;
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  readonly #reader: RoundReader;

  constructor(piece: WorkedPiece, scope: RoundScope, reader: RoundReader) {
    this.#piece = piece;
    this.#scope = scope;
    this.#reader = reader;
  }

  /**
   * The section that round number `first` of statement `i` belongs to; starts a new one where numbers
   * begin again.
   */
  sectionFor(first: number, statements: readonly Statement[], i: number): Section {
    const { section } = this.#scope;
    const fresh = section.next === 1 && section.defs.size === 0;
    // What was only described above the cast-on is worked where its number comes.
    const described = section.worked === 0 && section.next === 1 && section.pending.size === 0;
    if (described) section.defs.delete(first);
    // "All even rounds up to the 6th: purl" above round 1: those wait.
    const waits = section.next === 1 && section.worked === 0 && !section.defs.has(1);
    const again = first === 1 && !fresh && !described && !waits && !section.pending.has(1);
    const restart = first < section.next && this.headingSince && !fresh;
    if (again || restart) {
      this.flush();
      this.#scope.beginSection(first);
    } else if (fresh) {
      // "Row 2" after a set-up row, or where the cast-on counts as row 1.
      // "All other rounds: knit": the first of them too.
      // "Odd rounds: knit" above round 2: the first of them too.
      // "WS rows: knit" above "Row 2 (RS)"
      const ruled = section.worked === 0 && first === 2;
      const rule = this.#piece.inRound ? 'odd' : sideOf(statements[i]) === 'RS' ? 'ws' : null;
      const odd = ruled && statements.some((s) => isRule(s, rule));
      if (odd || statements.some(isRest)) section.next = Math.min(first, section.worked + 1);
      else if (first > 1 && first <= section.worked + 2 && !isOverFirst(statements, i))
        section.next = first;
    } else if (first < section.next) {
      this.#sayOutOfOrder(first, statements[i], section);
      section.next = first;
    }
    if (this.#scope.section !== section || fresh) this.#collectRules(statements, i);
    this.headingSince = false;
    return this.#scope.section;
  }

  /** "RS rows: …. WS rows: purl. Continue until …": rules of a piece whose rounds have no numbers. */
  collectAlone(statements: readonly Statement[], at: number): void {
    const { section } = this.#scope;
    if (section.rules.length === 0 && section.defs.size === 0) this.#collectRules(statements, at);
  }

  /** Rounds of a range that stand above it by themselves, and wait to be worked. */
  sayTwice(numbers: readonly number[], at: Place): void {
    const { pending } = this.#scope.section;
    const waiting = numbers.filter((n) => pending.delete(n));
    if (waiting.length > 0) this.#sayOutOfOrder(waiting[0], at, this.#scope.section);
  }

  #sayOutOfOrder(first: number, at: Place, section: Section): void {
    const twice = section.defs.has(first);
    this.#piece.found.error(
      twice ? 'round-described-twice' : 'round-out-of-order',
      at,
      twice
        ? `round ${first} has been described already`
        : `round ${first} comes after round ${section.next - 1}`,
      `Number it ${section.next}, or put a heading above if counting starts anew.`,
    );
  }

  /** Rules such as "all even rounds: knit" hold for the whole section, wherever they stand in it. */
  #collectRules(statements: readonly Statement[], at: number): void {
    const last = lastNumbered(statements);
    for (let i = at; i < statements.length; i++) {
      const s = statements[i];
      if (s.kind !== 'round' || s.label === null) continue;
      if (i > at && s.label.numbers[0] === 1) break;
      // "Row 2 and all following rows: as row 1" holds once row 1 is known.
      if (s.label.numbers.length === 0 || s.body.kind === 'steps')
        this.#collectRule(s.label, s.body, s, i >= last);
    }
    // A rule that stands before the section's first number.
    for (let i = at - 1; i >= 0; i--) {
      const s = statements[i];
      if (s.kind !== 'round' || s.label === null) continue;
      if (s.label.numbers.length > 0 || s.label.rule === null) break;
      this.#collectRule(s.label, s.body, s, false);
    }
  }

  /** "All odd rounds: knit. All even rounds: decrease …" where no round has a number of its own. */
  collectLone(statements: readonly Statement[], at: number): void {
    if (this.#scope.section.rules.length > 0 || lastNumbered(statements) >= 0) return;
    this.#collectRules(statements, at);
  }

  /** `last`: nothing numbered stands below it, so that a count behind it is that of all. */
  #collectRule(label: RoundLabel, body: RoundBody, at: Place, last: boolean): void {
    if (label.rule === null) return;
    const listed = label.rule === 'even' || label.rule === 'odd';
    if (label.upTo && !(listed && body.kind === 'steps')) return;
    const [def] = this.#reader.read(label, body, at, 1);
    const ofAll = last && def?.stated?.change === null;
    if (def) this.addRule(label, ofAll || label.rule === 'rest' ? { ...def, stated: null } : def);
  }

  /** A rule of the section, from the first of its numbers on. */
  addRule(label: RoundLabel, def: RoundDef): void {
    if (label.rule === null) return;
    const from = label.numbers[0] ?? 1;
    let parity = label.rule;
    // "Row 1 and every WS row" says itself which rows those are.
    if (label.numbers.length > 0 && (parity === 'ws' || parity === 'rs')) parity = 'other';
    if (parity === 'other') parity = (label.numbers[0] ?? 2) % 2 === 0 ? 'even' : 'odd';
    const unit = label.unit ?? (this.#piece.inRound ? 'round' : 'row');
    const to = label.upTo ?? Number.POSITIVE_INFINITY;
    this.#scope.section.rules.push({ parity, from, to, unit, def });
  }

  /** Works the pending rounds that come next. */
  drain(): void {
    const { section } = this.#scope;
    while (section.pending.has(section.next) && this.#piece.goesOn) this.#workNext();
  }

  #workNext(): void {
    const { section } = this.#scope;
    const n = section.next;
    const def = section.defs.get(n);
    section.pending.delete(n);
    section.next = n + 1;
    section.worked++;
    if (def) this.#piece.work(def);
  }

  /** Works the next number by the rule that holds for it; false where none does. */
  #workByRule(): boolean {
    const { section } = this.#scope;
    const rule = this.#scope.ruleFor(section.next);
    if (!rule) return false;
    section.defs.set(section.next, rule);
    this.#workNext();
    return true;
  }

  /** Works what lies between the last round and round `first`, which is told at `at`. */
  fillGap(first: number, at: Place): void {
    const { section } = this.#scope;
    while (section.next < first && this.#piece.goesOn) {
      // A number that is told twice may be followed once and not the other time.
      if (section.pending.has(section.next)) this.#workNext();
      else if (section.failed.has(section.next)) section.next++;
      // "Every odd round, from 1 to 17, is purled", told above the cast-on
      else if (section.defs.has(section.next)) this.#workNext();
      else if (!this.#workByRule()) {
        this.#sayMissing(section.next, first, at);
        for (const p of [...section.pending]) if (p < first) section.pending.delete(p);
        section.next = first;
        return;
      }
    }
  }

  #sayMissing(n: number, first: number, at: Place): void {
    this.#piece.sayLost(
      'round-missing',
      at,
      `round ${n} is not described: round ${n - 1} is followed by round ${first}`,
      `Describe round ${n}${first - n > 1 ? ` to ${first - 1}` : ''}, or number this one ${n}.`,
    );
  }

  /** "Odd rounds: knit. Even rounds: …. Work 7 rounds.": up to the 7th, as they are told; false where they tell of no further round. */
  worksTold(clause: WorkClause, statements: readonly Statement[], at: number): boolean {
    const piece = this.#piece;
    const words = piece.source.norm.slice(clause.from, clause.from + LONGEST);
    if (clause.kind !== 'plain' || clause.rounds === null || !IN_ALL.test(words)) return false;
    if (!this.#worksUpTo(clause.rounds, statements, at)) return false;
    if (clause.tail.stated) piece.checkStated(clause.tail.stated, clause);
    return true;
  }

  #worksUpTo(last: number, statements: readonly Statement[], at: number): boolean {
    const { section } = this.#scope;
    const before = statements.slice(0, at);
    // "Rounds 1, 3 and 5: …. Rounds 2 and 4: …. Work 5 rounds.": those.
    if (last === section.next - 1 && last === section.worked) return listed(before);
    const has = (...sorts: readonly RoundLabel['rule'][]): boolean =>
      sorts.every((sort) => before.some((s) => s.kind === 'round' && s.label?.rule === sort));
    const both = has('rs', 'ws') || has('odd', 'even');
    const numbered = this.#piece.inRound && (has('odd') || has('even') || has('rest'));
    if (!(both || numbered)) return false;
    this.collectAlone(statements, at);
    const { rules, next, defs } = section;
    if (last < next) return false;
    const told = (n: number): boolean =>
      both || defs.has(n) || rules.some((r) => n >= r.from && n <= r.to && isOf(r.parity, n));
    for (let n = next; n <= last; n++) if (!told(n)) return false;
    this.fillGap(last + 1, statements[at]);
    return true;
  }

  /** Works all that is described so far. */
  flush(): void {
    const { section } = this.#scope;
    this.drain();
    while (section.pending.size > 0 && this.#piece.goesOn) {
      const first = Math.min(...section.pending);
      // A number that counting has gone past is worked no more.
      if (first < section.next) {
        section.pending.delete(first);
        const def = section.defs.get(first);
        if (def) this.#piece.sayNotFollowed(def);
        continue;
      }
      this.fillGap(first, section.defs.get(first) ?? { from: 0, to: 1 });
      this.drain();
    }
  }

  /** "Row 1 (RS): …. WS rows: purl. Repeat these 2 rows": the rule tells the second. */
  flushLast(count: number): void {
    while (this.#piece.rounds.length < count && this.#piece.goesOn) if (!this.#workByRule()) return;
  }

  /** Before a repeat: rounds that it names and a rule describes are worked first. */
  flushFor(numbers: readonly number[]): void {
    this.flush();
    if (numbers.length === 0) return;
    const most = Math.max(...numbers);
    const { section } = this.#scope;
    while (section.next <= most && this.#piece.goesOn) if (!this.#workByRule()) return;
  }
}

/** Index of the last round with a number; −1 where none has one. */
export function lastNumbered(statements: readonly Statement[]): number {
  return statements.findLastIndex(
    (s) => s.kind === 'round' && s.label !== null && s.label.numbers.length > 0,
  );
}

/** So many rounds, and nothing of how they are worked. */
const IN_ALL =
  /^(?:(?:now|then|next|so) )*work (?:a total of )?\d+ (?:rounds|rnds|rds|rows)(?: (?:like this|in this way|so|thus|altogether|in all|in total))*[ ]?(?:$|[.,;(])/;
/** Most characters of them. Chosen: bounds the time. */
const LONGEST = 80;

/** Rounds are told by numbers that lie apart, and so not in the order that they are worked in. */
function listed(statements: readonly Statement[]): boolean {
  return statements.some(
    (s) => s.kind === 'round' && s.label?.numbers.some((n, i, all) => i > 0 && n > all[i - 1] + 1),
  );
}

/** Rounds of the rule by their numbers alone. */
const isOf = (parity: RoundLabel['rule'], n: number): boolean =>
  parity === 'rest' || parity === (n % 2 === 0 ? 'even' : 'odd');

function isRest(s: Statement): boolean {
  return s.kind === 'round' && s.label?.rule === 'rest' && s.label.numbers.length === 0;
}

function isRule(s: Statement, rule: RoundLabel['rule']): boolean {
  return (
    s.kind === 'round' && rule !== null && s.label?.rule === rule && s.label.numbers.length === 0
  );
}

function sideOf(s: Statement): RoundLabel['side'] {
  return s.kind === 'round' ? (s.label?.side ?? null) : null;
}

/** "All even rounds up to the 6th: purl" right above round 1. */
function isOverFirst(statements: readonly Statement[], i: number): boolean {
  const s = statements[i];
  if (s.kind !== 'round' || !s.label?.upTo) return false;
  const next = statements.slice(i + 1).find((t) => t.kind !== 'prose');
  return next?.kind === 'round' && next.label?.numbers[0] === 1;
}
