import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Draft, draftPlan } from '../../src/draft/draft.ts';
import { type SpecInput, segmentsOf } from '../../src/draft/spec/draft-spec.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';
import { spec } from './wishes-arbitrary.ts';

const SQUARE: SpecInput = { sizeMm: 200, stitchMm: 100 / 22, roundMm: 100 / 30 };

function drafted(asked: SpecInput): { draft: Draft; plan: Plan; counts: number[] } {
  const draft = draftPlan(asked);
  const plan = parsePlan(draft.text);
  const seam = plan.seam ? plan.seam.begin + plan.seam.end : 0;
  const counts = [plan.castOn, ...plan.rounds.map((round) => round.after)].map((n) => n - seam);
  if (draft.spec.direction === 'out') counts.reverse();
  return { draft, plan, counts };
}

describe('a drafted square', () => {
  it('has the side asked for, in whole stitches, and says what that makes', () => {
    const { draft, plan } = drafted(SQUARE);
    // 200 mm at 22 sts to 10 cm is exactly 44 stitches a side.
    expect(draft.sideStitches).toBe(44);
    expect(plan.castOn).toBe(176);
    expect(draft.compromises).toEqual([]);
    expect(drafted({ ...SQUARE, sizeMm: 202 }).draft.compromises[0]).toContain(
      '20 cm instead of 20.2 cm',
    );
  });

  it('loses 8 h/w stitches a round: 5.87 at 22 x 30', () => {
    const { draft, counts } = drafted(SQUARE);
    expect(draft.ratePerRound).toBeCloseTo((8 * 22) / 30, 12);
    const rounds = counts.length - 1;
    expect((counts[0] - counts[rounds]) / rounds).toBeGreaterThan(5.3);
    expect((counts[0] - counts[rounds]) / rounds).toBeLessThan(6.2);
  });

  it('in garter at h/w = 1/2 decreases on every knit round and no other', () => {
    const { plan } = drafted({ sizeMm: 200, stitchMm: 5, roundMm: 2.5, ground: 'garter' });
    for (const round of plan.rounds) {
      const decreased = round.after < round.before;
      if (round.before > 12) expect(decreased).toBe(round.n % 2 === 0);
      if (round.n % 2 === 1)
        expect(new Set(Array.from(round.works, (id) => plan.kinds[id].name))).toEqual(
          new Set(['p']),
        );
    }
  });

  it('crosses its cable on the interval and never while it is eaten', () => {
    const { plan } = drafted({
      ...SQUARE,
      panels: [{ stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' }],
    });
    const crossing = plan.kinds.findIndex((kind) => kind.name === '2/2 LC');
    const rounds = plan.rounds.filter((round) => round.works.includes(crossing)).map((r) => r.n);
    expect(rounds.length).toBeGreaterThan(2);
    for (const n of rounds) expect(n % 6).toBe(0);
    const eaten = plan.rounds.find((round) => round.before / 4 < 6 + 2 + 1)?.n ?? 0;
    expect(Math.max(...rounds)).toBeLessThanOrEqual(eaten - 2);
  });

  it('widens a side by what its cables pull in', () => {
    const plain = drafted({ ...SQUARE, sizeMm: 400 }).draft;
    const cabled = drafted({
      ...SQUARE,
      sizeMm: 400,
      cablePullIn: 0.25,
      panels: [{ stitches: 'k8', crossEvery: 8, place: 'middle' }],
    }).draft;
    expect(cabled.sideStitches - plain.sideStitches).toBe(2);
    expect(cabled.sizeMm).toBeCloseTo(400, 6);
  });

  it('keeps a corner panel to the end and closes over it', () => {
    const { plan, counts } = drafted({
      ...SQUARE,
      panels: [{ stitches: 'p1 k6 p1', crossEvery: 8, place: 'corner' }],
    });
    expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    expect(counts.at(-1)).toBeLessThanOrEqual(12);
  });

  it('never breaks a stitch over the end of a side', () => {
    for (const corner of ['paired 0', 'paired 1', 'paired 2', 'centred'] as const) {
      const { plan } = drafted({ ...SQUARE, corner });
      for (const round of plan.rounds) {
        const names = Array.from(round.works, (id) => plan.kinds[id].name);
        const quarter = names.length / 4;
        expect(Number.isInteger(quarter)).toBe(true);
        for (let side = 1; side < 4; side++)
          expect(names.slice(side * quarter, (side + 1) * quarter)).toEqual(
            names.slice(0, quarter),
          );
      }
    }
  });

  it('says what it could not do', () => {
    const odd = { stitches: 'p1 k4 p1', crossEvery: 5, place: 'middle' as const };
    expect(draftPlan({ ...SQUARE, worked: 'flat', panels: [odd] }).compromises.join()).toContain(
      'every 6 rows',
    );
    const wide = { stitches: 'k12 p12 k12 p12', crossEvery: null, place: 40 };
    expect(draftPlan({ ...SQUARE, panels: [wide] }).compromises.join()).toContain('left out');
  });

  it('refuses what cannot be knitted, naming the wish', () => {
    const refuse = (more: Partial<SpecInput>) => () => draftPlan({ ...SQUARE, ...more });
    expect(refuse({ sizeMm: 5 })).toThrow(/stitches round its rim/);
    expect(refuse({ sizeMm: Number.NaN })).toThrow(RangeError);
    expect(refuse({ stitchMm: 0 })).toThrow(/Stitch width/);
    expect(refuse({ shape: 'constructor' as never })).toThrow(/not known/);
    expect(refuse({ panels: [{ stitches: 'p1 x4', crossEvery: null, place: 'middle' }] })).toThrow(
      /"x4"/,
    );
    expect(refuse({ panels: [{ stitches: 'p3', crossEvery: 4, place: 'middle' }] })).toThrow(
      /to cross/,
    );
  });
});

describe('random wishes', () => {
  it('give plans that read without errors, close, keep to the flat line and the size', () => {
    let made = 0;
    fc.assert(
      fc.property(spec, (asked) => {
        const { draft, plan, counts } = drafted(asked);
        made++;
        const troubles = plan.diagnostics.filter((d) => d.severity !== 'note');
        expect(troubles).toEqual([]);
        expect(plan.castOn).toBe(draft.castOn);

        const segments = segmentsOf(draft.spec);
        const rim = counts[0];
        const centre = counts[counts.length - 1];
        expect(centre).toBeGreaterThanOrEqual(4);
        expect(centre).toBeLessThanOrEqual(12);
        expect(plan.ending).toBe(draft.spec.direction === 'in' ? 'drawn-up' : 'bound-off');

        // One step: a pair at every corner (a stitch in every sector, two in seed stitch), twice that
        // where one is not enough.
        const single = draft.spec.shape === 'disc' && draft.spec.ground !== 'seed';
        const pair = (single ? 1 : 2) * segments;
        const step = pair * Math.max(1, Math.ceil(draft.ratePerRound / pair));
        if (!draft.compromises.some((line) => line.includes('will cup'))) {
          // The line may begin a round or two late, but it is one line: all counts within two steps.
          const astray = counts.flatMap((count, course) =>
            // The last stitches close as they can.
            count <= 24 ? [] : [count - (rim - draft.ratePerRound * course)],
          );
          expect(Math.max(0, ...astray) - Math.min(0, ...astray)).toBeLessThanOrEqual(2.06 * step);
        }

        // Seed runs on round a disc where each sector has an even number of stitches.
        const even = draft.spec.shape === 'disc' && draft.spec.ground === 'seed' ? 2 : 1;
        const halfStitch = (draft.spec.shape === 'disc' ? (even * segments) / Math.PI : 1) * 0.5;
        const off = Math.abs(draft.sizeMm - draft.spec.sizeMm) / draft.spec.stitchMm;
        expect(off).toBeLessThanOrEqual(halfStitch + 1e-9);
      }),
      { seed: 4, numRuns: runs(500) },
    );
    expect(made).toBe(runs(500));
  }, 60_000);
});
