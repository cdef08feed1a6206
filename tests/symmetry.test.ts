/** What must not matter: handedness, place and unit. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Knitted, knit, prepare } from '../src/knit.ts';
import { parsePlan } from '../src/plan/parse.ts';
import { relaxSheet } from '../src/relax/relax-sheet.ts';
import { motifText } from './gauge/motif-texts.ts';
import { riseMm } from './relax/sheet-measures.ts';

function knitted(text: string): Knitted {
  const result = knit(text, { advise: false }).knitted;
  if (!result) throw new Error('the plan did not relax');
  return result;
}

const HEAD = 'Gauge: 20 sts and 27 rounds to 10 cm\nCast on 64 sts and join in the round.\n';
const REPEAT =
  'Round 2: knit.\nRepeat rounds 1 and 2 until 8 sts remain.\nDraw yarn through remaining sts.';

describe('a mirrored plan', () => {
  it('relaxes to a mirrored sheet: same energy, rise and side', () => {
    const right = knitted(`${HEAD}Round 1: (k to last 2 sts, k2tog) 4 times.\n${REPEAT}`);
    const left = knitted(`${HEAD}Round 1: (ssk, k to end) 4 times.\n${REPEAT}`);
    const a = right.report;
    const b = left.report;
    // The helix of the rounds is not mirrored with the plan: the two differ by its jogs, one course
    // at the rim and at the centre (where the bending is), so the energies agree to a few per cent.
    expect(Math.abs(b.relaxation.energy / a.relaxation.energy - 1)).toBeLessThan(0.05);
    expect(Math.abs(b.weightlessRiseMm / a.weightlessRiseMm - 1)).toBeLessThan(0.02);
    expect(b.sideMm).toBeCloseTo(a.sideMm, 1);
    expect(b.coneAngleDeg).toBeCloseTo(a.coneAngleDeg, 6);
  });

  it('is mirrored loop by loop where it is worked flat', () => {
    const flat = (edge: string): string =>
      `Gauge: 20 sts and 28 rows to 10 cm\nCast on 24 sts.\nRow 1 (RS): ${edge}\nRow 2 (WS): purl.\nRepeat rows 1 and 2 seven more times.\nBind off.`;
    const right = prepare(parsePlan(flat('ssk, k to end.')));
    const left = prepare(parsePlan(flat('k to last 2 sts, k2tog.')));
    const a = right.measured.layout;
    const b = left.measured.layout;
    for (let c = 0; c < a.widthMm.length; c++) expect(b.widthMm[c]).toBeCloseTo(a.widthMm[c], 9);
    for (let c = 0; c < right.graph.courses; c++) {
      const first = a.rings.start[c];
      const size = a.rings.start[c + 1] - first;
      for (let j = 0; j < size; j++) {
        expect(b.across[first + j]).toBeCloseTo(1 - a.across[first + size - 1 - j], 9);
      }
    }
  });
});

describe('a relaxed sheet', () => {
  it('scales with the unit: a gauge twice as coarse makes everything twice as large', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 6 }),
        fc.constantFrom(1, 2, 3),
        fc.double({ min: 0.5, max: 0.9, noNaN: true }),
        (sides, every, ratio) => {
          const motif = {
            sides,
            side: 10,
            every: [every],
            corner: 'paired',
            garter: false,
          } as const;
          const at = (stitchMm: number) =>
            prepare(parsePlan(motifText({ ...motif, stitchMm, roundMm: ratio * stitchMm })));
          const small = at(4).measured;
          const large = at(8).measured;
          expect(large.metric.ring.coneAngleRad).toBeCloseTo(small.metric.ring.coneAngleRad, 4);
          for (let s = 0; s < small.metric.restMm.length; s++) {
            expect(large.metric.restMm[s] / small.metric.restMm[s]).toBeCloseTo(2, 4);
            expect(large.metric.stiffness[s]).toBeCloseTo(small.metric.stiffness[s], 4);
          }
        },
      ),
      { seed: 21, numRuns: 12 },
    );
  });

  it.each([
    [5, 2, 0.75, 'a cup'],
    [4, 1, 0.75, 'a ruffle'],
  ])(
    'of %i corners every %i rounds at h/w = %d, %s, has the same shape at twice the size',
    (sides, every, ratio) => {
      const rise = (stitchMm: number) => {
        const { measured } = prepare(
          parsePlan(
            motifText({
              sides,
              side: 12,
              every: [every],
              corner: 'paired',
              garter: false,
              stitchMm,
              roundMm: ratio * stitchMm,
            }),
          ),
        );
        // Bending is a length of its own: it has to grow with the stitches.
        const metric = { ...measured.metric, bendingMm: stitchMm / 4 };
        return riseMm(relaxSheet(metric, { tolerance: 1e-7 }).positions);
      };
      const small = rise(4);
      expect(small).toBeGreaterThan(10);
      expect(rise(8) / small).toBeCloseTo(2, 2);
    },
  );

  it('lies centred, mean plane level, as its record promises', () => {
    const { sheet, measured } = knitted(
      motifText({
        sides: 4,
        side: 14,
        every: [2],
        corner: 'paired',
        garter: false,
        stitchMm: 5,
        roundMm: 3.75,
      }),
    );
    const { areaMm2 } = measured.metric;
    const sum = [0, 0, 0];
    let area = 0;
    for (let v = 0; v < areaMm2.length; v++) {
      area += areaMm2[v];
      for (let d = 0; d < 3; d++) sum[d] += areaMm2[v] * sheet.positions[3 * v + d];
    }
    for (const s of sum) expect(Math.abs(s / area)).toBeLessThan(1e-6);
  });
});
