/**
 * The shaping round that comes next "in this way". Input: the last round that changed the count, the one
 * before it, and what lay between. Output: the steps of the rounds that follow; null where no plain
 * stitches are left to go on with.
 */
import type { GroupStep, Step } from '../grammar/steps/steps.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import { alike, nextInLine, same, shortened } from './fit-steps.ts';
import type { WorkedPiece } from './worked-piece.ts';

/** The rounds so far, and what each was worked from. */
export interface RoundsWorked {
  readonly rounds: readonly { readonly before: number; readonly after: number }[];
  readonly history: readonly RoundDef[];
}

export interface LastShaping {
  /** The last round that changed the count. */
  readonly def: RoundDef;
  /** Stitches that it was worked over. */
  readonly before: number;
  /** The one before it that did. */
  readonly earlier: RoundDef | null;
  /** Rounds from one to the next. */
  readonly period: number;
  /** The plain rounds between the two. */
  readonly between: readonly RoundDef[];
  /** Plain rounds since. */
  readonly since: number;
}

/** The last round that changed the count, how far apart such rounds were, and what lay between. */
export function lastShaping({ rounds, history }: RoundsWorked): LastShaping | null {
  const changedUpTo = (i: number): number => {
    let at = i;
    while (at >= 0 && rounds[at].after === rounds[at].before) at--;
    return at;
  };
  const at = changedUpTo(rounds.length - 1);
  if (at < 0) return null;
  const earlier = changedUpTo(at - 1);
  const [def, { before }] = [history[at], rounds[at]];
  const since = rounds.length - 1 - at;
  const alone = { def, before, earlier: null, period: def.pace ?? since + 1, between: [], since };
  if (earlier < 0) return alone;
  // Another shaping, and more plain rounds since: a new beginning.
  if (since >= at - earlier && !alike(history[earlier].steps, def.steps)) return alone;
  const between = history.slice(earlier + 1, at);
  return { def, before, earlier: history[earlier], period: at - earlier, between, since };
}

/**
 * The shaping round `by` after the last one. Plain runs go on changing as they did between the last
 * two, or lose `fewer` stitches as the text says; else what the last one shortens takes whatever is left.
 */
export function nextShaping(
  last: LastShaping,
  by: number,
  fewer: number | null,
  piece: WorkedPiece,
): readonly Step[] | null {
  const steps = boundSteps(last.def, last.before, piece);
  const fixed = piece.fixedOfAll(steps);
  const inLine = (n: number): Step[] | null =>
    last.earlier ? nextInLine(last.earlier.steps, steps, n) : null;
  const shifted = inLine(by);
  if (shifted && shifted.length > 0 && !same(shifted, steps)) return shifted;
  const first = inLine(1);
  if (first && !same(first, steps)) return null;
  if (fewer !== null) {
    const less = shortened(steps, fewer * by);
    if (less) return less;
    if (shortened(steps, fewer)) return null;
  }
  const fitted = fixed !== null && fixed !== piece.count ? piece.fitted(steps) : null;
  return fitted ?? generalised(steps);
}

/** Its steps with `rep from * to end` as often as that was: the parts of the round stay as many and get shorter. */
export function boundSteps(
  { steps }: RoundDef,
  before: number,
  piece: Pick<WorkedPiece, 'fixedOfAll'>,
): readonly Step[] {
  const open = (s: Step): s is GroupStep =>
    s.kind === 'group' &&
    !s.eachSide &&
    !('times' in s.amount) &&
    /^(?:rest|end)$/.test(s.amount.kind);
  const groups = steps.filter(open);
  const width = groups.length === 1 ? piece.fixedOfAll(groups[0].steps) : null;
  const outside = piece.fixedOfAll(steps.filter((s) => !open(s)));
  if (width === null || outside === null || width < 1) return steps;
  const times = (before - outside) / width;
  if (!Number.isInteger(times) || times < 2) return steps;
  return steps.map((s) => (open(s) ? { ...s, amount: { times } } : s));
}

/**
 * Steps whose longest plain run takes what is left, so that they also fit the next, shorter round: the
 * 26 of `(ssk, k26, k2tog) 4 times` becomes "to the last 2 sts".
 */
function generalised(steps: readonly Step[]): Step[] {
  const timesOf = (s: Step): number =>
    (s.kind === 'stitch' && (s.name === 'k' || s.name === 'p')) || s.kind === 'pattern'
      ? 'times' in s.amount
        ? s.amount.times
        : 0
      : 0;
  const flexible = steps.some((s) => 'amount' in s && !('times' in s.amount));
  if (flexible) return [...steps];
  let longest = -1;
  steps.forEach((s, i) => {
    if (timesOf(s) > (longest < 0 ? 0 : timesOf(steps[longest]))) longest = i;
  });
  const groups = steps.filter((s) => s.kind === 'group');
  if (groups.length === 1 && (longest < 0 || timesOf(steps[longest]) < 3)) {
    return steps.map((s) => (s.kind === 'group' ? { ...s, steps: generalised(s.steps) } : s));
  }
  return steps.map((s, i) =>
    i === longest && (s.kind === 'stitch' || s.kind === 'pattern')
      ? { ...s, amount: { kind: 'rest', count: 0 } }
      : s,
  );
}
