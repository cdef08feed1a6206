/**
 * Works clauses that repeat rounds: those that stand above, and the parts of a sequence, so many times, up to a count, a length
 * or a round, with what the last time leaves out. In: clauses, and the rounds they mean. Out: rounds worked, and diagnostics
 * where they do not come out.
 */
import type { EndRound, RoundsRef, Tail, WorkClause } from '../grammar/ast.ts';
import { stitchSteps } from '../grammar/steps/patterns.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import { lastShaping } from '../work/next-shaping.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { noteLength, roundsFor } from './lengths.ts';
import { workEveryNth } from './named-rounds.ts';
import {
  endIndex,
  leavesOut,
  repeatRounds,
  repeatTimes,
  repeatUntil,
  roundsAddUp,
} from './repeats.ts';
import { type RoundDef, repeatedLabel, unnumberedDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';
import { workShaping } from './shaping.ts';

type Clause<K extends WorkClause['kind']> = Extract<WorkClause, { kind: K }>;

/** One is all of one stitch, the other of another: "purl 1 round" behind a knit one. */
function otherStitch(
  [one, ...more]: readonly Step[],
  [other, ...others]: readonly Step[],
): boolean {
  if (more.length + others.length > 0) return false;
  return one?.kind === 'stitch' && other?.kind === 'stitch' && one.name !== other.name;
}

const TO_COME = /\blast\b(?!.*\b(?:again|over|more)\b)/;

/** So many times one behind the other, or up to a count. */
function runsOn({ times, every, untilStitches, untilRounds, untilMm }: Tail): boolean {
  const end = untilStitches ?? untilRounds ?? untilMm;
  return end !== null || every === 1 || (times !== null && times > 1);
}

function saysHowOften(tail: Tail): boolean {
  const { times, untilStitches, untilMm, untilRounds, untilRound, forRounds, open, follows } = tail;
  const told = [times, untilStitches, untilMm, untilRounds, untilRound, forRounds];
  return open || follows || told.some((n) => n !== null);
}

/** The stitch of a round that is to be the last, where none of those repeated is all of it. */
function endsBehind(end: EndRound | null, defs: readonly RoundDef[]): 'k' | 'p' | null {
  if (!end || !('like' in end) || (end.like !== 'knit' && end.like !== 'purl')) return null;
  return endIndex(end, THESE, defs) < 0 ? (end.like === 'knit' ? 'k' : 'p') : null;
}

const THESE = { kind: 'these' } as const;

export class RepeatClauses {
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  /** Rounds of the piece when a repeat was last told. */
  repeatedUpTo = -1;
  /** Where a repeat that ended with a count left off: its last round, those of the cycle behind it, rounds worked then. */
  #cut: { by: RoundDef; rest: readonly RoundDef[]; rounds: number } | null = null;

  constructor(piece: WorkedPiece, scope: RoundScope) {
    this.#piece = piece;
    this.#scope = scope;
  }

  /**
   * "Repeat rounds 3 and 4 until 16 sts remain. Work round 3 once more": the count came with round 3, and round 4 lies
   * between the two.
   */
  #finishCycle(next: RoundDef): void {
    const cut = this.#cut;
    this.#cut = null;
    if (!cut || cut.rounds !== this.#piece.rounds.length || cut.by.steps !== next.steps) return;
    this.#piece.workAll(cut.rest);
  }

  /** "…until 56 sts remain. Round 11: …": the number tells that all of the last pass was worked, `missing` rounds more. */
  finishPass(missing: number): void {
    const { rounds } = this.#piece;
    if (this.#cut?.rounds !== rounds.length || this.#cut.rest.length !== missing) return;
    this.#piece.workAll(this.#cut.rest);
    this.#scope.countSince(rounds.length - missing);
    this.#cut = null;
  }

  /** `fabricRound`: rounds worked when a round of a fabric had been told without a number; −1 where none has. */
  repeat(clause: Clause<'repeat'>, fabricRound: number): void {
    const piece = this.#piece;
    const { which, tail, repeats } = clause;
    const defs = this.#scope.refs(which, clause);
    if (defs.length === 0) return;
    // "Work the last 2 rounds with double yarn": those to come
    const said = piece.source.norm.slice(clause.from, clause.to);
    if (which.kind === 'last' && !repeats && !saysHowOften(tail) && TO_COME.test(said)) {
      piece.sayNotFollowed(clause);
      return;
    }
    // "Then work round 3 on every round until 8 sts remain" goes on at once.
    if (!runsOn(tail)) this.#finishCycle(defs[0]);
    if (tail.open && tail.times === null && tail.untilStitches === null && tail.untilMm === null) {
      piece.sayNoEnd(clause);
      return;
    }
    if (tail.fewer !== null && this.#fewerEachTime(defs, clause)) return;
    const told = tail.follows || tail.fewer !== null;
    const follows = { follows: { from: clause.from, to: clause.to, told } };
    const again = defs.map((d) => ({
      ...d,
      stated: null,
      label: repeatedLabel(d.label),
      ...follows,
    }));
    if (tail.every !== null && tail.every > 1 && defs.length === 1) {
      workEveryNth(again[0], clause, tail, piece, this.#scope);
      return;
    }
    if (tail.every !== null && defs.length > 1 && tail.every !== defs.length) {
      piece.sayNotFollowed(clause);
      return;
    }
    const end = this.#endNumbered(tail.endWith, defs, clause);
    let lastOne = endIndex(end, which, again);
    if (
      !this.#canLeaveOut({ ...tail, endWith: end }, which, lastOne, defs, this.#justWorked(defs))
    ) {
      piece.sayNotFollowed(clause);
      return;
    }
    // Rows whose labels name no side alternate from the one that comes next.
    if (lastOne < 0 && end && 'like' in end && /^[RW]S$/.test(end.like) && !piece.inRound) {
      const wrong = end.like === 'WS';
      lastOne = again.findLastIndex(
        (_, i) => (i % 2 === 0 ? piece.wrongSideNow : !piece.wrongSideNow) === wrong,
      );
    }
    const target = piece.targetOf(tail);
    const behind = lastOne < 0 ? endsBehind(end, again) : null;
    // "5 more times, until 48 sts are left": so often, and so many are left.
    const checked = target !== null && tail.times !== null;
    if (target !== null && !checked) {
      const last = repeatUntil(piece, again, target, lastOne, clause);
      // "…, ending with round 3" is meant as it stands.
      if (lastOne < 0)
        this.#cut = { by: again[last], rest: again.slice(last + 1), rounds: piece.rounds.length };
    } else if (tail.untilMm !== null) this.#toLength(again, tail, clause);
    else if (tail.untilRounds !== null) {
      // "Rows 1 and 2. Repeat them until 84 rows are worked": those two are among the 84.
      const ahead = this.#justWorked(defs) && !tail.more ? defs.length : 0;
      const upTo = tail.untilRounds + (tail.fromStart ? 0 : piece.rounds.length - ahead);
      for (let i = 0; piece.rounds.length < upTo && piece.goesOn; i++)
        piece.work(again[i % again.length]);
    } else if (tail.forRounds !== null && tail.times === null) {
      const described = fabricRound === piece.rounds.length && defs.length === 1 && !tail.more;
      const held = (tail.total || described) && this.#justWorked(defs) ? defs.length : 0;
      repeatRounds(piece, again, Math.max(0, tail.forRounds - held));
    } else {
      let times = tail.times ?? 1;
      const often = !repeats && !tail.more && tail.times !== null && tail.forRounds === null;
      const worked = this.#justWorked(defs) ? 1 : 0;
      // Behind a repeat the last round is one of that repeat's.
      const total = tail.total || (often && this.repeatedUpTo !== piece.rounds.length);
      if (!roundsAddUp(tail, again.length, worked, clause, piece)) return;
      if (total) times -= worked;
      repeatTimes(piece, again, lastOne >= 0 ? times - 1 : times);
      // "ending with a decrease round": the last time only up to there.
      if (lastOne >= 0 && times > 0) piece.workAll(again.slice(0, lastOne + 1));
      if (checked) piece.checkStated({ total: target, perSide: null, change: null }, clause);
    }
    this.#workBehind(behind, clause);
  }

  /** "…, and finish with a purl round", where none of those repeated is one: another round behind them. */
  #workBehind(stitch: 'k' | 'p' | null, clause: Clause<'repeat' | 'sequence'>): void {
    const piece = this.#piece;
    if (stitch === null || !piece.goesOn) return;
    const { from, to } = clause;
    piece.work(unnumberedDef({ from, to }, piece.inRound, stitchSteps(stitch, { from, to })));
    this.#cut = null;
  }

  /** "…, ending with point 4": the last of its rounds, by its place among those repeated. */
  #endNumbered(end: EndRound | null, defs: readonly RoundDef[], at: Place): EndRound | null {
    if (end && 'without' in end)
      return { ...end, without: this.#endNumbered(end.without, defs, at) };
    if (!end || !('item' in end)) return end;
    const last = this.#scope.refs({ kind: 'items', numbers: [end.item] }, at).at(-1);
    return { nth: defs.findLastIndex((d) => d.steps === last?.steps) + 1 };
  }

  /** False where a round is to be left out that can't be, or a pass is named that there is not. */
  #canLeaveOut(
    tail: Tail,
    which: RoundsRef,
    lastOne: number,
    defs: readonly RoundDef[],
    worked: boolean,
  ): boolean {
    const { endWith, untilStitches, times, total, more } = tail;
    const counted = untilStitches === null ? (times ?? 1) : null;
    const all = counted !== null && worked && more && !total ? counted + 1 : counted;
    const left = leavesOut(endWith, which, all, defs);
    return (
      left === 'nothing' ||
      (lastOne >= 0 && (left === 'last' || leavesOut(endWith, which, counted, defs) === 'last'))
    );
  }

  /** "Repeat these 2 rounds, working 1 stitch less before each decrease": the shaping goes on, a run shorter each time. */
  #fewerEachTime(defs: readonly RoundDef[], { tail, from, to }: Clause<'repeat'>): boolean {
    const piece = this.#piece;
    const shaping = defs.find((d) => d.steps === lastShaping(piece)?.def.steps);
    if (!shaping || !this.#justWorked(defs)) return false;
    const shaped = piece.rounds.slice(-defs.length).filter((r) => r.after !== r.before).length;
    // Several in each pass: every one of them is made to fit.
    if (shaped > 1) return false;
    if (!shaping.steps.some((s) => s.kind === 'group' && !s.eachSide)) return false;
    // So many times all of them: the plain rounds behind the last one too.
    const at = defs.indexOf(shaping);
    const behind = at < defs.length - 1;
    const whole = behind && tail.times !== null && tail.untilStitches === null;
    const endWith = tail.endWith ?? (whole ? ({ like: 'plain' } as const) : null);
    workShaping(
      {
        kind: 'shape',
        shaping: null,
        between: [...defs.slice(at + 1), ...defs.slice(0, at)],
        tail: { ...tail, endWith, every: tail.every ?? defs.length },
        from,
        to,
      },
      piece,
    );
    return true;
  }

  #toLength(defs: readonly RoundDef[], tail: Tail, at: Place): void {
    const piece = this.#piece;
    const rounds = roundsFor(tail.untilMm ?? 0, at, piece);
    if (rounds === null) return;
    const upTo = tail.fromStart ? rounds : piece.rounds.length + rounds;
    const before = piece.rounds.length;
    // Rounds that bind everything off add no height.
    while (piece.rounds.length < upTo && piece.goesOn) piece.workAll(defs);
    noteLength(piece.rounds.length - before, at, piece);
  }

  #justWorked(defs: readonly RoundDef[]): boolean {
    const tail = this.#piece.history.slice(-defs.length);
    return tail.length === defs.length && tail.every((d, i) => d.steps === defs[i].steps);
  }

  /** The rounds of its parts in turn, as often as the clause says. */
  sequence(clause: Clause<'sequence'>, defs: readonly RoundDef[]): void {
    const piece = this.#piece;
    const { tail } = clause;
    const target = piece.targetOf(tail);
    const lastOne = endIndex(tail.endWith, THESE, defs);
    if (!this.#canLeaveOut(tail, THESE, lastOne, defs, this.justWorkedAlike(defs))) {
      piece.sayNotFollowed(clause);
      return;
    }
    if (target !== null) repeatUntil(piece, defs, target, lastOne, clause);
    else if (tail.untilMm !== null) this.#toLength(defs, tail, clause);
    else if (tail.untilRounds !== null) {
      const worked = tail.fromStart ? piece.rounds.length : 0;
      repeatRounds(piece, defs, Math.max(0, tail.untilRounds - worked));
    } else if (tail.forRounds !== null && tail.times === null)
      repeatRounds(piece, defs, tail.forRounds);
    else {
      // "… twice more" comes on top of a first time, worked before or told here.
      const worked = this.justWorkedAlike(defs);
      if (!roundsAddUp(tail, defs.length, 1, clause, piece)) return;
      const first = tail.more && !worked ? 1 : 0;
      const times = (tail.times ?? 1) + first - (tail.total && worked ? 1 : 0);
      repeatTimes(piece, defs, lastOne >= 0 ? times - 1 : times);
      if (lastOne >= 0 && times > 0) piece.workAll(defs.slice(0, lastOne + 1));
    }
    if (lastOne < 0) this.#workBehind(endsBehind(tail.endWith, defs), clause);
  }

  /** The last rounds worked are these; for plain ones it is enough that the count stayed. */
  justWorkedAlike(defs: readonly RoundDef[]): boolean {
    const { history, rounds } = this.#piece;
    const done = history.slice(-defs.length);
    const first = rounds.length - defs.length;
    return (
      done.length === defs.length &&
      defs.every((d, i) => {
        const { before, after } = rounds[first + i];
        return (
          d.steps === done[i].steps ||
          (before === after && !this.#scope.isNamed(d) && !otherStitch(d.steps, done[i].steps))
        );
      })
    );
  }
}
