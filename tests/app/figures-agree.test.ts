/**
 * A figure that stands in two places is the same in both: seven plans of different styles on the page, on the command
 * line, in the written pattern, in the chart and on the needles.
 */
import { describe, expect, it } from 'vitest';
import { countsByLine } from '../../src/app/editor/round-counts.ts';
import { usePattern } from '../../src/app/pattern/pattern-choices.ts';
import { readPattern } from '../../src/app/pattern/pattern-facts.ts';
import { describePiece } from '../../src/app/ui/piece-words.ts';
import { run } from '../../src/cli/run.ts';
import { knit } from '../../src/knit.ts';
import { chartText } from '../../src/paper/chart/chart-text.ts';
import { closingLengths } from '../../src/report/closing.ts';
import { type LengthUnit, lengthWords } from '../../src/report/words/length.ts';
import { acrossWords, sizeFact, tapeMeasure } from '../../src/report/words/size-fact.ts';
import { pinnedWords, riseWords } from '../../src/report/words/table-words.ts';
import { liesFlat, VERDICT_HEADLINES } from '../../src/report/words/verdict-words.ts';
import { massWords, yarnLengthWords } from '../../src/report/words/yarn.ts';
import type { KnittedSheet, LaidSheet } from '../../src/worker/messages.ts';
import { memoryIo } from '../cli/memory-io.ts';

const PLANS: Readonly<Record<string, string>> = {
  'garter square': `Gauge: 18 sts and 36 rounds to 10 cm in garter stitch
Cast on 40 sts (10 sts each side). Join in the round.
Round 1: purl.
Round 2: *ssk, k to last 2 sts of side, k2tog; rep from * 3 times more.
Rep rounds 1 and 2 until 8 sts remain.
Break yarn and draw through remaining sts.`,
  'stockinette with cables': `Gauge: 20 sts and 28 rounds to 10 cm in stockinette
Cast on 56 sts (14 sts each side). Join in the round.
Round 1: *k3, p2, 2/2 RC, p2, k3; rep from * 3 times more.
Round 2: *ssk, k1, p2, k4, p2, k1, k2tog; rep from * 3 times more.
Round 3: *ssk, p2, 2/2 RC, p2, k2tog; rep from * 3 times more.
Round 4: *ssk, k to last 2 sts of side, k2tog; rep from * 3 times more.
Round 5: knit.
Rep rounds 4 and 5 until 8 sts remain.
Break yarn and draw through remaining sts.`,
  'flat mitred square': `Gauge: 19 sts and 38 rows to 10 cm in garter stitch
Cast on 17 sts. Work flat.
Row 1 (WS): knit.
Row 2 (RS): k7, s2kp, k7.
Row 3: knit.
Repeat the last two rows, working one fewer st before and after the double decrease each time, until 3 sts remain.
Next row: s2kp.
Fasten off.`,
  'circle from the centre out': `Gauge: 17 sts and 24 rounds to 10 cm in stockinette
Cast on 8 sts, join in the round.
Round 1: knit.
Round 2: *kfb; rep from * to end. (16 sts)
Round 3: knit.
Round 4: *k1, kfb; rep from * to end. (24 sts)
Round 5: knit.
Round 6: *k2, kfb; rep from * to end. (32 sts)
Bind off loosely.`,
  cowl: `Gauge: 16 sts and 22 rounds to 10 cm in stockinette
Cast on 44 sts. Join in the round.
Rounds 1-3: *k2, p2; rep from * to end.
Rounds 4-12: knit.
Bind off loosely.`,
  hexagon: `Gauge: 21 sts and 29 rounds to 10 cm in stockinette
Cast on 48 sts (8 sts each side). Join in the round.
Round 1: knit.
Round 2: *ssk, k to last 2 sts of side, k2tog; rep from * 5 times more.
Rounds 3-4: knit.
Rep rounds 2-4 until 12 sts remain.
Break yarn and draw through remaining sts.`,
  'flat hexagon': `Tension: 20 sts and 28 rounds to 10 cm in stocking stitch
Cast on 60 sts (10 sts each side). Join in the round.
Round 1: knit.
Round 2: *ssk, k to last 3 sts of side, k2tog, k1; rep from * 5 times more. (48 sts)
Round 3: knit.
Round 4: *ssk, k to last 3 sts of side, k2tog, k1; rep from * 5 times more. (36 sts)
Rounds 5 and 6: knit.
Round 7: *ssk, k to last 3 sts of side, k2tog, k1; rep from * 5 times more. (24 sts)
Round 8: knit.
Round 9: *s2kp, k1; rep from * 5 times more. (12 sts)
Round 10: knit.
Break yarn and draw through remaining sts.`,
};

const choices = { ...usePattern.getState(), worked: null };

/** What each place tells of one plan, in one unit. */
async function told(text: string, units: 'cm' | 'in') {
  const direct = knit(text, { advise: false });
  if (!direct.knitted) throw new Error(JSON.stringify(direct.plan.diagnostics));
  const knitted = direct.knitted as unknown as KnittedSheet & LaidSheet;
  const inches = units === 'in' ? ['--inches'] : [];
  const command = async (...args: string[]) => {
    const io = memoryIo({ plan: text });
    const code = await run([...args, 'plan', ...inches], io);
    return { code, ...io.written };
  };
  const page = readPattern({
    plan: direct.plan,
    laid: knitted,
    knitted,
    choices,
    units,
  });
  if (!page.facts) throw new Error(page.trouble);
  const { positions } = direct.knitted.sheet.lying ?? direct.knitted.sheet;
  return {
    plan: direct.plan,
    report: direct.knitted.report,
    facts: page.facts,
    spoken: describePiece(knitted, knitted, positions, units),
    drawnMm: heightOf(positions),
    ...(await shapeFile(text)),
    needleJson: JSON.parse((await command('needles', '--json', '--accept-unflat')).out),
    relax: (await command('relax')).out,
    written: await command('write'),
    unit: (units === 'in' ? 'inch' : 'cm') as LengthUnit,
  };
}

/** Heights of the piece in the command's file, as it lies unless picked up is asked for, mm. */
async function shapeFile(text: string): Promise<{ readonly filedMm: number }> {
  const io = memoryIo({ plan: text });
  await run(['relax', 'plan', '--obj', 'shape.obj'], io);
  const lines = String(io.files.get('shape.obj')).matchAll(/^v \S+ (\S+) (\S+)/gm);
  const heights = Array.from(lines, ([, y, z]) => [Number(y), Number(z)]);
  const along = (k: number) => {
    const all = heights.map((one) => one[k]);
    return Math.max(...all) - Math.min(...all);
  };
  return { filedMm: Math.min(along(0), along(1)) };
}

/** From the lowest point that is drawn to the highest, mm: what a section through the middle shows. */
function heightOf(positions: Float64Array): number {
  const heights = positions.filter((_, k) => k % 3 === 2);
  return Math.max(...heights) - Math.min(...heights);
}

/** The figure on a line of the command's table. */
const row = (out: string, name: string) =>
  new RegExp(`^${name} {2,}(.+)$`, 'm').exec(out)?.[1] ?? null;

describe.each(Object.entries(PLANS))('a %s', (name, text) => {
  it('is told in the same figures everywhere', async () => {
    const units = name.length % 2 ? 'in' : 'cm';
    const { plan, report, facts, spoken, drawnMm, filedMm, needleJson, relax, written, unit } =
      await told(text, units);

    // The page's pattern is the command's, to the letter.
    expect(written.out).toBe(facts.written.text);

    // It is told in the terms that the plan is written in.
    expect(facts.written.text).toContain(name === 'flat hexagon' ? 'stocking stitch' : 'Gauge: ');

    // Size, rise and state at rest.
    const size = sizeFact(report, unit);
    expect(row(relax, size.name)).toBe(size.words);
    const lines = (heading: string) =>
      facts.written.sections.find((s) => s.heading === heading)?.lines.join(' ') ?? '';
    for (const words of size.words.split(/ × | to |, /)) {
      const [length] = words.split(/ between | at /);
      expect(lines('Size')).toContain(length);
    }
    expect(size.words).toContain(lengthWords(tapeMeasure(report).mm, unit));
    const rise = report.tube ? null : riseWords(report, unit);
    expect(row(relax, report.lying ? 'rise as it lies' : 'rise')).toBe(rise);
    if (rise) expect(drawnMm).toBeCloseTo(report.riseMm, 6);
    if (rise) expect(filedMm).toBeCloseTo(report.riseMm, 2);
    const across = acrossWords(report, (mm) => lengthWords(mm, unit));
    if (name === 'flat hexagon') expect(across).not.toBeNull();
    if (across) expect(facts.schematic).toContain(across.split(' ')[0]);
    if (rise) expect(spoken).toContain(`it rises ${rise}.`);
    else expect(spoken).toContain(`${size.words.replace(' × ', ' round, ')} high.`);
    expect(row(relax, 'pinned flat, dried')).toBe(pinnedWords(report, unit));

    if (liesFlat(report.verdict)) expect(relax).not.toContain('pinned flat');

    // The verdict, and what the pattern promises of it.
    expect(spoken).toContain(VERDICT_HEADLINES[report.verdict]);
    expect(relax).toContain(`Verdict: ${report.verdict}`);
    expect(/, blocked/.test(lines('Size'))).toBe(liesFlat(report.verdict));
    expect(facts.notes.join().includes(`does not lie flat (${report.verdict})`)).toBe(
      !liesFlat(report.verdict) && report.verdict !== 'tube',
    );

    // Yarn: the page's table is that of the pattern, the report's amount is without the allowance.
    const { use } = facts;
    if (!use) throw new Error('no yarn');
    expect(lines('Materials')).toContain(
      `Yarn needed: about ${yarnLengthWords(use.lengthM, unit)} (${massWords(use.massG, unit)})`,
    );
    expect(row(relax, 'yarn')).toContain(
      `${yarnLengthWords(use.lengthM / 1.1, unit)}, ${massWords(use.massG / 1.1, unit)}`,
    );

    // The closing, where one is drawn up.
    if (report.closing)
      expect(row(relax, 'drawn up at the (?:centre|end)')).toBe(
        closingLengths(report.closing, unit),
      );

    // Stitch counts: report, ledger, pattern, chart and needles.
    const counts = plan.rounds.map((round) => round.after);
    expect(report.rounds.map((round) => round.stitches)).toEqual(counts);
    expect(row(relax, 'stitches at the end')).toBe(String(counts.at(-1)));
    expect(countsByLine(plan).at(-1)?.stitches).toBe(counts.at(-1));
    const charted = chartText(facts.plan).matchAll(/^(?:Round|Row) \d.* (\d+) stitch(?:es)?\.$/gm);
    expect([...charted].map((m) => Number(m[1]))).toEqual(counts);
    for (const [, sts] of lines('Needle plan').matchAll(/\((\d+) sts\b/g))
      expect([plan.castOn, ...counts]).toContain(Number(sts));
    const onNeedles = facts.needles?.rounds.map((one) => one.counts.reduce((sum, n) => sum + n, 0));
    expect(onNeedles ?? counts).toEqual(counts);
    const { advice: _advice, ...table } = needleJson.table ?? {};
    expect(needleJson.table === null ? null : table).toEqual(facts.needles);
    for (const line of needleJson.lines)
      expect(lines('Needle plan')).toContain(
        unit === 'cm' ? line : line.split(' (')[0].split(' of ')[0],
      );
  });
});
