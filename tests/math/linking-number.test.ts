import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linkingNumber } from '../../src/math/linking-number.ts';

const closed = (points: number, at: (t: number) => [number, number, number]) =>
  Array.from({ length: points }, (_, k) => at((2 * Math.PI * k) / points)).flat();

const circle = closed(31, (t) => [Math.cos(t), Math.sin(t), 0]);

/** One edge of a band round the z axis that makes so many full turns on its way. */
const edge = (turns: number, side: number, points = 90) =>
  closed(points, (t) => {
    const r = 1 + 0.2 * side * Math.cos(turns * t);
    return [r * Math.cos(t), r * Math.sin(t), 0.2 * side * Math.sin(turns * t)];
  });

describe('the linking number', () => {
  it('is 0 for rings beside each other and ±1 for rings through each other', () => {
    const apart = closed(17, (t) => [4 + Math.cos(t), Math.sin(t), 0.3]);
    const through = closed(17, (t) => [1 + Math.cos(t), 0, Math.sin(t)]);
    expect(linkingNumber(circle, apart)).toBeCloseTo(0, 9);
    expect(Math.abs(linkingNumber(circle, through))).toBeCloseTo(1, 9);
  });

  it('counts the full turns of a band, with the sign of their hand', () => {
    for (const turns of [-3, -1, 0, 1, 2, 5]) {
      const linked = linkingNumber(edge(turns, 1), edge(turns, -1));
      expect(Math.abs(linked)).toBeCloseTo(Math.abs(turns), 9);
      expect(Math.sign(Math.round(linked))).toBe(-Math.sign(turns) + 0);
    }
  });

  it('stays through any bending that lets no curve pass through another', () => {
    fc.assert(
      fc.property(
        fc.tuple(
          ...Array.from({ length: 6 }, () => fc.double({ min: -0.4, max: 0.4, noNaN: true })),
        ),
        fc.integer({ min: 0, max: 3 }),
        (bend, turns) => {
          // Shears are one to one, so nothing passes through anything.
          const bent = (points: number[]) => {
            const out: number[] = [];
            for (let i = 0; i < points.length; i += 3) {
              const [x, y, z] = points.slice(i, i + 3);
              const sheared = z + bend[0] * Math.sin(3 * x + bend[1]) + bend[2] * y * y;
              const along = x + bend[3] * Math.sin(2 * sheared + bend[4]);
              out.push(along, y + bend[5] * along * along, sheared);
            }
            return out;
          };
          const linked = linkingNumber(bent(edge(turns, 1)), bent(edge(turns, -1)));
          expect(Math.abs(linked)).toBeCloseTo(turns, 6);
        },
      ),
      { seed: 7, numRuns: 40 },
    );
  });

  it('is the same from either curve, and refuses what is no closed curve', () => {
    const [a, b] = [edge(2, 1), edge(2, -1, 41)];
    expect(linkingNumber(a, b)).toBeCloseTo(linkingNumber(b, a), 9);
    expect(() => linkingNumber(a, [0, 0, 0, 1, 1, 1])).toThrow(RangeError);
  });
});
