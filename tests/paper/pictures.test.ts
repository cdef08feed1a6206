import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { divideNeedles } from '../../src/draft/needles.ts';
import { drawBlanket } from '../../src/paper/blanket/blanket-picture.ts';
import { squareBands } from '../../src/paper/blanket/square-bands.ts';
import { drawNeedles } from '../../src/paper/pattern/needle-picture.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { layOutBlanket } from '../../src/report/blanket.ts';

const SQUARE = parsePlan(draftPlan({ sizeMm: 150, stitchMm: 5, roundMm: 3.6 }).text);

describe('the picture of the needles', () => {
  it('says in words what it shows: stitches on each needle after the round', () => {
    const table = divideNeedles(SQUARE, { kind: 'double-pointed', hold: 4 }, 4);
    expect(drawNeedles(table, 0)).toContain(
      '<desc>Cast-on: 30 on needle 1, 30 on needle 2, 30 on needle 3, 30 on needle 4.</desc>',
    );
    const after = SQUARE.rounds[4].after / 4;
    expect(drawNeedles(table, 5)).toContain(`After round 5: ${after} on needle 1`);
  });

  it('draws one tick a stitch', () => {
    const table = divideNeedles(SQUARE, { kind: 'double-pointed', hold: 4 }, 4);
    const ticks = drawNeedles(table, 0).match(/stroke="#222"/g) ?? [];
    expect(ticks.length).toBe(120);
  });

  it('rings the boundary that the next round would straddle, before that round', () => {
    const plan = parsePlan(
      'CO 40 sts. Join in the round.\nRound 1: knit.\nRound 2: k8, 2/2 LC, k28.\nRound 3: knit.\n',
    );
    const table = divideNeedles(plan, { kind: 'double-pointed', hold: 4 });
    expect(drawNeedles(table, 1)).toContain('stroke-dasharray');
    expect(drawNeedles(table, 1)).toContain('move 2 stitches from needle 1 to needle 2');
    expect(drawNeedles(table, 2)).not.toContain('stroke-dasharray');
  });

  it('refuses rounds that the plan does not have', () => {
    const table = divideNeedles(SQUARE, { kind: 'magic loop' });
    expect(() => drawNeedles(table, 999)).toThrow(/Round 999/);
  });
});

describe('the picture of the blanket', () => {
  const square = (id: string, name: string, sideMm: number) => ({
    id,
    name,
    sideMm,
    sideStitches: 45,
    sides: 4,
    yarn: [],
  });
  const layout = { rows: [['a', 'b', null]], targetMm: 200, easeShare: 0.03 };
  const report = layOutBlanket([square('a', 'Fern <1>', 201), square('b', 'Rope', 185)], layout);
  const svg = drawBlanket(layout, report);

  it('tells each square’s size and fit in words, not by colour alone', () => {
    expect(svg).toContain('20.1 cm');
    expect(svg).toContain('✓ meets');
    expect(svg).toContain('18.5 cm');
    expect(svg).toContain('! adjust');
    expect(svg).toContain('Fern &#60;1&#62;');
  });

  it('dashes the seams that do not ease', () => {
    expect(svg).toContain('1 that do not ease (dashed)');
    expect(svg.match(/stroke="#b00020"/g)?.length).toBe(1);
  });

  it('fits a page', () => {
    const wide = { ...layout, rows: [Array.from({ length: 12 }, () => 'a')] };
    const drawn = drawBlanket(wide, layOutBlanket([square('a', 'Fern', 201)], wide), 'inch');
    expect(Number(/width="([\d.]+)mm"/.exec(drawn)?.[1])).toBeLessThanOrEqual(186);
    expect(drawn).toContain('7⅞ in');
  });
});

it('a blanket wears the colours of its rounds, from the rim to the centre, and says of a square that stands up that it does', () => {
  const rounds = (from: number, colour: string) =>
    [0, 1, 2].map((k) => `Round ${from + k}, ${colour}: knit.`).join('\n');
  const plan = parsePlan(
    `With red, cast on 40 sts. Join in the round.\n${rounds(1, 'red')}\n${rounds(4, 'cream')}\nBind off.\n`,
  );
  const bands = squareBands(plan, null);
  expect(bands.map(({ share }) => share.toFixed(3))).toEqual(['0.500', '0.500']);
  const chosen = [{ name: 'Woad', hex: '#111111' }, { name: 'Fleece', hex: '#eeeeee' }]; // biome-ignore format: short
  const yarns = { yarns: chosen, stripeRounds: 2 } as const;
  expect(squareBands(plan, yarns as never).map(({ hex }) => hex)).toEqual(['#111111', '#eeeeee']);
  const plain = parsePlan('Cast on 40 sts. Join in the round.\nRounds 1-8: knit.\nBind off.\n');
  expect(squareBands(plain, null)).toEqual([]);
  expect(squareBands(plain, yarns as never).length).toBe(5);
  const one = {
    id: 'a',
    name: 'Fern',
    sideMm: 200,
    sideStitches: 45,
    sides: 4,
    yarn: [],
    bands,
    verdict: 'cups' as const,
  };
  const layout = { rows: [['a']], targetMm: 200, easeShare: 0.03 };
  const svg = drawBlanket(layout, layOutBlanket([one], layout));
  for (const { hex } of bands) expect(svg).toContain(`stroke="${hex}"`);
  expect(svg).toContain('! cups');
});
