/**
 * How stiff a knitted fabric is along its courses and its wales: the periodic yarn cell, relaxed, then
 * stretched and shortened by a few per cent along one direction while it stays free across.
 *
 * Input: a fabric and its loop length in yarn diameters. Output: second derivative of the energy by
 * strain, per area of fabric at rest, B/d³; contraction across. Model: Poincloux et al. 2018; the order
 * of the fabrics is checked against Singal et al., Nat. Commun. 15, 2622 (2024).
 */
import { relaxRods } from '../rod/relax-rods.ts';
import { buildRodSystem } from '../rod/rod-system.ts';
import { fibreSmooth, YARN } from '../rod/yarn-material.ts';
import { FACTOR_EVERY } from './cell-run.ts';
import { startLoops } from './loop-start.ts';
import {
  CELL_FACES,
  CELL_SEGMENTS,
  type CellFabric,
  relaxCell,
  TABLE_STIFFNESS,
} from './relax-cell.ts';

export interface CellStiffness {
  /** Along the course and along the wale, B/d³ (energy per area). */
  readonly course: number;
  readonly wale: number;
  /** Shortening across for a lengthening of one, while stretched along the course and the wale. */
  readonly contraction: readonly [number, number];
  readonly converged: boolean;
}

/** Strain of the trial, both ways. Chosen: large against the tolerance, small against the loop's slack. */
const STRAIN = 0.03;
/** Tolerance on the largest force, B/d². Chosen: a hundredth of what the strain gives. */
const TOLERANCE = 1e-4;
const MOST_ITERATIONS = 20_000;

/** `loop`: yarn a stitch over its diameter. */
export function cellStiffness(fabric: CellFabric, loop: number): CellStiffness {
  const cell = relaxCell({ stitch: fabric, loopMm: loop, yarnMm: 1 });
  const faces = CELL_FACES[fabric];
  const { system } = buildRodSystem(startLoops(faces, loop, CELL_SEGMENTS).strands);
  let converged = cell.relaxation.converged;
  const rest = cell.shape;

  /** Energy of the repeat held at `factor` along `axis`, and its size across. */
  const energyAt = (axis: 0 | 1, factor: number): { energy: number; across: number } => {
    const positions = Float64Array.from(rest.points);
    const period = Float64Array.from(rest.periodMm);
    for (let i = axis; i < positions.length; i += 3) positions[i] *= factor;
    period[axis] *= factor;
    const run = relaxRods(
      {
        system,
        positions,
        period,
        freePeriod: [axis === 1, axis === 0],
        held: null,
        load: null,
        extra: null,
      },
      {
        material: { ...YARN, plane: TABLE_STIFFNESS },
        tolerance: TOLERANCE,
        maxIterations: MOST_ITERATIONS,
        maxMove: 0.12,
        factorEvery: FACTOR_EVERY,
        smooth: fibreSmooth(system.rest[0]),
      },
    );
    converged &&= run.converged && run.tunnelFree;
    return { energy: run.energy, across: period[1 - axis] };
  };

  const area = rest.periodMm[0] * rest.periodMm[1];
  const along = (axis: 0 | 1) => {
    const [less, none, more] = [1 - STRAIN, 1, 1 + STRAIN].map((f) => energyAt(axis, f));
    return {
      modulus: (more.energy + less.energy - 2 * none.energy) / (STRAIN * STRAIN * area),
      contraction: (less.across - more.across) / (2 * STRAIN * none.across),
    };
  };
  const course = along(0);
  const wale = along(1);
  return {
    course: course.modulus,
    wale: wale.modulus,
    contraction: [course.contraction, wale.contraction],
    converged,
  };
}
