import fc from 'fast-check';
import { expect, it } from 'vitest';
import { runs } from '../runs.ts';
import {
  checkCornerPanels,
  checkGrade,
  checkPanelsKept,
  cornerCases,
  gradeCases,
  newGradeTally,
} from './grade-checks.ts';

/** Five hundred, all relaxed, are in tests/soak/grade.soak.ts. */
it('grading keeps every panel with its edges and cables or refuses, over random plans', () => {
  let graded = 0;
  for (const one of fc.sample(gradeCases, { seed: 4, numRuns: runs(48) }))
    if (checkPanelsKept(one)) graded++;
  expect(graded).toBeGreaterThan(0.5 * runs(48));
});

it('panels on corners are found there, over random plans', () => {
  fc.assert(fc.property(cornerCases, checkCornerPanels), { seed: 1, numRuns: runs(200) });
});

it('what grade prints is what its fabric is, and so is its exit code', async () => {
  const tally = newGradeTally();
  for (const one of fc.sample(gradeCases, { seed: 5, numRuns: runs(3) }))
    await checkGrade(one, tally);
  expect(tally.graded + tally.refused).toBe(runs(3));
});
