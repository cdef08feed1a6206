/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by `relaxCell` (48 segments).
 * Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
  { loop: 16.6, fabric: 'stockinette', width: 4.053, height: 3.128, thickness: 2.27 },
  { loop: 16.6, fabric: 'garter', width: 4.516, height: 2.407, thickness: 4.66 },
  { loop: 16.6, fabric: 'rib 1x1', width: 2.293, height: 3.157, thickness: 5.69 },
  { loop: 16.6, fabric: 'rib 2x2', width: 1.874, height: 3.279, thickness: 6.76 },
  { loop: 16.6, fabric: 'seed', width: 3.830, height: 2.380, thickness: 4.98 },
  { loop: 17, fabric: 'stockinette', width: 4.164, height: 3.218, thickness: 2.26 },
  { loop: 17, fabric: 'garter', width: 4.707, height: 2.483, thickness: 4.65 },
  { loop: 17, fabric: 'rib 1x1', width: 2.375, height: 3.229, thickness: 5.75 },
  { loop: 17, fabric: 'rib 2x2', width: 2.225, height: 3.329, thickness: 6.89 },
  { loop: 17, fabric: 'seed', width: 4.018, height: 2.429, thickness: 4.93 },
  { loop: 17.5, fabric: 'stockinette', width: 4.394, height: 3.283, thickness: 2.28 },
  { loop: 17.5, fabric: 'garter', width: 4.944, height: 2.573, thickness: 4.67 },
  { loop: 17.5, fabric: 'rib 1x1', width: 2.478, height: 3.317, thickness: 5.82 },
  { loop: 17.5, fabric: 'rib 2x2', width: 1.696, height: 3.537, thickness: 8.13 },
  { loop: 17.5, fabric: 'seed', width: 4.186, height: 2.493, thickness: 4.92 },
  { loop: 18, fabric: 'stockinette', width: 4.629, height: 3.357, thickness: 2.30 },
  { loop: 18, fabric: 'garter', width: 5.181, height: 2.665, thickness: 4.68 },
  { loop: 18, fabric: 'rib 1x1', width: 2.417, height: 3.405, thickness: 5.78 },
  { loop: 18, fabric: 'rib 2x2', width: 2.456, height: 3.549, thickness: 7.05 },
  { loop: 18, fabric: 'seed', width: 4.429, height: 2.542, thickness: 4.94 },
  { loop: 19, fabric: 'stockinette', width: 5.093, height: 3.499, thickness: 2.31 },
  { loop: 19, fabric: 'garter', width: 5.670, height: 2.817, thickness: 4.63 },
  { loop: 19, fabric: 'rib 1x1', width: 2.606, height: 3.570, thickness: 5.94 },
  { loop: 19, fabric: 'rib 2x2', width: 2.239, height: 3.783, thickness: 7.66 },
  { loop: 19, fabric: 'seed', width: 4.929, height: 2.622, thickness: 5.00 },
  { loop: 20, fabric: 'stockinette', width: 5.572, height: 3.635, thickness: 2.36 },
  { loop: 20, fabric: 'garter', width: 6.154, height: 2.967, thickness: 4.60 },
  { loop: 20, fabric: 'rib 1x1', width: 3.048, height: 3.787, thickness: 6.05 },
  { loop: 20, fabric: 'rib 2x2', width: 2.545, height: 3.919, thickness: 7.99 },
  { loop: 20, fabric: 'seed', width: 5.423, height: 2.700, thickness: 5.03 },
  { loop: 22, fabric: 'stockinette', width: 6.495, height: 3.920, thickness: 2.40 },
  { loop: 22, fabric: 'garter', width: 7.125, height: 3.283, thickness: 4.64 },
  { loop: 22, fabric: 'rib 1x1', width: 3.235, height: 4.088, thickness: 6.35 },
  { loop: 22, fabric: 'rib 2x2', width: 3.177, height: 4.464, thickness: 7.11 },
  { loop: 22, fabric: 'seed', width: 6.453, height: 2.961, thickness: 5.12 },
];
