/** Cables: the table is what the yarn model computes, and it lies within the published band. */
import { describe, expect, it, vi } from 'vitest';
import { cablePullIn, PUBLISHED_PULL_IN } from '../../src/cell/cable-pull-in.ts';
import { CABLE_TABLE } from '../../src/cell/cable-table.ts';
import { parentWales } from '../../src/cell/lattice-graph.ts';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { relaxPanel } from '../../src/cell/relax-panel.ts';
import { whole } from '../runs.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const panelOf = (moved: number, every: number, supply: number) =>
  relaxPanel({
    faces: Array.from({ length: every }, () => new Array<1>(2 * moved + 4).fill(1)),
    crossings: [{ row: 1, wale: 2, over: moved, under: moved, lean: 1 }],
    loopMm: 17.5,
    yarnMm: 1,
    supply,
  });

describe('a relaxed panel', () => {
  // The smallest in seconds; two over two takes four times as long.
  it.each(whole ? [1, 2] : [1])(
    'of %i over as many every fourth round pulls in as tabulated',
    (moved) => {
      const row = CABLE_TABLE.find((r) => r.moved === moved && r.every === 4 && r.supply === 0.3);
      if (!row) throw new Error('no such row');
      const panel = panelOf(moved, 4, 0.3);
      expect(panel.relaxation.converged).toBe(true);
      expect(panel.relaxation.linksKept).toBe(true);
      // Two percentage points: states that yarn can rest in lie that far apart.
      expect(Math.abs(panel.cablePullInPercent - row.percent)).toBeLessThan(2);
      expect(panel.widthMm).toBeLessThan(panel.uncrossedWidthMm);
    },
  );

  it('without crossings pulls in by nothing', () => {
    const panel = relaxPanel({ faces: [[1, 1]], crossings: [], loopMm: 17.5, yarnMm: 1 });
    expect(panel.pullInPercent).toBe(0);
    expect(panel.widthMm).toBe(panel.uncrossedWidthMm);
  });

  it('says so when it was stopped early', () => {
    const panel = relaxPanel({
      faces: [
        [1, 1, 1],
        [1, 1, 1],
      ],
      crossings: [{ row: 0, wale: 0, over: 1, under: 1, lean: -1 }],
      loopMm: 17.5,
      yarnMm: 1,
      maxIterations: 20,
    });
    expect(panel.relaxation.converged).toBe(false);
  });
});

describe('parents of a crossing', () => {
  it('leaning left bring the right-hand stitches to the left', () => {
    const from = parentWales(0, 6, [{ row: 0, wale: 1, over: 2, under: 2, lean: 1 }]);
    expect([...from]).toEqual([0, 3, 4, 1, 2, 5]);
  });

  it('leave other rows alone', () => {
    const from = parentWales(1, 4, [{ row: 0, wale: 0, over: 1, under: 1, lean: 1 }]);
    expect([...from]).toEqual([0, 1, 2, 3]);
  });
});

describe('the pull-in of a cable', () => {
  it('is what the table says at its own points', () => {
    for (const row of CABLE_TABLE.filter((r) => r.supply === 0.3)) {
      const made = cablePullIn({ over: row.moved, under: row.moved, everyRounds: row.every });
      expect(made.pullInPercent).toBeCloseTo(Math.max(row.percent, 0), 6);
      expect(made.widthFactor).toBeCloseTo(1 - Math.max(row.percent, 0) / 100, 9);
      expect(made.extrapolated).toBe(false);
    }
  });

  // One over one pulls in by nothing clear (−3 and 7 %), so only wider ones are held to this.
  it('never grows when crossings of two or more lie further apart', () => {
    for (const moved of [2, 3, 4]) {
      let last = 100;
      for (let every = 2 * moved; every <= 40; every++) {
        const { pullInPercent } = cablePullIn({ over: moved, under: moved, everyRounds: every });
        expect(pullInPercent).toBeLessThanOrEqual(last + 1e-9);
        last = pullInPercent;
      }
      expect(last).toBeLessThan(8);
    }
  });

  it('of wide cables is larger, stays bounded and is marked as extrapolated', () => {
    const three = cablePullIn({ over: 3, under: 3, everyRounds: 8 });
    const five = cablePullIn({ over: 5, under: 5, everyRounds: 8 });
    expect(five.pullInPercent).toBeGreaterThan(three.pullInPercent);
    expect(five.pullInPercent).toBeLessThanOrEqual(40);
    expect(five.extrapolated).toBe(true);
  });

  // heartstringsfiberarts.com/cable-takeup.shtm: simple cable of six takes the width of five (17 %), a
  // tight one of four (33 %); usual interval of a cable of six: every 6th round, of four: every 4th
  // (zanotowane.pl/793/6417). The knitter's share of yarn was chosen with this band in view.
  it.each([
    [3, 6],
    [2, 4],
  ])(
    'of %f over as many every %f rounds lies in the published band of 15–35 %%',
    (moved, every) => {
      const { pullInPercent } = cablePullIn({ over: moved, under: moved, everyRounds: every });
      expect(pullInPercent).toBeGreaterThan(PUBLISHED_PULL_IN[0]);
      expect(pullInPercent).toBeLessThan(PUBLISHED_PULL_IN[1]);
    },
  );

  it('refuses cables that cannot be', () => {
    expect(() => cablePullIn({ over: 0, under: 2, everyRounds: 4 })).toThrow(/1 or more/);
    expect(() => cablePullIn({ over: 2, under: 2, everyRounds: Number.NaN })).toThrow(/1 or more/);
    expect(() =>
      relaxCell({
        stitch: [[1, 1, 1, 1]],
        crossings: [{ row: 0, wale: 0, over: 2, under: 2, lean: 1 }],
        loopMm: 17,
        yarnMm: 1,
      }),
    ).toThrow(/at least 5/);
    expect(() =>
      relaxCell({
        stitch: [[1, 1, 1, 1]],
        crossings: [{ row: 3, wale: 0, over: 1, under: 1, lean: 1 }],
        loopMm: 17,
        yarnMm: 1,
      }),
    ).toThrow(/outside the repeat/);
  });
});
