/** A centre drawn up: told where it puckers, in the report and in the pattern, with the same figures. */
import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { closingOf, FLAT_CLOSING } from '../../src/report/closing.ts';
import { nothingAdvised } from '../../src/report/words/nothing-advised.ts';

/** A square of garter, two stitches gone at each corner every second round, drawn up at `centre` stitches. */
function square(centre: number, rounds = 8): string {
  const lines = [
    'Gauge: 20 sts and 40 rounds = 10 cm in garter',
    `Cast on ${centre + 4 * rounds} sts. Join in the round.`,
  ];
  for (let n = 1, side = (centre + 4 * rounds) / 4; n <= rounds; n++)
    if (n % 2 === 1) lines.push(`Round ${n}: purl.`);
    else {
      lines.push(`Round ${n}: *k2tog, k${side - 4}, ssk; rep from * 3 times more.`);
      side -= 2;
    }
  return `${lines.join('\n')}\nDraw the yarn through the remaining sts.\n`;
}

describe('a centre drawn up', () => {
  it.each([8, 12, 16, 20, 24, 32, 40])(
    'of %i stitches puckers where loops do not reach its middle',
    (centre) => {
      const { plan, knitted } = knit(square(centre), { advise: false });
      if (!knitted) throw new Error(JSON.stringify(plan.diagnostics));
      const { report } = knitted;
      expect(report.closing).toMatchObject({ stitches: centre, puckers: centre > FLAT_CLOSING });
      expect(report.closing?.besideMm).toBeCloseTo(centre * 5, 6);
      const told = report.reasons.filter((reason) => reason.includes('puckers'));
      const flat = report.verdict.startsWith('flat');
      expect(told.length).toBe(flat && centre > FLAT_CLOSING ? 1 : 0);
      const { text } = writePattern(plan, {
        terms: 'american',
        units: 'cm',
        sizeMm: null,
        stitchMm: 5,
      });
      expect(text.includes('The closing puckers')).toBe(centre > FLAT_CLOSING);
      // What is said to pucker is not told to be knitted as it is.
      if (told.length > 0)
        expect(nothingAdvised(report)).toMatch(/^Go on decreasing to \d+ stitches/);
      // Nor that nothing is to be done what lies flat only once it is blocked.
      else if (flat)
        expect(nothingAdvised(report).includes('block it')).toBe(report.verdict !== 'flat');
    },
  );

  it('is no more than its stitches side by side, and nothing where they are bound off', () => {
    const { plan } = knit(square(24), { advise: false });
    const closing = closingOf(plan, 5);
    expect(closing?.closedMm).toBeLessThan(closing?.besideMm ?? 0);
    expect(closingOf({ ...plan, ending: 'bound-off' }, 5)).toBeNull();
  });
});
