/** What stands beside a cable, as the metric reads it from the graph. */
import { describe, expect, it } from 'vitest';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { makeRings } from '../../src/gauge/layout/rings.ts';
import { cableWidths } from '../../src/gauge/texture/cable-width.ts';
import { parsePlan } from '../../src/plan/parse.ts';

interface Asked {
  readonly over: number;
  readonly under: number;
  readonly every: number;
  readonly purl: number;
}

/** Every different question that the metric asks about the cables of a plan. */
function asked(lines: readonly string[]): Asked[] {
  const plan = parsePlan(
    ['Gauge: 20 sts and 28 rounds to 10 cm', ...lines, 'Bind off.'].join('\n'),
  );
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  const graph = buildStitchGraph(plan);
  const found = new Map<string, Asked>();
  cableWidths(graph, makeRings(graph), (over, under, every, purl) => {
    const one = { over, under, every, purl };
    found.set(JSON.stringify(one), one);
    return 0.8;
  });
  return [...found.values()];
}

/** Twelve rounds of 40 stitches, the crossing on the fifth and eleventh: `odd` and `even` stand to both sides. */
function inRound(odd: string, even: string, crossing = '2/2 LC', size = 4): string[] {
  const side = (40 - size) / 2;
  const round = (r: number) => {
    const beside = r % 2 ? odd : even;
    const cable = r === 5 || r === 11 ? crossing : `k${size}`;
    return `Round ${r}: ${repeated(beside, side)}, ${cable}, ${repeated(beside, side)}.`;
  };
  return [
    'Cast on 40 sts. Join in the round.',
    ...Array.from({ length: 12 }, (_, k) => round(k + 1)),
  ];
}

/** `k`, `p`, or two letters that take turns. */
const repeated = (beside: string, count: number) =>
  beside.length === 1
    ? `${beside}${count}`
    : Array.from({ length: count }, (_, k) => `${beside[k % 2]}1`).join(', ');

describe('what stands beside a cable', () => {
  it.each([
    ['knit', inRound('k', 'k'), 0],
    ['purl', inRound('p', 'p'), 1],
    ['garter', inRound('k', 'p'), 0.5],
    ['garter begun with a purl round', inRound('p', 'k'), 0.5],
    ['seed', inRound('kp', 'pk'), 0.5],
    ['purl, leaning right', inRound('p', 'p', '2/2 RC'), 1],
    ['purl, six stitches', inRound('p', 'p', '3/3 LC', 6), 1],
  ])('is read of %s', (_name, lines, purl) => {
    const found = asked(lines);
    expect(found.length).toBeGreaterThan(0);
    for (const { purl: share } of found) expect(share).toBeCloseTo(purl, 9);
    expect(found.some(({ every }) => every === 6)).toBe(true);
  });

  it('is the face of other stitches on each side by itself', () => {
    const rounds = Array.from({ length: 12 }, (_, k) => {
      const cable = k % 6 === 4 ? '2/2 LC' : 'k4';
      return `Round ${k + 1}: (k7, p1, ${cable}, k8) twice.`;
    });
    const found = asked(['Cast on 40 sts. Join in the round.', ...rounds]);
    for (const { purl } of found) expect(purl).toBeCloseTo(0.5, 9);
  });

  it('is knit between two cables that touch', () => {
    const rounds = Array.from({ length: 12 }, (_, k) => {
      const cable = k % 6 === 4 ? '2/2 LC, 2/2 RC' : 'k8';
      return `Round ${k + 1}: (p6, ${cable}, p6) twice.`;
    });
    const found = asked(['Cast on 40 sts. Join in the round.', ...rounds]);
    for (const { purl } of found) expect(purl).toBeCloseTo(0.5, 9);
  });

  it('is read alike of flat work, whose wrong-side rows are worked the other way', () => {
    const rows = Array.from({ length: 12 }, (_, k) => {
      const r = k + 1;
      if (r % 2 === 0) return `Row ${r}: k8, p4, k8.`;
      return `Row ${r}: p8, ${r === 5 || r === 11 ? '2/2 LC' : 'k4'}, p8.`;
    });
    const found = asked(['Cast on 20 sts. Work flat.', ...rows]);
    expect(found.length).toBeGreaterThan(0);
    for (const { purl } of found) expect(purl).toBeCloseTo(1, 9);
  });

  it('is nothing of a strip that is cable from edge to edge', () => {
    const rows = Array.from({ length: 8 }, (_, k) => {
      const r = k + 1;
      if (r % 2 === 0) return `Row ${r}: p4.`;
      return `Row ${r}: ${r === 3 || r === 7 ? '2/2 LC' : 'k4'}.`;
    });
    for (const { purl } of asked(['Cast on 4 sts. Work flat.', ...rows])) expect(purl).toBe(0);
  });
});
