/**
 * How hard two pieces of yarn push each other apart: energy φ per length of either, at a distance r of
 * their centre lines below the reach D. In: the law's name, r, D. Out: φ and its derivatives over the
 * stiffness k. All laws begin at D without a jump in force.
 * shell: Kaldor, James and Marschner 2008; fibres: van Wyk 1946, pressure as the cube of fibre density.
 */

/**
 * `shell`: ρ + 1/ρ − 2 with ρ = (D/r)², a tube that hardly gives way. `springs`: 4 (1 − r/D)², finite at
 * any depth, for yarn that overlaps. `fibres`: u⁻⁴ − 1 + 4 (u − 1) with u = r/D, loose fibres that give way
 * by stages: two yarns that cross are pressed together to r by a force ∝ r⁻³, as van Wyk has it for a mass
 * of fibres that is flattened over a constant area.
 */
export type ContactLaw = 'shell' | 'springs' | 'fibres';

/** φ/k. */
export function contactPotential(law: ContactLaw, r: number, reach: number): number {
  const u = r / reach;
  if (law === 'springs') return 4 * (1 - u) * (1 - u);
  const u2 = u * u;
  if (law === 'fibres') return 1 / (u2 * u2) - 1 + 4 * (u - 1);
  return 1 / u2 + u2 - 2;
}

/** dφ/dr over k·r: negative, as the push is towards larger r. */
export function contactSlope(law: ContactLaw, r: number, reach: number): number {
  const u = r / reach;
  if (law === 'springs') return (-8 * (1 - u)) / (reach * r);
  const u2 = u * u;
  if (law === 'fibres') return (4 - 4 / (u2 * u2 * u)) / (reach * r);
  return (2 - 2 / (u2 * u2)) / (reach * reach);
}

/** d²φ/dr² over k. */
export function contactCurvature(law: ContactLaw, r: number, reach: number): number {
  const square = reach * reach;
  if (law === 'springs') return 8 / square;
  const u2 = (r * r) / square;
  if (law === 'fibres') return 20 / (u2 * u2 * u2 * square);
  return (6 / (u2 * u2) + 2) / square;
}

/**
 * Distance below which contact carries load worth a place in a preconditioner or a friction spring: of
 * fibres, a fifth of the push at one diameter. Chosen by timing: half the time of all pairs.
 */
export function bearingReach(law: ContactLaw, reach: number): number {
  return law === 'fibres' ? 0.75 * reach : reach;
}
