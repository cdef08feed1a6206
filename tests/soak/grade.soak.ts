/** Random plans at another size or gauge, by stitches alone and relaxed: see tests/draft/grade-properties.test.ts. */
import { describe } from 'vitest';
import {
  checkCornerPanels,
  checkGrade,
  checkOwnSize,
  checkPanelsKept,
  cornerCases,
  gradeCases,
  newGradeTally,
} from '../draft/grade-checks.ts';
import { smallSpecs } from '../draft/wishes-arbitrary.ts';
import { soak } from './soak.ts';

describe('random plans, graded', () => {
  let graded = 0;
  soak('keep every panel with its edges and cables on every side, or are refused', {
    cases: gradeCases,
    runs: 2000,
    part: 0.2,
    check: (one) => {
      if (checkPanelsKept(one)) graded++;
    },
    tell: () => `${graded} graded`,
  });

  soak('have their panels on corners found there', {
    cases: cornerCases,
    runs: 2000,
    part: 0.1,
    check: checkCornerPanels,
  });

  soak('are left as they are at their own size', {
    cases: smallSpecs,
    runs: 200,
    part: 0.1,
    check: checkOwnSize,
  });

  const tally = newGradeTally();
  soak('are refused, or verdict, size and exit code are those of the fabric', {
    cases: gradeCases,
    runs: 500,
    part: 0.6,
    check: (one) => checkGrade(one, tally),
    tell: () => JSON.stringify(tally),
  });
});
