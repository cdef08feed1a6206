/**
 * One property over many seeded cases, until the wished number of them held or the file's share of the time is up.
 * In: a fast-check arbitrary and a check that throws. Out: a test, and one line with what was run.
 * Settings: see `settings` below.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';

const wished = (name: string, otherwise: number): number => {
  const text = process.env[name];
  if (text === undefined || text === '') return otherwise;
  const value = Number(text);
  if (!Number.isFinite(value) || value < 0) throw new RangeError(`${name} is no number: ${text}`);
  return value;
};

/** From the environment, so that a failure can be had again and CI can run a little of everything. */
export const settings = {
  /** `LIEFLAT_SOAK_SEED`: where the random cases start. */
  seed: wished('LIEFLAT_SOAK_SEED', 1),
  /** `LIEFLAT_SOAK_SHARE`: part of the full number of cases, 1 is all. */
  share: wished('LIEFLAT_SOAK_SHARE', 1),
  /** Seconds that a file may take, given by the config from `LIEFLAT_SOAK_MINUTES`; 0 for no limit. */
  fileSeconds: wished('LIEFLAT_SOAK_FILE_SECONDS', 0),
};

export interface Soak<Case> {
  readonly cases: fc.Arbitrary<Case>;
  /** Cases of a whole run. */
  readonly runs: number;
  /** Throws (or expects) where the property does not hold; may be asynchronous. */
  check(one: Case): void | Promise<void>;
  /** Part of the file's time, where a file has several soaks. */
  readonly part?: number;
  /** Words for the closing line, e.g. the slowest case. */
  tell?(): string;
}

/** `title` is a claim, as a test's is. */
export function soak<Case>(
  title: string,
  { cases, runs, check, part = 1, tell }: Soak<Case>,
): void {
  const numRuns = Math.max(1, Math.round(runs * settings.share));
  it(`${title} (${numRuns} cases, seed ${settings.seed})`, async () => {
    const begun = performance.now();
    const limit = settings.fileSeconds > 0 ? settings.fileSeconds * 1000 * part : undefined;
    const property = fc.asyncProperty(cases, async (one) => {
      await check(one);
    });
    // Shrinking a case that takes seconds would take hours.
    const common = { seed: settings.seed, endOnFailure: limit !== undefined };
    // However short the time is, one case is tried: starting what checks it may take longer.
    let outcome = await fc.check(property, {
      ...common,
      numRuns: limit === undefined ? numRuns : 1,
    });
    const left = (limit ?? 0) - (performance.now() - begun);
    if (!outcome.failed && numRuns > 1 && left > 0) {
      const more = await fc.check(property, {
        ...common,
        numRuns,
        interruptAfterTimeLimit: left,
        markInterruptAsFailure: false,
      });
      if (more.numRuns > 0) outcome = more;
    }
    const seconds = ((performance.now() - begun) / 1000).toFixed(1);
    const early = outcome.numRuns < numRuns ? ` of ${numRuns}, stopped by the clock` : '';
    console.log(
      `${title}: ${outcome.numRuns} cases${early}, ${seconds} s${tell ? `; ${tell()}` : ''}`,
    );
    if (outcome.failed) {
      throw new Error(fc.defaultReportMessage(outcome), { cause: outcome.errorInstance });
    }
    expect(outcome.numRuns).toBeGreaterThan(0);
  });
}
