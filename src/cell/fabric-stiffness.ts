/**
 * How stiff a knitted fabric is along its courses and its wales: the periodic yarn cell, relaxed, then
 * stretched and shortened by a tenth along one direction while it stays free across.
 *
 * Input: a fabric and its loop length in yarn diameters. Output: second derivative of the energy by
 * strain, per area of fabric at rest, B/d³; contraction across. Model: Poincloux et al. 2018; the order
 * of the fabrics is checked against Singal et al., Nat. Commun. 15, 2622 (2024).
 */
import { relaxRods } from '../rod/relax-rods.ts';
import { buildRodSystem } from '../rod/rod-system.ts';
import { fibreSmooth, YARN } from '../rod/yarn-material.ts';
import { FABRIC_STIFFNESS_TABLE } from './fabric-stiffness-table.ts';
import { startLoops } from './loop-start.ts';
import {
  CELL_FACES,
  CELL_SEGMENTS,
  type CellFabric,
  relaxCell,
  TABLE_STIFFNESS,
} from './relax-cell.ts';
import { FACTOR_EVERY } from './yarn-run.ts';

/** One cell of the computed table; `loop` in yarn diameters, stiffness as `CellStiffness`. */
export interface StiffnessRow {
  readonly loop: number;
  readonly fabric: Exclude<CellFabric, 'reverse'>;
  readonly course: number;
  readonly wale: number;
}

export interface CellStiffness {
  /** Along the course and along the wale, B/d³ (energy per area). */
  readonly course: number;
  readonly wale: number;
  /** Shortening across for a lengthening of one, while stretched along the course and the wale. */
  readonly contraction: readonly [number, number];
  readonly converged: boolean;
}

/**
 * Strain of the trial, both ways: the law is not linear (jammed loops resist being pushed together), so this is
 * a mean over what fabrics that share a course ask of one another. Chosen: garter beside stockinette is a fifth.
 */
const STRAIN = 0.1;
/** Steps in which it is reached, so that the yarn follows. Chosen. */
const STEPS = 2;
/** Tolerance on the largest force, B/d². Chosen: a hundredth of what the strain gives. */
const TOLERANCE = 1e-4;
const MAX_ITERATIONS = 20_000;

/** `loop`: yarn a stitch over its diameter. */
export function cellStiffness(fabric: CellFabric, loop: number): CellStiffness {
  const cell = relaxCell({ stitch: fabric, loopMm: loop, yarnMm: 1 });
  const faces = CELL_FACES[fabric];
  const { system } = buildRodSystem(startLoops(faces, loop, CELL_SEGMENTS).strands);
  let converged = cell.relaxation.converged;
  const rest = cell.shape;

  /** Energy of the repeat held at `1 + strain` along `axis`, and its size across. */
  const energyAt = (axis: 0 | 1, strain: number): { energy: number; across: number } => {
    const positions = Float64Array.from(rest.points);
    const period = Float64Array.from(rest.periodMm);
    let energy = 0;
    for (let step = 1; step <= STEPS; step++) {
      const factor = (1 + (strain * step) / STEPS) / (1 + (strain * (step - 1)) / STEPS);
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
          maxIterations: MAX_ITERATIONS,
          maxMove: 0.12,
          factorEvery: FACTOR_EVERY,
          smooth: fibreSmooth(system.rest[0]),
        },
      );
      converged &&= run.converged && run.tunnelFree;
      energy = run.energy;
    }
    return { energy, across: period[1 - axis] };
  };

  const area = rest.periodMm[0] * rest.periodMm[1];
  const along = (axis: 0 | 1) => {
    const [less, none, more] = [-STRAIN, 0, STRAIN].map((strain) => energyAt(axis, strain));
    // Ribs rest in several states: one that falls into a lower one tells nothing of the state it left.
    const held = [less, more].filter(({ energy }) => energy > none.energy);
    const work = held.reduce((sum, { energy }) => sum + energy - none.energy, 0) / held.length;
    return {
      modulus: (2 * work) / (STRAIN * STRAIN * area),
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

/** Stiffness over that of stockinette of the same yarn and loop. */
export interface StiffnessRatio {
  readonly course: number;
  readonly wale: number;
}

/** By the table, between its loop lengths in proportion and beyond them at the nearest; ribs at their mean. */
export function stiffnessRatios(
  loop: number,
): Readonly<Record<'stockinette' | 'garter' | 'rib' | 'seed', StiffnessRatio>> {
  const plain = rowAt('stockinette', loop);
  const over = (rows: readonly StiffnessRow[]): StiffnessRatio => ({
    course: mean(rows.map((row) => row.course / plain.course)),
    wale: mean(rows.map((row) => row.wale / plain.wale)),
  });
  return {
    stockinette: { course: 1, wale: 1 },
    garter: over([rowAt('garter', loop)]),
    rib: over([rowAt('rib 1x1', loop), rowAt('rib 2x2', loop)]),
    seed: over([rowAt('seed', loop)]),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function rowAt(fabric: StiffnessRow['fabric'], loop: number): StiffnessRow {
  const rows = FABRIC_STIFFNESS_TABLE.filter((row) => row.fabric === fabric);
  const next = rows.findIndex((row) => row.loop >= loop);
  if (next <= 0) return rows[next === 0 ? 0 : rows.length - 1];
  const [a, b] = [rows[next - 1], rows[next]];
  const f = (loop - a.loop) / (b.loop - a.loop);
  const mix = (x: number, y: number) => x + f * (y - x);
  return { loop, fabric, course: mix(a.course, b.course), wale: mix(a.wale, b.wale) };
}
