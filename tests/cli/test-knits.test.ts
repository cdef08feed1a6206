/** The log of test knits as a command: the page's figures, checked here by hand. */
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from './memory-io.ts';

const sample = (id: string, stitchMm: number | null, extra: object = {}) => ({
  id,
  yarn: 'Woad · 4 mm · garter',
  predicted: { stitchMm: 5, roundMm: 2.5, sideMm: 200 },
  measured: { stitchMm, roundMm: null, sideMm: stitchMm === null ? 190 : null },
  ...extra,
});

const PROJECT = {
  format: 'lieflat-project',
  version: 3,
  title: 'Hedge',
  plans: [],
  testKnits: [
    sample('sample-1', 100 / 19, { note: 'washed' }),
    sample('sample-2', 6, { counts: false }),
    { ...sample('sample-3', null), yarn: 'Fleece' },
  ],
};

async function testKnits(args: string[], project: unknown = PROJECT) {
  const io = memoryIo({ p: JSON.stringify(project) });
  const code = await run(['test-knits', 'p', ...args], io);
  return { code, out: io.written.out, err: io.written.err };
}

describe('the test knits of a project', () => {
  it('stand beside their predictions, and tell each yarn its gauge by those that count', async () => {
    const { code, out, err } = await testKnits([]);
    expect([code, err]).toEqual([0, '']);
    // 100 mm / 5 mm = 20 stitches predicted, 19 measured: 20/19 of the width.
    expect(out).toMatch(/sample 1, washed +Stitches in 10 cm +20\.0 +19\.0 +5\.3 % wider/);
    expect(out).toMatch(/sample 2, left out +Stitches in 10 cm +20\.0 +16\.7 +20\.0 % wider/);
    // 2.5 mm a round: 40 in 10 cm, of which no sample says otherwise.
    expect(out).toMatch(/\n19 sts and 40 rounds to 10 cm\nStitches come out 5\.3 % wider than/);
    // A side of 190 for 200 mm tells the width: 0.95 of 5 mm.
    expect(out).toMatch(
      /Fleece\n\n[\s\S]*sample 3 +Size +20 cm +19 cm +5\.0 % shorter\n\n21 sts and/,
    );
  });

  it('are one document with --json, and counted to 4 inches with --inches', async () => {
    const { yarns, samples } = JSON.parse((await testKnits(['--json'])).out);
    expect(yarns.map(({ yarn }: { yarn: string }) => yarn)).toEqual([
      'Woad · 4 mm · garter',
      'Fleece',
    ]);
    expect(yarns[0].gauge.stitchMm).toBeCloseTo(100 / 19, 9);
    expect(samples[1].compared[0].share).toBeCloseTo(0.2, 9);
    // 4 in are 101.6 mm: 20.3 stitches of 5 mm.
    expect((await testKnits(['--inches'])).out).toMatch(/Stitches in 4 in +20\.3 +19\.3/);
  });

  it('end with 1 where a figure is not believed, and with 2 where there are none', async () => {
    const slip = { ...PROJECT, testKnits: [sample('sample-1', 50)] };
    const wrong = await testKnits([], slip);
    expect(wrong.code).toBe(1);
    expect(wrong.out).toMatch(/sample 1: the stitch width measured is 10 times what was predicted/);
    const none = await testKnits([], { ...PROJECT, testKnits: [] });
    expect([none.code, none.out]).toEqual([2, '']);
    expect(none.err).toMatch(/^lieflat: this project has no test knit/);
  });
});
