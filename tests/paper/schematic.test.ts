import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { knit } from '../../src/knit.ts';
import { blockingMeasures, drawSchematic } from '../../src/paper/pattern/schematic.ts';
import { measureOutline } from '../../src/report/outline.ts';

/** A garter square that is exactly flat: eight decreases every second round, rounds half as high as wide. */
const square = (every: string) => `Title: Quay square
Gauge: 20 sts and 40 rounds = 10 cm in garter stitch
Cast on 64 sts. Join in the round.
Round 1: purl.
Round 2: *k1, ssk, k to last 2 sts of side, k2tog; rep from * 3 times more.
${every}Repeat rounds 1 and 2 until 16 sts remain.
Cut the yarn and draw it through the remaining sts.
`;

function schematicOf(text: string) {
  const { plan, knitted } = knit(text);
  if (!knitted) throw new Error('the plan has mistakes');
  const outline = measureOutline(knitted.graph, knitted.sheet.positions);
  const { report } = knitted;
  return {
    plan,
    report,
    outline,
    measures: blockingMeasures(report, outline, 'cm'),
    svg: drawSchematic(plan, report, outline),
  };
}

describe('the schematic', () => {
  const flat = schematicOf(square(''));

  it('measures a flat square as a square: its diagonal is the side times the root of two', () => {
    expect(flat.report.verdict).toBe('flat');
    const [side, across, corners] = flat.measures.map((m) => m.mm);
    expect(side).toBeCloseTo(flat.report.sideMm, 9);
    // Loops lie half a stitch inside the edge that the tape measures.
    expect(Math.abs(across - side)).toBeLessThan(5);
    expect(Math.abs(corners - Math.SQRT2 * side)).toBeLessThan(5 * Math.SQRT2);
    expect(flat.svg).toContain('Block to these measures');
  });

  it('draws its arrows as long as they say, the side of a hexagon half as long as it is wide', () => {
    for (const corners of [4, 6, 8]) {
      const sideMm = 90;
      const radius = sideMm / (2 * Math.sin(Math.PI / corners));
      const acrossMm = 2 * radius * Math.cos(Math.PI / corners);
      const points = Float64Array.from({ length: 2 * corners }, (_, k) => {
        const angle = ((2 * (k >> 1) + 1) * Math.PI) / corners + Math.PI / 2;
        return radius * (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
      });
      const outline = {
        ...{ points, starts: points.slice(0, 4), acrossMm, cornersMm: 2 * radius },
        throughMm: acrossMm,
        ...{ widthMm: corners === 6 ? 2 * radius : acrossMm, heightMm: acrossMm },
      };
      const report = { ...flat.report, shape: 'square' as const, corners, sideMm, extents: null };
      const measures = blockingMeasures(report, outline, 'cm');
      const svg = drawSchematic(flat.plan, report, outline);
      // Level and upright lines with heads at both ends.
      const arrows = [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)M/g)].map(
        ([, ...at]) => at.map(Number),
      );
      const across = arrows.find(([x0, y0, x1, y1]) => y0 === y1 && x0 !== x1) ?? [];
      const up = arrows.filter(([x0, , x1]) => x0 === x1).at(-1) ?? [];
      const ratio = (across[2] - across[0]) / (up[3] - up[1]);
      expect(ratio).toBeCloseTo(measures[0].mm / measures[1].mm, 2);
    }
  });

  it('measures through the middle what is there, less than from corner to corner of sides that bow in', () => {
    // Of 20 by 36 garter: sides a little too short for their depth, which bow in between the corners.
    const rates = ['', 'Rounds 3-4: knit.\n'];
    const bowed = draftPlan({ sizeMm: 150, stitchMm: 5, roundMm: 100 / 36, ground: 'garter' }).text;
    let bowing = 0;
    for (const text of [...rates.map(square), bowed]) {
      const { outline, report, measures } = schematicOf(text);
      const { points, acrossMm, throughMm } = outline;
      // The outermost stitches beside the middle line, a side's middle above and below.
      const beside = Array.from({ length: points.length / 2 }, (_, i) => i).filter(
        (i) => Math.abs(points[2 * i]) < 6,
      );
      const heights = beside.map((i) => points[2 * i + 1]);
      expect(throughMm).toBeLessThanOrEqual(acrossMm + 1e-9);
      expect(Math.abs(Math.max(...heights) - Math.min(...heights) - throughMm)).toBeLessThan(1);
      if (acrossMm - throughMm > 2) bowing++;
      if (measures.length > 0) expect(measures[1].mm).toBe(throughMm);
      expect(report.acrossMm).toBe(throughMm);
    }
    expect(bowing).toBeGreaterThan(0);
  });

  it('gives nothing to block to where the piece does not lie flat', () => {
    const cup = schematicOf(
      square('Rounds 3-8: knit.\n').replace(/Repeat rounds 1 and 2/, 'Repeat rounds 1-8'),
    );
    expect(cup.report.verdict).toBe('cups');
    expect(cup.measures).toEqual([]);
    expect(cup.svg).toContain('There are no measures to block to');
    expect(cup.svg).not.toContain('Block to');
  });
});

it('tells triangles and pentagons from a side to the corner opposite, and no width beside', () => {
  for (const shape of ['triangle', 'pentagon'] as const) {
    const { text } = draftPlan({ sizeMm: 90, stitchMm: 5, roundMm: 3.5, shape });
    const [side, height, corners] = schematicOf(text).measures;
    expect(height.name).toBe('from a side to the corner opposite');
    // Plane geometry of the regular ones; half a stitch lies beyond the outmost loops.
    const share = shape === 'triangle' ? Math.sqrt(3) / 2 : Math.sqrt(5 + 2 * Math.sqrt(5)) / 2;
    expect(Math.abs(height.mm - share * side.mm)).toBeLessThan(5);
    expect(corners?.name).toBe(shape === 'triangle' ? undefined : 'corner to corner');
  }
});
