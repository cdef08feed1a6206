/** Which edge stitches a seam takes, told or not. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';

const seams = fc.constantFrom<readonly [number, number]>([1, 1], [1, 0], [0, 1], [0, 0]);

it('stitches over beside equal sides are those of the seam, wherever they stand and however it is told', () => {
  fc.assert(
    fc.property(
      seams,
      fc.constantFrom(3, 4, 5, 6, 8),
      fc.integer({ min: 8, max: 20 }),
      fc.constantFrom(
        ['Worked: flat', 'Sew the seam.'],
        ['Worked: flat, then seamed', ''],
        ['Worked: flat', 'Use the tail to sew the two edges together.'],
        ['Worked: flat\nSeam: mattress stitch', ''],
      ),
      fc.boolean(),
      ([begin, end], sides, each, [head, tail], both) => {
        const lines = [
          head,
          `Cast on ${sides * each + begin + end} sts.`,
          'Row 1 (RS): knit.',
          'Row 2 (WS): purl.',
        ];
        const row = (n: number, side: number, ws: boolean) => {
          const [first, last] = ws ? [end, begin] : [begin, end];
          const [s, d, e] = ws ? ['p', 'p2tog', 'ssp'] : ['k', 'ssk', 'k2tog'];
          const parts = [
            first ? `${s}1` : '',
            `[${d}, ${s}${side - 4}, ${e}] ${sides} times`,
            last ? `${s}1` : '',
          ];
          lines.push(`Row ${n} (${ws ? 'WS' : 'RS'}): ${parts.filter(Boolean).join(', ')}.`);
        };
        row(3, each, false);
        if (both) row(4, each - 2, true);
        lines.push('Cut the yarn and draw it through the remaining sts.', tail);
        const plan = parsePlan(lines.join('\n'));
        expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
        expect(plan.seam, lines.join('\n')).toEqual({ begin, end });
        expect(parsePlan(writePattern(plan).text).seam).toEqual({ begin, end });
      },
    ),
    { seed: 5, numRuns: runs(200) },
  );
});

it('takes one stitch of each edge where no sides tell another', () => {
  const seam = (text: string) => parsePlan(`${text}\nBind off. Sew the side edges together.`).seam;
  expect(seam('Worked: flat\nCO 41 sts.\nRows 1-9: knit.')).toEqual({ begin: 1, end: 1 });
  expect(seam('Worked: flat\nCO 31 sts.\nRow 1 (RS): k3, k2tog, k26.\nRow 2 (WS): purl.')).toEqual({
    begin: 1,
    end: 1,
  });
});

it('keeps what the text counts', () => {
  const seam = (how: string) =>
    parsePlan(`Worked: ${how}\nCO 41 sts.\nRow 1 (RS): [ssk, k6, k2tog] 4 times, k1.\nBind off.`)
      .seam;
  expect(seam('flat, seam stitches 2 + 0')).toEqual({ begin: 2, end: 0 });
  expect(seam('flat, no seam')).toBeNull();
  expect(seam('flat, then seamed')).toEqual({ begin: 0, end: 1 });
});
