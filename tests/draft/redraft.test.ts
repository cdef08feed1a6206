import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { redraft } from '../../src/draft/rework/redraft.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';
import { spec } from './wishes-arbitrary.ts';

/** A plan in another designer's wording, not the drafter's. */
const PROSE = `Title: Moss rope
Gauge: 20 sts and 28 rounds = 10 cm
CO 64 sts, pm and join, being careful not to twist.
Rnd 1: *k6, p1, k2, p1, k6; rep from * to end.
Rnd 2: [ssk, k4, p1, k2, p1, k4, k2tog] 4 times. (56 sts)
Rnd 3: *k5, p1, 1/1 RC, p1, k5; rep from * around.
Rnd 4: [ssk, k3, p1, k2, p1, k3, k2tog] 4 times. (48 sts)
Rnd 5: *k4, p1, k2, p1, k4; rep from * around.
Rnd 6: [ssk, k2, p1, k2, p1, k2, k2tog] 4 times. (40 sts)
Rnd 7: *k3, p1, 1/1 RC, p1, k3; rep from * around.
Rnd 8: [ssk, k1, p1, k2, p1, k1, k2tog] 4 times. (32 sts)
Rnd 9: as round 5 but knit the knits and purl the purls.
`.replace(
  /Rnd 9.*\n/,
  'Rnd 9: *k2, p1, k2, p1, k2; rep from * around.\nDraw yarn through remaining sts.\n',
);

function names(plan: Plan, round: number): string[] {
  return Array.from(plan.rounds[round - 1].works, (id) => plan.kinds[id].name);
}
function shaping(plan: Plan): number[] {
  return plan.rounds.filter((round) => round.after !== round.before).map((round) => round.n);
}
function faultless(text: string): Plan {
  const plan = parsePlan(text);
  expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  return plan;
}

describe('timing decreases anew', () => {
  const plan = faultless(PROSE);

  it('spaces them by Bresenham: 4/3 is three rounds of every four', () => {
    expect(shaping(plan)).toEqual([2, 4, 6, 8]);
    expect(shaping(faultless(redraft(plan, 1).text))).toEqual([2, 3, 4, 5]);
    expect(shaping(faultless(redraft(plan, 4 / 3).text))).toEqual([2, 3, 4, 6]);
    expect(shaping(faultless(redraft(plan, 3 / 2).text))).toEqual([2, 3, 5, 6]);
    expect(shaping(faultless(redraft(plan, 3).text))).toEqual([2, 5, 8, 11]);
  });

  it('keeps cast-on, header and last count, and the same plan where the rate is its own', () => {
    const again = faultless(redraft(plan, 2).text);
    expect(again.castOn).toBe(64);
    expect(again.title).toBe('Moss rope');
    expect(again.gauges[0].stitchMm).toBeCloseTo(plan.gauges[0].stitchMm, 9);
    expect(again.rounds.length).toBe(plan.rounds.length);
    for (let n = 1; n <= plan.rounds.length; n++) expect(names(again, n)).toEqual(names(plan, n));
  });

  it('keeps the panel and its crossings on their interval', () => {
    const slower = faultless(redraft(plan, 3).text);
    const crossed = slower.rounds
      .filter((r) => names(slower, r.n).includes('1/1 RC'))
      .map((r) => r.n);
    expect(crossed).toEqual([3, 7, 11]);
    for (const round of slower.rounds) {
      const purls = names(slower, round.n).filter((name) => name === 'p').length;
      expect(purls).toBe(8);
    }
  });

  it('goes on in garter: plain rounds alternate and a decrease in a purl round is purled', () => {
    const garter = faultless(
      draftPlan({ sizeMm: 120, stitchMm: 5, roundMm: 2.5, ground: 'garter', corner: 'paired 0' })
        .text,
    );
    const slower = faultless(redraft(garter, 3).text);
    for (const round of slower.rounds) {
      const used = new Set(names(slower, round.n));
      const allowed =
        round.n % 2 === 0 ? ['k', 'ssk', 'k2tog', 's2kp'] : ['p', 'ssp', 'p2tog', 's2pp'];
      expect([...used].filter((name) => !allowed.includes(name))).toEqual([]);
    }
    expect(shaping(slower).some((n) => n % 2 === 1)).toBe(true);
  });

  it('keeps seed stitch in order where plain rounds are put in', () => {
    const seed = faultless(
      draftPlan({ sizeMm: 120, stitchMm: 5, roundMm: 2.5, ground: 'seed', corner: 'paired 1' })
        .text,
    );
    const slower = faultless(redraft(seed, 4).text);
    const plain = slower.rounds.filter(
      (round) => round.after === round.before && round.before > 40,
    );
    for (const round of plain) {
      const side = names(slower, round.n).slice(0, round.before / 4 - 1);
      for (let i = 1; i < side.length; i++) expect(side[i]).not.toBe(side[i - 1]);
    }
    expect(plain.length).toBeGreaterThan(10);
  });

  it('works on increases from the centre outwards', () => {
    const out = faultless(
      draftPlan({ sizeMm: 100, stitchMm: 5, roundMm: 3.5, direction: 'out' }).text,
    );
    const faster = faultless(redraft(out, 1).text);
    expect(faster.rounds.at(-1)?.after).toBe(out.rounds.at(-1)?.after);
    expect(faster.rounds.length).toBeLessThan(out.rounds.length);
  });

  it('keeps the border of a piece grown outwards at its rim, as deep as it was', () => {
    const sides = (inner: string) => `*k1, yo, ${inner}yo, k1; rep from * 3 times more.`;
    const growing = Array.from(
      { length: 9 },
      (_, i) => `Round ${2 * i + 2}: ${sides(i === 0 ? '' : `k${2 * i}, `)}`,
    );
    const body = growing.map((round, i) => `${round}\nRound ${2 * i + 3}: knit.`).join('\n');
    const text = (border: string) =>
      `Gauge: 21 sts and 29 rounds = 10 cm\nCast on 8 sts. Join in the round.\nRound 1: knit.\n${body}\n${border}\nBind off.`;
    const borders = {
      garter: `Round 20: purl.\nRound 21: ${sides('k18, ')}\nRound 22: purl.\nRound 23: knit.\nRound 24: purl.`,
      ridge: 'Round 20: purl.',
      rib: 'Rounds 20-23: *k1, p1; rep from * to end.',
    };
    for (const [name, border] of Object.entries(borders)) {
      const bordered = faultless(text(border));
      const depth = bordered.rounds.length - 19;
      for (const every of [1, 4 / 3, 2, 3]) {
        const again = faultless(redraft(bordered, every).text);
        const plain = (plan: Plan, back: number) =>
          names(plan, plan.rounds.length - back).filter((stitch) => /^[kp]$/.test(stitch))[0];
        for (let back = 0; back < depth; back++)
          expect(plain(again, back), `${name}, every ${every}`).toBe(plain(bordered, back));
        for (let n = 1; n <= again.rounds.length - depth; n++)
          expect(names(again, n), `${name}, every ${every}`).not.toContain('p');
      }
    }
  });

  it('refuses rates that cannot be worked', () => {
    for (const every of [0.5, 0, -1, Number.NaN, 1000])
      expect(() => redraft(plan, every)).toThrow(RangeError);
  });

  it('keeps any drafted plan whole: counts, ending, and stitches lost in the same order', () => {
    fc.assert(
      fc.property(spec, fc.constantFrom(1, 4 / 3, 3 / 2, 2, 5 / 2), (asked, every) => {
        const before = parsePlan(draftPlan(asked).text);
        const after = faultless(redraft(before, every).text);
        expect(after.castOn).toBe(before.castOn);
        const changes = (p: Plan) =>
          p.rounds.map((r) => r.after - r.before).filter((change) => change !== 0);
        expect(changes(after)).toEqual(changes(before));
        expect([after.ending, after.worked, after.seam]).toEqual([
          before.ending,
          before.worked,
          before.seam,
        ]);
        const rounds = shaping(after);
        if (rounds.length > 4) {
          const mean = (rounds[rounds.length - 1] - rounds[0]) / (rounds.length - 1);
          expect(Math.abs(mean - every)).toBeLessThanOrEqual(1 / (rounds.length - 1) + 1e-9);
        }
      }),
      { seed: 8, numRuns: runs(120) },
    );
  }, 60_000);
});
