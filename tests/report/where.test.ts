/** Where a shape leaves level, on hand-made heights and on a relaxed piece, and the sentences made of it. */
import { expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { whereItStands } from '../../src/report/where.ts';
import { whereWords } from '../../src/report/words/where-words.ts';
import { COASTER } from '../coaster.ts';

const { knitted } = knit(COASTER);
if (!knitted) throw new Error('the coaster was not knitted');
const { graph, sheet, report } = knitted;

/** The coaster at rest with the height at each place given, mm. */
function raised(height: (course: number, x: number, y: number) => number): Float64Array {
  const places = sheet.positions.slice();
  for (let loop = 0; loop < graph.loops; loop++) {
    const [x, y] = [places[3 * loop], places[3 * loop + 1]];
    places[3 * loop + 2] = height(graph.course[loop], x, y);
  }
  return places;
}
const told = (places: Float64Array) =>
  whereWords(whereItStands(graph, places, report.corners), 'round', 'cm');

it('calls a piece level that is', () => {
  expect(told(sheet.positions)).toBe('It lies level all over.');
});

it('says which end of a cup stands up, how high, and between which rounds', () => {
  const cup = (course: number) => 4 * Math.max(0, Math.min(5, course - 2));
  expect(told(raised(cup))).toBe(
    'The middle stands 2 cm above the edge, most of it between rounds 2 and 7.',
  );
  expect(told(raised((course) => -cup(course)))).toBe(
    'The edge stands 2 cm above the middle, most of it between rounds 2 and 7.',
  );
});

it('counts the hills of a waving edge and says whether they stand at corners or sides', () => {
  // No stitch stands at the very crest.
  const around = (x: number, y: number) => Math.cos(4 * Math.atan2(y, x));
  const { positions } = sheet;
  let [sum, far] = [0, 0];
  for (let loop = 0; loop < graph.start[1]; loop++) {
    const [x, y] = [positions[3 * loop], positions[3 * loop + 1]];
    if (Math.hypot(x, y) > far) {
      far = Math.hypot(x, y);
      sum = around(x, y);
    }
  }
  const atCorners = Math.sign(sum);
  const wave = (course: number, x: number, y: number) =>
    course > 4 ? 0 : 8 * atCorners * around(x, y);
  expect(told(raised(wave))).toMatch(
    /^The edge waves up and down by 1\.[56] cm, in 4 hills at corners; it does so between the cast-on edge and round 4\.$/,
  );
  expect(told(raised((c, x, y) => -wave(c, x, y)))).toMatch(/in 4 hills by the middles of sides/);
});

it('says where a single bump is highest', () => {
  const first = graph.start[2];
  const [x0, y0] = [sheet.positions[3 * first], sheet.positions[3 * first + 1]];
  const bump = raised((_, x, y) => 15 * Math.exp(-((x - x0) ** 2 + (y - y0) ** 2) / 18));
  const where = whereItStands(graph, bump, report.corners);
  expect(where.highest.course).toBe(2);
  expect(told(bump)).toMatch(/highest in round 2, (?:towards|by|between) /);
});

it('tells a relaxed cup by its own figures, picked up and on the table', () => {
  const cup = knit(
    `${COASTER.replace(/^Round (\d+): purl\./gm, 'Round $1: knit.')}`.replace(
      '40 rounds',
      '26 rounds',
    ),
  ).knitted;
  expect(cup?.report.verdict).toBe('cups');
  if (!cup?.sheet.lying) throw new Error('not laid on a table');
  for (const places of [cup.sheet.positions, cup.sheet.lying.positions]) {
    const where = whereItStands(cup.graph, places, cup.report.corners);
    expect(where.riseMm).toBeGreaterThan(10);
    expect(whereWords(where, 'round', 'cm')).toMatch(/^The (?:middle|edge) stands \d/);
  }
  const lifted = whereItStands(cup.graph, cup.sheet.positions, cup.report.corners);
  expect(lifted.riseMm).toBeCloseTo(cup.report.weightlessRiseMm, 6);
});
