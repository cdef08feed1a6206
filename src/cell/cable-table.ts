/**
 * Pull-in of cables of equal strands in a ground of four stitches of stockinette, by `relaxPanel` at
 * 17.5 yarn diameters a loop. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

export const CABLE_TABLE: readonly CableRow[] = [
  { moved: 1, every: 2, supply: 0.3, percent: -7.6, converged: true },
  { moved: 1, every: 4, supply: 0.3, percent: 6.8, converged: true },
  { moved: 2, every: 4, supply: 0.3, percent: 22.9, converged: true },
  { moved: 2, every: 6, supply: 0.3, percent: 13.1, converged: true },
  { moved: 2, every: 8, supply: 0.3, percent: 8.5, converged: true },
  { moved: 3, every: 6, supply: 0.3, percent: 18.9, converged: true },
  { moved: 3, every: 8, supply: 0.3, percent: 14.2, converged: true },
  { moved: 3, every: 12, supply: 0.3, percent: 6.2, converged: true },
  { moved: 2, every: 4, supply: 0, percent: 26.2, converged: true },
  { moved: 3, every: 6, supply: 0, percent: 28.2, converged: false },
  { moved: 2, every: 4, supply: 0.5, percent: 20.8, converged: true },
  { moved: 3, every: 6, supply: 0.5, percent: 13.5, converged: true },
];
