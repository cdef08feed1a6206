import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';

const DEMOS = [
  { file: 'saltmarsh-cup', verdict: 'cups', texture: /2\/2 LC/ },
  { file: 'saltmarsh-flat', verdict: 'flat', texture: /ktbl, k1, ktbl/ },
  { file: 'saltmarsh-ruffle', verdict: 'ruffles', texture: /p1, k1, p1, k1, p1/ },
];

/** Each demo relaxed once; its advice is not looked for here. */
const made = new Map<string, ReturnType<typeof knit>>();
function relaxed(file: string): ReturnType<typeof knit> {
  const text = readFileSync(`src/app/demo/${file}.txt`, 'utf8');
  const known = made.get(file) ?? knit(text, { advise: false });
  made.set(file, known);
  return known;
}

describe('the demo plans', () => {
  it.each(DEMOS)('$file is without mistakes and $verdict', ({ file, verdict, texture }) => {
    const text = readFileSync(`src/app/demo/${file}.txt`, 'utf8');
    const { plan, knitted } = relaxed(file);
    expect(plan.diagnostics).toEqual([]);
    expect(knitted?.report.relaxation.converged).toBe(true);
    expect(knitted?.report.verdict).toBe(verdict);
    expect(text).toMatch(texture);
    // A square of about 20 cm, as a blanket has.
    expect(knitted?.report.sideMm).toBeGreaterThan(185);
    expect(knitted?.report.sideMm).toBeLessThan(206);
  });

  it('rise far less where they lie flat than where they cup', () => {
    const riseOf = (file: string) => relaxed(file).knitted?.report.riseMm ?? Number.NaN;
    expect(riseOf('saltmarsh-flat')).toBeLessThan(0.15 * riseOf('saltmarsh-cup'));
  });
});
