/**
 * Works the statements of a plan in order, each by what it is: labelled rounds in `labelled-rounds.ts`, clauses
 * of prose in `clauses.ts`, the rest here. In: statements after the cast-on. Out: the worked piece, with diagnostics for what does not
 * come out and for every sentence that could instruct and was not followed.
 */
import type { RoundBody, RoundLabel, RoundsRef, Statement, WorkClause } from '../grammar/ast.ts';
import { tokensOf } from '../grammar/leftovers.ts';
import { stitchesHung } from '../grammar/markers-hung.ts';
import { onlyTells } from '../grammar/narration/only-tells.ts';
import { isOfAnother } from '../grammar/out-of-place.ts';
import type { RoundsTold } from '../grammar/rounds-told.ts';
import { placesOf } from '../grammar/statements/cast-on.ts';
import { endingOf, endsOtherwise, keepsOnly } from '../grammar/statements/ending-kind.ts';
import { isOutcome, onTheWay } from '../grammar/statements/going-on/stops.ts';
import type { Tally } from '../grammar/tallies.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { withoutAnnouncements } from './announced-rounds.ts';
import { checkOfRounds, checkTally, sayRounds } from './clause-checks.ts';
import { ClauseWorker } from './clauses.ts';
import { crossingsFirst, joinGoing, leftOutOf } from './going-on.ts';
import { checkGround, checkLabelled, type ToldGround } from './ground.ts';
import { checkHabits } from './habits.ts';
import { LabelledRounds } from './labelled-rounds.ts';
import { RoundOrder } from './round-order.ts';
import { RoundReader } from './round-reader.ts';
import { RoundScope } from './round-scope.ts';
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
  worker.tellAbove(before);
  worker.rounds.describe(before);
  worker.run();
  const above = before.at(-1)?.to ?? 0;
  checkHabits(statements.find((s) => s.from >= above)?.from ?? 0, piece);
  return worker.rounds;
}

/** Most needles or sides that stitches are shared over. Chosen: an octagon has eight, each in two halves. */
const MOST_PARTS = 16;

/** Words of the rounds of one piece. */
const OF_ROUNDS = /\b(?:sts?|stitch(?:es)?|rows?|rounds?|rnds?|dec\w*|inc\w*|knit|purl|[kp]\d+)\b/;

/** Most characters of a sentence behind its order. Chosen: bounds the time. */
const LONGEST_REST = 200;

class StatementWorker {
  readonly #statements: readonly Statement[];
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  readonly #clauses: ClauseWorker;
  readonly #order: RoundOrder;
  readonly #passing: ToldInPassing;
  readonly rounds: LabelledRounds;
  /** Counts told of rounds by their numbers, which may come later. */
  readonly #ofRounds: Extract<Statement, { kind: 'count' }>[] = [];
  readonly #tallies: (Place & { readonly tally: Tally })[] = [];
  /** Fabrics that a sentence says the piece is worked in. */
  readonly #grounds: ToldGround[] = [];
  /** Index of the statement at work. */
  #at = 0;
  /** Behind the end, the whole piece is asked for again. */
  #again = false;

  constructor(statements: readonly Statement[], piece: WorkedPiece, otherwise: boolean) {
    const { norm } = piece.source;
    const told = withToldPatterns(withoutAnnouncements(statements, norm), norm);
    this.#statements = leftOutOf(joinGoing(crossingsFirst(told)));
    this.#piece = piece;
    const scope = new RoundScope(piece);
    const clauses = new ClauseWorker(piece, scope);
    const reader = new RoundReader(piece, clauses, scope);
    const order = new RoundOrder(piece, scope, reader);
    const passing = new ToldInPassing(piece, () => order.flush());
    const workers = { scope, clauses, reader, order, passing };
    this.rounds = new LabelledRounds(this.#statements, piece, workers, otherwise);
    this.#scope = scope;
    this.#clauses = clauses;
    this.#order = order;
    this.#passing = passing;
  }

  /** "You lose 8 stitches in every second round", above the cast-on: said of all of it. */
  tellAbove(statements: readonly Statement[]): void {
    for (const s of statements)
      if (s.kind === 'prose' && (s.change || s.told)) this.#passing.note(s, false);
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
    this.rounds.check();
    this.#passing.check();
    for (const told of this.#ofRounds) checkOfRounds(told.stated, told, piece);
    for (const told of this.#tallies) checkTally(told.tally, told, piece);
    checkLabelled(this.#piece);
    this.#grounds.forEach((told, i) => {
      checkGround(told, this.#grounds[i + 1]?.before ?? null, this.#piece);
    });
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
    if (s.kind === 'round') return s.label !== null && !s.label.means;
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
          else this.rounds.work(s.label, s.body, s, this.#at);
          // "Rounds 4 and 6: … (8 sts fewer, 64)": of which of them is not told.
          if (s.body.kind === 'steps' && (s.label?.numbers.length ?? 0) < 2)
            for (const at of s.body.tells ?? []) this.#passing.narration.numbers(at);
        }
        break;
      case 'work':
        for (const clause of s.clauses) {
          this.#order.flushFor(numbersOf(clause));
          if (clause.kind === 'repeat') {
            const { which } = clause;
            if (which.kind === 'rules') this.#order.collectAlone(this.#statements, this.#at);
            if (which.kind === 'last') this.#order.flushLast(which.count);
          }
          piece.askedBy(clause);
          if (!this.#order.worksTold(clause, this.#statements, this.#at))
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
        if (s.stated.round !== undefined || s.stated.before) this.#ofRounds.push(s);
        if (s.stated.round === undefined) piece.checkStated(s.stated, s);
        break;
      case 'set-up': {
        this.#checkShares(s);
        const { markers, hungIn, needles, perNeedle } = s.setUp;
        if (piece.rounds.length === 0) break;
        this.#order.flush();
        // "Round 1: … (8 sts) Divide over 4 needles, 2 sts each"
        if (
          needles !== null &&
          needles > 2 &&
          piece.count === needles * (perNeedle ?? Math.trunc(piece.count / needles))
        )
          piece.counts.sides ??= needles;
        if (markers !== null && markers !== 'corners')
          piece.placeMarkers(placesOf(markers, piece.count) ?? []);
        piece.markStitches(hungIn.flatMap((hung) => stitchesHung(hung, piece.count)));
        break;
      }
      case 'pattern':
        this.#order.flush();
        if (s.told) this.#toldPattern(s.told, s);
        else this.#scope.setPattern(this.#scope.refs(s.which, s));
        break;
      case 'colour':
        this.#order.flush();
        if (s.stripes) {
          if (!piece.colours.stripe(s.stripes, piece.rounds)) piece.sayNotFollowed(s);
        } else piece.colours.takeUp(s.colour, piece.rounds.length);
        break;
      case 'ground':
        this.#order.flush();
        piece.ground = s.fabric;
        if (s.edges) piece.edges.tell(s.edges);
        this.#grounds.push({ ...s, before: piece.rounds.length });
        break;
      case 'edges':
        this.#order.flush();
        piece.edges.tell(s.edges);
        if (s.edges.between) piece.ground = s.edges.between;
        break;
      case 'passage':
        this.#order.flush();
        this.#scope.notePassage(s.level);
        break;
      case 'tally':
        this.#order.flush();
        if ('total' in s.tally) this.#tallies.push({ tally: s.tally, from: s.from, to: s.to });
        else if (s.tally.stated) piece.checkStated(s.tally.stated, s);
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
    else if (!this.#clauses.repeats.justWorkedAlike(all)) this.#scope.setPattern(all);
  }

  /** "When 16 sts remain, …" where nothing goes on up to there. */
  #goingAlone(at: Extract<Statement, { kind: 'going' }>): void {
    const piece = this.#piece;
    const { asks, stop, tail } = at.going;
    // "Round 6 ends with 52 sts": nothing goes on up to there.
    if (!asks && stop === 'told' && onlyTells(tokensOf(piece.source.norm.slice(at.from, at.to)))) {
      this.#passing.note(at, false);
      return;
    }
    if (tail.crosses) this.#scope.cross(tail.crosses, at);
    if (tail.untilStitches !== null && piece.targetOf(tail) === piece.count) {
      if (tail.stated) piece.checkStated(tail.stated, at);
      if (at.going.stop !== 'said') this.#passing.narration.numbers(at);
      return;
    }
    // "40 after round 10": told of a round that has been worked.
    if (!asks && isOutcome(at.going) && (tail.untilRound ?? 0) <= piece.rounds.length) {
      checkOfRounds(onTheWay(tail, tail.stated), at, piece);
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
    const { count, after } = at.words;
    const last = piece.rounds.at(-1);
    const numbers = last && [piece.rounds.length, Number(/\d+/.exec(last.label)?.[0])];
    if (after !== null && numbers && !numbers.includes(after) && !piece.counts.believed.active)
      sayRounds(after, `it ends behind round ${numbers[0]}`, at, piece);
    if (count === null || count === piece.count || piece.counts.believed.active) return;
    piece.found.error(
      'ending-count-wrong',
      trimmed(piece.source, at),
      `this ends with ${stitches(count)}, but ${piece.count} are on the needles`,
      'Check the counts of the last rounds.',
    );
  }
}

/** Round numbers that a clause names. */
function numbersOf(clause: WorkClause): readonly number[] {
  if (clause.kind === 'repeat' && clause.which.kind === 'numbers') return clause.which.numbers;
  if (clause.kind === 'sequence') return clause.parts.flatMap((p) => numbersOf(p));
  return [];
}
