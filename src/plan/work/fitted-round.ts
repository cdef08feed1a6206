/**
 * A round that is worked again, made to fit the stitches on the needles. In: the round, what stands on the needles. Out: the round as
 * it goes over them; null where that can't be told.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import { patternSteps } from '../grammar/steps/patterns.ts';
import type { GroupStep, Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import { longestRun, MOST_SIDES } from './fit-steps.ts';
import type { Turned } from './needle.ts';
import { boundSteps, lastShaping, type RoundsWorked } from './next-shaping.ts';
import { stitches } from './round-problems.ts';

interface OnNeedles {
  readonly rounds: readonly PlanRound[];
  /** [rounds] what each round was worked from. */
  readonly history: readonly RoundDef[];
  readonly count: number;
  fixedOfAll(steps: readonly Step[]): number | null;
  fitted(steps: readonly Step[]): readonly Step[] | null;
}

/** `writtenFor`: so many stitches it is written for, where its plain runs were made to fit others. */
export function fittedTo(
  def: RoundDef,
  piece: OnNeedles,
  turned: Turned | undefined,
): { readonly def: RoundDef; readonly writtenFor: number | null } | null {
  const same = { def, writtenFor: null };
  // Over as many stitches as it was told for it is the same.
  const told = piece.history.findIndex((d) => d.steps === def.steps);
  if (told >= 0 && piece.rounds[told]?.before === piece.count) return same;
  // A round repeated to its end keeps the number of its parts.
  const bound = told < 0 ? def.steps : boundSteps(def, piece.rounds[told].before, piece);
  const parts = keepsParts(def.steps, bound, piece) ? piece.fitted(bound) : null;
  if (parts) return { def: { ...def, steps: parts }, writtenFor: piece.fixedOfAll(bound) };
  if (followsBelow(def, piece))
    return {
      def: { ...def, steps: patternSteps('set', def) },
      writtenFor: piece.fixedOfAll(bound),
    };
  const fixed = piece.fixedOfAll(def.steps);
  const open = fixed === null && def.steps.some((s) => s.kind === 'group');
  // A short row works a part of what is there.
  const short = turned !== undefined || def.steps.some((s) => s.kind === 'turn');
  if (short && (fixed ?? 0) <= piece.count - (turned?.passed ?? 0)) return same;
  if (fixed === piece.count || (fixed === null && !open)) return same;
  const steps = piece.fitted(def.steps);
  if (steps) return { def: { ...def, steps }, writtenFor: fixed };
  return open ? same : null;
}

/** Fewest stitches of a run that belongs to a side. Chosen: "*k1, kfb; rep from *" goes over more stitches as it stands. */
const RUN_OF_SIDE = 4;

/** The parts of the round have plain runs to give or take from: long ones, or it does not go over the count as it stands. */
function keepsParts(steps: readonly Step[], bound: readonly Step[], piece: OnNeedles): boolean {
  if (bound === steps) return false;
  const group = steps.find((s) => s.kind === 'group');
  const longest = longestRun(group?.steps ?? []);
  if (longest >= RUN_OF_SIDE) return true;
  const width = group ? piece.fixedOfAll(group.steps) : null;
  const outside = piece.fixedOfAll(steps.filter((s) => s !== group));
  const even = width !== null && outside !== null && (piece.count - outside) % width === 0;
  return longest > 0 && !even;
}

/** So many knit and purl stitches, and nothing else, on top of a shaping round that had both: each goes on as the one below it. */
export function followsBelow({ steps }: RoundDef, piece: RoundsWorked): boolean {
  const names = new Set(steps.flatMap(namesIn));
  const below = new Set(lastShaping(piece)?.def.steps.flatMap(namesIn));
  const sides = steps.every((s) => s.kind !== 'group' || partsOfRound(s) <= MOST_SIDES);
  return sides && names.size === 2 && names.has('k') && names.has('p') && below.has('p');
}

function partsOfRound({ amount }: GroupStep): number {
  return 'times' in amount ? amount.times : 1;
}

function namesIn(s: Step): string[] {
  if (s.kind === 'group') return s.steps.flatMap(namesIn);
  return [s.kind === 'stitch' && 'times' in s.amount ? s.name : s.kind];
}

/** Says that plain runs with numbers were made to fit, which the words may not say. */
export function noteFitted(
  { found, count }: { readonly found: DiagnosticList; readonly count: number },
  def: RoundDef,
  at: Place,
  writtenFor: number,
): void {
  const name = def.label.replace(/ \(.*$/, '');
  found.note(
    'repeat-fitted',
    at,
    `${name} is written for ${stitches(writtenFor)}; here its plain stitches are taken as ${writtenFor > count ? 'fewer' : 'more'}, so that it fits the ${count} on the needles`,
    'If an earlier count is wrong, this does not show here: state the counts.',
  );
}
