import { describe, expect, it } from 'vitest';
import { knit } from '../../../src/knit.ts';
import type { Report } from '../../../src/report/report.ts';

function reportOf(text: string): Report {
  const { knitted, plan } = knit(text);
  expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  return (knitted as NonNullable<typeof knitted>).report;
}

function words({ reasons, advice }: Report): string {
  return [...reasons, ...advice.map(({ text }) => text)].join(' ');
}

const FLAT_PENTAGON = `Gauge: 19 sts and 27 rows to 10 cm
Worked: flat
Cast on 62 sts.
Row 1 (RS): k1, *ssk, k to last 2 sts of side, k2tog; rep from * 4 times more, k1.
Row 2: purl.
Row 3: knit.
Row 4: purl.
Repeat rows 1 to 4 until 12 sts remain.
Draw the yarn through the remaining sts. Sew the seam.
`;

/** Four stitches in the first increase round, eight in the others. */
const CENTRE_OUT = `Gauge: 24 sts and 33 rounds to 10 cm
Cast on 8 sts. Join in the round.
Round 1: knit.
Round 2: *k1, yo, k1; rep from * 3 times more.
Round 3: knit.
Round 4: *k1, yo, k1, yo, k1; rep from * 3 times more.
${Array.from({ length: 7 }, (_, i) => `Round ${2 * i + 5}: knit.\nRound ${2 * i + 6}: *k1, yo, k${2 * i + 3}, yo, k1; rep from * 3 times more.`).join('\n')}
Bind off.
`;

describe('words for the courses of a piece', () => {
  it('are rows throughout for what is worked flat', () => {
    const report = reportOf(FLAT_PENTAGON);
    expect(report.verdict).toBe('cups');
    expect(words(report)).toMatch(/The rows make .*Rows 1–\d+ lose .* stitches a row/s);
    expect(words(report)).toMatch(/lie flat,.* decrease .* row/);
    expect(words(report).replaceAll('round the centre', '')).not.toMatch(/\brounds?\b/i);
  });

  it('tell of stitches gained where the piece grows outwards', () => {
    const report = reportOf(CENTRE_OUT);
    expect(report.verdict).toBe('cups');
    expect(words(report)).toMatch(/too few stitches are gained.* gain .* stitches a round/s);
    expect(words(report)).not.toMatch(/\b(?:lost|lose|decrease)\b/);
  });

  it('ask for whole stitches in a shaping round', () => {
    const asked = /increase (.*?) stitches/.exec(words(reportOf(CENTRE_OUT)));
    expect(asked?.[1]).toMatch(/^(?:about )?8$/);
  });
});
