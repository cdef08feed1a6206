/**
 * Pull-in of cables of equal strands in a ground of four stitches of stockinette, by `relaxPanel` at
 * 17.5 yarn diameters a loop. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

export const CABLE_TABLE: readonly CableRow[] = [
  { moved: 1, every: 2, supply: 0.3, percent: -3.3, converged: true },
  { moved: 1, every: 4, supply: 0.3, percent: 7.0, converged: true },
  { moved: 2, every: 4, supply: 0.3, percent: 22.8, converged: true },
];
