/** How high a piece stands, told beside its verdict. */
import { expect, it } from 'vitest';
import { knit } from '../../../src/knit.ts';
import { standWords } from '../../../src/report/words/table-words.ts';

/** A frame of four rounds, so narrow that its weight lays it flat, though it is off by a quarter of a turn. */
const FRAME = `Gauge: 22 sts and 30 rounds = 10 cm in stockinette
Worked: in the round

Cast on 88 sts. Join in the round.
Round 1: knit.
Round 2: *k2tog, k18, ssk; rep from * to end. (80 sts)
Round 3: knit.
Round 4: *k2tog, k16, ssk; rep from * to end. (72 sts)
Bind off.
`;

it('lets no cup rise by nothing: what its weight holds down is told picked up as well', () => {
  const report = knit(FRAME, { advise: false }).knitted?.report;
  if (!report) throw new Error('the plan has errors');
  expect(report.verdict).toBe('cups');
  expect(report.riseMm).toBeLessThan(1);
  expect(report.weightlessRiseMm).toBeGreaterThan(10);
  expect(standWords(report, 'cm')).toMatch(/^rises 0 mm on the table, [\d.]+ cm picked up$/);
  // One that stands on the table is told as it lies.
  expect(standWords({ ...report, riseMm: 15 }, 'cm')).toBe(
    report.lying?.converged ? 'rises 1.5 cm' : 'rises about 1.5 cm',
  );
  expect(standWords({ ...report, verdict: 'flat' }, 'cm')).toBe('rises 0 mm');
});
