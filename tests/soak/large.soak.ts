/** The largest plan that is taken, 200,000 stitches, comes to rest; one more is refused with the limit. Takes minutes. */
import { expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { settings } from './soak.ts';

const ROUNDS = 250;
/** Not where all soaks together have only minutes. */
const hurried = settings.fileSeconds > 0;

const tube = (castOn: number) => `Title: Largest
Gauge: 20 sts and 28 rounds = 10 cm
Cast on ${castOn} sts. Join in the round.
Rounds 1-${ROUNDS}: knit.
`;

it.skipIf(hurried)('a square of nearly 200,000 stitches comes to rest', () => {
  const side = 314;
  const text = `Title: Largest square
Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round
Cast on ${4 * side} sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k to last 2 sts of side, k2tog; rep from * 3 times more.
Repeat rounds 1 and 2 until 8 sts remain.
Draw the yarn through the remaining sts.
`;
  const start = performance.now();
  const { plan, knitted } = knit(text, { clock: () => performance.now() });
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  const loops = knitted?.graph.loops ?? 0;
  console.log(
    `${loops} stitches at rest after ${((performance.now() - start) / 1000).toFixed(0)} s`,
  );
  expect(loops).toBeGreaterThan(190_000);
  expect(knitted?.report.relaxation.converged).toBe(true);
  expect(knitted?.report.verdict).toMatch(/^flat/);
});

it('a plan of more is refused with the limit', () => {
  const { diagnostics } = parsePlan(tube(2000));
  const [first] = diagnostics.filter((d) => d.severity === 'error');
  expect(first?.message).toMatch(/200,?000/);
});
