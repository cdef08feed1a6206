import { describe, expect, it } from 'vitest';
import { countsByLine } from '../../src/app/editor/round-counts.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { planOf } from '../fabric/plan-maker.ts';

/** The plan with its rounds written on the given lines. */
function onLines(plan: Plan, castOnLine: number, lines: readonly number[]): Plan {
  return {
    ...plan,
    castOnAt: { line: castOnLine, column: 1 },
    rounds: plan.rounds.map(({ askedAt: _, ...round }, k) => ({
      ...round,
      from: { line: lines[k], column: 1 },
      to: { line: lines[k], column: 20 },
    })),
  };
}

describe('counts beside the plan', () => {
  const plan = planOf(12, ['k12', 'k2tog k10', 'k2tog k9', 'k10']);

  it('stand on the line that works the round, with what it changes', () => {
    expect(countsByLine(onLines(plan, 2, [3, 4, 5, 6]))).toEqual([
      { line: 2, stitches: 12, change: 0, rounds: 0 },
      { line: 3, stitches: 12, change: 0, rounds: 1 },
      { line: 4, stitches: 11, change: -1, rounds: 1 },
      { line: 5, stitches: 10, change: -1, rounds: 1 },
      { line: 6, stitches: 10, change: 0, rounds: 1 },
    ]);
  });

  it('sum up a line that works several rounds', () => {
    expect(countsByLine(onLines(plan, 1, [2, 3, 3, 3]))).toEqual([
      { line: 1, stitches: 12, change: 0, rounds: 0 },
      { line: 2, stitches: 12, change: 0, rounds: 1 },
      { line: 3, stitches: 10, change: -2, rounds: 3 },
    ]);
  });

  it('count rounds worked again where they are asked for again, so that a plain round loses nothing', () => {
    const text = `Cast on 24 sts. Join in the round.
Round 1: *ssk, k to last 2 sts of side, k2tog; rep from * 3 times more. (16 sts)
Round 2: knit.
Rep rounds 1 and 2 once more.
Draw yarn through all sts.`;
    expect(countsByLine(parsePlan(text))).toEqual([
      { line: 1, stitches: 24, change: 0, rounds: 0 },
      { line: 2, stitches: 16, change: -8, rounds: 1 },
      { line: 3, stitches: 16, change: 0, rounds: 1 },
      { line: 4, stitches: 8, change: -8, rounds: 2 },
    ]);
  });

  it('belong to the line before when a span ends at the very beginning of a line', () => {
    const spilled = onLines(plan, 1, [2, 3, 4, 5]);
    const rounds = spilled.rounds.map((round) => ({
      ...round,
      to: { line: round.to.line + 1, column: 1 },
    }));
    expect(countsByLine({ ...spilled, rounds }).map((count) => count.line)).toEqual([
      1, 2, 3, 4, 5,
    ]);
  });
});
