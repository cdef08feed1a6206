/** The table of fabric sizes is what the yarn model computes, and its published values are kept apart. */
import { readFileSync } from 'node:fs';
import { describe, expect, it, vi } from 'vitest';
import { FABRIC_RATIO_TABLE } from '../../src/cell/fabric-ratio-table.ts';
import { fabricRatioReport, fabricRatios } from '../../src/cell/fabric-ratios.ts';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { yarnReport } from '../golden/yarn-report.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

describe('fabric ratios', () => {
  it.each(
    FABRIC_RATIO_TABLE.filter(
      (row) => row.loop === 18 && row.fabric !== 'rib 2x2' && row.fabric !== 'rib 1x1',
    ),
  )('hold what the yarn model gives for $fabric at $loop diameters', (row) => {
    const cell = relaxCell({ stitch: row.fabric, loopMm: row.loop, yarnMm: 1 });
    expect(cell.relaxation.converged).toBe(true);
    // 1 %: two stopping points agree within that.
    expect(Math.abs(cell.stitchMm / row.width - 1)).toBeLessThan(0.01);
    expect(Math.abs(cell.roundMm / row.height - 1)).toBeLessThan(0.01);
  });

  it('hold a state of 1×1 rib within 10 % of what one start of the yarn model gives', () => {
    const row = FABRIC_RATIO_TABLE.find((r) => r.loop === 18 && r.fabric === 'rib 1x1');
    const cell = relaxCell({ stitch: 'rib 1x1', loopMm: 18, yarnMm: 1 });
    expect(Math.abs(cell.stitchMm / (row?.width ?? 0) - 1)).toBeLessThan(0.1);
    expect(Math.abs(cell.roundMm / (row?.height ?? 0) - 1)).toBeLessThan(0.02);
  });

  it('place stockinette of the usual shape at a loop of about 17 diameters', () => {
    const { loop, inTable } = fabricRatios();
    expect(loop).toBeGreaterThan(16.6);
    expect(loop).toBeLessThan(18);
    expect(inTable).toBe(true);
  });

  it('give back the shape of stockinette they were asked for', () => {
    for (const shape of [0.76, 0.7, 0.66]) {
      const { loop } = fabricRatios(shape);
      const rows = FABRIC_RATIO_TABLE.filter((row) => row.fabric === 'stockinette');
      const next = rows.findIndex((row) => row.loop >= loop);
      const low = rows[next].height / rows[next].width;
      const high = rows[next - 1].height / rows[next - 1].width;
      expect(shape).toBeGreaterThanOrEqual(low);
      expect(shape).toBeLessThanOrEqual(high);
    }
    expect(fabricRatios(0.9).inTable).toBe(false);
    expect(fabricRatios(0.4).inTable).toBe(false);
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
    expect(report.some((line) => line.endsWith('| no |'))).toBe(true);
  });

  it('stand in the documentation as the table gives them', () => {
    const file = new URL('../golden/yarn-against-published.md', import.meta.url);
    expect(readFileSync(file, 'utf8')).toBe(yarnReport());
  });
});
