/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by `relaxCell` (48 segments): the
 * median of nine starts. Stockinette, garter and seed end in one state; ribs in several, up to a third
 * apart in width and half a percent in energy.
 * Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
  { loop: 16.6, fabric: 'stockinette', width: 4.053, height: 3.128, thickness: 2.27 },
  { loop: 16.6, fabric: 'garter', width: 4.516, height: 2.407, thickness: 4.66 },
  { loop: 16.6, fabric: 'rib 1x1', width: 2.291, height: 3.158, thickness: 5.69 },
  { loop: 16.6, fabric: 'rib 2x2', width: 1.875, height: 3.278, thickness: 6.76 },
  { loop: 16.6, fabric: 'seed', width: 3.833, height: 2.380, thickness: 4.98 },
  { loop: 17, fabric: 'stockinette', width: 4.166, height: 3.209, thickness: 2.27 },
  { loop: 17, fabric: 'garter', width: 4.707, height: 2.481, thickness: 4.66 },
  { loop: 17, fabric: 'rib 1x1', width: 2.221, height: 3.247, thickness: 5.62 },
  { loop: 17, fabric: 'rib 2x2', width: 2.223, height: 3.330, thickness: 6.84 },
  { loop: 17, fabric: 'seed', width: 4.019, height: 2.429, thickness: 4.93 },
  { loop: 17.5, fabric: 'stockinette', width: 4.394, height: 3.283, thickness: 2.28 },
  { loop: 17.5, fabric: 'garter', width: 4.946, height: 2.570, thickness: 4.67 },
  { loop: 17.5, fabric: 'rib 1x1', width: 2.477, height: 3.320, thickness: 5.82 },
  { loop: 17.5, fabric: 'rib 2x2', width: 2.219, height: 3.432, thickness: 7.14 },
  { loop: 17.5, fabric: 'seed', width: 4.185, height: 2.494, thickness: 4.92 },
  { loop: 18, fabric: 'stockinette', width: 4.629, height: 3.357, thickness: 2.30 },
  { loop: 18, fabric: 'garter', width: 5.184, height: 2.664, thickness: 4.68 },
  { loop: 18, fabric: 'rib 1x1', width: 2.584, height: 3.409, thickness: 5.89 },
  { loop: 18, fabric: 'rib 2x2', width: 2.214, height: 3.543, thickness: 7.42 },
  { loop: 18, fabric: 'seed', width: 4.426, height: 2.542, thickness: 4.94 },
  { loop: 19, fabric: 'stockinette', width: 5.096, height: 3.498, thickness: 2.31 },
  { loop: 19, fabric: 'garter', width: 5.668, height: 2.819, thickness: 4.64 },
  { loop: 19, fabric: 'rib 1x1', width: 2.802, height: 3.602, thickness: 5.99 },
  { loop: 19, fabric: 'rib 2x2', width: 2.224, height: 3.757, thickness: 7.78 },
  { loop: 19, fabric: 'seed', width: 4.929, height: 2.621, thickness: 5.01 },
  { loop: 20, fabric: 'stockinette', width: 5.572, height: 3.635, thickness: 2.36 },
  { loop: 20, fabric: 'garter', width: 6.155, height: 2.967, thickness: 4.59 },
  { loop: 20, fabric: 'rib 1x1', width: 3.048, height: 3.787, thickness: 6.05 },
  { loop: 20, fabric: 'rib 2x2', width: 2.548, height: 3.919, thickness: 7.98 },
  { loop: 20, fabric: 'seed', width: 5.423, height: 2.700, thickness: 5.03 },
  { loop: 22, fabric: 'stockinette', width: 6.495, height: 3.920, thickness: 2.40 },
  { loop: 22, fabric: 'garter', width: 7.121, height: 3.287, thickness: 4.60 },
  { loop: 22, fabric: 'rib 1x1', width: 3.236, height: 4.088, thickness: 6.35 },
  { loop: 22, fabric: 'rib 2x2', width: 3.169, height: 4.463, thickness: 7.13 },
  { loop: 22, fabric: 'seed', width: 6.443, height: 2.923, thickness: 5.13 },
];
