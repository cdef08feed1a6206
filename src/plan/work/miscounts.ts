/**
 * A round that does not work the stitches that are there: how it is said, and the most likely cause.
 * Input: the round, the count before it and what it works. Output: a diagnostic, or words for its hint.
 */
import type { DiagnosticList, Remark } from '../diagnostics.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { PlanRound } from '../plan.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import { stitches } from './round-problems.ts';

/** What the likely cause is judged by. */
export interface Surroundings {
  readonly inRound: boolean;
  /** The round before. */
  readonly last: PlanRound | undefined;
  /** Stitches that steps work wherever they stand; null where that depends on the round. */
  readonly fixedOfAll: (steps: readonly Step[]) => number | null;
  /** The steps made to fit the needles; null where that can't be told. */
  readonly fitted: (steps: readonly Step[]) => readonly Step[] | null;
}

/** Says what did not come out in a round over `before` stitches, of which it works `claimed`. */
export function reportRound(
  found: DiagnosticList,
  def: RoundDef,
  before: number,
  claimed: number,
  problems: readonly Remark[],
  around: Surroundings,
): void {
  if (found.full) return;
  let fatal = false;
  for (const p of problems) {
    // What follows the first mistake of a round is mostly its consequence.
    if (fatal || (p.severity === 'error' && def.failed)) continue;
    if (p.severity === 'error') fatal = true;
    found.add(p);
  }
  if (fatal || claimed === before || (def.unread && def.failed)) return;
  if (def.unread) {
    const message = `some words of this were not followed, and the rest works ${stitches(claimed)} of ${before}`;
    found.error('words-not-followed', def, message, 'Say it as for example: k2, ssk, k to end.');
    return;
  }
  const what = around.inRound ? 'round' : 'row';
  const many = claimed > before;
  const off = many ? `${claimed - before} too many` : `${before - claimed} left over`;
  found.error(
    many ? 'too-many-stitches-worked' : 'stitches-left-unworked',
    def,
    `this ${what} works ${stitches(claimed)} but ${before} ${before === 1 ? 'is' : 'are'} on the needles: ${off}`,
    likelyCause(def, before, claimed, around),
  );
}

function likelyCause(def: RoundDef, before: number, claimed: number, around: Surroundings): string {
  for (const group of def.steps) {
    if (group.kind !== 'group' || !('times' in group.amount) || group.amount.times < 2) continue;
    const each = around.fixedOfAll(group.steps);
    if (!each) continue;
    const missing = before - claimed;
    if (missing % each === 0) {
      const times = group.amount.times + missing / each;
      if (times > 0) return `The repeat fits ${times} times instead of ${group.amount.times}.`;
    }
  }
  const run = changedRun(def.steps, around.fitted(def.steps) ?? def.steps);
  if (run) return `It would fit with ${run.to} instead of ${run.from}.`;
  const { last } = around;
  if (last && last.before === claimed && last.before !== last.after) {
    const lost = last.before - last.after;
    return `It would fit the ${claimed} stitches before ${last.label}, which ${
      lost > 0 ? `decreased ${lost}` : `increased ${-lost}`
    }.`;
  }
  const crossing = def.steps.some((s) => s.kind === 'stitch' && s.name.includes('/'));
  if (crossing) return 'Count the stitches that the crossing takes: 2/2 works 4.';
  if (claimed > before) return 'Check the numbers in this round and the count of the round before.';
  return 'If the rest is worked plain, add for example ", k to end".';
}

/** The first plain run that differs between two versions of a round, in a knitter's words. */
function changedRun(
  was: readonly Step[],
  is: readonly Step[],
): { from: string; to: string } | null {
  for (let i = 0; i < was.length; i++) {
    const [a, b] = [was[i], is[i]];
    if (a.kind === 'group' && b?.kind === 'group') {
      const inner = changedRun(a.steps, b.steps);
      if (inner) return inner;
    }
    if (a.kind !== 'stitch' || b?.kind !== 'stitch') continue;
    if (!('times' in a.amount) || !('times' in b.amount) || a.amount.times === b.amount.times)
      continue;
    return { from: `${a.name}${a.amount.times}`, to: `${b.name}${b.amount.times}` };
  }
  return null;
}
