/** One row of src/view/yarn/settled-loops.ts: the knit loop of a regular fabric at rest, cut at its legs. */
import { type CellFabric, relaxCell } from '../../src/cell/relax-cell.ts';

/** Loop length, yarn diameters: firm, near the shortest that has room (cell-limits.ts), so that legs close up. */
export const SETTLED_LOOP = 17;
const SEGMENTS = 32;

/** Whether the stitches above and below, and those beside, are of the other face. */
export const FABRIC_OF_ROW = {
  plain: 'stockinette',
  course: 'garter',
  wale: 'rib 1x1',
  both: 'seed',
} as const satisfies Record<string, CellFabric>;

export function settledRow(name: keyof typeof FABRIC_OF_ROW) {
  const cell = relaxCell({
    stitch: FABRIC_OF_ROW[name],
    loopMm: SETTLED_LOOP,
    yarnMm: 1,
    segments: SEGMENTS,
  });
  const { points, pointsPerRow, rows, wales } = cell.shape;
  const total = rows * pointsPerRow;
  /** Point k of the loop in a row, first wale: stitch widths, rows above its own level, diameters. */
  const at = (row: number, k: number): [number, number, number] => {
    const turn = k < 0 ? -1 : k >= pointsPerRow ? 1 : 0;
    const i = 3 * ((row * pointsPerRow + k - turn * pointsPerRow + total) % total);
    return [
      points[i] / cell.stitchMm + turn * wales,
      points[i + 1] / cell.roundMm - row,
      points[i + 2],
    ];
  };
  // The loop drawn through by a knit one: in the row below, of the same wale.
  const below = rows - 1;
  /** Both halves of a loop are one another's mirror image: what is left of a skew is taken out. */
  const mean = (row: number, k: number): number[] => {
    const a = at(row, k);
    const b = at(row, SEGMENTS - k);
    return [(a[0] + 1 - b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
  };
  const entering: number[] = [];
  for (let k = 0; k <= SEGMENTS / 4; k++) entering.push(...mean(0, k));
  const head: number[] = [];
  for (let k = SEGMENTS / 4; k <= SEGMENTS / 2; k++) head.push(...mean(below, k));
  return {
    width: cell.stitchMm,
    height: cell.roundMm,
    entering,
    head,
    converged: cell.relaxation.converged,
    reason: cell.relaxation.reason,
  };
}
