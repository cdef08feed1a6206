/** What the verdict promises beside its figures; shared by the quick test and the long sweep. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { knit } from '../../src/knit.ts';
import type { Report } from '../../src/report/report.ts';
import { randomPlans } from './random-plans.ts';

/** As in `verdict-bands.ts` and `verdict.ts`; written out again, so that neither changes unnoticed. */
const BLOCKING = 0.03;
const LEVEL = 0.01;

/** Verdict, angle, rim and rise of one report never contradict. */
export function expectAgreement(report: Report, about: string): void {
  const { verdict, shape, coneAngleDeg, surplusRimMm, riseMm, sideMm, corners } = report;
  const inAir = report.weightlessRiseMm;
  const rimMm = sideMm * (corners >= 3 ? corners : Math.PI);
  const rises = inAir > LEVEL * sideMm;
  // Side and rim are told of the relaxed piece, whose rim may be strained by a few per cent.
  const rimOff = surplusRimMm / rimMm;
  const say = (claim: string) => `${verdict}: ${claim}\n${about}`;
  expect(
    Number.isFinite(coneAngleDeg + surplusRimMm + riseMm + inAir + sideMm),
    say('finite'),
  ).toBe(true);
  expect(verdict === 'tube', say('tubes alone')).toBe(shape === 'tube');
  expect(verdict === 'twisted band', say('bands alone')).toBe(shape === 'twisted band');
  if (shape === 'flat piece')
    expect(['flat', 'flat after blocking', 'buckles'], say('open')).toContain(verdict);
  if (shape === 'tube' || shape === 'twisted band') return;
  if (Math.abs(surplusRimMm) > 0.05)
    expect(Math.sign(surplusRimMm), say('angle and rim')).toBe(Math.sign(coneAngleDeg - 360));
  switch (verdict) {
    case 'flat':
      expect(riseMm, say('lies level')).toBeLessThanOrEqual(LEVEL * sideMm);
      expect(Math.abs(rimOff), say('rim fits')).toBeLessThan(BLOCKING * 1.05);
      break;
    case 'flat after blocking':
      if (rises) expect(Math.abs(rimOff), say('rim nearly fits')).toBeLessThan(BLOCKING * 1.05);
      break;
    case 'cups':
      expect(coneAngleDeg, say('too little')).toBeLessThan(360);
      expect(rises, say('stands up')).toBe(true);
      break;
    case 'ruffles':
      expect(coneAngleDeg, say('too much')).toBeGreaterThan(360);
      expect(rises, say('stands up')).toBe(true);
      break;
    default:
      expect(rises, say('stands up')).toBe(true);
  }
  // Where its weight holds down what stands up in the air, the words say so.
  if (rises && riseMm <= LEVEL * sideMm)
    expect(report.reasons.join(' '), say('told')).toMatch(/own weight (lays|holds)/);
  // A piece that has not settled on the table is told as “about”: to within a third, as the README says.
  // An open piece may come to rest another way up than it was measured in the air.
  const settled = report.lying?.converged === false ? 4 / 3 : 1.15;
  const slack = shape === 'flat piece' ? 1.5 : settled;
  expect(riseMm, say('weight lifts nothing')).toBeLessThan(slack * inAir + 1);
  // A rim that is too long all by itself would be called a ruffle.
  if (verdict === 'saddle') expect(rimOff, say('not too long')).toBeLessThan(BLOCKING * 1.05);
  expect(report.reasons.length, say('reasons')).toBeGreaterThan(0);
}

/** Relaxes a plan and holds its verdict to its figures; returns the verdict. */
export function checkVerdict(text: string): string {
  const { plan, knitted } = knit(text, { advise: false });
  expect(
    plan.diagnostics.filter((d) => d.severity === 'error'),
    text,
  ).toEqual([]);
  if (!knitted) throw new Error(`cannot be relaxed:\n${text}`);
  expectAgreement(knitted.report, text);
  return knitted.report.verdict;
}

/** Plans `from` … `to` of the seed's; returns how often each verdict came. */
export function checkVerdicts(seed: number, from: number, to: number): Map<string, number> {
  const tally = new Map<string, number>();
  for (const text of fc.sample(randomPlans, { seed, numRuns: to }).slice(from)) {
    const verdict = checkVerdict(text);
    tally.set(verdict, (tally.get(verdict) ?? 0) + 1);
  }
  return tally;
}
