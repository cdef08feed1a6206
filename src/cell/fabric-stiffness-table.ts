/**
 * Stiffness of five fabrics over loop length, energy per area and strain squared, B/d³, by `cellStiffness`:
 * along the course and along the wale, stretched and shortened by a tenth.
 * Written by tests/golden/regenerate-fabric-stiffness.ts; not to be edited by hand.
 */
import type { StiffnessRow } from './fabric-stiffness.ts';

// biome-ignore format: one row a line
export const FABRIC_STIFFNESS_TABLE: readonly StiffnessRow[] = [
  { loop: 18, fabric: 'stockinette', course: 0.494, wale: 0.769 },
  { loop: 18, fabric: 'garter', course: 0.409, wale: 0.104 },
  { loop: 18, fabric: 'rib 1x1', course: 0.232, wale: 0.612 },
  { loop: 18, fabric: 'rib 2x2', course: 0.169, wale: 0.926 },
  { loop: 18, fabric: 'seed', course: 0.285, wale: 0.440 },
  { loop: 20, fabric: 'stockinette', course: 0.323, wale: 0.527 },
  { loop: 20, fabric: 'garter', course: 0.197, wale: 0.068 },
  { loop: 20, fabric: 'rib 1x1', course: 0.160, wale: 0.365 },
  { loop: 20, fabric: 'rib 2x2', course: 0.085, wale: 0.518 },
  { loop: 20, fabric: 'seed', course: 0.166, wale: 0.288 },
  { loop: 22, fabric: 'stockinette', course: 0.203, wale: 0.353 },
  { loop: 22, fabric: 'garter', course: 0.099, wale: 0.048 },
  { loop: 22, fabric: 'rib 1x1', course: 0.079, wale: 0.271 },
  { loop: 22, fabric: 'rib 2x2', course: 0.169, wale: 0.396 },
  { loop: 22, fabric: 'seed', course: 0.099, wale: 0.189 },
  { loop: 24, fabric: 'stockinette', course: 0.115, wale: 0.222 },
  { loop: 24, fabric: 'garter', course: 0.072, wale: 0.037 },
  { loop: 24, fabric: 'rib 1x1', course: 0.099, wale: 0.185 },
  { loop: 24, fabric: 'rib 2x2', course: 0.110, wale: 0.254 },
  { loop: 24, fabric: 'seed', course: 0.069, wale: 0.128 },
  { loop: 26, fabric: 'stockinette', course: 0.053, wale: 0.148 },
  { loop: 26, fabric: 'garter', course: 0.057, wale: 0.030 },
  { loop: 26, fabric: 'rib 1x1', course: 0.088, wale: 0.137 },
  { loop: 26, fabric: 'rib 2x2', course: 0.116, wale: 0.238 },
  { loop: 26, fabric: 'seed', course: 0.050, wale: 0.085 },
];
