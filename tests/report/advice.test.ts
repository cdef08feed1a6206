import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { staggerSingles } from '../../src/draft/rework/stagger.ts';
import { knit } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { writePlan } from '../plan/write-plan.ts';
import { expectHelp } from './advice-rule.ts';
import { randomPlans } from './random-plans.ts';

/** A disc of wedges with one decrease each, all in line: nine columns of decreases. */
function wedges(every: number): string {
  const lines = ['Gauge: 20 sts and 29 rounds = 10 cm', 'Cast on 90 sts. Join in the round.'];
  let count = 90;
  for (let n = 1; count > 9; n++) {
    const shapes = n % every === 0;
    if (shapes) count -= 9;
    lines.push(
      `Round ${n}: ${shapes ? `*k${count / 9 - 1}, k2tog; rep from * to end` : 'knit'}. (${count} sts)`,
    );
  }
  return `${lines.join('\n')}\nDraw the yarn through the remaining sts.\n`;
}

describe('advice', () => {
  it('sets single decreases in line apart, every other round between those before', () => {
    const apart = staggerSingles(parsePlan(wedges(2)));
    const text = apart ? writePlan(apart) : '';
    expect(text).toContain('Round 2: [k8, k2tog] 9 times');
    expect(text).toContain('Round 4: k3, [k2tog, k7] 8 times, k2tog, k4');
    expect(knit(wedges(2)).knitted?.report.corners).toBe(9);
    expect(knit(text).knitted?.report.corners).toBe(0);
  });

  it('names rounds at the rim that are not shaped where they keep a square from lying flat, and only there', () => {
    const square = (border: number) => {
      const lines = ['Gauge: 20 sts and 28 rounds = 10 cm', 'Cast on 92 sts. Join in the round.'];
      for (let i = 0; i < border; i++) lines.push('Next round: *k1, p1; rep from * to end.');
      for (let k = 19; k > 0; k -= 2)
        lines.push('Next round: knit.', `Next round: *ssk, k${k}, k2tog; rep from * 3 times more.`);
      return `${lines.join('\n')}\nDraw the yarn through the remaining sts.\n`;
    };
    const advised = (border: number) => knit(square(border)).knitted?.report.advice[0];
    expect(advised(0)?.planText).toContain('Cast on 92 sts');
    expect(advised(5)?.planText).toBeNull();
    expect(advised(5)?.text).toContain('with the 6 rounds at the rim that are not shaped');
  });

  it('blames no round of a piece that can be blocked flat', () => {
    for (const text of fc.sample(randomPlans, { seed: 6, numRuns: 8 })) {
      const report = knit(text).knitted?.report;
      if (report?.verdict !== 'flat after blocking') continue;
      expect(report.advice.map((a) => a.text).join(' ')).not.toMatch(/too (slow|fast)/);
    }
  });

  it('helps or says why not, over random plans', { timeout: 60_000 }, () => {
    const tally = fc.sample(randomPlans, { seed: 77, numRuns: 12 }).map(expectHelp);
    expect(tally).toContain('helped');
    expect(tally).toContain('said why not');
  });

  it('does not say again what was followed and can be blocked flat now', () => {
    const pentagon = [
      'Gauge: 28.61 sts and 35.44 rounds = 10 cm',
      'Cast on 10 sts.',
      'Round 1: knit. (10 sts)',
      'Round 2: m1, k1, m1, k1, m1, k1, m1, k1, m1, k1, m1, k1, m1, k1, m1, k1, m1, k1, m1, k1. (20 sts)',
      'Round 3: knit. (20 sts)',
      'Round 4: k3, m1, k1, m1, k3, m1, k1, m1, k3, m1, k1, m1, k3, m1, k1, m1, k3, m1, k1, m1. (30 sts)',
      'Round 5: knit. (30 sts)',
      'Round 6: k4, m1, k1, m1, k5, m1, k1, m1, k5, m1, k1, m1, k5, m1, k1, m1, k5, m1, k1, m1, k1. (40 sts)',
      'Round 7: k5, m1, k1, m1, k7, m1, k1, m1, k7, m1, k1, m1, k7, m1, k1, m1, k7, m1, k1, m1, k2. (50 sts)',
      'Round 8: knit. (50 sts)',
      'Round 9: k6, m1, k1, m1, k9, m1, k1, m1, k9, m1, k1, m1, k9, m1, k1, m1, k9, m1, k1, m1, k3. (60 sts)',
      'Round 10: knit. (60 sts)',
      'Round 11: k7, m1, k1, m1, k11, m1, k1, m1, k11, m1, k1, m1, k11, m1, k1, m1, k11, m1, k1, m1, k4. (70 sts)',
      'Bind off.',
    ].join('\n');
    expect(expectHelp(pentagon)).toBe('helped');
  });
});
