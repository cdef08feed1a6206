/** What advice promises; shared by the quick test and the long sweep. */
import { expect } from 'vitest';
import { knit } from '../../src/knit.ts';
import type { Report } from '../../src/report/report.ts';
import { DEFAULT_BANDS } from '../../src/report/verdict-bands.ts';
import { liesFlat, turnsRound } from '../../src/report/words/verdict-words.ts';
import { samePlan } from '../plan/meaning.ts';

const BLAME =
  /^R(?:ound|ow)s (\d+)–(\d+)(, evened out over those beside them,)? (lose|gain) (?:about )?(-?[\d.]+) .* takes ([\d.]+): too (slow|fast)/;

/** What a stretch of rounds is said to lose is what its own counts say, and lies on the side that is blamed. */
function expectTrueBlame(report: Report): void {
  for (const { text } of report.advice) {
    const [, from, to, beside, change, rate, flat, pace] = BLAME.exec(text) ?? [];
    if (from === undefined) continue;
    expect(pace === 'slow' ? Number(rate) < Number(flat) : Number(rate) > Number(flat), text).toBe(
      true,
    );
    // What is blamed is told by figures that differ by what a knitter can see: 6 %, less what rounding takes.
    expect(Math.abs(Number(rate) / Number(flat) - 1), text).toBeGreaterThan(
      0.06 - 0.1 / Number(flat),
    );
    if (beside) continue;
    const before = report.rounds[Number(from) - 2]?.stitches ?? report.castOn;
    const lost =
      (before - report.rounds[Number(to) - 1].stitches) / (Number(to) - Number(from) + 1);
    expect(Math.abs(Number(rate) - (change === 'lose' ? lost : -lost)), text).toBeLessThan(0.0501);
  }
}

/** Follows the advice of a plan: it changes the plan, it helps, it is not given again; or it says why not. */
export function expectHelp(text: string): 'none needed' | 'helped' | 'said why not' | 'not round' {
  const { plan, knitted } = knit(text);
  if (!knitted) throw new Error(`cannot be relaxed:\n${text}`);
  const { report } = knitted;
  const offers = report.advice.filter((advice) => advice.planText !== null);
  expectTrueBlame(report);
  if (report.verdict === 'flat') expect(report.advice, text).toEqual([]);
  if (!turnsRound(report)) {
    expect(offers, text).toEqual([]);
    return 'not round';
  }
  for (const { planText, text: words } of offers) {
    const then = knit(planText ?? '');
    expect(samePlan(then.plan, plan), `${words} changes nothing:\n${text}`).toBe(false);
    const verdict = then.knitted?.report.verdict;
    expect(verdict && liesFlat(verdict), `${words} comes to: ${verdict}\n${text}`).toBe(true);
    // Flat by itself and flat by blocking are not the same promise.
    const misfit = then.knitted?.report.misfit ?? 0;
    if (verdict === 'flat after blocking' && misfit > DEFAULT_BANDS.flat)
      expect(words, text).toMatch(/^To lie flat, at the latest once blocked, /);
    // What can be blocked flat already is only changed for what need not be.
    if (liesFlat(report.verdict)) expect(verdict, words).toBe('flat');
    const again = then.knitted?.report.advice.map((advice) => advice.text) ?? [];
    expect(again, `${words} is said again:\n${text}`).not.toContain(words);
  }
  if (liesFlat(report.verdict)) {
    expect(report.advice.length, text).toBe(offers.length);
    return offers.length > 0 ? 'helped' : 'none needed';
  }
  if (offers.length > 0) return 'helped';
  expect(report.advice[0]?.text, text).toMatch(
    /too few even|hardly anything to time anew|No other timing|Nothing is/,
  );
  return 'said why not';
}
