/** Joins and seams of random yarn: the opening grows with the slack or stays, and crossing does not widen it. */
import fc from 'fast-check';
import { type JoinMethod, joinOpening, relaxJoin } from '../../src/cell/join-opening.ts';
import { soak } from './soak.ts';

/**
 * How far an opening may fall, yarn thicknesses: the holes above a join are pressed a little by its slack. Measured:
 * crossed loose loops (25 thicknesses) fall by 0.24 between no slack and 0.7 loops of it, the others by 0.1.
 */
const PRESSED = 0.15;
const PRESSED_CROSSED = 0.3;

const yarns = fc.record({
  yarnMm: fc.double({ min: 0.8, max: 2, noNaN: true }),
  loop: fc.double({ min: 15, max: 25, noNaN: true }),
  slacks: fc.uniqueArray(fc.double({ min: 0, max: 0.7, noNaN: true }), {
    minLength: 2,
    maxLength: 4,
  }),
});

soak('openings grow with the slack or stay, and a crossed join is no wider than a plain one', {
  cases: yarns,
  runs: 30,
  check: ({ yarnMm, loop, slacks }) => {
    const loopMm = loop * yarnMm;
    const sorted = [...slacks].sort((a, b) => a - b);
    const openings = (method: JoinMethod) => {
      const base = relaxJoin({ method, loopMm, yarnMm });
      return sorted.map((slack) => {
        const made = joinOpening({ method, slackMm: slack * loopMm, loopMm, yarnMm }, base);
        if (!made.relaxation.converged) throw new Error(`${method}: ${made.relaxation.reason}`);
        return made.openingMm / yarnMm;
      });
    };
    const of = Object.fromEntries(
      (['plain', 'crossed', 'extra', 'flat'] as const).map((method) => [method, openings(method)]),
    );
    for (const [method, sizes] of Object.entries(of)) {
      for (let k = 1; k < sizes.length; k++) {
        const pressed = method === 'crossed' ? PRESSED_CROSSED : PRESSED;
        if (sizes[k] < sizes[k - 1] - pressed) {
          throw new Error(
            `${method}: ${sizes.join(', ')} d at ${sorted.join(', ')} loops of slack`,
          );
        }
      }
    }
    of.crossed.forEach((size, k) => {
      if (size > of.plain[k] + PRESSED)
        throw new Error(`crossed ${size} d, plain ${of.plain[k]} d`);
    });
  },
});
