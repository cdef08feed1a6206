/**
 * The states in which a cell can rest: a knit has no single one (Crassous, Poincloux and Steinberger 2024).
 * Input: cells of one fabric and loop length, relaxed from several starts. Output: those that came to rest,
 * lowest energy first, cells that agree in size counted once.
 */
import type { CellResult } from './relax-cell.ts';

/** Starts that lead to the states known of ribs: low and high, flat and deep. Chosen. */
export const CELL_STARTS: readonly { readonly height: number; readonly depth: number }[] = [
  { height: 0.8, depth: 0.7 },
  { height: 0.8, depth: 1.3 },
  { height: 1, depth: 1 },
  { height: 1.2, depth: 0.7 },
  { height: 1.2, depth: 1.3 },
];

/** Sizes that differ by less than this are one state. Chosen: twice what two stopping points may differ. */
const SAME = 0.02;

export type CellState = Pick<CellResult, 'stitchMm' | 'roundMm' | 'energy'> & {
  readonly relaxation: Pick<CellResult['relaxation'], 'converged'>;
};

export function statesOf<T extends CellState>(cells: readonly T[]): T[] {
  const resting = cells.filter((cell) => cell.relaxation.converged);
  resting.sort((a, b) => a.energy - b.energy);
  const states: T[] = [];
  for (const cell of resting) {
    const known = states.some(
      (state) =>
        Math.abs(cell.stitchMm / state.stitchMm - 1) < SAME &&
        Math.abs(cell.roundMm / state.roundMm - 1) < SAME,
    );
    if (!known) states.push(cell);
  }
  return states;
}
