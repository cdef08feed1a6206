/**
 * Joins and seams of random yarn: the opening grows with the slack or stays, crossing does not widen it, and a seam shows less
 * of a hole than ordinary stitches do.
 */
import fc from 'fast-check';
import { type JoinMethod, joinOpening, relaxJoin } from '../../src/cell/join-opening.ts';
import { soak } from './soak.ts';

/**
 * How far an opening may fall, yarn thicknesses: the holes above a join are pressed a little by its slack. Measured: by 0.11. The
 * gap of crossed loops, whose heads are pulled apart, may be eased to that of ordinary stitches.
 */
const PRESSED = 0.15;

/** Whole hundredths, spread evenly: a random double is nearly always next to nothing. */
const between = (min: number, max: number) =>
  fc.integer({ min: Math.round(100 * min), max: Math.round(100 * max) }).map((v) => v / 100);

const yarns = fc.record({
  yarnMm: between(0.8, 2),
  loop: between(15, 25),
  slacks: fc.uniqueArray(between(0, 0.7), { minLength: 2, maxLength: 4 }),
});

soak('openings grow with the slack or stay, and a crossed join is no wider than a plain one', {
  cases: yarns,
  runs: 30,
  check: ({ yarnMm, loop, slacks }) => {
    const loopMm = loop * yarnMm;
    const sorted = [...slacks].sort((a, b) => a - b);
    /** Of each slack the opening and the gap of ordinary stitches, thicknesses. */
    const openings = (method: JoinMethod) => {
      const base = relaxJoin({ method, loopMm, yarnMm });
      return sorted.map((slack) => {
        const made = joinOpening({ method, slackMm: slack * loopMm, loopMm, yarnMm }, base);
        if (!made.relaxation.converged) throw new Error(`${method}: ${made.relaxation.reason}`);
        return { size: made.openingMm / yarnMm, ordinary: made.ordinaryGapMm / yarnMm };
      });
    };
    const plain = openings('plain');
    const crossed = openings('crossed');
    for (const [method, made] of Object.entries({ plain, crossed, extra: openings('extra') })) {
      for (let k = 1; k < made.length; k++) {
        const before = made[k - 1].size;
        const least = method === 'crossed' ? Math.min(before, made[k].ordinary) : before;
        if (made[k].size < least - PRESSED) {
          const sizes = made.map(({ size }) => size).join(', ');
          throw new Error(`${method}: ${sizes} d at ${sorted.join(', ')} loops of slack`);
        }
      }
    }
    crossed.forEach(({ size }, k) => {
      if (size > plain[k].size + PRESSED)
        throw new Error(`crossed ${size} d, plain ${plain[k].size} d`);
    });
    openings('flat').forEach(({ size, ordinary }, k) => {
      if (size > ordinary)
        throw new Error(`flat ${size} d at ${sorted[k]} loops of slack, ordinary ${ordinary} d`);
    });
  },
});
