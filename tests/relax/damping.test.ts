import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { prepare } from '../../src/flow/prepare.ts';
import { emptyBlocks } from '../../src/math/symmetric-blocks.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import { BlockSweep } from '../../src/relax/solver/block-sweep.ts';
import { Damping } from '../../src/relax/solver/damping.ts';

describe('damping', () => {
  it('is raised by steps that fall short and gone after whole ones', () => {
    const damping = new Damping();
    expect(damping.hear(1)).toBe(false);
    expect(damping.value).toBe(0);
    for (let k = 0; k < 40; k++) damping.hear(0.01);
    expect(damping.value).toBeLessThanOrEqual(1);
    const raised = damping.value;
    damping.hear(0.5);
    expect(damping.value).toBe(raised);
    for (let k = 0; k < 60; k++) damping.hear(1);
    expect(damping.value).toBe(0);
  });

  it('brings a limp disc to rest in half the steps', () => {
    const { text } = draftPlan({
      shape: 'disc',
      sizeMm: 124,
      stitchMm: 3.2,
      roundMm: 2.24,
      direction: 'out',
      worked: 'flat',
      seamStitches: 2,
    });
    const { relaxation } = relaxSheet(prepare(parsePlan(text)).measured.metric);
    expect(relaxation.converged).toBe(true);
    // 180 without it, to the same energy.
    expect(relaxation.iterations).toBeLessThan(130);
    expect(relaxation.energy).toBeCloseTo(2.12879, 4);
  });
});

describe('the sweep', () => {
  it('is not led astray by what rounding leaves of a stiffness', () => {
    const pattern = { vertices: 2, start: Int32Array.of(0, 0, 1), column: Int32Array.of(0) };
    const matrix = emptyBlocks(pattern);
    matrix.diagonal.set([2, 0, 0, 2, 0, 2, 1e-20, 3e-21, 0, -2e-20, 0, 4e-20]);
    matrix.lower.set([1e-20, 0, 0, -1e-20, 0, 2e-20]);
    const sweep = new BlockSweep(matrix);
    sweep.refresh();
    sweep.takeDiagonal(new Float64Array(6));
    const given = Float64Array.of(1, 1, 1, 1, 1, 1);
    const solved = new Float64Array(6);
    sweep.forward(given, solved, new Float64Array(6));
    sweep.backward(given, solved);
    for (const part of solved) expect(Math.abs(part)).toBeLessThan(10);
  });
});
