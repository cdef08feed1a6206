/** Another size and gauge, judged by the relaxed fabric. */
import { describe, expect, it } from 'vitest';
import { sideDeficitOf } from '../../src/draft/rework/rim-stitches.ts';
import type { PanelSpec, SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, gradeToSize, type Knitted, knit } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

const GAUGE = { stitchMm: 5, roundMm: 100 / 28 };
const cable = (
  stitches: string,
  crossEvery: number,
  place: PanelSpec['place'] = 'middle',
): PanelSpec => ({ stitches, crossEvery, place });

function knitted(text: string): Knitted {
  const { plan, knitted: made } = knit(text, { advise: false });
  if (!made) throw new Error(plan.diagnostics.map((d) => d.message).join());
  return made;
}

const drafted = (wishes: SpecInput): Plan => parsePlan(draftMeasured(wishes).text);

/** Rim stitches, and what the sides lack against plain ground. */
function start(panels: readonly PanelSpec[], sizeMm = 90) {
  const { plan, report } = knitted(draftMeasured({ sizeMm, ...GAUGE, panels }).text);
  return { plan, sideDeficit: sideDeficitOf(plan, report, GAUGE.stitchMm) };
}

/** Stitches of the first round, as written from one side. */
const firstRound = (text: string) => /Round 1: (.*?); rep/.exec(text)?.[1];
const crossings = (text: string) => (text.match(/\d\/\d [LR]C/g) ?? []).length;

const cabled = start([cable('p1 k4 p1', 6)]);

it.each([
  ['larger', { sizeMm: 110, ...GAUGE }],
  ['in finer yarn', { sizeMm: 90, stitchMm: 4.2, roundMm: 3 }],
])('a cabled square %s lies flat within a stitch a side of the size asked', (_, spec) => {
  const { plan, sideDeficit } = cabled;
  const graded = gradeToSize(plan, { ...spec, corners: 4, sideDeficit });
  const now = knitted(graded.text).report;
  expect(Math.abs(now.sideMm - spec.sizeMm)).toBeLessThanOrEqual(spec.stitchMm);
  expect(now.verdict).toMatch(/^flat/);
  // What it says of itself is what the fabric measures.
  expect([graded.verdict, graded.castOn]).toEqual([now.verdict, now.castOn]);
  expect(graded.sizeMm).toBeCloseTo(now.sideMm, 2);
});

describe('two panels, each at its own place on the side', () => {
  const { plan, sideDeficit } = start([cable('p1 k4 p1', 4, 5), cable('p2 k2 p2', 4, 15)], 135);
  const at = (sizeMm: number) => gradeToSize(plan, { sizeMm, ...GAUGE, corners: 4, sideDeficit });

  it('keep their edges, their cables and the corner stitch on a smaller side', () => {
    const graded = at(120);
    expect(firstRound(graded.text)).toMatch(/^\*k\d+, p1, k4, p1, k\d+, p2, k2, p2, k\d+$/);
    expect(crossings(graded.text)).toBeGreaterThanOrEqual(2);
    expect(graded.text).toMatch(/k2tog, k[12]; rep/);
    expect(graded.castOn).toBeLessThan(plan.castOn);
  });

  it('are not given up where they do not fit: the size is refused, with one that fits', () => {
    expect(() => at(60)).toThrow(/too small.*panels.*fit from a side of about \d+(\.\d)? cm/);
    const fits = Number(/about ([\d.]+) cm/.exec(messageOf(() => at(60)))?.[1]);
    expect(firstRound(at(10 * fits + GAUGE.stitchMm / 2).text)).toMatch(/p1, k4, p1/);
  });
});

function messageOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    return (error as Error).message;
  }
  return '';
}

it('takes a stitch more or fewer beside the corner where a round of shaping would be too much', () => {
  const plan = drafted({ sizeMm: 100, ...GAUGE });
  const rims = [125, 130].map(
    (sizeMm) => gradeToSize(plan, { sizeMm, ...GAUGE, corners: 4 }).castOn / 4,
  );
  expect(rims).toEqual([25, 26]);
  const odd = gradeToSize(plan, { sizeMm: 125, ...GAUGE, corners: 4 });
  expect(odd.notes.join()).toMatch(/Every side has one stitch/);
  expect(parsePlan(odd.text).diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
});

it('is refused in words where nothing would be left', () => {
  const plan = drafted({ sizeMm: 60, ...GAUGE });
  expect(() => gradeToSize(plan, { sizeMm: 3, ...GAUGE, corners: 4 })).toThrow(/too small/);
});

it('is refused in words where what comes nearest is neither flat nor of that size', () => {
  const { plan, report } = knitted(
    draftMeasured({ sizeMm: 120, ...GAUGE, shape: 'triangle' }).text,
  );
  const spec = { ...GAUGE, corners: 3, sideDeficit: sideDeficitOf(plan, report, GAUGE.stitchMm) };
  for (const sizeMm of [30, 40, 55]) {
    const message = messageOf(() => {
      const graded = gradeToSize(plan, { ...spec, sizeMm });
      const near = Math.abs(graded.sizeMm - sizeMm) <= 3 * GAUGE.stitchMm;
      if (!near) expect(graded.verdict).toMatch(/^flat/);
    });
    if (message) expect(message).toMatch(/too small|cannot be graded to a side of/);
  }
});

it('a size that its rounds do not allow is told with those on either side, which are to be had', () => {
  const plan = drafted({ sizeMm: 90, ...GAUGE, shape: 'disc' });
  const at = (sizeMm: number) => gradeToSize(plan, { sizeMm, ...GAUGE, corners: 0 });
  const between = at(80);
  const [, below, above] =
    /on either side of it are ([\d.]+) cm and ([\d.]+) cm/.exec(between.notes.join()) ?? [];
  expect(Number(below)).toBeLessThan(8);
  expect(Number(above)).toBeGreaterThan(8);
  for (const size of [below, above])
    expect(at(10 * Number(size)).sizeMm / 10).toBeCloseTo(Number(size), 1);
});
