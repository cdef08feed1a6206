import fc from 'fast-check';
import { it } from 'vitest';
import { runs } from '../runs.ts';
import { checkPattern, patternCases } from './pattern-properties.ts';

it('patterns and charts agree with their plans, for some of the cases that npm run soak has more of', () => {
  fc.assert(fc.property(patternCases, checkPattern), { seed: 53, numRuns: runs(25) });
}, 90_000);
