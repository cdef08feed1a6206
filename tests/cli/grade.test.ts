import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { lengthWords } from '../../src/report/words/length.ts';
import { planMeaning, samePlan } from '../plan/meaning.ts';
import { memoryIo } from './memory-io.ts';

/** A garter square of 6 cm a side that lies flat. */
const COASTER = `Title: Coaster
Gauge: 20 sts and 40 rounds = 10 cm in garter
Worked: in the round
Cast on 48 sts.
Round 1: purl.
Round 2: *ssk, k8, k2tog; rep from * 3 times more. (40 sts)
Round 3: purl.
Round 4: *ssk, k6, k2tog; rep from * 3 times more. (32 sts)
Round 5: purl.
Round 6: *ssk, k4, k2tog; rep from * 3 times more. (24 sts)
Round 7: purl.
Round 8: *ssk, k2, k2tog; rep from * 3 times more. (16 sts)
Round 9: purl.
Round 10: *ssk, k2tog; rep from * 3 times more. (8 sts)
Draw the yarn through the remaining sts.
`;

async function grade(args: string[], text = COASTER) {
  const io = memoryIo({ p: text });
  const code = await run(['grade', 'p', ...args], io);
  return { code, out: io.written.out, err: io.written.err };
}

describe('grade', () => {
  it('writes the plan at another size, and tells the size it comes to', async () => {
    const { code, out, err } = await grade(['--side-cm', '12']);
    expect(code).toBe(0);
    const plan = parsePlan(out);
    expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    // 24 stitches of 5 mm a side.
    expect(plan.castOn).toBe(96);
    expect(plan.title).toBe('Coaster');
    expect(err).toMatch(/^Verdict: flat\. It comes to 1[12](?:\.\d)? cm \(relaxed\)/);
  });

  it('keeps the size at another gauge', async () => {
    const { code, out } = await grade(['--gauge', '30x60', '--json']);
    expect(code).toBe(0);
    const graded = JSON.parse(out);
    expect(graded.castOn).toBe(72);
    expect(Math.abs(graded.sizeMm - 60)).toBeLessThan(100 / 30);
    expect(parsePlan(graded.text).gauges[0].stitchMm).toBeCloseTo(100 / 30, 2);
  });

  it('says what is wrong with the wish, and with the plan', async () => {
    expect((await grade([])).code).toBe(2);
    expect((await grade(['--side-cm', '1', '--side-in', '1'])).code).toBe(2);
    const small = await grade(['--side-cm', '0.5']);
    expect([small.code, small.out]).toEqual([2, '']);
    expect(small.err).toMatch(/too small/);
    const tube = await grade(
      ['--side-cm', '9'],
      'Cast on 40 sts. Join.\nRound 1: knit.\nBind off.',
    );
    expect(tube.err).toMatch(/no shaping/);
    expect((await grade(['--side-cm', '9'], COASTER.replace('k8', 'k9'))).code).toBe(1);
  });

  it('works a piece left open at another size by a side of its longest row, at the same angles', async () => {
    const rows = Array.from(
      { length: 8 },
      (_, i) => `Row ${2 * i + 1}: knit.\nRow ${2 * i + 2}: k${9 - i}, s2kp, k${9 - i}.`,
    );
    const tile = `Gauge: 20 sts and 40 rows = 10 cm in garter
Cast on 21 sts. Work flat.
${rows.join('\n')}
Bind off.`;
    for (const [side, castOn] of [[6, 25]]) {
      const { code, out } = await grade(['--side-cm', String(side), '--json'], tile);
      const { text, verdict, sizeMm, notes } = JSON.parse(out);
      const graded = parsePlan(text);
      expect([code, verdict, graded.castOn]).toEqual([0, 'flat', castOn]);
      expect(Math.abs(sizeMm - 10 * side)).toBeLessThanOrEqual(2.5 + 1e-6);
      // A stitch at either hand of the middle one in every other row, to the same five.
      const lost = graded.rounds.map(({ before, after }) => before - after);
      expect(lost).toEqual(lost.map((_, i) => (i % 2 === 0 ? 0 : 2)));
      expect(graded.rounds.at(-1)?.after).toBe(5);
      expect(notes.join()).toContain('a side of its longest row');
    }
  });

  it('refuses a piece left open whose shaping shows no sides', async () => {
    const cloth = `Gauge: 20 sts and 40 rows = 10 cm in garter
Cast on 9 sts. Work flat.
Row 1: knit.
Row 2: k4, m1l, k to end.
Row 3: knit.
Row 4: k3, k2tog, k to end.
Row 5: knit.
Bind off.`;
    const { code, out, err } = await grade(['--side-cm', '12'], cloth);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(/left open, its shaping shows no sides/);
  });

  it('writes several sizes in one text that reads back as each of them', async () => {
    const { code, out, err } = await grade(['--side-cm', '6,9,12', '--json']);
    expect([code, err]).toEqual([0, '']);
    const { text, sizes } = JSON.parse(out);
    const [first, ...others] = sizes.map((size: { sizeMm: number }) =>
      lengthWords(size.sizeMm, 'cm'),
    );
    expect(text).toContain(`Sizes: ${first} (${others.join(', ')})\n`);
    expect(text).toMatch(/^Cast on 48 \(72, 96\) sts\./m);
    for (let k = 0; k < 3; k++) {
      const alone = await grade(['--side-cm', ['6', '9', '12'][k]]);
      expect(samePlan(parsePlan(text, k), parsePlan(alone.out))).toBe(true);
      expect(alone.err).toContain(`Verdict: ${sizes[k].verdict}.`);
    }
  });

  it('writes several yarns in one text, each at its gauge', async () => {
    const { code, out, err } = await grade(['--gauge', '20x40,25x50']);
    expect(code).toBe(0);
    expect(out).toMatch(/^Gauge: 20 \(25\) sts and 40 \(50\) rounds = 10 cm/m);
    expect(err.match(/Verdict: flat/g)).toHaveLength(2);
    expect(parsePlan(out, 1).gauges[0].stitchMm).toBeCloseTo(4, 6);
  });

  it('refuses lists that do not pair, and names the size that does not fit', async () => {
    expect((await grade(['--side-cm', '6,9,12', '--gauge', '20x40,22x44'])).code).toBe(2);
    const { code, out, err } = await grade(['--side-cm', '0.5,9']);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/5 mm: .*too small/);
  });

  it('gives a text whose sizes are each relaxed, written and charted', async () => {
    const { out: text } = await grade(['--side-cm', '6,9']);
    const command = async (...args: string[]) => {
      const io = memoryIo({ p: text });
      return { code: await run(args, io), ...io.written };
    };
    const { sizes } = JSON.parse((await command('relax', 'p', '--json')).out);
    expect(sizes.map((size: { castOn: number }) => size.castOn)).toEqual([48, 72]);
    for (const [k, size] of sizes.entries()) {
      const alone = JSON.parse((await command('relax', 'p', '--size', size.name, '--json')).out);
      expect([alone.verdict, alone.sideMm, alone.castOn]).toEqual([
        size.verdict,
        size.sideMm,
        size.castOn,
      ]);
      const chart = await command('chart', 'p', '--text', '--size', String(k + 1));
      expect(chart.out).toContain(`Cast on ${size.castOn} stitches.`);
      expect(chart.err).toBe('');
    }
    const written = await command('write', 'p');
    expect(written.code).toBe(0);
    expect(written.err).toBe(sizes.map((s: Sized) => `${s.name}: ${s.verdict}.\n`).join(''));
    for (const k of [0, 1])
      expect(planMeaning(parsePlan(written.out, k)).rounds.map(({ after }) => after)).toEqual(
        planMeaning(parsePlan(text, k)).rounds.map(({ after }) => after),
      );
    expect((await command('chart', 'p')).err).toMatch(/^This is the size .*; --size gives another/);
    expect((await command('chart', 'p', '--size', '3')).code).toBe(2);
    const names = sizes.map((size: Sized) => size.name);
    const words = (await command('chart', 'p', '--text')).out;
    for (const name of names) expect(words).toContain(`, ${name}: the chart in words`);
    const io = memoryIo({ p: text });
    await run(['chart', 'p', '--paper', 'A4', '-o', 'c.svg', '--json'], io);
    const { files, sizes: charted } = JSON.parse(io.written.out);
    expect(charted).toEqual(names);
    for (const name of names)
      expect(
        files.some((file: string) => `${io.files.get(file)}`.includes(`, ${name}: chart</title>`)),
      ).toBe(true);
  });
});

interface Sized {
  readonly name: string;
  readonly verdict: string;
}
