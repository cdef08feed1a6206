import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blanketBorder, borderPlan } from '../../src/draft/motif/border-plan.ts';
import { knit } from '../../src/knit.ts';
import { type BlanketSquare, layOutBlanket } from '../../src/report/blanket.ts';
import { seamRecipe } from '../../src/report/seam-recipe.ts';
import { borderedSizeWords } from '../../src/report/words/blanket-words.ts';
import { runs } from '../runs.ts';

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

  it('comes to what nine squares of three kinds come to when they are worked by hand', () => {
    // Sides as relaxed: 120, 140 and 116 stitches cast on, and a third of the yarn that each kind takes.
    const kinds = [
      { ...square('plain', 158.05, 30), lengthM: 36.78 },
      { ...square('fine', 159.24, 35), lengthM: 41.09 },
      { ...square('garter', 161.11, 29), lengthM: 42.65 },
    ].map(({ lengthM, ...one }) => ({
      ...one,
      yarn: [{ ...one.yarn[0], colour: one.id, lengthM, massG: lengthM / 2 }],
    }));
    const rows = [
      ['plain', 'fine', 'garter'],
      ['garter', 'plain', 'fine'],
      ['fine', 'garter', 'plain'],
    ];
    const report = layOutBlanket(kinds, { rows, targetMm: null, easeShare: 0.03 });
    // The middle of the three sides; every row and every column has one of each, 159.24 mm a place.
    expect(report.targetMm).toBe(159.24);
    expect(report.widthMm).toBeCloseTo(3 * 159.24, 9);
    expect(report.heightMm).toBeCloseTo(3 * 159.24, 9);
    // Two seams inside every row and every column.
    expect(report.seams).toHaveLength(12);
    const seams = (pair: string) => report.seams.filter(({ words }) => words.includes(pair));
    expect(seams('30 to 35').concat(seams('35 to 30'))).toHaveLength(4);
    expect(seams('35 to 30')[0].words).toContain('about 7 stitches of FINE to 6 of PLAIN');
    expect(seams('30 to 29')[0].words).toContain(
      'two stitches of PLAIN with one of GARTER once, in the middle',
    );
    // 158.05/30, 159.24/35 and 161.11/29 are 5.268, 4.550 and 5.556 mm, 5.125 on average: 159.24 is 31.07 of them.
    const { border } = report;
    expect([border.top, border.right, border.bottom, border.left]).toEqual([93, 93, 93, 93]);
    expect(border.pickUps.map(({ along, pickUp }) => pickUp - along)).toEqual([1, -4, 2]);
    // 4 × 93 and a stitch at each corner; 3 cm are 12 rounds of half of 159.24/31; 8 more every second round.
    const { plan } = blanketBorder(border, { title: '', depthMm: 30 });
    expect(plan).toMatchObject({ castOn: 376, rounds: 12, boundOff: 376 + 6 * 8 });
    expect(plan?.depthMm).toBeCloseTo(6 * (159.24 / 31), 9);
    if (plan) expect(borderedSizeWords(plan, report, 'cm')).toContain('53.9 cm by 53.9 cm');
    const [plain, fine, garter] = report.yarn;
    expect([plain, fine, garter].map(({ lengthM }) => lengthM)).toEqual([
      expect.closeTo(110.34, 6),
      expect.closeTo(123.27, 6),
      expect.closeTo(127.95, 6),
    ]);
    expect([plain, fine, garter].map(({ balls }) => balls)).toEqual([2, 2, 2]);
  });

  it('tells a count along the edge that a square has only once adjusted as such', () => {
    const squares = [square('a', 201), square('c', 190)];
    const { squares: fits, border } = layOutBlanket(squares, layout([['a', 'c']]));
    expect(fits[1].sideStitchesChange).toBe(2);
    const [asItIs, adjusted] = border.pickUps.map(({ words }) => words);
    expect(asItIs).toMatch(/^A: \d+ from its 45 stitches/);
    expect(adjusted).toMatch(/^C, once adjusted: \d+ from its 47 stitches/);
  });

  it('never calls squares eased in whose seam does not ease: one of them is adjusted, and the seam names it', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 180, max: 220, noNaN: true }), { minLength: 2, maxLength: 6 }),
        fc.boolean(),
        (sides, median) => {
          const squares = sides.map((mm, i) => square(`s${i}`, mm));
          const row = layout([squares.map(({ id }) => id)], median ? null : 200);
          const { squares: fits, seams, targetMm } = layOutBlanket(squares, row);
          const fitOf = new Map(fits.map((fit) => [fit.id, fit]));
          for (const seam of seams) {
            const pair = [seam.first, seam.second].map((id) => fitOf.get(id));
            const adjusted = pair.filter((fit) => fit?.fit === 'adjust');
            expect(seam.eased || adjusted.length > 0).toBe(true);
            if (!seam.eased) for (const fit of adjusted) expect(seam.words).toContain(fit?.name);
            // Once adjusted every seam eases: what is left lies within it of the side to meet.
            for (const fit of pair)
              if (fit && fit.fit !== 'adjust')
                expect(Math.abs(fit.differenceMm)).toBeLessThanOrEqual(0.03 * targetMm + 1e-9);
          }
        },
      ),
      { seed: 3, numRuns: runs(400) },
    );
  });

  it('says of a square that stands up that it does, however well its side meets', () => {
    const verdicts = ['flat', 'flat after blocking', 'cups', 'ruffles', 'buckles'] as const;
    const squares = verdicts.map((verdict) => ({ ...square(verdict, 200), verdict }));
    const { squares: fits } = layOutBlanket(squares, layout([[...verdicts]]));
    expect(fits.map(({ words }) => /does not lie flat/.test(words))).toEqual([
      ...[false, false, true, true, true],
    ]);
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
    expect(report.border).toMatchObject({ top: 90, right: 45, bottom: 90, left: 45 });
  });

  it('says how to sew different stitch counts together', () => {
    const report = layOutBlanket(
      [square('a', 200, 45), square('b', 200, 48)],
      layout([['a', 'b']]),
    );
    expect(report.seams[0].words).toBe(
      'A to B, 45 to 48 stitches: pin ends, middle and quarters, then take up two stitches of B with one of A 3 times, after about every 15 stitches.',
    );
  });

  it('sews many stitches to few by length, and never decreases', () => {
    const report = layOutBlanket(
      [square('a', 200, 60), square('b', 200, 40)],
      layout([['a', 'b']]),
    );
    expect(report.seams[0].words).toContain('sew by length, about 3 stitches of A to 2 of B');
    fc.assert(
      fc.property(fc.integer({ min: 8, max: 90 }), fc.integer({ min: 8, max: 90 }), (a, b) => {
        const words = seamRecipe({ name: 'A', stitches: a }, { name: 'B', stitches: b });
        expect(words).not.toMatch(/decrease|together/);
        const taken = /with one of \w (once|twice|(\d+) times)/.exec(words);
        const often = { once: 1, twice: 2 }[taken?.[1] ?? ''] ?? Number(taken?.[2] ?? 0);
        // Eased in singly only where one stitch in eight or fewer is over.
        if (taken) expect(often).toBe(Math.abs(a - b));
        if (taken) expect(8 * often).toBeLessThanOrEqual(Math.min(a, b));
        const ratio = /about (\d+) stitches of (\w) to (\d+)/.exec(words);
        if (ratio) {
          const [over, under] = ratio[2] === 'A' ? [a, b] : [b, a];
          expect(Math.abs(Number(ratio[1]) / Number(ratio[3]) / (over / under) - 1)).toBeLessThan(
            0.07,
          );
        }
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('picks up equal counts along equal edges, whatever squares lie there, for 200 random blankets', () => {
    const any = fc.record({
      mm: fc.double({ min: 150, max: 250, noNaN: true }),
      stitches: fc.integer({ min: 25, max: 70 }),
    });
    fc.assert(
      fc.property(
        fc.array(any, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 5 }),
        fc.infiniteStream(fc.nat(3)),
        (kinds, rows, columns, which) => {
          const squares = kinds.map(({ mm, stitches }, i) => square(`s${i}`, mm, stitches));
          const grid = Array.from({ length: rows }, () =>
            Array.from({ length: columns }, () => `s${(which.next().value ?? 0) % kinds.length}`),
          );
          const { border, targetMm } = layOutBlanket(squares, layout(grid, null));
          expect(border.top).toBe(border.bottom);
          expect(border.left).toBe(border.right);
          expect(border.top).toBe(columns * border.eachSide);
          expect(border.left).toBe(rows * border.eachSide);
          expect(border.eachSide * border.stitchMm).toBeCloseTo(targetMm, 6);
        },
      ),
      { seed: 43, numRuns: 200 },
    );
  });

  it('makes a border of bounded length or says in words why not, for 500 odd blankets', () => {
    const any = fc.record({
      mm: fc.double({ min: 0.5, max: 300, noNaN: true }),
      stitches: fc.integer({ min: 1, max: 15 }),
    });
    const size = fc.integer({ min: 1, max: 6 });
    const met = { made: 0, refused: 0 };
    fc.assert(
      fc.property(
        fc.array(any, { minLength: 1, maxLength: 3 }),
        size,
        size,
        fc.infiniteStream(fc.nat(40)),
        fc.option(fc.constantFrom(1e-9, 0.02, 3, 80, 1e12), { freq: 1 }),
        fc.constantFrom(0.001, 10, 30, 80, 1e4, 1e300),
        (kinds, rows, columns, which, targetMm, depthMm) => {
          const squares = kinds.map(({ mm, stitches }, i) => square(`s${i}`, mm, stitches));
          const pick = () => {
            const place = which.next().value ?? 0;
            // Now and then an empty place, and a square that was not made.
            return place === 40 ? null : `s${place === 39 ? 9 : place % kinds.length}`;
          };
          const grid = Array.from({ length: rows }, () => Array.from({ length: columns }, pick));
          const report = layOutBlanket(squares, layout(grid, targetMm));
          const { plan, trouble } = blanketBorder(report.border, { title: 'T', depthMm });
          const counts = [report.targetMm, ...report.squares.map((fit) => fit.rimStitchesChange)];
          expect(counts.every(Number.isFinite)).toBe(true);
          for (const fit of report.squares) {
            const from = squares.find(({ id }) => id === fit.id);
            expect((from?.sideStitches ?? 0) + fit.sideStitchesChange).toBeGreaterThan(0);
          }
          const edge = [...grid[0], ...(grid.at(-1) ?? []), ...grid.map((row) => row[0])];
          const laid = (id: string | null | undefined) => squares.some((one) => one.id === id);
          const whole = [...edge, ...grid.map((row) => row.at(-1))].every(laid);
          if (!whole) expect(plan).toBe(null);
          if (plan === null) {
            met.refused++;
            expect(trouble).toMatch(/^(There is no|So) .*border.*\.$/);
          } else {
            met.made++;
            expect(plan.rounds).toBeLessThanOrEqual(400);
            expect(plan.castOn).toBeLessThanOrEqual(40_000);
            expect(plan.text.length).toBeLessThan(100_000);
            expect(plan.boundOff).toBe(plan.castOn + 4 * plan.rounds);
          }
        },
      ),
      { seed: 47, numRuns: 500 },
    );
    expect(met.made).toBeGreaterThan(50);
    expect(met.refused).toBeGreaterThan(50);
  });

  it('has no border round no squares, nor one thinner than nothing', () => {
    const none = layOutBlanket([], layout([['a']], null)).border;
    expect(blanketBorder(none, { title: '', depthMm: 30 })).toEqual({
      plan: null,
      trouble: 'There is no border: no square along the edge can be joined.',
    });
    const spec = { title: '', yarn: '', edges: [4, 4, 4, 4], depthMm: 30 } as const;
    for (const stitchMm of [0, -1, Number.NaN, 1e-12])
      expect(() => borderPlan({ ...spec, stitchMm })).toThrow(RangeError);
  });

  it('never takes away more stitches than a side has', () => {
    const [fit] = layOutBlanket([square('a', 100, 4)], layout([['a']], 2)).squares;
    expect(fit).toMatchObject({ fit: 'adjust', sideStitchesChange: 0, rimStitchesChange: 0 });
    expect(fit.words).toContain('cannot be made so small with fewer stitches alone');
  });

  it('has a mitred border that lies flat once relaxed, at any size and gauge', () => {
    for (const [top, side, stitchMm] of [
      [40, 24, 5],
      [30, 30, 4.2],
      [66, 22, 6.5],
    ] as const) {
      const plan = borderPlan({
        title: '',
        yarn: '',
        edges: [top, side, top, side],
        stitchMm,
        depthMm: 20,
      });
      const { knitted } = knit(plan.text);
      expect(knitted?.plan.castOn).toBe(2 * (top + side) + 4);
      expect(knitted?.plan.rounds.at(-1)?.after).toBe(plan.boundOff);
      expect(knitted?.report.verdict).toBe('flat');
      expect(knitted?.report.riseMm).toBeLessThan(1);
    }
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
    expect(words('cm')).toMatch(
      /A is 1 cm too narrow.*B is 2 cm too wide.*differ by 3 cm, more than/,
    );
    expect(words('inch')).toMatch(/A is ⅜ in too narrow.*B is ¾ in.*differ by 1⅛ in, more/);
    expect(words('inch')).not.toMatch(/\bmm\b|\bcm\b/);
  });

  it('names squares that the layout uses but nobody made', () => {
    expect(layOutBlanket([square('a', 200)], layout([['a', 'z']])).unknown).toEqual(['z']);
  });
});
