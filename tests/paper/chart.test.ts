import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { drawChart, drawChartPages } from '../../src/paper/chart/chart.ts';
import { layOutChart } from '../../src/paper/chart/chart-layout.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { spec } from '../draft/wishes-arbitrary.ts';

const FERN = parsePlan(
  draftPlan({
    title: 'Fern & moss',
    sizeMm: 200,
    stitchMm: 100 / 22,
    roundMm: 100 / 30,
    panels: [{ stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' }],
  }).text,
);

describe('the chart', () => {
  const layout = layOutChart(FERN, 'side');

  it('shows one side, as wide as its cast-on and as high as the rounds', () => {
    expect(layout.repeats).toBe(4);
    expect(layout.columns).toBe(44);
    expect(layout.rows.length).toBe(FERN.rounds.length);
    expect(layOutChart(FERN, 'whole').columns).toBe(176);
  });

  it('has in every row the stitches that the round leaves, the rest is no stitch', () => {
    layout.rows.forEach((row, i) => {
      const stitches = row.stitches.reduce((sum, s) => sum + s, 0);
      expect(stitches).toBe(FERN.rounds[i].after / 4);
      const drawn = row.symbols.reduce((sum, s) => sum + s.width, 0);
      expect(drawn).toBe(stitches);
    });
  });

  it('reads from the right: the first stitch of a round stands in the rightmost square', () => {
    const first = layout.rows[1].symbols.reduce((a, b) => (a.column < b.column ? a : b));
    expect(first.name).toBe('ssk');
    expect(layout.rows[1].symbols.find((s) => s.name === 'k2tog')?.column).toBeGreaterThan(30);
  });

  it('draws cables across their squares, on the columns of the panel', () => {
    const crossing = layout.rows[5].symbols.find((s) => s.name === '2/2 LC');
    expect(crossing).toEqual({ name: '2/2 LC', column: 19, width: 4 });
  });

  it('explains in its key what it uses and no more', () => {
    const svg = drawChart(FERN);
    for (const words of ['k: knit', 'p: purl', '2/2 LC:', 'no stitch'])
      expect(svg).toContain(words);
    expect(svg).not.toContain('yarn over');
  });

  it('is well-formed and carries its words for those who cannot see it', () => {
    const svg = drawChart(FERN);
    expect(svg).toContain('role="img"');
    expect(svg).toContain('<title>Fern &#38; moss: chart</title>');
    expect(svg).toMatch(/<desc>44 stitches wide, 29 rounds high/);
    expect(balanced(svg)).toBe(true);
  });

  it('shows wrong-side rows as the right side sees them, numbered at the left', () => {
    const flat = parsePlan(
      'Worked: flat, no seam\nCO 6 sts.\nRow 1 (RS): k6.\nRow 2 (WS): p5, k1.\n',
    );
    const rows = layOutChart(flat, 'side').rows;
    expect(rows[1].symbols.find((s) => s.column === 0)?.name).toBe('p');
    expect(rows[1].symbols.find((s) => s.column === 5)?.name).toBe('k');
    expect(drawChart(flat)).toMatch(/text-anchor="end"[^>]*>2</);
  });

  it('cuts large charts into sheets with squares and figures that can be read', () => {
    for (const paper of ['A4', 'Letter'] as const) {
      const sheets = drawChartPages(FERN, { part: 'whole', paper });
      expect(sheets.length).toBeGreaterThan(1);
      for (const sheet of sheets) {
        const size = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+)/.exec(sheet);
        const [, w, h, unitsWide] = (size ?? []).map(Number);
        expect(w).toBeLessThanOrEqual(paper === 'A4' ? 190 : 196);
        expect(h).toBeLessThanOrEqual(paper === 'A4' ? 277 : 259);
        const mmPerSquare = w / unitsWide;
        expect(mmPerSquare).toBeGreaterThanOrEqual(2.6);
        const smallest = Math.min(
          ...[...sheet.matchAll(/font-size="([\d.]+)"/g)].map((m) => Number(m[1]) * mmPerSquare),
        );
        expect(smallest).toBeGreaterThanOrEqual(2.2);
      }
    }
  });

  it('draws any drafted plan, each stitch once', () => {
    fc.assert(
      fc.property(spec, fc.constantFrom('side' as const, 'whole' as const), (asked, part) => {
        const plan = parsePlan(draftPlan(asked).text);
        const chart = layOutChart(plan, part);
        chart.rows.forEach((row, i) => {
          const seam = plan.seam ? plan.seam.begin + plan.seam.end : 0;
          const stitches = row.stitches.reduce((sum, s) => sum + s, 0);
          const all = plan.rounds[i].after;
          expect(part === 'whole' ? stitches : stitches * chart.repeats).toBe(all - seam);
          expect(row.symbols.reduce((sum, s) => sum + s.width, 0)).toBeGreaterThanOrEqual(stitches);
        });
        expect(balanced(drawChart(plan, { part }))).toBe(true);
      }),
      { seed: 5, numRuns: 60 },
    );
  }, 60_000);
});

/** Every opened element is closed again. */
function balanced(svg: string): boolean {
  const open: string[] = [];
  for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-z]+)[^>]*?(\/?)>/g)) {
    if (self) continue;
    if (close && open.pop() !== name) return false;
    if (!close) open.push(name);
  }
  return open.length === 0;
}
