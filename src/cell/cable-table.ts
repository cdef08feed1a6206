/**
 * Pull-in of cables of equal strands, two stitches of ground to each side, by `relaxPanel`: every row has
 * the same yarn. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

// biome-ignore format: one row a line
export const CABLE_TABLE: readonly CableRow[] = [
  { moved: 1, every: 3, ground: 'stockinette', loop: 24, percent: 8.7, other: null },
  { moved: 1, every: 4, ground: 'stockinette', loop: 24, percent: 4.6, other: null },
  { moved: 2, every: 3, ground: 'stockinette', loop: 24, percent: 26.3, other: null },
  { moved: 2, every: 4, ground: 'stockinette', loop: 24, percent: 21.3, other: null },
  { moved: 2, every: 6, ground: 'stockinette', loop: 24, percent: 14.7, other: null },
  { moved: 2, every: 8, ground: 'stockinette', loop: 24, percent: 10.8, other: null },
  { moved: 3, every: 4, ground: 'stockinette', loop: 24, percent: 31.6, other: null },
  { moved: 3, every: 6, ground: 'stockinette', loop: 24, percent: 21.6, other: null },
  { moved: 3, every: 8, ground: 'stockinette', loop: 24, percent: 16.1, other: null },
  { moved: 1, every: 3, ground: 'purl', loop: 24, percent: 10.2, other: { percent: 11.2, energyPercent: 0.1 } },
  { moved: 1, every: 4, ground: 'purl', loop: 24, percent: 6.3, other: null },
  { moved: 2, every: 3, ground: 'purl', loop: 24, percent: 30.2, other: null },
  { moved: 2, every: 4, ground: 'purl', loop: 24, percent: 23.4, other: { percent: 24.3, energyPercent: 0.4 } },
  { moved: 2, every: 6, ground: 'purl', loop: 24, percent: 16.3, other: null },
  { moved: 2, every: 8, ground: 'purl', loop: 24, percent: 12.9, other: { percent: 12.4, energyPercent: 0.5 } },
  { moved: 3, every: 4, ground: 'purl', loop: 24, percent: 35.2, other: null },
  { moved: 3, every: 6, ground: 'purl', loop: 24, percent: 22.2, other: { percent: 23.1, energyPercent: 1.5 } },
  { moved: 3, every: 8, ground: 'purl', loop: 24, percent: 17.6, other: null },
];
