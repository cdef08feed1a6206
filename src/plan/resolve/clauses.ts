/**
 * Works clauses of prose in turn: repeats and sequences here; shaping, plain and named rounds have files of their
 * own. In: clauses as the grammar read them. Out: rounds worked, and diagnostics where no end is reached.
 */
import type { EndRound, RoundsRef, Tail, WorkClause } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import { lastShaping } from '../work/next-shaping.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { checkOfRounds, checkTold } from './clause-checks.ts';
import { shapedLast, workEveryNth, workNamed } from './named-rounds.ts';
import { plainDef, plainDefs, workPlain } from './plain-rounds.ts';
import {
  endIndex,
  leavesOut,
  repeated,
  repeatRounds,
  repeatTimes,
  repeatUntil,
  roundsAddUp,
} from './repeats.ts';
import { type RoundDef, repeatedLabel, unnumberedDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';
import { edgeSteps, shapedBy, shapingSteps, workShaping, workShapingRounds } from './shaping.ts';

type Clause<K extends WorkClause['kind']> = Extract<WorkClause, { kind: K }>;

/** Words that ask for rounds behind those that have been told. */
const GOES_ON =
  /\b(?:cont|continu\w*|carry|keep|go|proceed|then|now|next|more|further|another|additional|same)\b/;

/** The same stitches, wherever they are told. */
function alike(named: readonly Step[], told: readonly Step[]): boolean {
  const bare = (steps: readonly Step[]): string =>
    steps
      .map((s) => {
        if (s.kind === 'pattern') return s.rib ? `k${s.rib[0]} p${s.rib[1]}` : s.rule;
        if (s.kind === 'group') return bare(s.steps);
        return s.kind === 'stitch' ? s.name + ('times' in s.amount ? s.amount.times : '') : s.kind;
      })
      .join(' ');
  return named.length === told.length && bare(named) === bare(told);
}

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

const THESE = { kind: 'these' } as const;
const LAST_ROUND = { kind: 'last', count: 1 } as const;

export class ClauseWorker {
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  /** Rounds worked when "Every round: …" had been; −1 where nothing of the kind stands before. */
  everyRound = -1;
  /** Rounds worked when a round without a number had been told, as a fabric is: "Ribbing: *k3, p1; rep from *". */
  fabricRound = -1;
  /** Rounds of the piece when a repeat was last told. */
  #repeatedUpTo = -1;
  /** Where a repeat that ended with a count left off: its last round, those of the cycle behind it, rounds worked then. */
  #cut: { by: RoundDef; rest: readonly RoundDef[]; rounds: number } | null = null;

  constructor(piece: WorkedPiece, scope: RoundScope) {
    this.#piece = piece;
    this.#scope = scope;
  }

  work(clause: WorkClause): void {
    const piece = this.#piece;
    const before = piece.rounds.length;
    const { untilRound, stripes, over, crosses } = clause.tail;
    if (over !== null) piece.checkStated({ total: over, perSide: null, change: null }, clause);
    if (stripes) piece.colours.alternate(stripes, before);
    if (crosses) this.#scope.cross(crosses, clause);
    if (untilRound !== null && this.#toRound(clause, untilRound)) {
      this.#scope.section.next = Math.max(this.#scope.section.next, untilRound + 1);
    } else this.#workWhole(clause);
    if (crosses) piece.crossings.end(piece.rounds.length);
    this.#scope.countSince(before);
    const { stated } = clause.tail;
    if (stated?.round !== undefined) checkOfRounds(stated, clause, piece);
    else if (stated) piece.checkStated(stated, clause);
    checkTold(clause, before, piece);
  }

  #workWhole(clause: WorkClause): void {
    const piece = this.#piece;
    const { likeRound } = clause.tail;
    if (likeRound !== null && (clause.kind === 'shape' || clause.kind === 'named')) {
      const like = this.#shapesLike(likeRound, clause);
      // "2 more decrease rounds as in point 3", where others came between
      if (like === 'other' && clause.tail.times !== null)
        this.#repeat({ ...clause, kind: 'repeat', which: likeRound, repeats: true });
      else if (like === 'other') piece.sayNotFollowed(clause);
      if (like !== 'last') return;
      // So many rounds like that one, one behind the other.
      const { tail } = clause;
      if (clause.kind === 'named' && tail.every === null && tail.times !== null) {
        workNamed({ ...clause, tail: { ...tail, every: 1 } }, piece, this.#scope);
        return;
      }
    }
    if (clause.tail.betweenLike) {
      this.#withBetween(clause, clause.tail.betweenLike);
      return;
    }
    switch (clause.kind) {
      case 'repeat':
        this.#repeat(clause);
        this.#repeatedUpTo = this.#piece.rounds.length;
        break;
      case 'plain':
        if (!this.#goesOnAsTold(clause)) workPlain(clause, piece, this.#scope.section);
        break;
      case 'named':
        workNamed(clause, piece, this.#scope);
        break;
      case 'sequence':
        this.#sequence(clause);
        break;
      case 'shape':
        if (!lastShaping(piece) && !clause.shaping && clause.tail.untilRounds !== null)
          this.#repeat({ ...clause, kind: 'repeat', which: { kind: 'these' }, repeats: true });
        // "That row is the whole pattern. Do it 50 times."
        else if (!lastShaping(piece) && !clause.shaping && this.fabricRound === piece.rounds.length)
          this.#repeat({ ...clause, kind: 'repeat', which: LAST_ROUND, repeats: false });
        else workShaping(this.#inEveryRound(clause), piece);
        break;
      case 'edge':
        for (let i = 0; i < clause.rows && piece.goesOn; i++) {
          piece.work(unnumberedDef(clause, piece.inRound, edgeSteps(clause)));
        }
        break;
    }
  }

  /** "decreasing as in round 2": whether the last shaping was worked with the stitches of that round; null, and said, where there is none. */
  #shapesLike(which: RoundsRef, at: WorkClause): 'last' | 'other' | null {
    const [def] = this.#scope.refs(which, at);
    if (!def) return null;
    const last = lastShaping(this.#piece)?.def;
    // "Every row is like the 1st", which shapes nothing
    if (!last) return at.kind === 'shape' ? 'last' : 'other';
    return shapedBy(def.steps).join() === shapedBy(last.steps).join() ? 'last' : 'other';
  }

  /** "Continue decreasing on every 4th round, the rounds between as rounds 3 to 5": the shaping so far, with those rounds. */
  #withBetween(clause: WorkClause, numbers: readonly number[]): void {
    const piece = this.#piece;
    const { tail, from, to } = clause;
    const last = lastShaping(piece)?.def.steps;
    const goesOn =
      clause.kind === 'shape' ||
      (clause.kind === 'named' && /^(?:de|in)crease$/.test(clause.name)) ||
      (clause.kind === 'repeat' &&
        this.#scope.refs(clause.which, clause).every((d) => d.steps === last));
    const between = this.#scope.fetch(numbers, '', clause);
    const every = tail.every ?? between.length + 1;
    if (!goesOn || between.length !== every - 1) {
      piece.sayNotFollowed(clause);
      return;
    }
    const shaping = clause.kind === 'shape' ? clause.shaping : null;
    workShaping({ kind: 'shape', shaping, tail: { ...tail, every }, from, to, between }, piece);
  }

  /** "Every row: k2tog, k to end. Continue until 3 sts remain": no plain rounds between, whatever stood before. */
  #inEveryRound(clause: Clause<'shape'>): Clause<'shape'> {
    const { tail } = clause;
    if (tail.every !== null || this.everyRound !== this.#piece.rounds.length) return clause;
    return { ...clause, tail: { ...tail, every: 1 } };
  }

  /** "Every round: k2, p2. Work 12 rounds", "38 rows in all": the rounds told go on, those worked are counted. */
  #goesOnAsTold({ cycle, tail, rounds, from, to }: Clause<'plain'>): boolean {
    const piece = this.#piece;
    const { next, worked, defs } = this.#scope.section;
    // "Ribbing: *k3, p1; rep from *. Work 10 rounds in this ribbing"
    const last = piece.rounds.at(-1);
    const fabric =
      this.fabricRound === piece.rounds.length &&
      last?.before === last?.after &&
      (rounds ?? 0) > 1 &&
      !GOES_ON.test(piece.source.norm.slice(from, to));
    // "Next row: …. Continue like this for 48 rows in total": of the row just worked.
    const told =
      fabric ||
      this.everyRound === piece.rounds.length ||
      (next === 1 && tail.total && tail.follows && piece.rounds.length > 0);
    const [steps] = cycle;
    const [step] = steps;
    const set = step?.kind === 'pattern' && /^(?:set|rib)$/.test(step.rule) && !step.rib;
    // "…. Work 10 rounds in k3, p1 rib": the same fabric by its name
    const named = fabric && alike(steps, piece.history.at(-1)?.steps ?? []);
    if (!(set || named) || tail.more || rounds === null) return false;
    if (!told && !tail.total && tail.untilRounds === null) return false;
    const these = told || next === 1 ? piece.history.slice(-1) : [...defs.values()];
    if (these.length === 0 || (next === 1 && !told)) return false;
    const all =
      rounds + piece.rounds.length - (tail.fromStart ? piece.rounds.length : told ? 1 : worked);
    // "Round 1: knit. Round 2: decrease. Round 3: knit. Continue in this way until 13 rounds are complete": of 2 and 3.
    const shaped = set && !told && tail.follows && lastShaping(piece) !== null;
    if (shaped && this.#beganPlain()) {
      const upTo = { ...tail, untilRounds: all, fromStart: true };
      workShaping({ kind: 'shape', shaping: null, tail: upTo, from, to }, piece);
      return true;
    }
    for (let i = told ? 1 : worked; piece.rounds.length < all && piece.goesOn; i++)
      piece.work({ ...these[i % these.length], stated: null });
    return true;
  }

  #beganPlain(): boolean {
    const first = this.#piece.rounds[this.#scope.section.startRound];
    return first !== undefined && first.after === first.before;
  }

  /** "… till round 22": goes on up to the round of that number; false where that says nothing here. */
  #toRound(clause: WorkClause, last: number): boolean {
    const piece = this.#piece;
    const rounds = last - this.#scope.section.next + 1;
    if (rounds <= 0 || rounds > MOST_ROUNDS) return false;
    if (clause.kind === 'shape') {
      workShapingRounds(clause, rounds, piece);
      return true;
    }
    if (clause.kind === 'plain') {
      for (let i = 0; i < rounds && piece.goesOn; i++)
        piece.work(plainDef(clause, i, i + 1 === rounds, piece));
      return true;
    }
    if (clause.kind !== 'repeat') return false;
    const follows = { follows: { from: clause.from, to: clause.to } };
    const defs = this.#scope.refs(clause.which, clause);
    if (clause.tail.fewer !== null && defs.some((d) => d.steps === lastShaping(piece)?.def.steps)) {
      const { tail, from, to } = clause;
      const every = tail.every ?? defs.length;
      const asShape = { kind: 'shape', shaping: null, tail: { ...tail, every }, from, to } as const;
      workShapingRounds(asShape, rounds, piece);
      return true;
    }
    repeatRounds(
      piece,
      defs.map((d) => ({ ...d, stated: null, ...follows })),
      defs.length > 0 ? rounds : 0,
    );
    return true;
  }

  /** The rounds of one pass of the clause, for sequences and ranges; null where that can't be told. */
  defs(clause: WorkClause): RoundDef[] | null {
    switch (clause.kind) {
      case 'repeat': {
        const defs = this.#scope.refs(clause.which, clause);
        if (defs.length === 0) return null;
        const times = clause.tail.times ?? 1;
        return repeated(
          defs.map((d) => ({ ...d, stated: null })),
          times,
        );
      }
      case 'named': {
        const def = this.#scope.named(clause.name) ?? shapedLast(clause, this.#piece);
        return def ? repeated([{ ...def, stated: null }], clause.tail.times ?? 1) : null;
      }
      case 'plain':
        return plainDefs(clause, this.#piece);
      case 'sequence': {
        const inner = clause.parts.map((p) => this.defs(p));
        const all: RoundDef[] = [];
        for (const d of inner) {
          if (!d) return null;
          all.push(...d);
        }
        return repeated(all, clause.tail.times ?? 1);
      }
      case 'shape': {
        const { shaping } = clause;
        if (!shaping) return null;
        const steps = shapingSteps(shaping, clause, this.#piece);
        return steps && [unnumberedDef(clause, this.#piece.inRound, steps)];
      }
      case 'edge':
        return repeated(
          [unnumberedDef(clause, this.#piece.inRound, edgeSteps(clause))],
          clause.rows,
        );
    }
  }

  // ---- repeats ----------------------------------------------------------------------------------

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

  #repeat(clause: Clause<'repeat'>): void {
    const piece = this.#piece;
    const { which, tail, repeats } = clause;
    const { section } = this.#scope;
    if (which.kind === 'numbers' && which.numbers[0] === section.next && tail.follows) {
      // "Work rounds 7-14 in the same way": those to come.
      const to = which.numbers[which.numbers.length - 1];
      if (!section.defs.has(section.next)) {
        this.work({ ...clause, kind: 'shape', shaping: null, tail: { ...tail, untilRound: to } });
        return;
      }
    }
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
    if (!this.#canLeaveOut({ ...tail, endWith: end }, which, lastOne, this.#justWorked(defs))) {
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
      const described = this.fabricRound === piece.rounds.length && defs.length === 1 && !tail.more;
      const held = (tail.total || described) && this.#justWorked(defs) ? defs.length : 0;
      repeatRounds(piece, again, Math.max(0, tail.forRounds - held));
    } else {
      let times = tail.times ?? 1;
      const often = !repeats && !tail.more && tail.times !== null && tail.forRounds === null;
      const worked = this.#justWorked(defs) ? 1 : 0;
      // Behind a repeat the last round is one of that repeat's.
      const total = tail.total || (often && this.#repeatedUpTo !== piece.rounds.length);
      if (!roundsAddUp(tail, again.length, worked, clause, piece)) return;
      if (total) times -= worked;
      repeatTimes(piece, again, lastOne >= 0 ? times - 1 : times);
      // "ending with a decrease round": the last time only up to there.
      if (lastOne >= 0 && times > 0) piece.workAll(again.slice(0, lastOne + 1));
      if (checked) piece.checkStated({ total: target, perSide: null, change: null }, clause);
    }
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
  #canLeaveOut(tail: Tail, which: RoundsRef, lastOne: number, worked: boolean): boolean {
    const { endWith, untilStitches, times, total, more } = tail;
    const counted = untilStitches === null ? (times ?? 1) : null;
    const all = counted !== null && worked && more && !total ? counted + 1 : counted;
    const left = leavesOut(endWith, which, all);
    return (
      left === 'nothing' ||
      (lastOne >= 0 && (left === 'last' || leavesOut(endWith, which, counted) === 'last'))
    );
  }

  /** "Repeat these 2 rounds, working 1 stitch less before each decrease": the shaping goes on, a run shorter each time. */
  #fewerEachTime(defs: readonly RoundDef[], { tail, from, to }: Clause<'repeat'>): boolean {
    const piece = this.#piece;
    const shaping = defs.find((d) => d.steps === lastShaping(piece)?.def.steps);
    if (!shaping || !this.#justWorked(defs)) return false;
    const shaped = piece.rounds.slice(-defs.length).filter((r) => r.after !== r.before).length;
    if (shaped > 1 && piece.fixedOfAll(shaping.steps) !== null) return false;
    if (!shaping.steps.some((s) => s.kind === 'group' && !s.eachSide)) return false;
    // So many times all of them: the plain rounds behind the last one too.
    const behind = defs.indexOf(shaping) < defs.length - 1;
    const whole = behind && tail.times !== null && tail.untilStitches === null;
    const endWith = tail.endWith ?? (whole ? ({ like: 'plain' } as const) : null);
    workShaping(
      {
        kind: 'shape',
        shaping: null,
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
    const rounds = piece.roundsFor(tail.untilMm ?? 0, at);
    if (rounds === null) return;
    const upTo = tail.fromStart ? rounds : piece.rounds.length + rounds;
    const before = piece.rounds.length;
    // Rounds that bind everything off add no height.
    while (piece.rounds.length < upTo && piece.goesOn) piece.workAll(defs);
    piece.noteLength(piece.rounds.length - before, at);
  }

  #justWorked(defs: readonly RoundDef[]): boolean {
    const tail = this.#piece.history.slice(-defs.length);
    return tail.length === defs.length && tail.every((d, i) => d.steps === defs[i].steps);
  }

  // ---- sequences --------------------------------------------------------------------------------

  #sequence(clause: Clause<'sequence'>): void {
    const piece = this.#piece;
    const { tail } = clause;
    const defs: RoundDef[] = [];
    for (const part of clause.parts) {
      const of = this.defs(part);
      if (!of) {
        piece.sayNotFollowed(part);
        return;
      }
      defs.push(...of.map((d) => ({ ...d, follows: { from: clause.from, to: clause.to } })));
    }
    const target = piece.targetOf(tail);
    const lastOne = endIndex(tail.endWith, THESE, defs);
    if (!this.#canLeaveOut(tail, THESE, lastOne, this.justWorkedAlike(defs))) {
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
