import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/flow/prepare.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { carryOver } from '../../src/relax/starts/carry-over.ts';

const square = (side: number, opening = 'Join in the round.') =>
  [
    'Gauge: 20 sts and 28 rounds = 10 cm',
    `Cast on ${4 * side} sts. ${opening}`,
    ...Array.from({ length: 3 }, (_, k) => [
      `Round ${2 * k + 1}: *ssk, k${side - 4 - 2 * k}, k2tog; rep from * to end.`,
      `Round ${2 * k + 2}: knit.`,
    ]).flat(),
    'Draw yarn through remaining sts.',
  ].join('\n');

const piece = (text: string) => {
  const { graph, measured } = prepare(parsePlan(text));
  return { graph, vertices: measured.metric.vertices };
};

describe('a field carried over', () => {
  const small = piece(square(12));
  const large = piece(square(13));

  it('onto the same piece is the same', () => {
    const field = Float64Array.from({ length: 3 * small.vertices }, (_, k) => Math.sin(k));
    const carried = carryOver(small.graph, field, small.graph, small.vertices) ?? field.slice(0, 0);
    expect(carried).toHaveLength(field.length);
    for (const [k, value] of field.entries()) expect(carried[k]).toBeCloseTo(value, 9);
  });

  it('keeps what turns once with the round, corner for corner', () => {
    const turned = ({ graph, vertices }: typeof small) => {
      const field = new Float64Array(3 * vertices);
      for (let i = 0; i < graph.loops; i++) {
        const count = graph.start[graph.course[i] + 1] - graph.start[graph.course[i]];
        field[3 * i] = Math.cos((2 * Math.PI * (graph.position[i] + 0.5)) / count);
      }
      return field;
    };
    const wanted = turned(large);
    const carried = carryOver(small.graph, turned(small), large.graph, large.vertices);
    // Between loops it goes straight: by the height of an arc over its chord, 24 or more of them round.
    const most = 1 - Math.cos(Math.PI / 24);
    for (let i = 0; i < large.graph.loops; i++)
      expect(Math.abs((carried?.[3 * i] ?? 9) - wanted[3 * i])).toBeLessThan(most);
  });

  it('is none where pieces are too unlike', () => {
    const field = new Float64Array(3 * small.vertices);
    const far = piece(square(20));
    expect(carryOver(small.graph, field, far.graph, far.vertices)).toBeNull();
    const crossed = piece(square(13, 'Join in the round, crossing the first and last stitches.'));
    expect(crossed.graph.join.method).not.toBe(small.graph.join.method);
    expect(carryOver(small.graph, field, crossed.graph, crossed.vertices)).toBeNull();
  });
});
