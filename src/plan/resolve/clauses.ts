/**
 * Works clauses of prose in turn: repeats, plain rounds, named rounds, sequences; shaping has a file of its
 * own. In: clauses as the grammar read them. Out: rounds worked, and diagnostics where no end is reached.
 */
import type { Tail, WorkClause } from '../grammar/ast.ts';
import { patternSteps } from '../grammar/steps/patterns.ts';
import type { Place } from '../lex/source.ts';
import { lastShaping } from '../work/next-shaping.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import {
  comesNearer,
  endIndex,
  repeated,
  repeatRounds,
  repeatTimes,
  repeatUntil,
} from './repeats.ts';
import { nextLabel, type RoundDef, repeatedLabel, unnumberedDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';
import { edgeSteps, shapingSteps, spreadSteps, workShaping, workShapingRounds } from './shaping.ts';

type Clause<K extends WorkClause['kind']> = Extract<WorkClause, { kind: K }>;

export class ClauseWorker {
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  /** Rounds worked when "Every round: …" had been; −1 where nothing of the kind stands before. */
  everyRound = -1;

  constructor(piece: WorkedPiece, scope: RoundScope) {
    this.#piece = piece;
    this.#scope = scope;
  }

  work(clause: WorkClause): void {
    const piece = this.#piece;
    const before = piece.rounds.length;
    const { untilRound } = clause.tail;
    if (untilRound !== null && this.#toRound(clause, untilRound)) {
      this.#scope.countSince(before);
      this.#scope.section.next = Math.max(this.#scope.section.next, untilRound + 1);
      if (clause.tail.stated) piece.checkStated(clause.tail.stated, clause);
      return;
    }
    switch (clause.kind) {
      case 'repeat':
        this.#repeat(clause);
        break;
      case 'plain':
        this.#plain(clause);
        break;
      case 'named':
        this.#named(clause);
        break;
      case 'sequence':
        this.#sequence(clause);
        break;
      case 'shape':
        workShaping(clause, piece);
        break;
      case 'edge':
        for (let i = 0; i < clause.rows && piece.goesOn; i++) {
          piece.work(unnumberedDef(clause, piece.inRound, edgeSteps(clause)));
        }
        break;
    }
    this.#scope.countSince(before);
    const { stated } = clause.tail;
    if (stated) piece.checkStated(stated, clause);
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
        piece.work(this.#plainDef(clause, i, i + 1 === rounds, piece));
      return true;
    }
    if (clause.kind !== 'repeat') return false;
    const follows = { follows: { from: clause.from, to: clause.to } };
    const defs = this.#scope.refs(clause.which, clause);
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
        const def = this.#scope.named(clause.name);
        return def ? repeated([{ ...def, stated: null }], clause.tail.times ?? 1) : null;
      }
      case 'plain':
        return this.#plainDefs(clause);
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

  #repeat(clause: Clause<'repeat'>): void {
    const piece = this.#piece;
    const { which, tail, repeats } = clause;
    const defs = this.#scope.refs(which, clause);
    if (defs.length === 0) return;
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
      this.#everyNth(again[0], clause, tail);
      return;
    }
    let lastOne = endIndex(tail.endWith, which, again);
    const end = tail.endWith;
    // Rows whose labels name no side alternate from the one that comes next.
    if (lastOne < 0 && end && 'like' in end && /^[RW]S$/.test(end.like) && !piece.inRound) {
      const wrong = end.like === 'WS';
      lastOne = again.findLastIndex(
        (_, i) => (i % 2 === 0 ? piece.wrongSideNow : !piece.wrongSideNow) === wrong,
      );
    }
    const target = piece.targetOf(tail);
    if (target !== null) repeatUntil(piece, again, target, lastOne, clause);
    else if (tail.untilMm !== null) this.#toLength(again, tail, clause);
    else if (tail.untilRounds !== null) {
      // "Rows 1 and 2. Repeat them until 84 rows are worked": those two are among the 84.
      const ahead = this.#justWorked(defs) && !tail.more ? defs.length : 0;
      const upTo = tail.untilRounds + (tail.fromStart ? 0 : piece.rounds.length - ahead);
      for (let i = 0; piece.rounds.length < upTo && piece.goesOn; i++)
        piece.work(again[i % again.length]);
    } else if (tail.forRounds !== null) {
      repeatRounds(piece, again, tail.forRounds);
    } else {
      let times = tail.times ?? 1;
      const total = tail.total || (!repeats && !tail.more && tail.times !== null);
      if (total && this.#justWorked(defs)) times -= 1;
      repeatTimes(piece, again, lastOne >= 0 ? times - 1 : times);
      // "ending with a decrease round": the last time only up to there.
      if (lastOne >= 0 && times > 0) piece.workAll(again.slice(0, lastOne + 1));
    }
  }

  /** "Repeat these 2 rounds, working 1 stitch less before each decrease": the shaping goes on, a run shorter each time. */
  #fewerEachTime(defs: readonly RoundDef[], { tail, from, to }: Clause<'repeat'>): boolean {
    const piece = this.#piece;
    const shaping = defs.find((d) => d.steps === lastShaping(piece)?.def.steps);
    if (!shaping || piece.fixedOfAll(shaping.steps) !== null || !this.#justWorked(defs))
      return false;
    if (!shaping.steps.some((s) => s.kind === 'group' && !s.eachSide)) return false;
    workShaping(
      {
        kind: 'shape',
        shaping: null,
        tail: { ...tail, every: tail.every ?? defs.length },
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

  // ---- plain rounds ----------------------------------------------------------------------------

  #plainDefs(clause: Clause<'plain'>): RoundDef[] | null {
    const piece = this.#piece;
    if (clause.rounds === null) return null;
    const count = Math.min(clause.rounds * (clause.tail.times ?? 1), MOST_ROUNDS);
    return Array.from({ length: count }, (_, i) =>
      this.#plainDef(clause, i, i + 1 === count, piece),
    );
  }

  #plainDef(clause: Clause<'plain'>, i: number, last: boolean, piece: WorkedPiece): RoundDef {
    const { cycle } = clause;
    const steps =
      last && clause.last && clause.last.count !== null
        ? spreadSteps(clause.last, clause)
        : cycle[Math.min(i, cycle.length - 1)];
    const def = unnumberedDef(clause, piece.inRound, steps);
    return clause.colour ? { ...def, colour: clause.colour } : def;
  }

  #plain(clause: Clause<'plain'>): void {
    const piece = this.#piece;
    const { tail } = clause;
    if (tail.open && clause.rounds === null && clause.lengthMm === null) {
      piece.sayNoEnd(clause);
      return;
    }
    let { rounds } = clause;
    if (rounds === null) {
      const n = piece.roundsFor(clause.lengthMm ?? 0, clause);
      if (n === null) return;
      rounds = tail.fromStart ? Math.max(0, n - piece.rounds.length) : n;
    } else if (tail.untilRounds !== null && tail.fromStart) {
      rounds = Math.max(0, rounds - piece.rounds.length);
    } else if (tail.times !== null) rounds *= tail.times;
    // "Every round: k2, p2. Work 12 rounds." holds the one worked already.
    const start = piece.rounds.length;
    const [[step]] = clause.cycle;
    const goesOn = step?.kind === 'pattern' && step.rule === 'set' && !tail.more;
    if (this.everyRound === start && goesOn) rounds = Math.max(0, rounds - 1);
    let i = 0;
    for (; i < rounds && piece.goesOn; i++)
      piece.work(this.#plainDef(clause, i, i + 1 === rounds, piece));
    // "ending with a purl round"
    for (
      let more = 0;
      more < 4 && tail.endWith && piece.goesOn && !piece.endsWith(tail.endWith);
      more++
    ) {
      piece.work(this.#plainDef(clause, i++, false, piece));
    }
    if (clause.rounds === null) piece.noteLength(piece.rounds.length - start, clause);
    const target = piece.targetOf(tail);
    if (target !== null && target !== piece.count) {
      piece.sayMissed(
        target,
        clause,
        'repeat-never-ends',
        `plain rounds never leave ${stitches(target)}`,
      );
    }
  }

  // ---- named rounds ----------------------------------------------------------------------------

  #named(clause: Clause<'named'>): void {
    const piece = this.#piece;
    const { name, tail } = clause;
    const def = this.#scope.named(name);
    if (!def && /^(?:decrease|increase)$/.test(name) && lastShaping(piece)) {
      // "a decrease round as above" where no round has that name
      const { from, to } = clause;
      workShaping(
        {
          kind: 'shape',
          shaping: null,
          tail: { ...tail, times: tail.times ?? (tail.untilStitches === null ? 1 : null) },
          from,
          to,
        },
        piece,
      );
      return;
    }
    if (!def) {
      if (/\b(?:pattern|chart|same|plain|even|more|lace|cable)\b/.test(name)) {
        piece.sayNotFollowed(clause);
        return;
      }
      piece.sayLost(
        'unknown-round',
        clause,
        `there is no ${name} round before this`,
        `Describe it first: ${name[0].toUpperCase()}${name.slice(1)} round: …`,
      );
      return;
    }
    if (tail.open && tail.times === null && tail.untilStitches === null) {
      piece.sayNoEnd(clause);
      return;
    }
    const follows = { follows: { from: clause.from, to: clause.to } };
    this.#everyNth({ ...def, stated: null, ...follows }, clause, tail, clause.repeats, name);
  }

  /** A round worked again, with plain ones before each time where "every 4th round" says so. */
  #everyNth(def: RoundDef, at: Place, tail: Tail, repeats = true, name = ''): void {
    const piece = this.#piece;
    const plain: RoundDef = {
      ...def,
      steps: patternSteps('set', at),
      stated: null,
      label: nextLabel(piece.inRound),
      side: null,
    };
    const every = tail.every ?? 1;
    // "Decrease round: …" then "work decrease round every 4th round 5 times": the first is done.
    const first =
      (tail.total || !(repeats || tail.more)) && name !== '' && this.#scope.justDescribed(name);
    const bounded = tail.untilStitches !== null;
    const asked = tail.times ?? (bounded ? Number.POSITIVE_INFINITY : 1);
    const times = asked - (first ? 1 : 0);
    const target = piece.targetOf(tail);
    const up = target !== null && target > piece.count;
    for (let i = 0; i < times && piece.goesOn; i++) {
      if (target !== null && piece.count === target) break;
      const { count } = piece;
      if (!(i === 0 && tail.atOnce))
        for (let j = 1; j < every && piece.goesOn; j++) piece.work(plain);
      piece.work(def);
      if (target === null) continue;
      if (!comesNearer(count, piece.count, up)) {
        piece.sayMissed(target, at, 'repeat-never-ends', `this never leaves ${stitches(target)}`);
        break;
      }
      if (up ? piece.count > target : piece.count <= target) break;
    }
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
    if (target !== null) repeatUntil(piece, defs, target, -1, clause);
    else if (tail.untilMm !== null) this.#toLength(defs, tail, clause);
    else if (tail.untilRounds !== null) {
      const worked = tail.fromStart ? piece.rounds.length : 0;
      repeatRounds(piece, defs, Math.max(0, tail.untilRounds - worked));
    } else if (tail.forRounds !== null) repeatRounds(piece, defs, tail.forRounds);
    else {
      // "… twice more" comes on top of a first time, worked before or told here.
      const worked = this.#justWorkedAlike(defs);
      const first = tail.more && !worked ? 1 : 0;
      repeatTimes(piece, defs, (tail.times ?? 1) + first - (tail.total && worked ? 1 : 0));
    }
  }

  /** The last rounds worked are these; for plain ones it is enough that the count stayed. */
  #justWorkedAlike(defs: readonly RoundDef[]): boolean {
    const { history, rounds } = this.#piece;
    const done = history.slice(-defs.length);
    const first = rounds.length - defs.length;
    return (
      done.length === defs.length &&
      defs.every((d, i) => {
        const { before, after } = rounds[first + i];
        return d.steps === done[i].steps || (before === after && !this.#scope.isNamed(d));
      })
    );
  }
}
