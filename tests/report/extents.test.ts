import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { blockingMeasures } from '../../src/paper/pattern/schematic.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { measureOutline } from '../../src/report/outline.ts';
import { sizeFact } from '../../src/report/words/size-fact.ts';

const swatch = (sts: number, rows: number) => `Gauge: 20 sts and 28 rows = 10 cm
Cast on ${sts} sts.
Row 1: knit.
Row 2: purl.
Repeat rows 1 and 2 ${rows / 2 - 1} more times.
Bind off.
`;

/** Both edges of the cast-on close the corner: as wide as half of its stitches. */
const mitre = (arm: number, stitches: number) => {
  const rows = ['Row 1 (WS): knit.'];
  for (let left = arm - 1, row = 2; left >= 1; left--, row += 2)
    rows.push(`Row ${row}: k${left}, s2kp, k${left}.`, `Row ${row + 1}: knit.`);
  return `Gauge: ${stitches} sts and ${2 * stitches} rows = 10 cm in garter stitch
Cast on ${2 * arm + 1} sts.
${rows.join('\n')}
Row ${2 * arm}: s2kp.
Fasten off.
`;
};

function measured(text: string) {
  const { knitted } = knit(text, { advise: false });
  if (!knitted?.report.extents) throw new Error('no open piece');
  const { report, graph, sheet } = knitted;
  return {
    report,
    outline: measureOutline(graph, sheet.positions),
    extents: knitted.report.extents,
  };
}

function relaxed(text: string) {
  const { knitted } = knit(text, { advise: false });
  if (!knitted) throw new Error('not relaxed');
  return knitted;
}

describe('how an open piece lies', () => {
  it.each([
    [44, 56],
    [20, 56],
    [24, 30],
  ])('is as wide as its %i stitches and as long as its %i rows', (sts, rows) => {
    const { extents, outline, report } = measured(swatch(sts, rows));
    expect(extents.widthMm).toBeCloseTo(sts * 5, 0);
    expect(extents.lengthMm).toBeCloseTo((rows * 100) / 28, 0);
    expect(outline.widthMm).toBe(extents.widthMm);
    expect(blockingMeasures(report, outline, 'cm').map((m) => m.name)).toEqual([
      'width',
      'length',
      'corner to corner',
    ]);
  });

  // Closed form: a mitred square of garter, rows half as high as stitches are wide, has sides of half the cast-on.
  it.each([
    [30, 18],
    [14, 23],
  ])('is a square of half the cast-on where %i stitches a side are mitred', (arm, stitches) => {
    const { extents, report } = measured(mitre(arm, stitches));
    const side = ((arm + 0.5) * 100) / stitches;
    expect(Math.abs(extents.widthMm / side - 1)).toBeLessThan(0.03);
    expect(Math.abs(extents.lengthMm / side - 1)).toBeLessThan(0.03);
    expect(sizeFact(report, 'cm').name).toBe('width × length');
  });

  it('says which rows show the right side as the rows themselves do', () => {
    for (const text of [swatch(20, 8), mitre(5, 20)]) {
      const { text: written } = writePattern(parsePlan(text), {});
      const odd = /Row 1 \((RS|WS)\)/.exec(written)?.[1];
      expect(written).toMatch(odd === 'WS' ? /Wrong-side rows are odd/ : /Right-side rows are odd/);
    }
  });
});

describe('how a tube lies', () => {
  // Closed form: stitches side by side round it, rounds on top of one another.
  it.each([
    [40, 12],
    [64, 30],
  ])('is as long round as its %i stitches and as high as its %i rounds', (sts, rounds) => {
    const { report } = relaxed(`Gauge: 20 sts and 28 rounds = 10 cm
Cast on ${sts} sts. Join in the round.
Rounds 1-${rounds}: knit.
Bind off.`);
    expect(report.verdict).toBe('tube');
    expect(Math.abs((report.tube?.mostMm ?? 0) / (sts * 5) - 1)).toBeLessThan(0.02);
    expect(Math.abs((report.tube?.heightMm ?? 0) / ((rounds * 100) / 28) - 1)).toBeLessThan(0.05);
    expect(sizeFact(report, 'cm')).toEqual({
      name: 'round × height',
      words: expect.stringMatching(/^[\d.]+ cm × [\d.]+ cm$/),
    });
  });

  it('is told by its shortest and its longest round where ribs draw it in', () => {
    const { report } = relaxed(`Gauge: 20 sts and 28 rounds = 10 cm in stockinette
Cast on 64 sts. Join in the round.
Rounds 1-8: *k2, p2; rep from * to end.
Rounds 9-24: knit.
Bind off.`);
    const { leastMm, mostMm } = report.tube ?? { leastMm: 0, mostMm: 0 };
    expect(mostMm).toBeGreaterThan(1.1 * leastMm);
    expect(sizeFact(report, 'cm').words).toMatch(/ cm to .* cm × /);
  });
});
