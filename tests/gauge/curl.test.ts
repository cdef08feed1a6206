/** Curl of free rims: a true gradient, the published directions, and nothing for balanced fabric. */
import { describe, expect, it } from 'vitest';
import { stockinetteCurl } from '../../src/cell/curl-shape.ts';
import { readFabric } from '../../src/gauge/build-metric.ts';
import { withCurl } from '../../src/gauge/curl.ts';
import { type Knitted, prepare, relax, unpin } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { curl } from '../../src/relax/energy/bending.ts';

const STITCHES = 16;

function swatch(rows: string, times: number) {
  const plan = parsePlan(
    `Cast on ${STITCHES} stitches, work flat.\nGauge: 20 stitches and 28 rows in 10 cm in stockinette.\n${rows}\n` +
      `Repeat rows 1 and 2 ${times} more times.\nBind off.`,
  );
  expect(plan.diagnostics).toEqual([]);
  return prepare(plan);
}

const STOCKINETTE = 'Row 1 (RS): knit.\nRow 2 (WS): purl.';

/** Mean height of stitches above the plane of the swatch's middle, mm, seen from the right side. */
function lift({ sheet, graph, measured }: Knitted, loops: readonly number[]): number {
  const x = sheet.positions;
  const { triangles } = measured.metric;
  const normal = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[t + k]);
    const [u, v] = [b, c].map((p) => [0, 1, 2].map((k) => x[p + k] - x[a + k]));
    for (let k = 0; k < 3; k++) {
      normal[k] += u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3];
    }
  }
  const size = Math.hypot(...normal);
  const height = (i: number) =>
    (x[3 * i] * normal[0] + x[3 * i + 1] * normal[1] + x[3 * i + 2] * normal[2]) / size;
  const middle = graph.start[graph.courses >> 1] + STITCHES / 2;
  return loops.reduce((sum, i) => sum + height(i), 0) / loops.length - height(middle);
}

const row = (knitted: Knitted, course: number) =>
  Array.from({ length: 6 }, (_, k) => knitted.graph.start[course] + 5 + k);

describe('a swatch that nothing holds down', () => {
  const free = unpin(relax(swatch(STOCKINETTE, 9)));

  it('comes to rest', () => {
    expect(free.sheet.relaxation.converged).toBe(true);
    expect(free.sheet.relaxation.energy).toBeGreaterThan(0);
  });

  it('says so in words, and keeps the verdict of the piece pinned out', () => {
    const words = free.report.reasons.at(-1);
    expect(words).toMatch(
      /bottom and top edges roll to the right side and the sides roll to the wrong/,
    );
    expect(free.report.verdict).toBe(relax(swatch(STOCKINETTE, 9)).report.verdict);
  });

  it('tells the height of the curled shape, and nothing of a table it was not laid on', () => {
    const z = Array.from({ length: free.graph.loops }, (_, i) => free.sheet.positions[3 * i + 2]);
    expect(free.report.lying).toBeNull();
    expect(free.report.riseMm).toBeCloseTo(Math.max(...z) - Math.min(...z), 6);
    expect(free.report.weightlessRiseMm).toBe(free.report.riseMm);
  });

  it('rolls the other way where its purl side is the right side', () => {
    const reverse = unpin(relax(swatch('Row 1 (RS): purl.\nRow 2 (WS): knit.', 9)));
    expect(lift(reverse, row(reverse, 0))).toBeLessThan(-5);
    expect(reverse.report.reasons.at(-1)).toMatch(/top edges roll to the wrong side/);
  });

  it('rolls top and bottom to the knit side, as published (overtherainbowyarn.com)', () => {
    expect(lift(free, row(free, 0))).toBeGreaterThan(5);
    expect(lift(free, row(free, free.graph.courses - 1))).toBeGreaterThan(5);
  });

  it('rolls the sides of a tall strip to the purl side (from memory, REFERENCES 7)', () => {
    const tall = unpin(relax(swatch(STOCKINETTE, 24)));
    const { start, courses } = tall.graph;
    const middle = courses >> 1;
    for (const side of [start[middle], start[middle + 1] - 1]) {
      expect(lift(tall, [side])).toBeLessThan(-2);
    }
  });

  it.each([
    ['garter', 'Row 1: knit.\nRow 2: knit.'],
    ['rib', 'Row 1: *k1, p1; rep from * to end.\nRow 2: *k1, p1; rep from * to end.'],
    ['seed', 'Row 1: *k1, p1; rep from * to end.\nRow 2: *p1, k1; rep from * to end.'],
  ])('stays flat in %s, which is balanced', (_name, rows) => {
    const knitted = unpin(relax(swatch(rows, 9)));
    expect(knitted.sheet.relaxation.converged).toBe(true);
    expect(knitted.report.reasons.at(-1)).toMatch(/do not curl/);
    for (const course of [0, knitted.graph.courses - 1]) {
      expect(Math.abs(lift(knitted, row(knitted, course)))).toBeLessThan(1);
    }
  });

  it('has one edge to roll where it is worked in the round', () => {
    const plan = parsePlan(
      'Cast on 40 stitches, join in the round.\nRound 1: knit.\nRepeat round 1 9 more times.\nBind off.',
    );
    const tube = unpin(relax(prepare(plan)));
    expect(tube.report.reasons.at(-1)).toMatch(/^Unpinned the edge rolls to the right side, as/);
  });

  it('keeps a state of a narrow band, whose energy is less than nothing', () => {
    const rounds = Array.from({ length: 4 }, (_, i) => `Round ${i + 1}: knit.\n`).join('');
    const plan = parsePlan(
      `Gauge: 33.33 sts and 66.67 rounds = 10 cm\nCast on 108 sts. Join in the round.\n${rounds}Bind off.\n`,
    );
    const { energy } = unpin(relax(prepare(plan)), { maxIterations: 20 }).sheet.relaxation;
    expect(energy).toBeLessThan(0);
  });

  it('lies flat when it is pinned', () => {
    const pinned = relax(swatch(STOCKINETTE, 9));
    expect(Math.abs(lift(pinned, row(pinned, 0)))).toBeLessThan(0.5);
  });
});

describe('the energy of curl', () => {
  it('has the gradient that finite differences give, and none where nothing curls', () => {
    const prepared = swatch(STOCKINETTE, 2);
    const { metric } = prepared.measured;
    const curled = withCurl(metric, prepared.graph, readFabric(prepared.graph), stockinetteCurl());
    const x = Float64Array.from(
      { length: 3 * metric.vertices },
      (_, i) => 5 * Math.sin(i) + ((i * 7) % 11),
    );
    const g = new Float64Array(x.length);
    expect(curl(metric, x, g)).toBe(0);
    expect(g.every((v) => v === 0)).toBe(true);
    curl(curled, x, g);
    const scratch = new Float64Array(x.length);
    for (let i = 0; i < x.length; i += 17) {
      const at = (by: number) => {
        const moved = x.slice();
        moved[i] += by;
        return curl(curled, moved, scratch);
      };
      const slope = (at(1e-4) - at(-1e-4)) / 2e-4;
      expect(Math.abs(slope - g[i])).toBeLessThan(1e-5 * (1 + Math.abs(g[i])));
    }
  });
});
