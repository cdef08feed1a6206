/** Five hundred random plans at another size or gauge: see tests/draft/grade-properties.test.ts. */
import { describe } from 'vitest';
import { checkGrade, gradeCases, newGradeTally } from '../draft/grade-checks.ts';
import { soak } from './soak.ts';

describe('random plans, graded', () => {
  const tally = newGradeTally();

  soak('keep their panels or are refused; verdict, size and exit code are those of the fabric', {
    cases: gradeCases,
    runs: 500,
    check: (one) => checkGrade(one, tally),
    tell: () => JSON.stringify(tally),
  });
});
