import { describe, expect, it } from 'vitest';
import { type BlanketSquare, layOutBlanket } from '../../src/report/blanket.ts';

function square(id: string, sideMm: number, sideStitches = 45): BlanketSquare {
  return {
    id,
    name: id.toUpperCase(),
    sideMm,
    sideStitches,
    sides: 4,
    yarn: [{ colour: 'moss', hex: null, lengthM: 60, massG: 30, ballGrams: 50, ballMetres: 100 }],
  };
}
const layout = (rows: (string | null)[][], targetMm: number | null = 200) => ({
  rows,
  targetMm,
  easeShare: 0.03,
});

describe('the blanket', () => {
  it('says which squares meet, which are eased in and which to adjust by how many stitches', () => {
    const squares = [square('a', 201), square('b', 205), square('c', 190)];
    const fit = layOutBlanket(squares, layout([['a', 'b', 'c']])).squares;
    expect(fit.map((s) => s.fit)).toEqual(['meets', 'eased in', 'adjust']);
    // 190 mm on 45 stitches is 4.22 mm a stitch: 10 mm are 2 stitches a side, 8 round the rim.
    expect(fit[2].sideStitchesChange).toBe(2);
    expect(fit[2].rimStitchesChange).toBe(8);
    expect(fit[2].words).toContain('cast on 8 more');
  });

  it('takes stitches away from a square that is too wide', () => {
    const fit = layOutBlanket([square('a', 218)], layout([['a']])).squares[0];
    expect(fit.rimStitchesChange).toBe(-16);
    expect(fit.words).toContain('16 fewer');
  });

  it('meets the median where no size is given', () => {
    const squares = [square('a', 198), square('b', 200), square('c', 260)];
    expect(layOutBlanket(squares, layout([['a', 'b', 'c']], null)).targetMm).toBe(200);
  });

  it('counts every seam between neighbours once', () => {
    const squares = [square('a', 200), square('b', 200)];
    const report = layOutBlanket(
      squares,
      layout([
        ['a', 'b', 'a'],
        ['b', 'a', 'b'],
      ]),
    );
    expect(report.seams.length).toBe(7);
    expect(report.seamLengthMm).toBe(1400);
    expect(report.widthMm).toBe(600);
    expect(report.heightMm).toBe(400);
  });

  it('leaves empty places without seams and border stitches', () => {
    const report = layOutBlanket([square('a', 200)], layout([['a', null, 'a']]));
    expect(report.seams).toEqual([]);
    expect(report.border).toEqual({ top: 90, right: 45, bottom: 90, left: 45 });
  });

  it('says how to sew different stitch counts together', () => {
    const report = layOutBlanket(
      [square('a', 200, 45), square('b', 200, 48)],
      layout([['a', 'b']]),
    );
    expect(report.seams[0].words).toContain('take 2 of B together 3 times');
  });

  it('adds the yarn up by colour and buys whole balls', () => {
    const report = layOutBlanket(
      [square('a', 200)],
      layout([
        ['a', 'a'],
        ['a', 'a'],
      ]),
    );
    expect(report.yarn).toEqual([
      { colour: 'moss', hex: null, lengthM: 240, massG: 120, balls: 3 },
    ]);
  });

  it('keeps colours apart, whichever squares they are in', () => {
    const part = (colour: string, hex: string, lengthM: number) => ({
      colour,
      hex,
      lengthM,
      massG: lengthM / 2,
      ballGrams: 50,
      ballMetres: 100,
    });
    const plain = { ...square('a', 200), yarn: [part('wool · woad', '#5787a3', 70)] };
    const striped = {
      ...square('b', 200),
      yarn: [part('wool · fleece', '#e4dccb', 30), part('wool · woad', '#5787a3', 45)],
    };
    const { yarn } = layOutBlanket([plain, striped], layout([['a', 'b', 'a']]));
    expect(yarn).toEqual([
      { colour: 'wool · woad', hex: '#5787a3', lengthM: 185, massG: 92.5, balls: 2 },
      { colour: 'wool · fleece', hex: '#e4dccb', lengthM: 30, massG: 15, balls: 1 },
    ]);
  });

  it('speaks of centimetres or of inches, as it is asked', () => {
    const squares = [square('a', 190), square('b', 220)];
    const words = (units: 'cm' | 'inch') => {
      const { squares: fits, seams } = layOutBlanket(squares, layout([['a', 'b']]), units);
      return [...fits, ...seams].map((part) => part.words).join(' ');
    };
    expect(words('cm')).toMatch(/A is 1 cm too narrow.*B is 2 cm too wide.*3 cm is more than/);
    expect(words('inch')).toMatch(/A is ⅜ in too narrow.*B is ¾ in.*1⅛ in is more/);
    expect(words('inch')).not.toMatch(/\bmm\b|\bcm\b/);
  });

  it('names squares that the layout uses but nobody made', () => {
    expect(layOutBlanket([square('a', 200)], layout([['a', 'z']])).unknown).toEqual(['z']);
  });
});
