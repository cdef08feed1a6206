import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

function pullInOf(column: string, crossing: string) {
  const rounds = [1, 2, 3, 4, 5, 6].map(
    (r) => `Round ${r}: (k10, ${r === 6 ? crossing : column}, k10) 4 times.`,
  );
  const text = [
    'Gauge: 20 sts and 28 rounds to 10 cm in stockinette',
    'Cast on 104 sts (26 sts each side). Join in the round.',
    ...rounds,
    'Repeat rounds 1-6 three more times.',
    'Bind off.',
  ].join('\n');
  const plan = parsePlan(text);
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  return prepare(plan).report.pullIn;
}

describe('pull-in', () => {
  it('is nothing without crossings', () => {
    expect(pullInOf('k6', 'k6')).toBeNull();
  });

  it('of a simple cable of six lies in the published band of the cable itself', () => {
    // 15–35 % of the cable: heartstringsfiberarts.com/cable-takeup.shtm (17 % simple, 33 % tight).
    const pullIn = pullInOf('k6', '3/3 LC');
    expect(pullIn).not.toBeNull();
    // Four cables of 6 stitches of 5 mm on the round (a tube has no sides).
    const share = (pullIn?.sideMm ?? 0) / (4 * 6 * 5);
    expect(share).toBeGreaterThan(0.15);
    expect(share).toBeLessThan(0.35);
    expect(pullIn?.stitches).toBe(Math.round((pullIn?.sideMm ?? 0) / 5));
  });

  it('grows with the number of stitches that cross', () => {
    const narrow = pullInOf('k1, k4, k1', 'k1, 2/2 LC, k1')?.sideMm ?? 0;
    const wide = pullInOf('k6', '3/3 LC')?.sideMm ?? 0;
    expect(wide).toBeGreaterThan(narrow);
  });
});
