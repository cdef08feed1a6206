import fc from 'fast-check';
import { it } from 'vitest';
import { checkPattern, patternCases } from './pattern-properties.ts';

it('patterns and charts agree with their plans, for 25 of the cases that npm run soak has more of', () => {
  fc.assert(fc.property(patternCases, checkPattern), { seed: 53, numRuns: 25 });
}, 30_000);
