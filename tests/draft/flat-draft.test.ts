import { describe, expect, it } from 'vitest';
import type { SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, knit } from '../../src/knit.ts';

const CABLE = { stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' as const };
const BASE = { stitchMm: 5, roundMm: 3.6, sizeMm: 110 };

const CASES: Readonly<Record<string, SpecInput>> = {
  'a plain square': BASE,
  'a square grown from its centre in reverse stockinette': {
    ...BASE,
    roundMm: 3.8,
    direction: 'out',
    ground: 'reverse',
  },
  'a garter square with centred doubles': {
    ...BASE,
    roundMm: 2.5,
    ground: 'garter',
    corner: 'centred',
  },
  'a square with a cable on every side': { ...BASE, panels: [CABLE] },
  'a ribbed panel': {
    ...BASE,
    panels: [{ stitches: 'p2 k2 p2', crossEvery: null, place: 'middle' }],
  },
  'a square worked flat and seamed': { ...BASE, worked: 'flat' },
  'a hexagon': { ...BASE, shape: 'hexagon', sizeMm: 70 },
  'an octagon in garter': { ...BASE, roundMm: 2.5, shape: 'octagon', sizeMm: 60, ground: 'garter' },
  'a triangle in garter': {
    ...BASE,
    roundMm: 2.5,
    shape: 'triangle',
    sizeMm: 130,
    ground: 'garter',
  },
  'a disc': { ...BASE, shape: 'disc', sizeMm: 150 },
};

describe('a measured draft lies flat at the size asked once relaxed:', () => {
  for (const [name, spec] of Object.entries(CASES))
    it(name, () => {
      const draft = draftMeasured(spec);
      const { plan, knitted } = knit(draft.text, { advise: false });
      expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
      expect(['flat', 'flat after blocking']).toContain(knitted?.report.verdict);
      // Half a stitch a side to choose from, and a quarter for the relaxation (disc: its whole rim in
      // eight sectors).
      const side = spec.shape === 'disc' ? 8 / Math.PI : 1;
      const off = Math.abs((knitted?.report.sideMm ?? 0) - spec.sizeMm) / spec.stitchMm;
      expect(off).toBeLessThanOrEqual(0.75 * side);
    }, 30_000);
});

describe('measuring', () => {
  it('gives a panel that pulls in more stitches', () => {
    const rib = { stitches: 'p2 k2 p2 k2 p2', crossEvery: null, place: 'middle' as const };
    const plain = draftMeasured(BASE);
    const ribbed = draftMeasured({ ...BASE, panels: [rib] });
    expect(ribbed.sideStitches).toBeGreaterThan(plain.sideStitches);
  });

  it('leaves an exactly flat schedule as simple as it is', () => {
    const { text } = draftMeasured({ sizeMm: 175, stitchMm: 5, roundMm: 2.5, ground: 'garter' });
    const shaped = [...text.matchAll(/^Round (\d+): .*ssk/gm)].map((m) => Number(m[1]));
    expect(shaped.length).toBeGreaterThan(15);
    for (const round of shaped) expect(round % 2).toBe(0);
  });
});
