/**
 * Works the statements of a plan in order, each by what it is: labelled rounds here, clauses of prose in
 * `clauses.ts`. In: statements after the cast-on. Out: the worked piece, with diagnostics for what does not
 * come out and for every sentence that could instruct and was not followed.
 */
import type {
  Crossing,
  RoundBody,
  RoundLabel,
  RoundsRef,
  Statement,
  Tail,
  WorkClause,
} from '../grammar/ast.ts';
import { isOfAnother } from '../grammar/out-of-place.ts';
import type { RoundsTold } from '../grammar/rounds-told.ts';
import { placesOf } from '../grammar/statements/cast-on.ts';
import { endingOf, endsOtherwise, keepsOnly } from '../grammar/statements/ending.ts';
import { type StatedCount, statedOf } from '../grammar/steps/stated-counts.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { emptyTail } from '../grammar/tail/open-tail.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { shortened } from '../work/fit-steps.ts';
import { lastShaping } from '../work/next-shaping.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { withoutAnnouncements } from './announced-rounds.ts';
import { checkGoing, checkOfRounds, sayRounds } from './clause-checks.ts';
import { ClauseWorker } from './clauses.ts';
import { headsList, isDescribed } from './described-rounds.ts';
import { crossingsFirst, joinGoing, leftOutOf } from './going-on.ts';
import { numberedLabel, sideWords } from './round-defs.ts';
import { lastNumbered, RoundOrder } from './round-order.ts';
import { RoundReader } from './round-reader.ts';
import { RoundScope } from './round-scope.ts';
import { workAsSet } from './shaping.ts';
import { ToldInPassing } from './told-in-passing.ts';
import { withToldPatterns } from './told-patterns.ts';

/**
 * Works everything after the cast-on. `before`: what stands above the cast-on, where rounds may be described that are worked
 * later. A named round may be worked where it is told, or only be told there: `otherwise` takes the less likely of the two.
 * Gives whether any was `doubtful`.
 */
export function workStatements(
  before: readonly Statement[],
  statements: readonly Statement[],
  piece: WorkedPiece,
  otherwise = false,
): { readonly doubtful: boolean } {
  const worker = new StatementWorker(statements, piece, otherwise);
  worker.describe(before);
  worker.run();
  return worker;
}

/** Most needles or sides that stitches are shared over. Chosen: an octagon has eight, each in two halves. */
const MOST_PARTS = 16;

/** Statements below that are looked through for a round. Chosen: more stand in no section, and reading stays linear. */
const MOST_BELOW = 2000;

/** What a round is called that tells a fabric: "Ribbing round:". */
const FABRIC_NAME = /^(?:rib|ribbing|border|edging|pattern|patt|moss|seed|body)\b/;

/** Words of the rounds of one piece. */
const OF_ROUNDS = /\b(?:sts?|stitch(?:es)?|rows?|rounds?|rnds?|dec\w*|inc\w*|knit|purl|[kp]\d+)\b/;

/** Most characters of a sentence behind its order. Chosen: bounds the time. */
const LONGEST_REST = 200;

class StatementWorker {
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
  /** Behind the end, the whole piece is asked for again. */
  #again = false;

  /** Some named round might be only told, or might be worked where it is. */
  doubtful = false;
  readonly #otherwise: boolean;

  constructor(statements: readonly Statement[], piece: WorkedPiece, otherwise: boolean) {
    this.#otherwise = otherwise;
    const { norm } = piece.source;
    const told = withToldPatterns(withoutAnnouncements(statements, norm), norm);
    this.#statements = leftOutOf(joinGoing(crossingsFirst(told)));
    this.#lastNumbered = lastNumbered(this.#statements);
    this.#piece = piece;
    this.#scope = new RoundScope(piece);
    this.#clauses = new ClauseWorker(piece, this.#scope);
    this.#reader = new RoundReader(piece, this.#clauses, this.#scope);
    this.#order = new RoundOrder(piece, this.#scope, this.#reader);
    this.#passing = new ToldInPassing(piece, () => this.#order.flush());
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
    if (body.kind !== 'steps' || body.failed || body.unread > 0 || !body.hasStitches) return;
    const [def] = this.#reader.read(label, body, at, 1);
    const text = `${name[0].toUpperCase()}${name.slice(1)} ${this.#unitOf(label)}`;
    for (const n of label.called ? [name, label.called] : [name])
      if (def) this.#scope.mean(n, { ...def, stated: null, label: text });
  }

  run(): void {
    const piece = this.#piece;
    for (this.#at = 0; this.#at < this.#statements.length && !piece.stopped; this.#at++) {
      const s = this.#statements[this.#at];
      if (s.kind === 'refused') {
        this.#order.flush();
        piece.sayLost(s.code, trimmed(piece.source, s), s.message, s.hint);
        piece.ended = true;
        break;
      }
      if (piece.ended) {
        if (!this.#lost(s)) {
          if (s.kind === 'prose') this.#passing.narration.atTheEnd(s);
          continue;
        }
        piece.found.error(
          'rounds-after-ending',
          s,
          'the piece has ended before this; it is not worked',
          `Only one piece is followed. Move ${piece.ending === 'drawn-up' ? 'its drawing up' : 'the bind-off'} below its last round, or make this a plan of its own.`,
        );
        break;
      }
      piece.askedBy(s);
      if (s.kind !== 'prose') this.#passing.begin();
      if (s.item !== undefined) this.#scope.noteItem(s.item);
      this.#statement(s);
    }
    if (!piece.stopped) this.#order.flush();
    for (const { stated, at } of this.#counts) checkOfRounds(stated, at, piece);
    for (const { last, ...told } of this.#later) {
      const first = piece.history.findIndex((d) => d.follows?.from === told.from);
      checkGoing(told, first, last, piece);
    }
    this.#passing.check();
    piece.crossings.check(this.#scope.section.startRound, piece.found);
    piece.checkSize();
    this.#noteNoEnding();
  }

  /** Nothing binds off, draws up or holds the stitches at the end. */
  #noteNoEnding(): void {
    const piece = this.#piece;
    const ends = this.#statements.some((s) => s.kind === 'end' || s.kind === 'refused');
    if (ends || piece.ended || piece.stopped || piece.rounds.length === 0) return;
    if (piece.count === 0) {
      piece.ending = 'bound-off';
      return;
    }
    const last = trimmed(piece.source, this.#statements[this.#statements.length - 1]);
    piece.found.note(
      'ending-missing',
      last,
      `nothing says how the piece ends: ${stitches(piece.count)} ${piece.count === 1 ? 'stays' : 'stay'} on the needles`,
      'End with a line such as: Bind off.',
    );
  }

  /** Work that would be lost behind the end of the piece. */
  #lost(s: Statement): boolean {
    // "Do this another 140 times for a blanket": all of the piece again
    const more = !OF_ROUNDS.test(this.#piece.source.norm.slice(s.from, s.to));
    if (isOfAnother(this.#sentenceOf(s))) return false;
    if (s.kind === 'prose') return s.instructs && !(more && this.#again);
    this.#again = false;
    if (s.kind === 'round') return s.label !== null;
    if (s.kind !== 'work') return false;
    const [clause] = s.clauses;
    this.#again = more && clause.kind === 'shape' && clause.shaping === null;
    return !this.#again;
  }

  /** The statement, and its sentence behind it. */
  #sentenceOf({ from, to }: Place): string {
    const { norm } = this.#piece.source;
    const stop = norm.slice(to, to + LONGEST_REST).search(/[.!?\n]/);
    return norm.slice(from, stop < 0 ? to : to + stop);
  }

  #statement(s: Statement): void {
    const piece = this.#piece;
    switch (s.kind) {
      case 'round':
        {
          const told = s.label && this.#toldAgain(s.label, s.body, s);
          if (told) this.#passing.note({ from: s.from, to: s.to, told }, true);
          else this.#round(s.label, s.body, s);
          // "Rounds 4 and 6: … (8 sts fewer, 64)": of which of them is not told.
          if (s.body.kind === 'steps' && (s.label?.numbers.length ?? 0) < 2)
            for (const at of s.body.tells ?? []) this.#passing.narration.numbers(at);
        }
        break;
      case 'work':
        for (const clause of s.clauses) {
          this.#order.flushFor(numbersOf(clause));
          piece.askedBy(clause);
          this.#clauses.work(clause);
        }
        break;
      case 'going':
        this.#order.flush();
        this.#goingAlone(s);
        break;
      case 'end':
        this.#order.flush();
        this.#end(s);
        break;
      case 'count':
        this.#order.flush();
        piece.checkStated(s.stated, s);
        break;
      case 'set-up': {
        this.#checkShares(s);
        const { markers } = s.setUp;
        if (markers === null || markers === 'corners' || piece.rounds.length === 0) break;
        this.#order.flush();
        piece.placeMarkers(placesOf(markers, piece.count) ?? []);
        break;
      }
      case 'pattern':
        this.#order.flush();
        if (s.told) this.#toldPattern(s.told, s);
        else this.#scope.setPattern(this.#scope.refs(s.which, s));
        break;
      case 'colour':
        this.#order.flush();
        if (s.stripes) piece.colours.alternate(s.stripes, piece.rounds.length);
        else piece.colours.takeUp(s.colour, piece.rounds.length);
        break;
      case 'passage':
        this.#order.flush();
        this.#scope.notePassage(s.level);
        break;
      case 'crossing':
        this.#order.flush();
        this.#scope.cross(s.crosses, s);
        break;
      case 'prose':
        if (s.instructs) {
          this.#order.flush();
          piece.sayNotFollowed(s);
        } else {
          if (s.names) this.#name(s.names);
          const before = this.#statements[this.#at - 1]?.kind;
          this.#passing.note(s, before === 'work' || before === 'round');
        }
        if (s.heading) {
          this.#order.headingSince = true;
          this.#scope.sinceHeading = piece.rounds.length;
        }
        break;
      default:
        break;
    }
  }

  /** "The 2nd and 4th rounds are purl rounds" of rounds that stand above: what it says again of them. */
  #toldAgain({ marked, numbers }: RoundLabel, body: RoundBody, at: Place): RoundsTold | null {
    const step = body.kind === 'steps' && body.steps.length === 1 ? body.steps[0] : null;
    if (marked || numbers.length === 0 || step?.kind !== 'stitch') return null;
    const { defs } = this.#scope.section;
    if (!numbers.some((n) => defs.has(n) || n <= this.#piece.rounds.length)) return null;
    if (!/\b(?:is|are|gets?)\b/.test(this.#piece.source.norm.slice(at.from, at.to))) return null;
    const kind = step.name === 'p' ? 'purl' : 'knit';
    return { which: { kind: 'numbers', numbers }, how: { kind } };
  }

  /** "These 3 rounds set the shaping": what "them" means behind it, where they are known. */
  #name(which: RoundsRef): void {
    const { defs } = this.#scope.section;
    if (which.kind === 'numbers' && !which.numbers.every((n) => defs.has(n))) return;
    if (which.kind === 'last' && which.count > this.#piece.rounds.length) return;
    this.#order.flush();
    this.#scope.setPattern(this.#scope.refs(which, this.#statements[this.#at]));
  }

  /** The rounds just worked said again, or those that "those rounds" below will mean. */
  #toldPattern(clauses: readonly WorkClause[], at: Place): void {
    const defs = clauses.map((clause) => this.#clauses.defs(clause));
    const all = defs.flatMap((d) => d ?? []);
    const asked = this.#statements.slice(this.#at + 1).find((s) => s.kind !== 'prose');
    const repeats = asked?.kind === 'work' && asked.clauses[0]?.kind === 'repeat';
    if (defs.includes(null) || !repeats) this.#piece.sayNotFollowed(at);
    else if (!this.#clauses.justWorkedAlike(all)) this.#scope.setPattern(all);
  }

  /** "When 16 sts remain, …" where nothing goes on up to there. */
  #goingAlone(at: Extract<Statement, { kind: 'going' }>): void {
    const piece = this.#piece;
    const { asks, tail } = at.going;
    if (tail.crosses) this.#scope.cross(tail.crosses, at);
    if (tail.untilStitches !== null && piece.targetOf(tail) === piece.count) {
      if (tail.stated) piece.checkStated(tail.stated, at);
      if (at.going.stop !== 'said') this.#passing.narration.numbers(at);
      return;
    }
    if (tail.untilRounds !== null && !asks) {
      const here = [piece.rounds.length, this.#scope.section.worked];
      if (!here.includes(tail.untilRounds))
        sayRounds(tail.untilRounds, `there are ${here[0]}`, at, piece);
      return;
    }
    // "Continue in the same way:" leads to rounds that are told.
    const next = this.#statements.slice(this.#at + 1).find((s) => s.kind !== 'prose');
    const leads =
      asks &&
      (next?.kind === 'round' || (next?.kind === 'work' && !this.#isAnother(next.clauses, at)));
    // "Every round until 8 sts remain, break yarn": the piece ends before so few are left.
    const unmet = tail.untilStitches !== null && (next === undefined || next.kind === 'end');
    if (!at.instructs && (leads || (!asks && !unmet))) {
      if (at.told) this.#passing.note(at, false);
      else if (leads && tail.every !== null) this.#passing.shapedEvery(at, tail.every);
      return;
    }
    if (asks) piece.sayNoEnd(at);
    else piece.sayNotFollowed(at);
  }

  /** "Keep going like this. Knit 2 rounds.": what comes next does not say how it goes on. */
  #isAnother([clause]: readonly WorkClause[], at: Place): boolean {
    const closed = /[.!?]\s*$/.test(this.#piece.source.norm.slice(at.from, at.to));
    return closed && clause.kind === 'plain' && clause.rounds !== null;
  }

  /** "20 sts on each of 4 needles" against the stitches that are there. */
  #checkShares(at: Extract<Statement, { kind: 'set-up' }>): void {
    const piece = this.#piece;
    const { totals, shares } = at.setUp;
    if (totals.length === 0 && shares.length === 0) return;
    this.#order.flush();
    const { count } = piece;
    if (piece.counts.believed.active) return;
    for (const { parts, each } of shares) {
      const all = parts === null ? null : parts * each;
      const few = piece.rounds.length > 0 && count > MOST_PARTS * each;
      if (all === count || (all === null && count % each === 0 && !few)) continue;
      const said =
        all === null ? `${stitches(each)} each` : `${parts} times ${each}, ${all} in all,`;
      const message = `${said} ${all === null ? 'do not share out' : 'are not'} the ${stitches(count)} on the needles`;
      piece.found.error(
        'stated-count-wrong',
        trimmed(piece.source, at),
        message,
        'Check the count, or how it is shared.',
      );
      return;
    }
    const [total] = totals;
    if (total !== undefined) piece.checkStated({ total, perSide: null, change: null }, at);
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
    const defs = this.#reader.read(label, body, at, numbers.length);
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
    if (!workAsSet({ ...trimmed(this.#piece.source, at), tail }, label.numbers.length, this.#piece))
      return false;
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
    if (headsList(label.name, around.behind)) return true;
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

  #end(at: Extract<Statement, { kind: 'end' }>): void {
    const piece = this.#piece;
    let next = this.#at + 1;
    while (this.#statements[next]?.kind === 'prose') next++;
    const behind = this.#statements[next];
    const endingFollows = behind?.kind === 'end';
    const said = (s: Place): string => piece.source.norm.slice(s.from, s.to);
    if (endingFollows && endsOtherwise(at.words, said(at), behind.words, said(behind)))
      piece.sayNotFollowed(at);
    const kept = this.#statements
      .slice(0, this.#at)
      .some((s) => s.kind === 'end' && (s.words.keeps || s.words.holds) && !s.words.through);
    const ending = endingOf(at.words, piece.ending, endingFollows, kept);
    if (ending === null) return;
    piece.ending = ending;
    piece.ended = !endingFollows && !keepsOnly(at.words);
    const { count } = at.words;
    if (count === null || count === piece.count || piece.counts.believed.active) return;
    piece.found.error(
      'ending-count-wrong',
      trimmed(piece.source, at),
      `this ends with ${stitches(count)}, but ${piece.count} are on the needles`,
      'Check the counts of the last rounds.',
    );
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

/** Round numbers that a clause names. */
function numbersOf(clause: WorkClause): readonly number[] {
  if (clause.kind === 'repeat' && clause.which.kind === 'numbers') return clause.which.numbers;
  if (clause.kind === 'sequence') return clause.parts.flatMap((p) => numbersOf(p));
  return [];
}
