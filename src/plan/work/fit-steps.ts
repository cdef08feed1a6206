/**
 * Instructions that change from one shaping round to the next: "in this way", "one stitch fewer between
 * decreases each time". Input: the steps of the rounds as written. Output: the steps of the next round, its
 * plain runs longer or shorter as meant; null where that cannot be told.
 */
import type { GroupStep, PatternStep, Step, StitchStep } from '../grammar/steps/steps.ts';
import { stitchKind } from '../stitches/table.ts';

/** Most sides of a piece whose number is not said. Chosen. */
export const MOST_SIDES = 8;

/** Stitches worked plain or in a pattern, so many of them. */
type Run = StitchStep | PatternStep;

function plainRun(step: Step | undefined): step is Run {
  if (step?.kind === 'pattern') return 'times' in step.amount;
  return (
    step?.kind === 'stitch' && (step.name === 'k' || step.name === 'p') && 'times' in step.amount
  );
}

function timesOf(step: Run): number {
  return 'times' in step.amount ? step.amount.times : 0;
}

/** Stitches of the longest plain run among the steps; 0 where there is none. */
export function longestRun(steps: readonly Step[]): number {
  return Math.max(0, ...steps.filter(plainRun).map(timesOf));
}

/** A stitch that changes the count, or stitches called by one name that hold one. */
function shapes(step: Step | undefined): boolean {
  if (step?.kind === 'group') return same(step.amount, { times: 1 }) && step.steps.some(shapes);
  if (step?.kind !== 'stitch') return false;
  const kind = stitchKind(step.name);
  return kind !== null && kind !== undefined && kind.loops.length !== kind.consumes;
}

/** True where both work the same stitches, apart from the lengths of plain runs. */
export function alike(a: readonly Step[], b: readonly Step[]): boolean {
  return (
    a.length === b.length &&
    a.every((s, i) => {
      const t = b[i];
      if (s.kind !== t.kind) return false;
      if (s.kind === 'stitch' && t.kind === 'stitch') {
        if (s.name !== t.name) return false;
        return (plainRun(s) && plainRun(t)) || same(s.amount, t.amount);
      }
      if (s.kind === 'group' && t.kind === 'group') {
        return same(s.amount, t.amount) && s.eachSide === t.eachSide && alike(s.steps, t.steps);
      }
      if (s.kind === 'pattern' && t.kind === 'pattern') {
        return s.rule === t.rule && ((plainRun(s) && plainRun(t)) || same(s.amount, t.amount));
      }
      if (s.kind === 'marker' && t.kind === 'marker') return s.action === t.action;
      if (s.kind === 'spread' && t.kind === 'spread') return s.times === t.times;
      return true;
    })
  );
}

/** True where both say the same, places in the text included. */
export function same(a: object, b: object): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function extend(earlier: readonly Step[], later: readonly Step[], by: number): Step[] | null {
  const out: Step[] = [];
  for (let i = 0; i < later.length; i++) {
    const a = earlier[i];
    const b = later[i];
    if (plainRun(a) && plainRun(b)) {
      const times = timesOf(b) + by * (timesOf(b) - timesOf(a));
      if (times < 0) return null;
      out.push({ ...b, amount: { times } });
    } else if (a.kind === 'group' && b.kind === 'group') {
      const steps = extend(a.steps, b.steps, by);
      if (!steps) return null;
      out.push({ ...b, steps });
    } else out.push(b);
  }
  return out;
}

/**
 * The shaping round `by` rounds after `later`, which followed `earlier`: each plain run changes as it did
 * between the two. Null where the two differ in more than their plain runs, or a run is used up.
 */
export function nextInLine(
  earlier: readonly Step[],
  later: readonly Step[],
  by: number,
): Step[] | null {
  return alike(earlier, later) ? extend(earlier, later, by) : null;
}

/** The one bracket that the round consists of, and its place; null where there is none or several. */
function onlyGroup(steps: readonly Step[]): { group: GroupStep; at: number } | null {
  let at = -1;
  for (let i = 0; i < steps.length; i++) {
    if (steps[i].kind !== 'group') continue;
    if (at >= 0) return null;
    at = i;
  }
  const group = steps[at];
  return group?.kind === 'group' ? { group, at } : null;
}

/** Places of the plain runs that shaping takes from: beside it, or the longest where nothing is shaped. */
function yielding(steps: readonly Step[]): number[] {
  const shaped: number[] = [];
  let longest = 0;
  steps.forEach((s, i) => {
    if (!plainRun(s)) return;
    longest = Math.max(longest, timesOf(s));
    if (shapes(steps[i - 1]) || shapes(steps[i + 1])) shaped.push(i);
  });
  // "k1, yo, k1, yo, k1": the middle one, where edges stand outside of a pair
  const inner = shaped.filter((i) => shapes(steps[i - 1]) && shapes(steps[i + 1]));
  const edges = shaped.filter((i) => !inner.includes(i)).map((i) => timesOf(steps[i] as Run));
  if (inner.length > 0 && edges.length === 2 && edges.every((n) => n === 1)) return inner;
  if (shaped.length > 0) {
    // Where a lone edge stitch stands beside the decrease as well, the long run is meant.
    const most = Math.max(...shaped.map((i) => timesOf(steps[i] as Run)));
    return shaped.filter((i) => timesOf(steps[i] as Run) * 2 > most);
  }
  const out: number[] = [];
  steps.forEach((s, i) => {
    if (plainRun(s) && timesOf(s) === longest && !(s.kind === 'stitch' && s.name === 'p'))
      out.push(i);
  });
  return out;
}

/**
 * `steps`, written for more or fewer stitches, with the plain runs beside the shaping shortened or
 * lengthened so that they work `count`. `fixedOf` tells how many stitches a list of steps works. Null
 * where they cannot be made to fit.
 */
export function fitSteps(
  steps: readonly Step[],
  count: number,
  sides: number | null,
  fixedOf: (steps: readonly Step[]) => number | null,
): Step[] | null {
  const parts = steps.every((s) => s.kind === 'group' && s.part === true)
    ? (steps as readonly GroupStep[])
    : [];
  if (parts.length > 1) {
    const room = count / parts.length;
    const out = parts.map((part) => {
      const width = fixedOf(part.steps);
      const inner = width === null ? null : shift(part.steps, width - room);
      return inner && { ...part, steps: inner };
    });
    return out.every((p) => p !== null) ? (out as Step[]) : null;
  }
  const only = onlyGroup(steps);
  if (!only?.group.steps.some(plainRun)) {
    const width = fixedOf(steps);
    return width === null ? null : shift(steps, width - count);
  }
  const { group, at } = only;
  const width = fixedOf(group.steps);
  const outside = fixedOf(steps.filter((_, i) => i !== at));
  const times = group.eachSide || !('times' in group.amount) ? sides : group.amount.times;
  if (width === null || outside === null || times === null || times < 1) return null;
  // A rib repeated twenty times is no side of the piece.
  if (!group.steps.some(shapes) && times !== sides && times > MOST_SIDES) return null;
  const room = (count - outside) / times;
  if (!Number.isInteger(room)) return null;
  // A rib or texture to the end that goes in evenly stays as it is.
  const even = width > 0 && (count - outside) % width === 0;
  if (!('times' in group.amount) && even && width < room) return [...steps];
  const inner = shift(group.steps, width - room);
  if (!inner) return null;
  return steps.map((s, i) => (i === at ? { ...group, steps: inner } : s));
}

function shift(steps: readonly Step[], less: number): Step[] | null {
  if (less === 0) return [...steps];
  const runs = yielding(steps);
  if (runs.length === 0 || less % runs.length !== 0) return null;
  const each = less / runs.length;
  const out = [...steps];
  for (const i of runs) {
    const run = steps[i] as Run;
    const times = timesOf(run) - each;
    if (times < 0) return null;
    out[i] = { ...run, amount: { times } };
  }
  return out;
}

/** `by` stitches fewer in each of the runs that shaping takes from; null where none is left. */
export function shortened(steps: readonly Step[], by: number): Step[] | null {
  const only = onlyGroup(steps);
  const inside = only?.group.steps.some(plainRun) ? only : null;
  const list = inside ? inside.group.steps : steps;
  const runs = yielding(list);
  const inner = runs.length === 0 ? null : shift(list, by * runs.length);
  if (!inner || !inside) return inner;
  return steps.map((s, i) => (i === inside.at ? { ...inside.group, steps: inner } : s));
}
