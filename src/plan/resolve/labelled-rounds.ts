/**
 * Works rounds that have a label: numbered ones in the order of their section, ranges that go on as set, rounds written again,
 * named and unnumbered ones where they stand or where they are asked for. In: labels and bodies, in order. Out: rounds of the
 * piece, and of the scope what their numbers and names mean.
 */
import type { Crossing, RoundBody, RoundLabel, Statement, Tail } from '../grammar/ast.ts';
import { type StatedCount, statedOf } from '../grammar/steps/stated-counts.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { emptyTail } from '../grammar/tail/open-tail.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { shortened } from '../work/fit-steps.ts';
import { lastShaping } from '../work/next-shaping.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { checkGoing, checkOfRounds } from './clause-checks.ts';
import type { ClauseWorker } from './clauses.ts';
import { aheadOf, asPattern, headsList, isDescribed } from './described-rounds.ts';
import { numberedLabel, sideWords } from './round-defs.ts';
import { lastNumbered, type RoundOrder } from './round-order.ts';
import type { RoundReader } from './round-reader.ts';
import type { RoundScope } from './round-scope.ts';
import { workAsSet } from './shaping.ts';
import { shapedBy } from './shaping-steps.ts';
import type { ToldInPassing } from './told-in-passing.ts';

/** Statements below that are looked through for a round. Chosen: more stand in no section, and reading stays linear. */
const MOST_BELOW = 2000;

/** What a round is called that tells a fabric: "Ribbing round:". */
const FABRIC_NAME = /^(?:rib|ribbing|border|edging|pattern|patt|moss|seed|body)\b/;

/** What works the rounds of a piece. */
interface Workers {
  readonly scope: RoundScope;
  readonly clauses: ClauseWorker;
  readonly reader: RoundReader;
  readonly order: RoundOrder;
  readonly passing: ToldInPassing;
}

export class LabelledRounds {
  readonly #statements: readonly Statement[];
  readonly #lastNumbered: number;
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  readonly #clauses: ClauseWorker;
  readonly #reader: RoundReader;
  readonly #order: RoundOrder;
  readonly #passing: ToldInPassing;
  /** Index of the statement at work. */
  #at = 0;
  /** What is told of rounds that others may lie between, up to the `last` of them; held against them once all is worked. */
  readonly #later: (Place & { readonly tail: Tail; readonly last: number })[] = [];
  /** Counts of rounds that were told above, and wait to be worked. */
  readonly #counts: { readonly stated: StatedCount; readonly at: Place }[] = [];
  /** Some named round might be only told, or might be worked where it is. */
  doubtful = false;
  readonly #otherwise: boolean;

  /** A named round may be worked where it is told, or only be told there: `otherwise` takes the less likely of the two. */
  constructor(
    statements: readonly Statement[],
    piece: WorkedPiece,
    workers: Workers,
    otherwise: boolean,
  ) {
    this.#statements = statements;
    this.#lastNumbered = lastNumbered(statements);
    this.#piece = piece;
    this.#scope = workers.scope;
    this.#clauses = workers.clauses;
    this.#reader = workers.reader;
    this.#order = workers.order;
    this.#passing = workers.passing;
    this.#otherwise = otherwise;
  }

  /** Keeps the meaning of numbered rounds without working them. */
  describe(statements: readonly Statement[]): void {
    // What a name means may be told below its first use.
    for (const s of this.#statements)
      if (s.kind === 'round' && s.label?.means) this.#describeNamed(s.label, s.body, s);
    for (const s of statements) {
      if (s.kind !== 'round' || !s.label) continue;
      this.#describeNamed(s.label, s.body, s);
      if (s.label.numbers.length === 0) continue;
      const { numbers } = s.label;
      const defs = this.#reader.read(s.label, s.body, s, numbers.length);
      numbers.forEach((n, i) => {
        const def = defs[i % defs.length];
        if (def)
          this.#scope.section.defs.set(n, {
            ...def,
            label: this.#labelFor(n, s.label as RoundLabel),
          });
      });
    }
  }

  /** "Decrease round: …" above the cast-on: what "work a decrease round" will mean. */
  #describeNamed(label: RoundLabel, body: RoundBody, at: Place): void {
    const { name, numbers, rule } = label;
    if (name === '' || name === 'next' || numbers.length > 0 || rule !== null) return;
    if (body.kind !== 'steps' || body.failed || body.unread > 0 || !body.hasStitches) {
      // What it is asked for by is not said again.
      if (label.means !== 'only') return;
      if (body.kind === 'steps' && this.#scope.failed(name)) this.#reader.read(label, body, at, 1);
      return;
    }
    const [def] = this.#reader.read(label, body, at, 1);
    const text = `${name[0].toUpperCase()}${name.slice(1)} ${this.#unitOf(label)}`;
    for (const n of label.called ? [name, label.called] : [name])
      if (def) this.#scope.mean(n, { ...def, stated: null, label: text });
  }

  /** Works the round of the statement with index `index`. */
  work(label: RoundLabel | null, body: RoundBody, at: Place, index: number): void {
    this.#at = index;
    this.#round(label, body, at);
  }

  /** Once all is worked: what was told of rounds beside others. */
  check(): void {
    for (const { stated, at } of this.#counts) checkOfRounds(stated, at, this.#piece);
    for (const { last, ...told } of this.#later) {
      const first = this.#piece.history.findIndex((d) => d.follows?.from === told.from);
      checkGoing(told, first, last, this.#piece);
    }
  }

  #round(label: RoundLabel | null, body: RoundBody, at: Place): void {
    if (label === null || (label.numbers.length === 0 && label.rule === null)) {
      this.#order.flush();
      this.#unnumbered(label, body, at);
      const stopped = body.kind === 'steps' && body.until !== undefined;
      if (label?.every && !stopped) this.#clauses.everyRound = this.#piece.rounds.length;
      const fabric = label === null || FABRIC_NAME.test(label.name);
      if (fabric) this.#clauses.fabricRound = this.#piece.rounds.length;
    } else if (label.again) this.#writtenAgain(label, body, at);
    else if (label.upTo && (label.rule === 'even' || label.rule === 'odd'))
      this.#numbered(this.#upTo(label, label.upTo, label.rule), body, at);
    // A rule alone is collected when its section begins.
    else if (label.numbers.length > 0) this.#numbered(label, body, at);
    else if (label.rule) {
      const counted = label.rule === 'even' || label.rule === 'odd';
      if (counted) this.#order.collectLone(this.#statements, this.#at);
      this.#passing.rule(label.rule, body, at);
      // "All other rounds: knit. 16 sts." tells what all of them leave.
      const all = label.rule === 'rest' || this.#at >= this.#lastNumbered;
      const stated = all && 'stated' in body ? body.stated : null;
      if (!stated || (label.rule !== 'rest' && stated.change !== null)) return;
      this.#order.flush();
      this.#piece.checkStated(stated, at);
    }
  }

  /** "All even rounds up to 24": those that are not described otherwise. */
  #upTo(label: RoundLabel, last: number, rule: 'even' | 'odd'): RoundLabel {
    const { next, defs } = this.#scope.section;
    const all = Array.from(
      { length: Math.max(0, Math.min(last, MOST_ROUNDS) - next + 1) },
      (_, i) => next + i,
    );
    const numbers = all.filter((n) => (n % 2 === 0) === (rule === 'even') && !defs.has(n));
    return { ...label, numbers: numbers.length > 0 ? numbers : [last], rule: null };
  }

  /** A round written out again; its number is not checked. */
  #writtenAgain(label: RoundLabel, body: RoundBody, at: Place): void {
    for (const n of label.numbers) {
      for (const def of this.#reader.read(label, body, at, 1)) {
        this.#piece.work({ ...def, label: `${this.#labelFor(n, label)} (repeat)` });
      }
    }
    this.#scope.section.worked += label.numbers.length;
  }

  #numbered(label: RoundLabel, body: RoundBody, at: Place): void {
    const { numbers } = label;
    const [first] = numbers;
    const section = this.#order.sectionFor(first, this.#statements, this.#at);
    for (const crosses of crossesOf(body)) this.#scope.cross(crosses, at);
    if (this.#asSet(label, body, at)) return;
    const set = lastShaping(this.#piece) ? null : asPattern(body, at);
    if (set && body.kind === 'going' && body.tail.stripes) {
      this.#order.fillGap(first, at);
      if (!this.#piece.colours.stripe(body.tail.stripes, this.#piece.rounds))
        this.#piece.sayNotFollowed(at);
    }
    const defs = this.#reader.read(label, set ?? body, at, numbers.length);
    if (defs.length === 0) {
      for (const n of numbers) section.failed.add(n);
      return;
    }
    if (body.kind !== 'steps') this.#order.addRule(label, defs[0]);
    if (numbers.length === 1 && defs.length > 1 && body.kind === 'clauses') {
      this.#order.fillGap(first, at);
      for (const clause of body.clauses) this.#clauses.work(clause);
      section.next = Math.max(section.next, first) + 1;
      return;
    }
    const [{ stated }] = defs;
    if (stated && this.#ofAnother(stated, numbers)) this.#counts.push({ stated, at });
    if (first > section.next) this.#clauses.repeats.finishPass(first - section.worked - 1);
    const waits = isApart(numbers) && this.#comesLater(section.next);
    if (!waits && first > section.next && section.worked + 1 !== first)
      this.#order.fillGap(first, at);
    if (first > section.next && section.worked + 1 === first && section.pending.size === 0) {
      section.next = first;
    }
    for (let i = 0; i < numbers.length; i++) {
      const n = numbers[i];
      if (section.defs.has(n) && n < section.next && i > 0) continue;
      const def = { ...defs[i % defs.length], label: this.#labelFor(n, label) };
      // A count behind a range is that of its last round, or of the one that it names.
      const stated = this.#ofAnother(def.stated, numbers) ? null : statedOf(def.stated, n, numbers);
      section.defs.set(n, { ...def, stated });
      if (label.called) this.#scope.call(label.called, { ...def, stated: null });
      if (n >= section.next) section.pending.add(n);
    }
    this.#order.drain();
  }

  /** "Odd rounds 3-21: knit. 16 sts at the end of round 22": the count of one that is told above. */
  #ofAnother(stated: StatedCount | null, numbers: readonly number[]): boolean {
    const n = stated?.round;
    return n !== undefined && !numbers.includes(n) && this.#scope.section.pending.has(n);
  }

  /** Round `n` is told below: "Even rounds 4-22: …", and then the odd ones. */
  #comesLater(n: number): boolean {
    const end = Math.min(this.#statements.length, this.#at + 1 + MOST_BELOW);
    for (let i = this.#at + 1; i < end; i++) {
      const s = this.#statements[i];
      if (s.kind !== 'round' || !s.label) continue;
      if (s.label.numbers.includes(n)) return true;
      if (s.label.numbers[0] === 1) return false;
    }
    return false;
  }

  /** "Rounds 4-9: as set" goes on with the shaping where a shaping round and plain ones stand before it. */
  #asSet(label: RoundLabel, body: RoundBody, at: Place): boolean {
    const told = body.kind === 'steps' ? shapedOn(body.steps) : null;
    if (told && label.numbers.length < 2) {
      this.#piece.sayNotFollowed(at);
      return true;
    }
    if (body.kind === 'going' && this.#goesOn(label, body, at)) return true;
    if (label.numbers.length < 2 || !('stated' in body)) return false;
    if (body.kind !== 'going' && !this.#saysAsSet(body)) return false;
    this.#order.fillGap(label.numbers[0], at);
    this.#order.sayTwice(label.numbers, at);
    const before = this.#piece.rounds.length;
    const tail = body.kind === 'going' ? body.tail : emptyTail();
    // "increase as in round 2 on every even round": what has been shaped last has to be that
    const [like] = tail.likeRound ? this.#scope.refs(tail.likeRound, at) : [];
    const last = lastShaping(this.#piece)?.def;
    if (like && last && shapedBy(like.steps).join() !== shapedBy(last.steps).join()) {
      this.#piece.sayNotFollowed(at);
      return true;
    }
    const ahead = aheadOf(tail, label.numbers, this.#piece.rounds);
    const clause = { ...trimmed(this.#piece.source, at), tail, ahead };
    if (!workAsSet(clause, label.numbers.length, this.#piece)) return false;
    if (body.kind === 'going')
      checkGoing({ ...at, tail }, before, this.#piece.rounds.length, this.#piece);
    const { section } = this.#scope;
    const { history, rounds } = this.#piece;
    const shaped = label.numbers.filter((_, i) => {
      const r = rounds[before + i];
      return r !== undefined && r.after !== r.before;
    });
    if (told && shaped.join() !== told.join()) this.#piece.sayNotFollowed(at);
    label.numbers.forEach((n, i) => {
      const def = history[before + i];
      if (def) section.defs.set(n, { ...def, label: this.#labelFor(n, label) });
    });
    section.next = label.numbers[label.numbers.length - 1] + 1;
    this.#scope.countSince(before);
    const stated = body.stated ?? label.stated;
    if (stated) this.#piece.checkStated(stated, at);
    return true;
  }

  /** "6, 8, 10: as the 4th, with 2 sts fewer each time": each like one told before, its plain runs as the count has them. */
  #goesOn(label: RoundLabel, body: Extract<RoundBody, { kind: 'going' }>, at: Place): boolean {
    const { numbers } = label;
    const { section } = this.#scope;
    const apart = isApart(numbers);
    if (!body.which && !apart) return false;
    const shaped = lastShaping(this.#piece)?.def;
    const defs = body.which ? this.#scope.refs(body.which, at) : shaped ? [shaped] : [];
    if (!apart && defs.some((d) => d.steps === shaped?.steps)) return false;
    const last = numbers[numbers.length - 1];
    const { untilRound } = body.tail;
    if (defs.length === 0 || numbers.length % defs.length || (untilRound ?? last) !== last) {
      this.#piece.sayNotFollowed(at);
      for (const n of numbers) section.failed.add(n);
      return true;
    }
    const [first] = numbers;
    if (!apart) this.#order.fillGap(first, at);
    const stated = body.stated ?? label.stated;
    const { fewer } = body.tail;
    numbers.forEach((n, i) => {
      const def = defs[i % defs.length];
      // "*k2, kfb* around, with 1 more st before each kfb": no count tells how long the run is.
      const open = fewer !== null && this.#piece.fixedOfAll(def.steps) === null;
      section.defs.set(n, {
        ...def,
        steps: (open && shortened(def.steps, fewer * (i + 1))) || def.steps,
        stated: statedOf(stated, n, numbers),
        follows: { ...trimmed(this.#piece.source, at), told: true },
        label: this.#labelFor(n, label),
      });
      if (n >= section.next) section.pending.add(n);
    });
    this.#later.push({
      ...trimmed(this.#piece.source, at),
      tail: body.tail,
      last: section.startRound + last,
    });
    this.#order.drain();
    return true;
  }

  #saysAsSet(body: RoundBody): boolean {
    if (body.kind !== 'steps' || body.steps.length !== 1 || body.unread > 0) return false;
    const [step] = body.steps;
    if (step.kind !== 'pattern' || step.rule !== 'set' || 'times' in step.amount) return false;
    const words = this.#piece.source.norm.slice(step.from, step.to);
    return /\bas\s+(?:set|est|before)/.test(words) && !/pat|even/.test(words);
  }

  #labelFor(n: number, label: RoundLabel): string {
    return numberedLabel(n, this.#unitOf(label), label.side, this.#piece.inRound);
  }

  #unitOf(label: RoundLabel | null): 'round' | 'row' {
    return label?.unit ?? (this.#piece.inRound ? 'round' : 'row');
  }

  /** A round by a name of its own is told here, and worked only where that is asked for. */
  #onlyTold(label: RoundLabel, body: RoundBody): boolean {
    const around = {
      before: this.#statements.slice(0, this.#at + 1),
      behind: this.#statements.slice(this.#at + 1),
      begun: this.#piece.rounds.length > 0,
    };
    if (headsList(label.name, body, around.behind)) return true;
    const described = isDescribed(label, body, around);
    if (described === 'no' || described === 'yes') return described === 'yes';
    this.doubtful = true;
    return (described === 'likely') !== this.#otherwise;
  }

  /** "Next round", "Decrease round", or stitches without any label. */
  #unnumbered(label: RoundLabel | null, body: RoundBody, at: Place): void {
    const piece = this.#piece;
    if (label && this.#onlyTold(label, body)) {
      this.#describeNamed(label, body, at);
      return;
    }
    const told = body.kind === 'steps' ? body.rounds : undefined;
    const repeat = Math.min(told ?? label?.repeat ?? 1, MOST_ROUNDS);
    const defs = this.#reader.read(label, body, at, repeat);
    const name = label?.name || 'next';
    const side = sideWords(label?.side ?? null, piece.inRound);
    if (label?.side && label.unit === null && name === 'next' && defs.length === 1)
      this.#scope.section.sided.set(label.side, { ...defs[0], stated: null });
    const suffix = label?.suffix ?? [];
    const rounds = body.kind === 'clauses' && repeat === 1 ? defs.length : repeat;
    for (let i = 0; i < rounds && defs.length > 0 && piece.goesOn; i++) {
      const number = suffix[i] === undefined ? '' : ` ${suffix[i]}`;
      const text = `${name[0].toUpperCase()}${name.slice(1)} ${this.#unitOf(label)}${number}${side}`;
      const def = { ...defs[i % defs.length], label: text };
      if (name !== 'next') this.#scope.describe(name, number, def);
      if (label?.called) this.#scope.call(label.called, { ...def, stated: null });
      piece.work(i + 1 < rounds ? { ...def, stated: null } : def);
      this.#scope.section.worked++;
    }
    const tail = body.kind === 'steps' ? body.until : undefined;
    const which = { kind: 'last', count: 1 } as const;
    if (tail) this.#clauses.work({ ...at, kind: 'repeat', which, repeats: true, tail });
  }
}

/** Other rounds lie between those of the label. */
function isApart(numbers: readonly number[]): boolean {
  return numbers.some((n, i) => i > 0 && n > numbers[i - 1] + 1);
}

/** Numbers of the rounds that are told to shape. */
function shapedOn(steps: readonly Step[]): readonly number[] | null {
  return steps.flatMap((s) => (s.kind === 'pattern' && s.shapesOn ? [s.shapesOn] : []))[0] ?? null;
}

/** Cables that only some of the rounds of a label cross. */
function crossesOf(body: RoundBody): readonly Crossing[] {
  const tails =
    body.kind === 'going'
      ? [body.tail]
      : body.kind === 'clauses'
        ? body.clauses.map((k) => k.tail)
        : [];
  return tails.flatMap(({ crosses }) => crosses ?? []);
}
