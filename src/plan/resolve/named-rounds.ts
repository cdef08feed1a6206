/**
 * Rounds worked again by their name, and a round at every so many: "work a decrease round every 4th round 5 times". In:
 * the clause, the piece, what names mean. Out: rounds worked, and diagnostics where no end is reached.
 */
import type { Tail, WorkClause } from '../grammar/ast.ts';
import { patternSteps, stitchSteps } from '../grammar/steps/patterns.ts';
import type { Place } from '../lex/source.ts';
import { nextInLine, same } from '../work/fit-steps.ts';
import { type LastShaping, lastShaping, nextShaping } from '../work/next-shaping.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { comesNearer } from './repeats.ts';
import { nextLabel, type RoundDef, unnumberedDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';
import { workShaping } from './shaping.ts';

export function workNamed(
  clause: Extract<WorkClause, { kind: 'named' }>,
  piece: WorkedPiece,
  scope: RoundScope,
): void {
  const { tail } = clause;
  const name = bareName(clause.name, scope);
  const def = scope.named(name);
  // "Rnd 3 (dec rnd): …", and then "work the dec rnd until 48 sts remain": with what lay between
  const goesOn = tail.every === null && (tail.untilStitches !== null || tail.times !== null);
  const last = lastShaping(piece);
  const changes = def !== undefined && last !== null && changesEachTime(def, tail, last);
  const told = def && !(goesOn && scope.onlyCalled(name)) && !changes;
  if (!told && last && (changes || /^(?:decrease|increase)$/.test(name))) {
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
  if (!def && scope.hasFailed(name)) {
    piece.counts.believed.begin(null);
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
  workEveryNth(
    { ...def, stated: null, ...follows },
    clause,
    tail,
    piece,
    scope,
    clause.repeats,
    name,
  );
}

/** "A second decrease round", "the last pinch round": by the name alone, where no round has the whole of it. */
function bareName(name: string, scope: RoundScope): string {
  if (scope.named(name)) return name;
  return name.replace(
    /^(?:first|second|third|fourth|fifth|sixth|1st|2nd|3rd|\d+th|last|final|another|new|similar) (?=[a-z])/,
    '',
  );
}

/**
 * "Decrease at every marker on the next round", where the text tells elsewhere how it decreases: with those stitches. As it
 * is where the clause names stitches of its own, or goes on with the shaping so far.
 */
export function asTold(
  clause: Extract<WorkClause, { kind: 'shape' }>,
  piece: WorkedPiece,
  scope: RoundScope,
): Extract<WorkClause, { kind: 'shape' }> {
  const { shaping, told } = clause;
  if (told || shaping?.stitch || shaping?.edges) return clause;
  if (shaping?.where === 'evenly' || shaping?.where === 'begin' || shaping?.where === 'end')
    return clause;
  const names = shaping ? [shaping.decrease ? 'decrease' : 'increase'] : ['decrease', 'increase'];
  const name = names.find((n) => scope.named(n));
  const def = name && scope.named(name);
  const last = lastShaping(piece);
  // "Go on until 8 sts remain" does not say how often.
  if (!shaping && clause.tail.every === null) return clause;
  if (!def || (last && (!shaping || last.def.steps !== def.steps))) return clause;
  if (last && shaping) {
    const all = shaping.where === null && !shaping.perSide ? shaping.count : null;
    const { before, after } = piece.rounds[piece.rounds.length - 1 - last.since];
    const same = all === null || Math.abs(after - before) === all;
    return same ? { ...clause, shaping: { ...shaping, count: null, where: null } } : clause;
  }
  const all = shaping && shaping.where === null && !shaping.perSide ? shaping.count : null;
  const change = all === null ? null : name === 'decrease' ? -all : all;
  const stated = change === null ? null : { total: null, perSide: null, change };
  return { ...clause, told: { steps: def.steps, stated } };
}

/** The round is the last shaping, and told with other numbers each time: "with one stitch less before each decrease". */
function changesEachTime({ steps }: RoundDef, { fewer }: Tail, last: LastShaping): boolean {
  if (last.def.steps !== steps) return false;
  const next = last.earlier && nextInLine(last.earlier.steps, steps, 1);
  return fewer !== null || (next !== null && !same(next, steps));
}

/** "a decrease round" among others of a sequence, where none has that name: the last round that decreased, once more. */
export function shapedLast(name: string, clause: Place, piece: WorkedPiece): RoundDef | null {
  const last = /^(?:decrease|increase)$/.test(name) ? lastShaping(piece) : null;
  if (!last) return null;
  const { before, after } = piece.rounds[piece.rounds.length - 1 - last.since];
  const steps = after < before === (name === 'decrease') && nextShaping(last, 1, null, piece);
  return steps ? unnumberedDef(clause, piece.inRound, steps) : null;
}

/** A round worked again, with plain ones before each time where "every 4th round" says so. */
export function workEveryNth(
  def: RoundDef,
  at: Place,
  tail: Tail,
  piece: WorkedPiece,
  scope: RoundScope,
  repeats = true,
  name = '',
): void {
  const plain: RoundDef = {
    ...def,
    steps: tail.between ? stitchSteps(tail.between, at) : patternSteps('set', at),
    stated: null,
    label: nextLabel(piece.inRound),
    side: null,
  };
  const every = tail.every ?? 1;
  // "Decrease round: …" then "work decrease round every 4th round 5 times": the first is done.
  const described = !(repeats || tail.more) && name !== '' && scope.justDescribed(name);
  const since = plainSince(def, every, piece);
  const first = described || (tail.total && since !== null);
  const bounded = tail.untilStitches !== null;
  const asked = tail.times ?? (bounded ? Number.POSITIVE_INFINITY : 1);
  const times = asked - (first ? 1 : 0);
  const target = piece.targetOf(tail);
  const up = target !== null && target > piece.count;
  for (let i = 0; i < times && piece.goesOn; i++) {
    if (target !== null && piece.count === target) break;
    const { count } = piece;
    // "work dec rnd followed by a purl rnd 8 times"
    const atOnce = tail.atOnce || (tail.afterEach && (since === null || (repeats && !first)));
    if (!(i === 0 && atOnce))
      for (let j = 1 + (i === 0 ? (since ?? 0) : 0); j < every && piece.goesOn; j++)
        piece.work(plain);
    piece.work(def);
    if (target === null) continue;
    if (!comesNearer(count, piece.count, up)) {
      piece.sayMissed(target, at, 'repeat-never-ends', `this never leaves ${stitches(target)}`);
      break;
    }
    if (up ? piece.count > target : piece.count <= target) break;
  }
  const { endWith } = tail;
  const once = tail.afterEach && tail.times === null && !bounded;
  if (once || (endWith && 'like' in endWith && endWith.like === 'plain'))
    for (let j = 1; j < every && piece.goesOn; j++) piece.work(plain);
}

/** How many plain rounds have been worked since `def`, fewer than lie between two of its kind; null where it is not the last. */
function plainSince(def: RoundDef, every: number, { history, rounds }: WorkedPiece): number | null {
  const at = history.findLastIndex((d) => d.steps === def.steps);
  const since = history.length - 1 - at;
  const plain = rounds.slice(at + 1).every((r) => r.before === r.after);
  return at >= 0 && since < every && plain ? since : null;
}
