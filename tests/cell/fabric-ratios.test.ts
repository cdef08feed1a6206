/** The table of fabric sizes is what the yarn model computes, and its published values are kept apart. */
import { readFileSync } from 'node:fs';
import { describe, expect, it, vi } from 'vitest';
import { FABRIC_RATIO_TABLE } from '../../src/cell/fabric-ratio-table.ts';
import { fabricRatioReport, fabricRatios, HAND_LOOP } from '../../src/cell/fabric-ratios.ts';
import { relaxLowestCell } from '../../src/cell/lowest-cell.ts';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { yarnReport } from '../golden/yarn-report.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

describe('fabric ratios', () => {
  it.each(
    FABRIC_RATIO_TABLE.filter(
      (row) =>
        (row.loop === 18 && (row.fabric === 'garter' || row.fabric === 'seed')) ||
        (row.loop === 25 && row.fabric === 'stockinette'),
    ),
  )('hold what the yarn model gives for $fabric at $loop diameters', (row) => {
    const cell = relaxCell({ stitch: row.fabric, loopMm: row.loop, yarnMm: 1 });
    expect(cell.relaxation.converged).toBe(true);
    // 1 %: two stopping points agree within that.
    expect(Math.abs(cell.stitchMm / row.width - 1)).toBeLessThan(0.01);
    expect(Math.abs(cell.roundMm / row.height - 1)).toBeLessThan(0.01);
  });

  it('hold for 1×1 rib the lowest of the states that several starts end in, and the others', () => {
    const row = FABRIC_RATIO_TABLE.find((r) => r.loop === 18 && r.fabric === 'rib 1x1');
    const { cell, others } = relaxLowestCell({ stitch: 'rib 1x1', loopMm: 18, yarnMm: 1 });
    expect(cell.relaxation.converged).toBe(true);
    expect(Math.abs(cell.stitchMm / (row?.width ?? 0) - 1)).toBeLessThan(0.02);
    expect(others?.length).toBe(row?.others?.length);
    for (const [k, other] of (row?.others ?? []).entries()) {
      expect(other.energyPercent).toBeGreaterThan(0);
      expect(Math.abs((others?.[k].stitchMm ?? 0) / other.width - 1)).toBeLessThan(0.02);
      expect(others?.[k].energyPercent).toBeCloseTo(other.energyPercent, 0);
    }
  });

  it.each(['stockinette', 'garter', 'seed'] as const)(
    'rise smoothly with the yarn of a stitch: %s grows in width and height at every step',
    (fabric) => {
      const rows = FABRIC_RATIO_TABLE.filter((row) => row.fabric === fabric);
      expect(rows.length).toBeGreaterThan(10);
      for (let k = 1; k < rows.length; k++) {
        const step = rows[k].loop / rows[k - 1].loop - 1;
        const rise = (now: number, before: number) => (now / before - 1) / step;
        expect(rows[k].loop).toBeGreaterThan(rows[k - 1].loop);
        // A fabric of constant shape rises as its yarn does: 1.
        for (const size of ['width', 'height'] as const) {
          const by = rise(rows[k][size], rows[k - 1][size]);
          expect(by).toBeGreaterThan(0.5);
          expect(by).toBeLessThan(2);
        }
      }
    },
  );

  it.each(['stockinette', 'garter', 'seed', 'rib 1x1', 'rib 2x2'] as const)(
    'never shrink with more yarn in a stitch: %s, at rest and pressed flat',
    (fabric) => {
      const rows = FABRIC_RATIO_TABLE.filter((row) => row.fabric === fabric);
      for (let k = 1; k < rows.length; k++) {
        for (const size of ['width', 'height', 'flatWidth'] as const) {
          expect(rows[k][size]).toBeGreaterThan(rows[k - 1][size]);
        }
      }
    },
  );

  it('keep stockinette within the published constants at every tightness of the table', () => {
    for (const row of FABRIC_RATIO_TABLE.filter(({ fabric }) => fabric === 'stockinette')) {
      // Munden 1959: 5.0–5.5 and 3.8–4.2 over the relaxed states; Kr band of REFERENCES 1.
      expect(Math.abs(row.loop / row.height / 5.3 - 1)).toBeLessThan(0.03);
      expect(Math.abs(row.loop / row.width / 4.1 - 1)).toBeLessThan(0.1);
      expect(row.width / row.height).toBeLessThan(1.45);
      expect(row.width / row.height).toBeGreaterThan(1.15);
    }
  });

  it('are those of usual hand knitting unless its tightness is told, and stay within the table', () => {
    expect(fabricRatios().loop).toBe(HAND_LOOP);
    expect(fabricRatios(0.7).loop).toBe(HAND_LOOP);
    expect(fabricRatios(null, 10).loop).toBe(FABRIC_RATIO_TABLE[0].loop);
    expect(fabricRatios(null, 17.5).loop).toBe(17.5);
  });

  it('hold rib open between its relaxed and its flat width', () => {
    const { model, use } = fabricRatios();
    for (const rib of ['rib 1x1', 'rib 2x2'] as const) {
      expect(use[rib].widthRatio).toBeGreaterThan(model[rib].widthRatio);
      expect(use[rib].widthRatio).toBeLessThan(0.95);
      expect(use[rib].origin).toMatch(/relaxed and \d+ % pressed flat/);
    }
  });

  it('prefer the published shape of garter, keep the model’s area and say so', () => {
    const shape = 0.75;
    const { model, use } = fabricRatios(shape);
    expect((use.garter.heightRatio / use.garter.widthRatio) * shape).toBeCloseTo(0.5, 9);
    expect(use.garter.heightRatio * use.garter.widthRatio).toBeCloseTo(
      model.garter.heightRatio * model.garter.widthRatio,
      9,
    );
    expect(use.garter.origin).toMatch(/published/);
    expect(use.seed.origin).toMatch(/yarn model/);
  });

  it('refuse a shape that is no number', () => {
    expect(() => fabricRatios(Number.NaN)).toThrow(/positive/);
    expect(() => fabricRatios(-1)).toThrow(/positive/);
  });

  it('print a table with a row for each computed cell and the misses marked', () => {
    const report = fabricRatioReport().split('\n');
    expect(report).toHaveLength(FABRIC_RATIO_TABLE.length + 2);
    expect(report.some((line) => line.includes('| no |'))).toBe(true);
  });

  it('stand in the documentation as the table gives them', () => {
    const file = new URL('../golden/yarn-against-published.md', import.meta.url);
    expect(readFileSync(file, 'utf8')).toBe(yarnReport());
  });
});
