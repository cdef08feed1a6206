/** Panels as options tell them: cables by name, mirrored pairs, places by share. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { readPanel } from '../../src/draft/motif/side-pattern.ts';
import { type PanelSpec, resolvePanels } from '../../src/draft/spec/draft-spec.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { spec as specs } from './wishes-arbitrary.ts';

const GAUGE = { stitchMm: 5, roundMm: 3.5 };
const panel = (stitches: string, more: Partial<PanelSpec> = {}): PanelSpec => ({
  stitches,
  crossEvery: null,
  place: 'middle',
  ...more,
});
const draft = (panels: PanelSpec[], sizeMm = 200) => draftPlan({ sizeMm, ...GAUGE, panels });
/** One side of the first round, right to left, corner stitch and all. */
const side = (text: string) => /Round 1: \*(.*?); rep/.exec(text)?.[1] ?? '';

describe('a cable told by its name', () => {
  it.each([
    ['p2 2/2RC p2', '2/2 RC', 4],
    ['p2 2/2 LC p2', '2/2 LC', 4],
    ['P1 C6F P1', '3/3 LC', 6],
    ['c6b', '3/3 RC', 6],
    ['p1 2/1RC p1', '2/1 RC', 4],
  ])('%s crosses as %s, every %i rounds where no interval is told', (stitches, name, every) => {
    const { text } = draft([panel(stitches)]);
    const rounds = text.split('\n').flatMap((line) => {
      const label = /^Round (\d+):/.exec(line);
      return label && line.includes(name) ? [Number(label[1])] : [];
    });
    expect(rounds[0]).toBe(every);
    expect(rounds.every((n) => n % every === 0)).toBe(true);
  });

  it('leaves runs of knit stitches beside it alone', () => {
    const { cables } = readPanel({ ...panel('k4 p1 2/2RC p1 k4'), crossEvery: 4 });
    expect(cables.map(({ first, lean }) => [first, lean])).toEqual([[5, 'RC']]);
  });

  it.each([['2/2XC'], ['C5F'], ['8/8LC'], ['0/4RC']])('%s is refused by its name', (word) => {
    expect(() => readPanel(panel(`p1 ${word} p1`))).toThrow(word.toLowerCase());
  });
});

describe('places', () => {
  it('a mirrored pair stands alike from both ends and leans apart', () => {
    const { text } = draft([panel('p1 2/2RC p2', { place: { share: 1 / 4 }, paired: true })]);
    const widths = side(text).split(', ');
    // The corner stitch is worked with the last ground stitches.
    expect(widths.slice(1, 4)).toEqual(['p1', 'k4', 'p2']);
    expect(widths.slice(5, 8)).toEqual(['p2', 'k4', 'p1']);
    expect(Number(widths[8].slice(1))).toBe(Number(widths[0].slice(1)) + 1);
    const crossed = text.split('\n').find((line) => line.includes('RC')) ?? '';
    expect(crossed.indexOf('2/2 RC')).toBeLessThan(crossed.indexOf('2/2 LC'));
  });

  it('two panels in the middle stand apart, with equal ground beside and between them', () => {
    const plan = parsePlan(draft([panel('p1 k4 p1'), panel('p1 k4 p1')]).text);
    const faces = Array.from(plan.rounds[0].works, (id) => plan.kinds[id].name);
    const words = faces.slice(0, plan.castOn / 4).join('');
    const [right, between, left] = words.split('pkkkkp').map((run) => run.length);
    expect(right).toBeGreaterThan(5);
    expect(Math.abs(between - right)).toBeLessThanOrEqual(1);
    // The corner stitch is worked with the last ones.
    expect(Math.abs(left - 1 - right)).toBeLessThanOrEqual(1);
  });

  it('a share puts the middle of the panel there', () => {
    const words = side(draft([panel('p1 k4 p1', { place: { share: 0.3 } })]).text).split(', ');
    // 39 stitches beside the corner's: 0.3 × 39 − 3 = 8.7.
    expect(words[0]).toBe('k9');
  });

  it('a pair in the very middle or along the corner is refused', () => {
    expect(() => resolvePanels([panel('k4', { place: 'corner', paired: true })])).toThrow(/share/);
    expect(() => resolvePanels([panel('k4', { place: { share: 0.5 }, paired: true })])).toThrow();
  });
});

it('says where a cable meets the shaping before it ever crosses', () => {
  const { compromises } = draft([panel('p1 k4 p1', { crossEvery: 8, place: 1 })]);
  expect(compromises.join(' ')).toMatch(/"p1 k4 p1" is not crossed.*every 8 rounds/);
});

it('a cable is crossed twice at least, or the draft says that it is not', () => {
  const cabled = specs.filter(({ panels = [] }) =>
    panels.some(({ crossEvery }) => crossEvery !== null),
  );
  for (const one of fc.sample(cabled, { seed: 5, numRuns: runs(200) })) {
    const { text, compromises } = draftPlan(one);
    const crossed = text.split('\n').filter((line) => /\d\/\d [LR]C/.test(line)).length;
    const said = compromises.join(' ');
    if (crossed < 2)
      expect(said, JSON.stringify(one)).toMatch(
        /crossed (?:once only|in part only)|is not crossed|left out|no room|not fit|Only one panel/,
      );
  }
});

it('a cable that the shaping soon reaches is crossed after half an interval where that crosses it once more', () => {
  const crossings = (crossEvery: number) => {
    const cable = panel('p1 k4 p1', { crossEvery, place: 8 });
    const { text } = draftPlan({ sizeMm: 150, stitchMm: 4.545, roundMm: 3.333, panels: [cable] });
    return [...text.matchAll(/^Round (\d+).*2\/2 LC/gm)].map(([, round]) => Number(round));
  };
  expect(crossings(4)).toEqual([4, 8]);
  expect(crossings(6)).toEqual([3, 9]);
  expect(crossings(8)).toEqual([8]);
});

it.each(['garter', 'reverse'] as const)('a knit rope along the corners of %s is drawn together by knit decreases', (ground) => {
  for (const stitches of ['k4', 'k6', 'p1 k4 p1'])
    for (const sizeMm of [90, 110, 130]) {
      const gauge = { stitchMm: 5, roundMm: ground === 'garter' ? 2.5 : 3.5 };
      const { text } = draftPlan({ sizeMm, ...gauge, ground, panels: [panel(stitches, { place: 'corner' })] });
      // The first two decreases that meet in the middle of the corner take its knit stitches alone.
      expect(/(k2tog, ssk|p2tog, ssp)/.exec(text)?.[0], text).not.toBe('p2tog, ssp');
    }
}); // biome-ignore format: one case a line
