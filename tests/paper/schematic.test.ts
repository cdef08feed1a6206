import { describe, expect, it } from 'vitest';
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
