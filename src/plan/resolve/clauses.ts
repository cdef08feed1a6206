/**
 * Works clauses of prose in turn, each by what it asks for: repeats, shaping, plain and named rounds have files of their
 * own. In: clauses as the grammar read them. Out: rounds worked, and diagnostics where no end is reached.
 */
import type { RoundsRef, WorkClause } from '../grammar/ast.ts';
import { cycleOf } from '../grammar/steps/patterns.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { lastShaping } from '../work/next-shaping.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { checkOfRounds, checkTold } from './clause-checks.ts';
import { asTold, shapedLast, workNamed } from './named-rounds.ts';
import { plainDef, plainDefs, workPlain } from './plain-rounds.ts';
import { RepeatClauses } from './repeat-clauses.ts';
import { repeated, repeatRounds } from './repeats.ts';
import { type RoundDef, unnumberedDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';
import { workShaping, workShapingRounds } from './shaping.ts';
import { edgeSteps, shapedBy, shapingSteps } from './shaping-steps.ts';

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

const LAST_ROUND = { kind: 'last', count: 1 } as const;

export class ClauseWorker {
  readonly #piece: WorkedPiece;
  readonly #scope: RoundScope;
  readonly repeats: RepeatClauses;
  /** Rounds worked when "Every round: …" had been; −1 where nothing of the kind stands before. */
  everyRound = -1;
  /** Rounds worked when a round without a number had been told, as a fabric is: "Ribbing: *k3, p1; rep from *". */
  fabricRound = -1;
  constructor(piece: WorkedPiece, scope: RoundScope) {
    this.#piece = piece;
    this.#scope = scope;
    this.repeats = new RepeatClauses(piece, scope);
  }

  work(clause: WorkClause): void {
    const piece = this.#piece;
    const before = piece.rounds.length;
    const { untilRound, stripes, over, crosses, edges } = clause.tail;
    if (edges) piece.edges.tell(edges);
    if (clause.kind !== 'plain') piece.colours.takeUp(clause.colour ?? null, before);
    if (over !== null) piece.checkStated({ total: over, perSide: null, change: null }, clause);
    // "Continue in this way" behind stripes of equal height
    if (clause.kind === 'shape' && clause.shaping === null && clause.tail.follows && !clause.colour)
      piece.colours.stripe([], piece.rounds);
    if (stripes && !piece.colours.stripe(stripes, piece.rounds)) piece.sayNotFollowed(clause);
    if (crosses) this.#scope.cross(crosses, clause);
    if (untilRound !== null && this.#toRound(clause, untilRound)) {
      this.#scope.section.next = Math.max(this.#scope.section.next, untilRound + 1);
    } else this.#workWhole(clause);
    if (crosses) piece.crossings.end(piece.rounds.length);
    this.#scope.countSince(before);
    const { stated } = clause.tail;
    if (stated && (stated.round !== undefined || stated.before))
      checkOfRounds(stated, clause, piece);
    if (stated && stated.round === undefined) piece.checkStated(stated, clause);
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
        this.repeats.repeatedUpTo = this.#piece.rounds.length;
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
        else workShaping(this.#inEveryRound(asTold(clause, piece, this.#scope)), piece);
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
      const { tail } = clause;
      // "on rounds 6, 8 and 10" begins where the first of them comes.
      const ahead = Array.isArray(tail.shapes) ? tail.shapes[0] - this.#scope.section.next : null;
      const paced = { ...tail, atOnce: tail.atOnce || ahead === 0 };
      if (clause.shaping)
        workShaping(
          { ...clause, tail: { ...paced, untilRounds: rounds, fromStart: false } },
          piece,
        );
      else workShapingRounds({ ...clause, tail: paced }, rounds, piece);
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
        const def = this.#scope.named(clause.name) ?? shapedLast(clause.name, clause, this.#piece);
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
        if (shaping.count === null && shaping.where === null) {
          const told = asTold(clause, this.#piece, this.#scope).told;
          if (told) return [unnumberedDef(clause, this.#piece.inRound, told.steps)];
          const again = shapedLast(shaping.decrease ? 'decrease' : 'increase', clause, this.#piece);
          return again && [again];
        }
        const steps = shapingSteps(clause, shaping, this.#piece);
        return steps && [unnumberedDef(clause, this.#piece.inRound, steps)];
      }
      case 'edge':
        return repeated(
          [unnumberedDef(clause, this.#piece.inRound, edgeSteps(clause))],
          clause.rows,
        );
    }
  }

  #repeat(clause: Clause<'repeat'>): void {
    const { which, tail } = clause;
    const { section } = this.#scope;
    if (which.kind === 'numbers' && which.numbers[0] === section.next && tail.follows) {
      // "Work rounds 7-14 in the same way": those to come.
      const to = which.numbers[which.numbers.length - 1];
      if (!section.defs.has(section.next)) {
        this.work({ ...clause, kind: 'shape', shaping: null, tail: { ...tail, untilRound: to } });
        return;
      }
    }
    if (clause.verb && which.kind === 'numbers' && this.#isNext(which.numbers)) {
      const { from, to } = clause;
      const cycle = cycleOf(clause.verb, null, false, { from, to });
      const rounds = which.numbers.length;
      const plain = {
        kind: 'plain',
        cycle,
        rounds,
        lengthMm: null,
        last: null,
        colour: null,
      } as const;
      workPlain({ ...plain, tail, from, to }, this.#piece, section);
      section.next = which.numbers[rounds - 1] + 1;
      return;
    }
    this.repeats.repeat(clause, this.fabricRound);
  }

  /** "Knit round 13": the one that comes next, told nowhere else. */
  #isNext(numbers: readonly number[]): boolean {
    const { next, startRound, defs } = this.#scope.section;
    const done = this.#piece.rounds.length - startRound;
    return (
      (numbers[0] === next || numbers[0] === done + 1) &&
      numbers.every((n, i) => n === numbers[0] + i && !defs.has(n))
    );
  }

  #sequence(clause: Clause<'sequence'>): void {
    const piece = this.#piece;
    const defs: RoundDef[] = [];
    for (const part of clause.parts) {
      const of = this.defs(part);
      if (!of) {
        piece.sayNotFollowed(part);
        return;
      }
      defs.push(...of.map((d) => ({ ...d, follows: { from: clause.from, to: clause.to } })));
    }
    this.repeats.sequence(clause, defs);
  }
}
