import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { knit } from '../../src/knit.ts';
import { SMALL_CABLED } from '../browser/small-plans.ts';
import { whole } from '../runs.ts';
import { memoryIo } from './memory-io.ts';

/** Cups; the small one has its cables too. */
const PLAN = whole ? readFileSync('src/app/demo/saltmarsh-cup.txt', 'utf8') : SMALL_CABLED;

describe('relax --json', async () => {
  const io = memoryIo({ cup: PLAN });
  const code = await run(['relax', 'cup', '--json'], io);
  const printed = JSON.parse(io.written.out);

  it('prints to the last digit what a direct call reports', () => {
    // It cups, and that is the answer.
    expect(code).toBe(0);
    const report = knit(PLAN, { advise: false }).knitted?.report;
    expect(report).toBeDefined();
    const direct = JSON.parse(JSON.stringify(report));
    for (const key of [
      'verdict',
      'coneAngleDeg',
      'surplusRimMm',
      'sideMm',
      'riseMm',
      'weightlessRiseMm',
      'lying',
      'blocked',
      'rounds',
    ]) {
      expect(printed[key], key).toEqual(direct[key]);
    }
    expect(printed.relaxation.energy).toBe(direct.relaxation.energy);
  });

  it('has every field of the contract', () => {
    const fields =
      'version title castOn rounds last crossings diagnostics metric verdict coneAngleDeg surplusRimMm sideMm riseMm weightlessRiseMm lying blocked relaxation yarn advice';
    for (const field of fields.split(' ')) expect(printed, field).toHaveProperty(field);
    for (const field of 'n label stitches decreases increases crossings budget'.split(' ')) {
      expect(printed.rounds[0], field).toHaveProperty(field);
    }
    for (const field of 'converged iterations residual energy ms'.split(' ')) {
      expect(printed.relaxation, field).toHaveProperty(field);
    }
  });
});
