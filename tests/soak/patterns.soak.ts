/** A thousand patterns written, read back and charted: see tests/paper/pattern-properties.test.ts for some of them. */
import { checkPattern, patternCases } from '../paper/pattern-properties.ts';
import { soak } from './soak.ts';

soak('patterns and charts agree with their plans', {
  cases: patternCases,
  runs: 1000,
  check: checkPattern,
});
