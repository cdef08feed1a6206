/** What segments matter for the sizes of cells is as documented, and the tables hold where finer ones lead. */
import { readFileSync } from 'node:fs';
import { describe, expect, it, vi } from 'vitest';
import { FABRIC_RATIO_TABLE } from '../../src/cell/fabric-ratio-table.ts';
import { bySegments, FABRICS, LOOPS } from '../golden/by-segments.ts';
import { whole } from '../runs.ts';

vi.setConfig({ testTimeout: 300_000 });

/** [width, height] of a row's columns: 24, 48, 96, limit. */
function documented(fabric: string, loop: number): number[][] {
  const file = new URL('../golden/yarn-by-segments.md', import.meta.url);
  const line = readFileSync(file, 'utf8')
    .split('\n')
    .find((text) => text.startsWith(`| ${fabric} | ${loop} |`));
  const columns = line?.split('|').slice(3, 7) ?? [];
  return columns.map((text) => text.split('×').map(Number));
}

const all = FABRICS.flatMap((fabric) => LOOPS.map((loop) => [fabric, loop] as const));

describe('cells by the segments of their yarn', () => {
  it.runIf(whole).each(all)('are as documented: %s at %d diameters', (fabric, loop) => {
    const told = documented(fabric, loop);
    expect(told).toHaveLength(4);
    const { sizes, limit } = bySegments(fabric, loop);
    [...sizes, limit].forEach((size, k) => {
      for (const c of [0, 1]) expect(Math.abs(size[c] / told[k][c] - 1)).toBeLessThan(0.005);
    });
  });

  it.each(all)(
    'of the table lie within 2 %% of where finer ones lead: %s at %d',
    (fabric, loop) => {
      const limit = documented(fabric, loop)[3];
      const row = FABRIC_RATIO_TABLE.find((one) => one.fabric === fabric && one.loop === loop);
      expect(Math.abs((row?.width ?? 0) / limit[0] - 1)).toBeLessThan(0.02);
      expect(Math.abs((row?.height ?? 0) / limit[1] - 1)).toBeLessThan(0.02);
    },
  );
});
