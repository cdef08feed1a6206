/**
 * The centre where the yarn is drawn through the last (or first) loops: how far each of them reaches to
 * the middle. In: cells, layout. Out: lengths in mm.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { LocalSize } from '../texture/local-size.ts';
import type { Layout } from './layout.ts';
import { reachMm, type Turning } from './ring-profile.ts';
import { ringSize } from './rings.ts';

/** How far a drawn-up loop reaches by its own yarn, stitch widths: half of 4.2 (plain knit, Munden 1959) and some lent
 * by the loops below. A centre no wider closes as if its panels ran on, to a point if they lead there; a wider one is
 * pulled in by the thread until it lies flat: a tube drawn up has a flat end. Chosen. */
export const LOOP_REACH = 2.6;

export interface DrawnCentre {
  /** Distance from the centre by vertex, mm; set for the loops of the drawn course (and the jog's). */
  readonly spokeMm: Float64Array;
  readonly stitchMm: number;
  readonly roundMm: number;
}

export function drawnCentre(
  cells: Cells,
  layout: Layout,
  turning: Turning,
  size: LocalSize,
): DrawnCentre {
  const { rings } = layout;
  const course = cells.centre === 'cast-on' ? 0 : layout.depthMm.length - 1;
  const stitchMm = size.stitchMm[rings.start[course]];
  const roundMm = size.roundMm[rings.start[course]];
  const flatMm = turning.perimeterMm[course] / (2 * Math.PI);
  const reach = Math.max(LOOP_REACH * stitchMm, flatMm);
  const tooFarMm = Math.max(0, turning.fromCentreMm[course] - reach);
  const spokeMm = new Float64Array(cells.vertices);
  // The jog brings one loop of the neighbouring course to the centre's edge.
  for (let c = 0; c < rings.courses; c++) {
    // Steps that short rows leave in the edge reach farther.
    if (Math.abs(c - course) > 1 && rings.loops === rings.ids.length) continue;
    for (let j = 0; j < ringSize(rings, c); j++) {
      const id = rings.ids[rings.start[c] + j];
      spokeMm[id] = reachMm(layout, turning, c, j) - tooFarMm;
    }
  }
  return { spokeMm, stitchMm, roundMm };
}
