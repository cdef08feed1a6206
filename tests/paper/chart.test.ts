import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { drawChart, drawChartPages, liesAcross } from '../../src/paper/chart/chart.ts';
import { layOutChart } from '../../src/paper/chart/chart-layout.ts';
import { chartText } from '../../src/paper/chart/chart-text.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { spec } from '../draft/wishes-arbitrary.ts';
import { runs } from '../runs.ts';

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
        expect(mmPerSquare).toBeGreaterThanOrEqual(5);
        const smallest = Math.min(
          ...[...sheet.matchAll(/font-size="([\d.]+)"/g)].map((m) => Number(m[1]) * mmPerSquare),
        );
        expect(smallest).toBeGreaterThanOrEqual(2.2);
      }
    }
  });

  it('turns the paper where that takes fewer sheets, and fits on it', () => {
    const areas = { A4: [186, 273], Letter: [191.9, 255.4] } as const;
    const square = (sizeMm: number) =>
      parsePlan(draftPlan({ sizeMm, stitchMm: 100 / 22, roundMm: 100 / 30 }).text);
    for (const sizeMm of [100, 163, 200, 260])
      for (const paper of ['A4', 'Letter'] as const) {
        const sheets = drawChartPages(square(sizeMm), { paper });
        for (const sheet of sheets) {
          const [, w, h] = (/width="([\d.]+)mm" height="([\d.]+)mm"/.exec(sheet) ?? []).map(Number);
          const [long, short] = liesAcross(sheet, paper) ? [w, h] : [h, w];
          expect(short).toBeLessThanOrEqual(areas[paper][0] + 1);
          expect(long).toBeLessThanOrEqual(areas[paper][1] + 1);
        }
      }
    // 36 stitches of 5 mm leave no room for figures on 186 mm.
    const [sheet, ...others] = drawChartPages(square(163), { paper: 'A4' });
    expect(others).toEqual([]);
    expect(liesAcross(sheet, 'A4')).toBe(true);
    expect(
      drawChartPages(square(100), { paper: 'A4' }).map((one) => liesAcross(one, 'A4')),
    ).toEqual([false]);
  });

  it('keeps squares of 5 mm and letters that can be read, however it is shown', () => {
    for (const options of [
      {},
      { proportion: 0.72 },
      { largePrint: true },
      { part: 'whole' as const },
    ]) {
      const svg = drawChart(FERN, options);
      const [, w, unitsWide] = (/width="([\d.]+)mm".*?viewBox="0 0 ([\d.]+)/.exec(svg) ?? []).map(
        Number,
      );
      const high = (w / unitsWide) * (options.proportion ?? 1);
      expect(high).toBeGreaterThanOrEqual(options.largePrint ? 8.99 : 4.99);
    }
  });

  it('outlines what is repeated and counts every round beside it', () => {
    const svg = drawChart(FERN);
    expect(svg).toContain('data-part="repeat"');
    expect(svg).toContain('Work the stitches inside the bold outline 4 times in each round.');
    for (const { after } of FERN.rounds) expect(svg).toContain(`>${after}</text>`);
    expect(drawChart(FERN, { part: 'whole' })).not.toContain('data-part="repeat"');
  });

  it('says in the key of flat work what to work on each side', () => {
    const flat = parsePlan(turnFlat(FERN).text);
    const svg = drawChart(flat);
    expect(svg).toContain('k: knit on RS, purl on WS');
    expect(svg).toContain('p: purl on RS, knit on WS');
    expect(svg).toMatch(/k2tog: .*on WS work p2tog, purl 2 together/);
    expect(svg).toContain('Every row is drawn as the right side shows it.');
    expect(svg).toContain('The seam takes up the stitches outside the outline.');
  });

  it('is mirrored for left-handers, its figures are not', () => {
    const svg = drawChart(FERN, { hand: 'left' });
    expect(svg).toContain('Read every round from left to right');
    expect(svg).toContain('k2tog: knit 2 together: leans left');
    expect(svg).toContain('scale(-1 1)');
    expect(svg).not.toMatch(/scale\(-1 1\)">(<g[^>]*>)?(<(path|circle|rect)[^>]*>)*<text/);
    const first = (text: string) => /text-anchor="middle"[^>]*>1</.exec(text)?.index ?? -1;
    const at = (text: string) =>
      Number(/<text x="([\d.]+)"[^>]*text-anchor="middle"[^>]*>1</.exec(text)?.[1]);
    expect(first(svg)).toBeGreaterThan(0);
    expect(at(svg)).toBeLessThan(at(drawChart(FERN)));
  });

  it('reads in words, row by row, with the counts of the plan', () => {
    for (const plan of [FERN, parsePlan(turnFlat(FERN).text)]) {
      const lines = chartText(plan)
        .split('\n')
        .filter((line) => /^(Round|Row) \d/.test(line));
      expect(lines.length).toBe(plan.rounds.length);
      lines.forEach((line, i) => {
        expect(line).toMatch(new RegExp(` ${plan.rounds[i].after} stitch(es)?\\.$`));
      });
    }
    expect(chartText(FERN)).toContain(
      'Round 2: repeat 4 times: ssk, knit 16, purl 1, knit 4, purl 1, knit 17, k2tog, knit 1. 168 stitches.',
    );
  });

  it('draws any drafted plan, each stitch once', () => {
    fc.assert(
      fc.property(spec, fc.constantFrom('side' as const, 'whole' as const), (asked, part) => {
        const plan = parsePlan(draftPlan(asked).text);
        const chart = layOutChart(plan, part);
        chart.rows.forEach((row, i) => {
          const seam = plan.seam ? plan.seam.begin + plan.seam.end : 0;
          const stitches = row.stitches.reduce((sum, s) => sum + s, 0);
          expect((stitches - seam) * chart.repeats + seam).toBe(plan.rounds[i].after);
          expect(row.after).toBe(plan.rounds[i].after);
          expect(row.symbols.reduce((sum, s) => sum + s.width, 0)).toBeGreaterThanOrEqual(stitches);
        });
        expect(balanced(drawChart(plan, { part }))).toBe(true);
      }),
      { seed: 5, numRuns: runs(60) },
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

describe('sheets say how they are laid together', () => {
  const sides = { left: 'right', right: 'left', above: 'below', below: 'above' } as const;
  const place = (svg: string) => {
    const words = /Sheet (\d+) of (\d+)(?:: ([^;.]*))?(?:; beside it ([^.]*))?\./.exec(svg);
    const span = (name: string) => {
      const found = new RegExp(`${name} (\\d+)–(\\d+)`).exec(words?.[3] ?? '');
      return found ? [Number(found[1]), Number(found[2])] : null;
    };
    const beside = (words?.[4] ?? '').split(', ').flatMap((one) => {
      const [, sheet, side] = /^(\d+) (?:on the )?(\w+)$/.exec(one) ?? [];
      return sheet ? [{ sheet: Number(sheet), side: side as keyof typeof sides }] : [];
    });
    return { of: Number(words?.[2]), stitches: span('stitches'), rounds: span('rounds'), beside };
  };

  it.each([
    ['right' as const, 150, 'whole' as const, false],
    ['left' as const, 150, 'whole' as const, false],
    ['right' as const, 260, 'side' as const, true],
  ])('for the %s hand, %d mm, %s, large %s', (hand, sizeMm, part, largePrint) => {
    const plan = parsePlan(draftPlan({ sizeMm, stitchMm: 4.5, roundMm: 3.3 }).text);
    const sheets = drawChartPages(plan, { hand, part, largePrint, paper: 'A4' }).map(place);
    expect(sheets.length).toBeGreaterThan(2);
    sheets.forEach((sheet, i) => {
      expect(sheet.of).toBe(sheets.length);
      for (const { sheet: number, side } of sheet.beside) {
        const other = sheets[number - 1];
        expect(other.beside).toContainEqual({ sheet: i + 1, side: sides[side] });
        const across = side === 'left' || side === 'right';
        const [mine, its] = across
          ? [sheet.stitches, other.stitches]
          : [sheet.rounds, other.rounds];
        const on = across ? side === (hand === 'right' ? 'left' : 'right') : side === 'above';
        if (on) expect(its?.[0]).toBe((mine?.[1] ?? 0) + 1);
        else expect(mine?.[0]).toBe((its?.[1] ?? 0) + 1);
      }
      expect(sheet.beside.length).toBeGreaterThan(0);
    });
  });
});
