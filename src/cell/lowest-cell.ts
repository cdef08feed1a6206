/**
 * The cell in its state of lowest energy, and the other states that it can rest in: which of them one start leads to
 * is a matter of rounding. In: a CellRequest without a start. Out: the lowest of what `CELL_STARTS` lead to, the others.
 */
import { CELL_STARTS, statesOf } from './cell-states.ts';
import { CELL_FACES, type CellRequest, type CellResult, relaxCell } from './relax-cell.ts';

export interface OtherState {
  readonly stitchMm: number;
  readonly roundMm: number;
  /** By how much its energy is above the lowest, %. */
  readonly energyPercent: number;
}

export interface LowestCell {
  readonly cell: CellResult;
  /** Lowest first; null where they were not looked for. */
  readonly others: readonly OtherState[] | null;
}

/** Stitches of a repeat beyond which one start must do: each takes as long as the cell itself. Chosen. */
const MOST_STITCHES = 8;
/** States whose energies differ by less are equally low: the first start's is taken. Chosen: above rounding. */
const EQUAL_PERCENT = 1e-3;

export function relaxLowestCell(request: Omit<CellRequest, 'start' | 'from'>): LowestCell {
  const faces = typeof request.stitch === 'string' ? CELL_FACES[request.stitch] : request.stitch;
  if (faces.length * faces[0].length > MOST_STITCHES)
    return { cell: relaxCell(request), others: null };
  const cells = CELL_STARTS.map((start) => relaxCell({ ...request, start }));
  const states = statesOf(cells);
  // Nothing came to rest: as it stands from its own start.
  if (states.length === 0) return { cell: relaxCell(request), others: null };
  const above = (energy: number) => 100 * (energy / states[0].energy - 1);
  const cell = cells.find(
    ({ relaxation, energy }) => relaxation.converged && above(energy) <= EQUAL_PERCENT,
  );
  const lowest = cell ?? states[0];
  const others = states.slice(1).map(({ stitchMm, roundMm, energy }) => ({
    stitchMm,
    roundMm,
    energyPercent: above(energy),
  }));
  return { cell: lowest, others };
}
