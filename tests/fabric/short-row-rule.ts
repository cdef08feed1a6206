/** What must hold of every plan with short rows: loops are the stitches worked, one sheet, lengths all over it. */
import { expect } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { hasErrors, madeBy } from '../../src/plan/plan.ts';
import { isUnworked } from '../../src/plan/stitches/stitch-kind.ts';

export function expectMeasured(text: string): void {
  const plan = parsePlan(text);
  expect(hasErrors(plan)).toBe(false);
  const { graph, cells, measured } = prepare(plan);
  const made = plan.rounds.reduce((sum, round) => sum + madeBy(plan, round), plan.castOn);
  expect(graph.loops).toBe(made);
  // Where no row was worked over the whole cast-on there is no sheet yet, and where the last is short it may gape.
  const whole = Array.from({ length: plan.castOn }, (_, loop) => loop);
  const taken = new Set(graph.consumed);
  const open = plan.rounds.at(-1)?.works.some((id) => isUnworked(plan.kinds[id])) ?? true;
  if (open && plan.ending !== 'bound-off')
    expect(plan.diagnostics.map(({ code }) => code)).toContain('short-rows-not-closed');
  if (graph.courses > 3 && !open && whole.every((loop) => taken.has(loop)))
    expect(cells.shape).not.toBe('other');
  const { restMm, areaMm2, ring } = measured.metric;
  expect(restMm.every((mm) => mm > 0 && Number.isFinite(mm))).toBe(true);
  expect(areaMm2.every(Number.isFinite)).toBe(true);
  expect(ring.depthMm.every(Number.isFinite)).toBe(true);
}
