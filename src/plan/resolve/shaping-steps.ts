/**
 * The stitches of a shaping round told in words: evenly spread, at both ends, at an edge, in the ground of a fabric. In: a shaping, its
 * place. Out: steps; null where it can't be told how. Stitches not named: ssk, k2tog, kfb, m1 (common practice).
 */
import type { Shaping, WorkClause } from '../grammar/ast.ts';
import { type Fabric, patternSteps, stitchSteps } from '../grammar/steps/patterns.ts';
import { plainOf } from '../grammar/steps/spread-steps.ts';
import {
  type Amount,
  betweenEdges,
  isTarget,
  type Step,
  shapedAtEnds,
} from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import { stitchKind } from '../stitches/table.ts';
import { type LastShaping, lastShaping } from '../work/next-shaping.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';

export type ShapeWords = Extract<WorkClause, { kind: 'shape' }>;

/** One round that loses or gains so many stitches evenly, `run` what lies between them. */
export function spreadSteps(
  { decrease, count, stitch }: Shaping,
  at: Place,
  run: Step | null = null,
): Step[] {
  const name = stitch ?? (decrease ? 'k2tog' : 'm1');
  const { from, to } = at;
  return [{ kind: 'spread', name, times: count ?? 0, ...plainOf(run), from, to }];
}

/** Stitches bound off at the beginning of a row. */
export function edgeSteps({ count, from, to }: Place & { readonly count: number }): Step[] {
  return [
    { kind: 'stitch', name: 'bo1', amount: { times: count }, from, to },
    ...patternSteps('set', { from, to }),
  ];
}

/** One round that loses or gains a stitch at both ends, or at both ends of each side. */
function endSteps(
  { decrease, where, stitch, edges }: Shaping,
  { from, to }: Place,
  everySide: boolean,
  piece: WorkedPiece,
  many = 1,
): Step[] {
  const span = { from, to };
  const once = { times: 1 };
  if (where === 'begin' || where === 'end') {
    const step: Step = {
      kind: 'stitch',
      name: stitch ?? (decrease ? 'k2tog' : 'kfb'),
      amount: once,
      ...span,
    };
    const rest = patternSteps('set', span);
    return where === 'begin' ? [step, ...rest] : [...rest, step];
  }
  const steps = edges
    ? betweenEdges(edges[0], edges[1], stitchKind(edges[1])?.consumes ?? 1, span)
    : shapedAtEnds(decrease, span, stitch, many);
  const group = {
    kind: 'group',
    steps,
    amount: once,
    otherTimes: null,
    eachSide: true,
    ...span,
  } as const;
  const [first, last] = piece.edgeCounts();
  const edge = (times: number): Step[] =>
    times > 0 ? [{ kind: 'pattern', rule: 'set', amount: { times }, ...span }] : [];
  if (everySide) return [...edge(first), group, ...edge(last)];
  return first + last === 0 ? steps : [...edge(first), ...before(steps, last), ...edge(last)];
}

/** A double decrease over the middle stitch, centred where the text names none (common practice). */
function centreSteps({ stitch }: Shaping, { from, to }: Place): Step[] {
  const span = { from, to };
  const upTo = { kind: 'centre', count: 1 } as const;
  return [
    { kind: 'pattern', rule: 'set', amount: upTo, ...span },
    { kind: 'stitch', name: stitch ?? 's2kp', amount: { times: 1 }, ...span },
    ...patternSteps('set', span),
  ];
}

/** The steps with what goes to the end stopping so many stitches sooner. */
function before(steps: readonly Step[], count: number): Step[] {
  return steps.map((s) =>
    'amount' in s && 'kind' in s.amount && s.amount.kind === 'end'
      ? ({ ...s, amount: { ...s.amount, count: s.amount.count + count } } as Step)
      : s,
  );
}

/** How many stitches are taken or added at each end, where shaping is told at the ends of `sides`; a fraction where it does not come out. */
export function perEnd({ count, each, perSide }: Shaping, sides: number): number {
  if (each !== undefined) return each / 2;
  if (count === null || count === 2 * sides) return 1;
  return perSide ? count / sides / 2 : count;
}

/** Steps of one round of the shaping, as part of other instructions; null where they depend on what went before. */
export function shapingSteps(
  clause: ShapeWords,
  shaping: Shaping,
  piece: WorkedPiece,
): readonly Step[] | null {
  const last = lastShaping(piece);
  const own = namedSteps(shaping, last, clause, piece);
  // The shaping so far goes on where its steps fit any count.
  if (!own && last && piece.fixedOfAll(last.def.steps) === null)
    return inFabric(last.def.steps, clause.fabric);
  const steps = own ?? namedSteps(shaping, null, clause, piece);
  return steps && inFabric(steps, runsOf(clause, piece));
}

/** What lies between the stitches that shape, as the clause or the ground of the piece tells it; null where the stitches show it. */
export function runsOf(
  { fabric, tail }: ShapeWords,
  { ground }: WorkedPiece,
): ShapeWords['fabric'] | null {
  // "…, purling the rounds between": those that shape are knitted.
  return fabric ?? ground ?? (tail.between ? 'k' : null);
}

/** The steps with their runs, up to some place, in the fabric that is told; counted stitches stay. */
export function inFabric(
  steps: readonly Step[],
  fabric: ShapeWords['fabric'] | null,
): readonly Step[] {
  if (!fabric) return steps;
  return steps.map((s): Step => {
    if (s.kind === 'group') return { ...s, steps: inFabric(s.steps, fabric) };
    if (s.kind !== 'pattern' && s.kind !== 'stitch') return s;
    const run = s.kind === 'pattern' ? s.rule === 'set' : s.name === 'k';
    if (!run || !isTarget(s.amount)) return s;
    return fabricStep(fabric, s.amount, s);
  });
}

/** Steps of the shaping that a clause names; null where the shaping so far goes on. */
export function namedSteps(
  shaping: Shaping,
  last: LastShaping | null,
  at: Place,
  piece: WorkedPiece,
): readonly Step[] | null {
  const { count, where, stitch, edges } = shaping;
  if (where === 'evenly') return count === null ? null : spreadSteps(shaping, at);
  if (where === 'begin' || where === 'end') {
    return last && sameChange(last, shaping, piece) ? null : endSteps(shaping, at, false, piece);
  }
  if (where === 'centre') {
    const told = { ...shaping, count: count ?? 2 };
    return last && stitch === null && sameChange(last, told, piece)
      ? null
      : centreSteps(shaping, at);
  }
  if (where !== null) {
    // "8 sts, one at each end of every needle", but "1 st at each end of every needle"
    const sides = where === 'sides' ? piece.sections() : 1;
    const many = perEnd(shaping, sides);
    const changed = 2 * many * sides;
    const goesOn =
      last &&
      stitch === null &&
      sameChange(last, { ...shaping, count: changed }, piece) &&
      (!edges || shapedBy(last.def.steps).join() === edges.join());
    return goesOn ? null : endSteps(shaping, at, where === 'sides', piece, many);
  }
  if (count === null) return null;
  const sides = piece.sections();
  if (last && sameChange(last, shaping, piece)) return null;
  if (sides > 1 && count === 2 * sides) return endSteps(shaping, at, true, piece);
  if (count === 2 && !piece.inRound) return endSteps(shaping, at, false, piece);
  return spreadSteps(shaping, at);
}

/** Names of the stitches that shape, in one repeat of them. */
export function shapedBy(steps: readonly Step[]): string[] {
  const all = steps.flatMap((s): readonly Step[] => (s.kind === 'group' ? s.steps : [s]));
  return all.flatMap((s) => (s.kind === 'stitch' && !/^[kp]$/.test(s.name) ? [s.name] : []));
}

/** Most stitches of an edge that goes on beside another fabric. Chosen: one or two frame the decreases. */
const WIDEST_EDGE = 2;

/**
 * The steps of a shaping round that goes on in another fabric: all that lies between the stitches that shape, but for one
 * or two at an edge.
 */
export function changedTo(steps: readonly Step[], fabric: Fabric, inRound: boolean): Step[] {
  // Garter in the round is shaped on its knit rounds (common practice).
  const garter = inRound && fabric.rule === 'garter';
  const within = garter ? 'k' : fabric;
  const longest = Math.max(0, ...steps.map(plainCount));
  const out: Step[] = [];
  let run = 0;
  const close = (at: Place): void => {
    if (run > 0) out.push(fabricStep(within, { times: run }, at));
    run = 0;
  };
  steps.forEach((s, i) => {
    const outer = i === 0 || i === steps.length - 1;
    const edge = outer && plainCount(s) <= WIDEST_EDGE && longest > 2 * WIDEST_EDGE;
    const count = edge ? 0 : plainCount(s);
    if (count === 0) close(s);
    if (s.kind === 'group') out.push({ ...s, steps: changedTo(s.steps, fabric, inRound) });
    else if (count === 0) out.push(...(edge ? [s] : inFabric([s], within)));
    run += count;
  });
  const last = steps[steps.length - 1];
  if (last) close(last);
  return out;
}

/** Stitches that a step works and leaves as many; 0 where it shapes, or goes up to some place. */
function plainCount(step: Step | undefined): number {
  if (step?.kind !== 'stitch' && step?.kind !== 'pattern') return 0;
  if (!('times' in step.amount)) return 0;
  if (step.kind === 'pattern') return step.amount.times;
  const kind = stitchKind(step.name);
  return kind && kind.consumes === kind.loops.length ? kind.consumes * step.amount.times : 0;
}

function fabricStep(fabric: NonNullable<ShapeWords['fabric']>, amount: Amount, at: Place): Step {
  const { from, to } = at;
  return typeof fabric === 'string'
    ? { kind: 'stitch', name: fabric, amount, from, to }
    : { kind: 'pattern', rule: fabric.rule, rib: fabric.rib, amount, from, to };
}

/** Steps of a plain round in the fabric that is told. */
export function groundSteps(fabric: NonNullable<ShapeWords['fabric']>, place: Place): Step[] {
  return typeof fabric === 'string'
    ? stitchSteps(fabric, place)
    : patternSteps(fabric.rule, place, fabric.rib);
}

/** The last shaping changed the count as the words say. */
function sameChange(
  last: LastShaping,
  { decrease, count }: Shaping,
  { rounds }: WorkedPiece,
): boolean {
  const done = rounds[rounds.length - 1 - last.since];
  const by = decrease ? done.before - done.after : done.after - done.before;
  return count === null ? by > 0 : by === count;
}
