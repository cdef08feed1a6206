/** Two thousand random plans with short rows: one sheet of as many loops as stitches, every length known. */
import { wildShortRows } from '../fabric/short-row-plans.ts';
import { expectMeasured } from '../fabric/short-row-rule.ts';
import { soak } from './soak.ts';

soak('short rows make one sheet whose every length is known', {
  cases: wildShortRows,
  runs: 2000,
  check: expectMeasured,
});
