/**
 * What a fabric weighs against its own stiffness, from yarn and gauge. In: tex (g/km), stitch width (mm).
 * Out: mass per loop, in-plane stiffness K (N/mm), and the weight of a loop over K (mm) that the sheet feels.
 * K = c B / d³, B the yarn's bending stiffness and d its diameter where loops touch: the yarn cell's modulus.
 */

/** Yarn in a stitch, in stitch widths: fully relaxed plain knit (Munden 1959; as in `yarn-estimate.ts`). */
const LOOP_WIDTHS = 4.2;
/** Diameter of yarn in stitch widths where loops jam: 4.2 / 16.66 (closed form of the tightest plain loop). */
const DIAMETER_WIDTHS = 4.2 / 16.66;
/**
 * c, uniaxial: √(course · wale) of the relaxed stockinette cell at 17 diameters of yarn a stitch, stretched
 * and shortened by 3 % (0.26 and 0.94 B/d³ in the yarn model of this program).
 */
const CELL_MODULUS = 0.49;
/** Young's modulus of wool at rest, N/mm²; its density, g/cm³; a medium fibre, mm. From memory. */
const FIBRE_MODULUS = 3500;
const FIBRE_DENSITY = 1.31;
const FIBRE_MM = 0.025;
/**
 * A yarn is stiffer than its fibres bent side by side, since twist and friction hold them together, and far
 * softer than a solid rod. Chosen: no measured hand-knitting yarn was found; the bending length that follows
 * for a medium yarn, 2 cm, is that of a thick fabric.
 */
const COHESION = 4;
/** N/kg. */
const GRAVITY = 9.81;

export interface FabricWeight {
  /** g. */
  readonly loopMassG: number;
  /** In-plane stiffness K, N/mm. */
  readonly stiffnessNPerMm: number;
  /** Weight of a loop over K, mm: the load of a vertex. */
  readonly loopLoadMm: number;
}

export function fabricWeight(tex: number, stitchMm: number): FabricWeight {
  // 1 tex is 1e-6 g/mm.
  const loopMassG = LOOP_WIDTHS * stitchMm * tex * 1e-6;
  const stiffnessNPerMm = (CELL_MODULUS * yarnBending(tex)) / (DIAMETER_WIDTHS * stitchMm) ** 3;
  const loopLoadMm = (loopMassG * 1e-3 * GRAVITY) / stiffnessNPerMm;
  return { loopMassG, stiffnessNPerMm, loopLoadMm };
}

/** Bending stiffness of a yarn, N·mm². */
function yarnBending(tex: number): number {
  const area = (Math.PI / 4) * FIBRE_MM ** 2;
  const fibreTex = area * FIBRE_DENSITY * 1e3;
  const inertia = (Math.PI / 64) * FIBRE_MM ** 4;
  return (tex / fibreTex) * FIBRE_MODULUS * inertia * COHESION;
}
