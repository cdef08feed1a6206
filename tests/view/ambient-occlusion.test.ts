/** Ambient shade of yarn, from its neighbours. */
import { describe, expect, it } from 'vitest';
import { computeShelter } from '../../src/view/yarn/ambient-occlusion.ts';
import { cutOf, lineUp } from '../../src/view/yarn/yarn-lines.ts';

/** Straight strands along x, `count` of them side by side in y, `step` mm between points. */
function strandsSideBySide(count: number, step: number, z = (_row: number) => 0) {
  const points: number[] = [];
  const strandStart = [0];
  for (let row = 0; row < count; row++) {
    for (let x = -20; x <= 20; x += step) points.push(x, 2 * row, z(row));
    strandStart.push(points.length / 3);
  }
  return { points, strandStart, radiusMm: 1 };
}

const middleOf = (strandStart: readonly number[], strand: number) =>
  Math.floor((strandStart[strand] + strandStart[strand + 1]) / 2);

describe('the shelter of yarn', () => {
  it('is none for a strand alone', () => {
    const { points, strandStart } = strandsSideBySide(1, 0.5);
    expect(Math.max(...computeShelter(points, strandStart, 1))).toBe(0);
  });

  it('points to the only neighbour, and is level between two', () => {
    const { points, strandStart } = strandsSideBySide(3, 0.5);
    const shelter = computeShelter(points, strandStart, 1);
    const at = (strand: number) => {
      const k = 4 * middleOf(strandStart, strand);
      return shelter.slice(k, k + 4);
    };
    expect(at(0)[1]).toBeGreaterThan(0.5);
    expect(at(2)[1]).toBeCloseTo(-at(0)[1], 5);
    expect(at(1)[1]).toBeCloseTo(0, 5);
    expect(at(1)[3]).toBeGreaterThan(1.5 * at(0)[3]);
  });

  it('is the same from the back, the other way round', () => {
    const front = strandsSideBySide(3, 0.5, (row) => (row === 1 ? -1 : 0));
    const back = strandsSideBySide(3, 0.5, (row) => (row === 1 ? 1 : 0));
    const k = 4 * middleOf(front.strandStart, 1);
    const a = computeShelter(front.points, front.strandStart, 1);
    const b = computeShelter(back.points, back.strandStart, 1);
    expect(a[k + 2]).toBeGreaterThan(0.3);
    expect(b[k + 2]).toBeCloseTo(-a[k + 2], 5);
  });

  it('does not depend on how many points draw the yarn', () => {
    const coarse = strandsSideBySide(3, 0.5);
    const fine = strandsSideBySide(3, 0.125);
    const of = ({ points, strandStart }: ReturnType<typeof strandsSideBySide>) =>
      computeShelter(points, strandStart, 1)[4 * middleOf(strandStart, 1) + 3];
    expect(of(fine) / of(coarse)).toBeGreaterThan(0.95);
    expect(of(fine) / of(coarse)).toBeLessThan(1.05);
  });
});

describe('lines of yarn', () => {
  it('count the length along each strand from its own start', () => {
    const { points, strandStart, radiusMm } = strandsSideBySide(2, 0.5);
    const lines = lineUp({ points, strandStart, radiusMm });
    expect(lines.points).toBe(points.length / 3);
    expect(lines.centre[4 * (strandStart[1] - 1) + 3]).toBeCloseTo(40, 5);
    expect(lines.centre[4 * strandStart[1] + 3]).toBe(0);
    expect([...new Set(lines.strand)]).toEqual([0, 1]);
  });

  it('fray where a piece is taken back in the middle of a strand, and nowhere else', () => {
    const { points, strandStart, radiusMm } = strandsSideBySide(2, 0.5);
    const lines = lineUp({ points, strandStart, radiusMm });
    const second = strandStart[1];
    expect(cutOf(lines, lines.points)).toBe(null);
    expect(cutOf(lines, second)).toBe(null);
    const cut = cutOf(lines, second + 11);
    expect(cut?.first).toBe(second);
    // Ten segments of half a millimetre.
    expect(cut?.atMm).toBeCloseTo(5, 5);
    expect(cut?.overMm).toBeGreaterThan(radiusMm);
  });
});
