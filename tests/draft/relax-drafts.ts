/** What every draft from wishes promises once it is relaxed; shared by the tests and the soak. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { type SpecInput, segmentsOf } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, knit } from '../../src/knit.ts';
import { withArticle } from '../../src/report/words/counts.ts';
import { UNRESTED_SPREAD } from '../../src/report/words/size-told.ts';
import { expectSameWords, SAME_REST } from './grade-checks.ts';
import { smallSpecs } from './wishes-arbitrary.ts';

export interface Tally {
  drafts: number;
  /** Drafts that keep within half a stitch a side of the size asked. */
  inSize: number;
  /** Drafts that say themselves that they will not lie quite flat. */
  admitted: number;
}

export const newTally = (): Tally => ({ drafts: 0, inSize: 0, admitted: 0 });

/** Wishes `from` … `to` of the seed's. */
export function relaxDrafts(seed: number, from: number, to: number): Tally {
  const tally = newTally();
  for (const asked of fc.sample(smallSpecs, { seed, numRuns: to }).slice(from))
    relaxDraft(asked, tally);
  return tally;
}

/** Drafts and relaxes one wish, and throws where the draft does not keep what it promises. */
export function relaxDraft(asked: SpecInput, tally: Tally): void {
  const draft = draftMeasured(asked);
  const { plan, knitted } = knit(draft.text, { advise: false });
  expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  expect(plan.ending).toBe(draft.spec.direction === 'in' ? 'drawn-up' : 'bound-off');
  if (!knitted) throw new Error('the draft cannot be relaxed');
  const { report } = knitted;
  tally.drafts++;

  const admits = draft.compromises.some((told) => told.includes('cannot be spaced'));
  if (admits) tally.admitted++;
  else expect(['flat', 'flat after blocking'], JSON.stringify(asked)).toContain(report.verdict);

  const sides = report.corners >= 3 ? report.corners : Math.PI;
  const { shape, sizeMm, stitchMm } = draft.spec;
  const rimMm = report.sideMm * sides;
  const wantedMm = (shape === 'disc' ? Math.PI : segmentsOf(draft.spec)) * sizeMm;
  const off = Math.abs(rimMm - wantedMm) / (segmentsOf(draft.spec) * stitchMm);
  if (off <= 0.5) tally.inSize++;
  // Where whole stitches and panels allow no nearer size, the draft says what it comes to.
  else expect(draft.compromises.join(' ')).toMatch(/comes to/);
  // One number: the fabric's, or where it was not brought to rest one that its words hold.
  const share = draft.riseMm === null ? UNRESTED_SPREAD : SAME_REST;
  const told = (draft.sizeMm / sizeMm) * (wantedMm / rimMm);
  if (draft.riseMm !== null) expectSameWords(draft.sizeMm, (rimMm / wantedMm) * sizeMm);
  expect(Math.abs(told - 1), JSON.stringify(asked)).toBeLessThan(share);
  // Corners are those asked for, or the draft says what they are.
  const corners = shape === 'disc' ? 0 : segmentsOf(draft.spec);
  expect(
    draft.compromises.some((line) => line.includes(`is read as ${withArticle(report.shape)}`)),
    JSON.stringify(asked),
  ).toBe(report.corners !== corners);
}
