/**
 * Shaping told in prose: "continue decreasing 8 sts every other round until 8 sts remain", "dec 1 st at each end
 * of every 4th row". In: the clause. Out: the shaping rounds worked in turn with plain ones between them; a
 * count that going on never leaves is said. Stitches not named: ssk, k2tog, kfb, m1 (common practice).
 */
import type { EndRound, Tail } from '../grammar/ast.ts';
import { patternSteps, stitchSteps } from '../grammar/steps/patterns.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { followsBelow } from '../work/fitted-round.ts';
import { boundSteps, type LastShaping, lastShaping, nextShaping } from '../work/next-shaping.ts';
import { gapsOf, nextOfTurn, type RoundCycle, roundCycle } from '../work/round-cycle.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { comesNearer, sayReached } from './repeats.ts';
import { nextLabel, type RoundDef, unnumberedDef } from './round-defs.ts';
import {
  changedTo,
  groundSteps,
  inFabric,
  namedSteps,
  perEnd,
  runsOf,
  type ShapeWords,
} from './shaping-steps.ts';

/** Most stitches shaped one beside the other at an end. Chosen: more would pucker. */
const MOST_AT_ENDS = 3;

type ShapeClause = ShapeWords & Pick<HowOften, 'between'>;

export function workShaping(clause: ShapeClause, piece: WorkedPiece): void {
  const last = lastShaping(piece);
  const { shaping } = clause;
  const all =
    shaping?.perSide && shaping.count !== null
      ? { ...shaping, count: shaping.count * piece.sections() }
      : shaping;
  const sides = piece.sections();
  if (all?.each && sides > 1 && all.each * sides !== all.count) {
    const message = `${all.each} on each side are ${all.each * sides} of ${sides} sides, not ${all.count}`;
    piece.sayLost('counts-disagree', clause, message);
    return;
  }
  const given = clause.told?.steps ?? (all ? namedSteps(all, last, clause, piece) : null);
  // "3 stitches on each needle, at both ends of it"
  const atEnds = all?.where === 'sides' || all?.where === 'ends';
  const many = atEnds ? perEnd(all, all.where === 'sides' ? sides : 1) : 1;
  if (!Number.isInteger(many) || many > MOST_AT_ENDS) {
    piece.sayLost(
      'counts-disagree',
      clause,
      'so many stitches cannot be shaped at both ends alike',
    );
    return;
  }
  const own = given && inFabric(given, runsOf(clause, piece));
  if (!own && !last) {
    const message = 'this goes on with the shaping, but no round before it decreases or increases';
    piece.sayLost('unknown-round', clause, message);
    return;
  }
  const { tail } = clause;
  if (tail.open && tail.times === null && tail.untilStitches === null) {
    piece.sayNoEnd(clause);
    return;
  }
  const target = piece.targetOf(tail);
  // "until 40 rounds have been worked"
  const most =
    (tail.untilRounds ?? Number.POSITIVE_INFINITY) - (tail.fromStart ? piece.rounds.length : 0);
  const once = target === null && tail.untilRounds === null && tail.lastStitches === null;
  let times = tail.times ?? (once ? 1 : Number.POSITIVE_INFINITY);
  // "repeat the decrease every other round a total of 9 times": the first is worked.
  const other = last?.earlier && tail.every !== null && tail.every !== last.period;
  if (!own && tail.total && tail.times !== null && !other) times -= 1;
  goOn(clause, own, last, target, times, most, piece);
  const endWith = tail.endWith && likeNumbered(tail.endWith, piece);
  const shaped = endWith !== null && 'like' in endWith && endWith.like === 'shaped';
  if (!endWith || shaped || !piece.goesOn) return;
  // "ending with a purl round": plain rounds up to there.
  const again = lastShaping(piece);
  const period = tail.every ?? again?.period ?? 1;
  const between = plainBetween(again, Math.max(2, period), clause, piece);
  // "ending with a knitted round" where the rounds between are purled: the shaping round is meant.
  const purled = between.every(
    (d) => d.steps.length === 1 && d.steps[0].kind === 'stitch' && d.steps[0].name === 'p',
  );
  if (purled && 'like' in endWith && endWith.like === 'knit') return;
  for (let i = 0; i < between.length && piece.goesOn && !piece.endsWith(endWith); i++) {
    piece.work(fitted(between[i], piece));
  }
}

/** "ending with round 4": shaped or plain, as the round of that number was. */
function likeNumbered(
  end: EndRound,
  { rounds, history }: Pick<WorkedPiece, 'rounds' | 'history'>,
): EndRound {
  if ('without' in end) {
    // What is left out is of the other kind.
    const out = end.without && likeNumbered(end.without, { rounds, history });
    return { like: out && 'like' in out && out.like === 'shaped' ? 'plain' : 'shaped' };
  }
  if (!('number' in end)) return end;
  const n = end.number;
  const at = history.findLastIndex((d) => d.label.replace(/ \(.*$/, '').endsWith(` ${n}`));
  if (at < 0) return end;
  return { like: rounds[at].after === rounds[at].before ? 'plain' : 'shaped' };
}

/** The shaping so far for so many rounds. */
export function workShapingRounds(clause: ShapeClause, rounds: number, piece: WorkedPiece): void {
  const last = lastShaping(piece);
  if (!last) {
    const message = 'this goes on with the shaping, but no round before it decreases or increases';
    piece.sayLost('unknown-round', clause, message);
    return;
  }
  goOn(clause, null, last, null, Number.POSITIVE_INFINITY, rounds, piece);
}

/** "Rounds 4-9: as set" behind a shaping round and its plain ones; false where nothing goes on so. */
export function workAsSet(clause: Place & HowOften, rounds: number, piece: WorkedPiece): boolean {
  const last = lastShaping(piece);
  const told = last?.since !== 0 || (last.earlier && last.period > 1) || clause.tail.every !== null;
  if (!last || !told) return false;
  goOn(clause, null, last, null, Number.POSITIVE_INFINITY, rounds, piece);
  return true;
}

interface HowOften {
  readonly fabric?: ShapeWords['fabric'];
  readonly told?: ShapeWords['told'];
  /** Plain rounds before the first that shapes, where the text tells which ones do. */
  readonly ahead?: number | null;
  /** The rounds between the shaping ones, where the text names them. */
  readonly between?: readonly RoundDef[];
  readonly tail: {
    readonly every: number | null;
    readonly inARow: number | null;
    readonly fewer: number | null;
    readonly atOnce: boolean;
    readonly shapes?: Tail['shapes'];
    readonly between?: 'k' | 'p' | null;
    readonly lastStitches?: Tail['lastStitches'];
    readonly keeps?: 'k' | 'p' | null;
  };
}

/** Works shaping rounds, at most `times` of them and `most` rounds in all, until `target` stitches are left. */
function goOn(
  clause: Place & HowOften,
  own: readonly Step[] | null,
  last: LastShaping | null,
  target: number | null,
  times: number,
  most: number,
  piece: WorkedPiece,
): void {
  const { tail } = clause;
  const place = trimmed(piece.source, clause);
  const goesOn = own ? null : last && inNewFabric(last, clause.fabric, piece);
  const every = tail.every ?? goesOn?.period ?? 1;
  const between = plainBetween(goesOn, every, clause, piece);
  // "purling the centre stitch": as the rounds between have it.
  const { keeps } = tail;
  if (
    keeps &&
    !between.every(({ steps }) => steps.some((s) => s.kind === 'pattern' || works(s, keeps)))
  ) {
    piece.sayNotFollowed(place);
    return;
  }
  const ahead = clause.ahead ?? null;
  let skip =
    ahead !== null
      ? Math.max(0, every - 1 - ahead)
      : goesOn
        ? Math.min(goesOn.since, every - 1)
        : 0;
  const inARow = tail.inARow ?? 1;
  const begun = inARow > 1 && skip === 0 ? shapedInARow(piece) : 0;
  const turn = own ? null : turnFor(clause, piece);
  let at = 0;
  const up = target !== null && target > piece.count;
  const stop = piece.rounds.length + most;
  for (let i = 0; i < times && piece.goesOn; i++) {
    if (target !== null && piece.count === target) {
      if (i === 0) sayReached(target, clause, piece);
      return;
    }
    const { count } = piece;
    const side = i === 0 && !piece.inRound ? sideOf(tail.shapes) : null;
    if (turn) {
      for (; !turn[at % turn.length].shapes; at++) {
        if (piece.rounds.length >= stop || !piece.goesOn) return;
        piece.work(plainOfTurn(turn[at % turn.length], 1 + Math.floor(at / turn.length), piece));
      }
    } else if (side) {
      // "on every right-side row": the first of them that comes.
      if (piece.wrongSideNow !== (side === 'ws')) piece.work(fitted(between[0], piece));
    } else if ((i + begun) % inARow === 0 && (i > 0 || !tail.atOnce)) {
      for (const plain of between.slice(skip)) {
        if (piece.rounds.length >= stop || !piece.goesOn) return;
        piece.work(fitted(plain, piece));
      }
    }
    skip = 0;
    if (!piece.goesOn || piece.rounds.length >= stop) return;
    const next = turn
      ? nextOfTurn(turn[at % turn.length], 1 + Math.floor(at++ / turn.length), piece)
      : goesOn && nextShaping(goesOn, i + 1, tail.fewer, piece);
    const steps = own ?? (next && inFabric(next, clause.fabric));
    if (!steps) {
      piece.sayMissed(
        target,
        clause,
        'repeat-never-ends',
        `going on like this never leaves ${target === null ? 'a round that works out' : stitches(target)}: no plain stitches are left between the decreases at ${piece.count}`,
        'Check the number that should remain, or write the last rounds out.',
      );
      return;
    }
    const pace = tail.every === null ? null : { pace: every };
    const stated = i === 0 ? (clause.told?.stated ?? null) : null;
    piece.work({ ...unnumberedDef(place, piece.inRound, steps), ...pace, stated });
    if (target === null) {
      if (!tail.lastStitches) continue;
      if (worksAlike(steps, tail.lastStitches)) return;
      if (piece.count !== count) continue;
      const never = `going on like this never comes to the round of ${tail.lastStitches.map(spelled).join(', ')}`;
      piece.sayMissed(target, clause, 'repeat-never-ends', never);
      return;
    }
    const never = `going on like this never leaves ${stitches(target)}`;
    if (!comesNearer(count, piece.count, up)) {
      piece.sayMissed(target, clause, 'repeat-never-ends', never);
      return;
    }
    if (up ? piece.count > target : piece.count < target) {
      piece.sayMissed(
        target,
        clause,
        'repeat-misses-count',
        `${never}: the count goes past it to ${piece.count}`,
        'Check the count before it, or the number that should remain.',
      );
      return;
    }
  }
}

/** The shaping so far, as it goes on in the fabric that is told. */
function inNewFabric(
  last: LastShaping,
  fabric: ShapeWords['fabric'],
  piece: WorkedPiece,
): LastShaping {
  if (!fabric || typeof fabric === 'string') return last;
  const { def, before, earlier } = last;
  const steps = boundSteps(def, before, piece);
  const changed = changedTo(steps, fabric, piece.inRound);
  const earlierSteps = earlier && changedTo(earlier.steps, fabric, piece.inRound);
  return {
    ...last,
    def: { ...def, steps: changed },
    earlier: earlier && earlierSteps && { ...earlier, steps: earlierSteps },
  };
}

/** The longer turn that the rounds have kept to, where the clause tells nothing else. */
function turnFor(clause: Place & HowOften, piece: WorkedPiece): RoundCycle | null {
  const { every, inARow, between, shapes } = clause.tail;
  const told = clause.between ?? clause.fabric ?? clause.ahead ?? between ?? inARow ?? shapes;
  const turn = told == null ? roundCycle(piece) : null;
  return turn && (every === null || gapsOf(turn).every((g) => g === every)) ? turn : null;
}

function plainOfTurn(turn: RoundCycle[number], passed: number, piece: WorkedPiece): RoundDef {
  const label = nextLabel(piece.inRound);
  const { colour: _, ...told } = turn.def;
  const def = { ...told, steps: turn.steps, stated: null, label, side: null };
  if (piece.fixedOfAll(def.steps) === piece.count || followsBelow(def, piece))
    return fitted(def, piece);
  return { ...def, steps: nextOfTurn(turn, passed, piece) ?? def.steps };
}

/** Rounds up to here that shape, one behind the other. */
function shapedInARow({ rounds }: WorkedPiece): number {
  const plain = rounds.findLastIndex((r) => r.after === r.before);
  return rounds.length - 1 - plain;
}

function sideOf(shapes: Tail['shapes'] | undefined): 'rs' | 'ws' | null {
  return shapes === 'rs' || shapes === 'ws' ? shapes : null;
}

/** The step works some of its stitches so. */
function works(step: Step, name: string): boolean {
  if (step.kind === 'group') return step.steps.some((s) => works(s, name));
  return step.kind === 'stitch' && step.name === name;
}

/** Plain rounds in between are those between the last two shaped ones, if there are as many. */
function plainBetween(
  last: LastShaping | null,
  every: number,
  clause: Place & HowOften,
  piece: WorkedPiece,
): RoundDef[] {
  const place = trimmed(piece.source, clause);
  if (clause.between) return clause.between.map((d) => ({ ...d, stated: null }));
  const named = clause.tail.between;
  if (named) {
    const steps = stitchSteps(named, place);
    return Array.from({ length: every - 1 }, () => unnumberedDef(place, piece.inRound, steps));
  }
  if (clause.fabric) return betweenIn(clause.fabric, every, place, piece);
  // Those since the last shaping round, where they are all; else those before it.
  const since = last ? piece.history.slice(piece.history.length - last.since) : [];
  const known = [since, last?.between].find((rounds) => last && rounds?.length === every - 1);
  if (known) {
    const label = nextLabel(piece.inRound);
    // Their colour is what the stripes, or the yarn in hand, come to.
    return known.map(({ colour: _, ...d }) => ({ ...d, stated: null, label, side: null }));
  }
  if (piece.ground && !last) return betweenIn(piece.ground, every, place, piece);
  const steps = patternSteps('set', place);
  return Array.from({ length: every - 1 }, () => unnumberedDef(place, piece.inRound, steps));
}

/** Plain rounds in the fabric that the clause names. Garter stitch in the round is shaped on its knit rounds (common practice). */
function betweenIn(
  fabric: NonNullable<ShapeWords['fabric']>,
  every: number,
  place: Place,
  piece: WorkedPiece,
): RoundDef[] {
  const plain = groundSteps(fabric, place);
  const begins =
    typeof fabric !== 'string' && fabric.rule === 'garter' && piece.rounds.length === 0;
  const purled = begins && piece.inRound && every % 2 === 0 ? stitchSteps('p', place) : plain;
  return Array.from({ length: every - 1 }, (_, i) =>
    unnumberedDef(place, piece.inRound, i === 0 ? purled : plain),
  );
}

/** A round between two shaping rounds, its plain stretches made to fit. */
function fitted(def: RoundDef, piece: WorkedPiece): RoundDef {
  if (piece.fixedOfAll(def.steps) === piece.count) return def;
  const steps = followsBelow(def, piece) ? patternSteps('set', def) : piece.fitted(def.steps);
  return steps ? { ...def, steps } : def;
}

/** `k2`, `k2tog` */
export function spelled({
  name,
  times,
}: {
  readonly name: string;
  readonly times: number;
}): string {
  return /^[kp]$/.test(name) ? `${name}${times}` : name;
}

/** The round, or the bracket that it repeats, consists of these stitches; null where it does not say how many. */
export function worksAlike(
  steps: readonly Step[],
  told: NonNullable<Tail['lastStitches']>,
): boolean | null {
  const groups = steps.filter((s) => s.kind === 'group');
  const edges = steps.every(
    (s) => s.kind === 'group' || (s.kind === 'stitch' && s.name.length === 1),
  );
  if (groups.length === 1 && edges) return worksAlike(groups[0].steps, told);
  const known = steps.map((s) => (s.kind === 'stitch' && 'times' in s.amount ? s : null));
  if (known.includes(null)) return null;
  const fixed = known.filter((s) => s && 'times' in s.amount && s.amount.times > 0);
  return (
    fixed.length === told.length &&
    fixed.every(
      (s, i) =>
        s !== null &&
        s.name === told[i].name &&
        'times' in s.amount &&
        s.amount.times === told[i].times,
    )
  );
}
