/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by `relaxCell` (48 segments).
 * Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
  { loop: 16.6, fabric: 'stockinette', width: 4.052, height: 3.128, thickness: 2.27 },
  { loop: 16.6, fabric: 'garter', width: 4.517, height: 2.408, thickness: 4.65 },
  { loop: 16.6, fabric: 'rib 1x1', width: 2.291, height: 3.158, thickness: 5.69 },
  { loop: 16.6, fabric: 'rib 2x2', width: 2.123, height: 3.253, thickness: 6.96 },
  { loop: 16.6, fabric: 'seed', width: 3.827, height: 2.385, thickness: 4.98 },
  { loop: 17, fabric: 'stockinette', width: 4.167, height: 3.209, thickness: 2.27 },
  { loop: 17, fabric: 'garter', width: 4.708, height: 2.480, thickness: 4.66 },
  { loop: 17, fabric: 'rib 1x1', width: 2.375, height: 3.230, thickness: 5.75 },
  { loop: 17, fabric: 'rib 2x2', width: 2.224, height: 3.330, thickness: 6.84 },
  { loop: 17, fabric: 'seed', width: 4.018, height: 2.429, thickness: 4.93 },
  { loop: 17.5, fabric: 'stockinette', width: 4.394, height: 3.283, thickness: 2.28 },
  { loop: 17.5, fabric: 'garter', width: 4.946, height: 2.569, thickness: 4.67 },
  { loop: 17.5, fabric: 'rib 1x1', width: 2.477, height: 3.319, thickness: 5.82 },
  { loop: 17.5, fabric: 'rib 2x2', width: 2.219, height: 3.439, thickness: 7.19 },
  { loop: 17.5, fabric: 'seed', width: 4.187, height: 2.493, thickness: 4.92 },
  { loop: 18, fabric: 'stockinette', width: 4.623, height: 3.356, thickness: 2.29 },
  { loop: 18, fabric: 'garter', width: 5.183, height: 2.664, thickness: 4.68 },
  { loop: 18, fabric: 'rib 1x1', width: 2.584, height: 3.409, thickness: 5.89 },
  { loop: 18, fabric: 'rib 2x2', width: 2.218, height: 3.537, thickness: 7.39 },
  { loop: 18, fabric: 'seed', width: 4.421, height: 2.536, thickness: 4.97 },
  { loop: 19, fabric: 'stockinette', width: 5.097, height: 3.496, thickness: 2.33 },
  { loop: 19, fabric: 'garter', width: 5.668, height: 2.818, thickness: 4.64 },
  { loop: 19, fabric: 'rib 1x1', width: 2.819, height: 3.595, thickness: 5.98 },
  { loop: 19, fabric: 'rib 2x2', width: 2.461, height: 3.721, thickness: 7.64 },
  { loop: 19, fabric: 'seed', width: 4.926, height: 2.622, thickness: 5.01 },
  { loop: 20, fabric: 'stockinette', width: 5.571, height: 3.635, thickness: 2.36 },
  { loop: 20, fabric: 'garter', width: 6.158, height: 2.965, thickness: 4.60 },
  { loop: 20, fabric: 'rib 1x1', width: 3.048, height: 3.787, thickness: 6.05 },
  { loop: 20, fabric: 'rib 2x2', width: 2.545, height: 3.919, thickness: 7.99 },
  { loop: 20, fabric: 'seed', width: 5.417, height: 2.712, thickness: 5.00 },
  { loop: 22, fabric: 'stockinette', width: 6.495, height: 3.907, thickness: 2.40 },
  { loop: 22, fabric: 'garter', width: 7.122, height: 3.288, thickness: 4.60 },
  { loop: 22, fabric: 'rib 1x1', width: 3.500, height: 4.153, thickness: 6.17 },
  { loop: 22, fabric: 'rib 2x2', width: 3.173, height: 4.464, thickness: 7.12 },
  { loop: 22, fabric: 'seed', width: 6.443, height: 2.922, thickness: 5.13 },
];
