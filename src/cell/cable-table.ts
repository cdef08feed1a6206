/**
 * Pull-in of cables of equal strands in a ground of four stitches of stockinette, by `relaxPanel` at
 * 17.5 yarn diameters a loop. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

export const CABLE_TABLE: readonly CableRow[] = [
  { moved: 1, every: 2, supply: 0.3, percent: -3.3, converged: true },
  { moved: 1, every: 4, supply: 0.3, percent: 7.0, converged: true },
  { moved: 2, every: 4, supply: 0.3, percent: 22.8, converged: true },
  { moved: 2, every: 6, supply: 0.3, percent: 12.1, converged: true },
  { moved: 2, every: 8, supply: 0.3, percent: 9.5, converged: true },
  { moved: 3, every: 6, supply: 0.3, percent: 21.6, converged: true },
  { moved: 3, every: 8, supply: 0.3, percent: 15.4, converged: true },
  { moved: 3, every: 12, supply: 0.3, percent: 9.8, converged: true },
  { moved: 2, every: 4, supply: 0, percent: 26.8, converged: true },
  { moved: 3, every: 6, supply: 0, percent: 33.7, converged: true },
  { moved: 2, every: 4, supply: 0.5, percent: 21.1, converged: true },
  { moved: 3, every: 6, supply: 0.5, percent: 14.8, converged: true },
];
