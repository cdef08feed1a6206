/** Another size and gauge, judged by the relaxed fabric. */
import { describe, expect, it } from 'vitest';
import { rimStitches } from '../../src/draft/rework/grade.ts';
import type { PanelSpec } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, gradeToSize, type Knitted, knit } from '../../src/knit.ts';

const GAUGE = { stitchMm: 5, roundMm: 100 / 28 };
const cable = (
  stitches: string,
  crossEvery: number,
  place: PanelSpec['place'] = 'middle',
): PanelSpec => ({ stitches, crossEvery, place });

function knitted(text: string): Knitted {
  const { plan, knitted: made } = knit(text);
  if (!made) throw new Error(plan.diagnostics.map((d) => d.message).join());
  return made;
}

describe.each([
  ['no panel', []],
  ['a cable of four', [cable('p1 k4 p1', 6)]],
  ['a cable of six', [cable('p2 k6 p2', 8)]],
  ['a cable along the corners', [cable('p1 k4 p1', 6, 'corner')]],
])('a square with %s', (_, panels) => {
  const { plan, report } = knitted(draftMeasured({ sizeMm: 150, ...GAUGE, panels }).text);
  const sideDeficit = rimStitches(plan) / 4 - report.sideMm / report.metric.stitchMm;

  it.each([
    ['larger', { sizeMm: 200, ...GAUGE }],
    ['in finer yarn', { sizeMm: 150, stitchMm: 4.2, roundMm: 3 }],
  ])('%s lies flat within half a stitch a side of the size asked', (__, spec) => {
    const graded = gradeToSize(plan, { ...spec, corners: 4, sideDeficit });
    const now = knitted(graded.text).report;
    expect(Math.abs(now.sideMm - spec.sizeMm)).toBeLessThanOrEqual(spec.stitchMm / 2);
    expect(now.verdict).toMatch(/^flat/);
    // What it says of itself is what the fabric measures, to a tenth of a stitch.
    expect(Math.abs(graded.sizeMm - now.sideMm)).toBeLessThan(spec.stitchMm / 10);
    expect(graded.castOn).toBe(now.castOn);
    expect(graded.castOn % 4).toBe(0);
  });

  it('finds the size also without knowing how much the panels pull in', () => {
    const graded = gradeToSize(plan, { sizeMm: 200, ...GAUGE, corners: 4 });
    expect(Math.abs(graded.sizeMm - 200)).toBeLessThanOrEqual(GAUGE.stitchMm);
  });
});

it('takes a stitch more or fewer beside the corner where a round of shaping would be too much', () => {
  const { plan } = knitted(draftMeasured({ sizeMm: 150, ...GAUGE }).text);
  const rims = [195, 200, 205, 210].map(
    (sizeMm) => gradeToSize(plan, { sizeMm, ...GAUGE, corners: 4 }).castOn / 4,
  );
  expect(rims).toEqual([39, 40, 41, 42]);
  const odd = gradeToSize(plan, { sizeMm: 195, ...GAUGE, corners: 4 });
  expect(odd.notes.join()).toMatch(/Every side has one stitch/);
  expect(knitted(odd.text).plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
});

it('is refused in words where nothing would be left', () => {
  const { plan } = knitted(draftMeasured({ sizeMm: 150, ...GAUGE }).text);
  expect(() => gradeToSize(plan, { sizeMm: 3, ...GAUGE, corners: 4 })).toThrow(/too small/);
});
