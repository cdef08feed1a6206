/** What a blanket is told in words, worked out again by the reader and by the words alone. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { blanketBorder } from '../../src/draft/motif/border-plan.ts';
import type { Gauge } from '../../src/gauge/gauge/gauge.ts';
import { blanketSquare } from '../../src/paper/blanket/blanket-square.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { yarnUse } from '../../src/paper/pattern/yarn-use.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { layOutBlanket } from '../../src/report/blanket.ts';
import type { Report } from '../../src/report/report.ts';
import { borderLengthM } from '../../src/report/yarn-estimate.ts';
import { runs } from '../runs.ts';

const kind = fc.record({
  sideMm: fc.double({ min: 120, max: 126, noNaN: true }),
  sideStitches: fc.integer({ min: 12, max: 60 }),
});
const blankets = fc.record({
  kinds: fc.array(kind, { minLength: 1, maxLength: 4 }),
  rows: fc.integer({ min: 1, max: 3 }),
  columns: fc.integer({ min: 1, max: 4 }),
  places: fc.array(fc.nat(3), { minLength: 12, maxLength: 12 }),
  depthMm: fc.integer({ min: 5, max: 60 }),
});

const laidOut = fc.sample(blankets, { seed: 17, numRuns: runs(24) }).map((one) => {
  const squares = one.kinds.map((each, i) => ({
    ...each,
    id: `s${i}`,
    name: `Square ${'ABCD'[i]}`,
    sides: 4,
    yarn: [],
  }));
  const rows = Array.from({ length: one.rows }, (_, r) =>
    Array.from(
      { length: one.columns },
      (_, c) => `s${one.places[r * one.columns + c] % one.kinds.length}`,
    ),
  );
  const report = layOutBlanket(squares, { rows, targetMm: null, easeShare: 0.03 });
  return { report, squares, depthMm: one.depthMm };
});

const often = (words: string) => ({ once: 1, twice: 2 })[words] ?? Number.parseInt(words, 10);

it('the border reads back as counted, and so does its written pattern in either way of terms', () => {
  for (const { report, depthMm } of laidOut) {
    const { plan: border } = blanketBorder(report.border, { title: 'Moorland: border', depthMm });
    if (!border) throw new Error('no border');
    const read = parsePlan(border.text);
    expect(read.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
    const { top, right, bottom, left } = report.border;
    expect(read.castOn).toBe(top + right + bottom + left + 4);
    expect(read.rounds.length).toBe(border.rounds);
    expect(read.rounds.at(-1)?.after).toBe(border.boundOff);
    // A gauge that a knitter can count, and the yarn of its own rounds; nothing is cast on.
    expect(border.text).toMatch(/^Gauge: \d+(\.\d)? sts and \d+(\.\d)? rounds = 10 cm/m);
    const { stitchMm } = report.border;
    const { lengthM } = yarnUse(read, { stitchMm, tex: 400 });
    const edgeM = (1.1 * 3 * read.castOn * stitchMm) / 1000;
    expect(borderLengthM(border, stitchMm)).toBeCloseTo(lengthM - edgeM, 6);
    for (const terms of ['american', 'british'] as const) {
      const { text } = writePattern(read, { terms, units: 'cm', sizeMm: null });
      // No second edge is cast on: its stitches are drawn through the blanket's.
      for (const told of [border.text, text]) {
        expect(told).toContain(`Pick up and knit ${read.castOn} sts round the edge.`);
        expect(told).not.toMatch(/cast[- ]on/i);
      }
      const written = parsePlan(text);
      expect(written.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
      expect(written.castOn).toBe(read.castOn);
      expect(written.rounds.map(({ after }) => after)).toEqual(
        read.rounds.map(({ after }) => after),
      );
      expect(written.ending).toBe('bound-off');
    }
  }
});

it('the stitches picked up, worked out from the words, are those of the edges', () => {
  for (const { report } of laidOut)
    for (const { along, pickUp, words } of report.border.pickUps) {
      const [, total, from] = /: (\d+) from its (\d+) stitches/.exec(words) ?? [];
      expect([Number(total), Number(from)]).toEqual([pickUp, along]);
      // Most stitches passed over: one from every so many; most giving two: so many from every one.
      const nth =
        /one from every (second|third|\d+)(?:th)? stitch(?: and one more (.+?))?, spread/.exec(
          words,
        );
      const several = /, (\d+) from every stitch(?:, but one fewer (.+?))?, spread/.exec(words);
      const more = /one more (.+?), after/.exec(words);
      const fewer = /pass over one (.+?), after/.exec(words);
      if (nth) {
        const each = { second: 2, third: 3 }[nth[1]] ?? Number(nth[1]);
        expect(Math.floor(along / each) + (nth[2] ? often(nth[2]) : 0)).toBe(pickUp);
      } else if (several)
        expect(Number(several[1]) * along - (several[2] ? often(several[2]) : 0)).toBe(pickUp);
      else if (more) expect(along + often(more[1])).toBe(pickUp);
      else if (fewer) expect(along - often(fewer[1])).toBe(pickUp);
      else {
        expect(words).toContain('one from every stitch');
        expect(along).toBe(pickUp);
      }
    }
});

it('every seam, worked out from its words, uses up both edges', () => {
  let sewn = 0;
  for (const { report, squares } of laidOut) {
    for (const { words, eased: meets } of report.seams) {
      if (!meets) continue;
      sewn++;
      const [, a, b] = /^(Square \w) to (Square \w),/.exec(words) ?? [];
      const along = (name: string) => squares.find((one) => one.name === name)?.sideStitches ?? 0;
      const counts = /, (\d+) to (\d+) stitches:/.exec(words);
      if (!counts) {
        expect(words).toContain(`stitch to stitch (${along(a)})`);
        expect(along(b)).toBe(along(a));
        continue;
      }
      expect(counts.slice(1).map(Number)).toEqual([along(a), along(b)]);
      const eased = /two stitches of (Square \w) with one of (Square \w) (.+?), after/.exec(words);
      if (eased) expect(along(eased[2]) + often(eased[3])).toBe(along(eased[1]));
    }
  }
  expect(sewn).toBeGreaterThan(0);
});

it('the yarn of a blanket parts a square’s colours as its pattern does, also where one line names them all', () => {
  for (const yarn of [
    '',
    'DK wool, 50 g = 125 m',
    'DK wool, 50 g = 125 m in MC (grey), CC (rust)',
  ]) {
    const plan = parsePlan(
      `${yarn && `Yarn: ${yarn}\n`}With MC cast on 40 sts. Join in the round.\nRounds 1-3: knit.\nChange to CC.\nRounds 4-8: knit.\nBind off.\n`,
    );
    const sizes = { stockinette: { stitchMm: 4.5 } };
    const gauge = { sizes, groundSize: { roundMm: 3 }, tex: 400 } as unknown as Gauge;
    const report = { corners: 4, sideMm: 45, verdict: 'flat' } as unknown as Report;
    const square = blanketSquare('a', 'Fern', { plan, gauge, report }, null);
    if (!square) throw new Error('no square');
    const { yarn: told } = layOutBlanket([square], { rows: [['a']], targetMm: null, easeShare: 0 });
    const use = yarnUse(plan, { stitchMm: 4.5, tex: 400, seamMm: 90 });
    expect(told.map(({ lengthM }) => lengthM)).toEqual(use.colours.map(({ lengthM }) => lengthM));
    expect(told.length).toBe(2);
  }
});
