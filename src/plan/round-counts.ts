/**
 * The stitch count at the end of every text line that has rounds worked, for showing beside the text.
 */
import type { Plan } from './plan.ts';

export interface LineCount {
  /** 1-based line of the plan text. */
  readonly line: number;
  /** Stitches on the needles when everything on this line has been worked. */
  readonly count: number;
  /** Rounds that this line has worked. */
  readonly rounds: number;
  /** `PlanRound.n` of the last of them; 0 for the cast-on. */
  readonly lastRound: number;
}

/** Ascending by line. The cast-on's line comes with the number of stitches cast on. */
export function roundCounts(plan: Plan): LineCount[] {
  const lines = new Map<number, LineCount>();
  if (plan.castOn > 0) {
    const { line } = plan.castOnAt;
    lines.set(line, { line, count: plan.castOn, rounds: 0, lastRound: 0 });
  }
  for (const round of plan.rounds) {
    const { line } = round.askedAt ?? round.to;
    const rounds = (lines.get(line)?.rounds ?? 0) + 1;
    lines.set(line, { line, count: round.after, rounds, lastRound: round.n });
  }
  return [...lines.values()].sort((a, b) => a.line - b.line);
}
