/**
 * The centre where the yarn is drawn through the last (or first) loops: how far each of them sits
 * from the middle, and how much a wide course is gathered.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { LocalSize } from '../texture/local-size.ts';
import type { Layout } from './layout.ts';
import { reachMm, type Turning } from './ring-profile.ts';
import { ringSize } from './rings.ts';

/** A centre that its panels would close only this many rounds further on is a gathering: the loops are
 * pulled together instead. Nearer ones close as if the panels ran on. Chosen. */
const GATHER_ROUNDS = 12;
/** Loops drawn on a thread lie a yarn's width apart: at most 0.252 of the stitch width (jamming of
 * plain knit, l/d = 16.66 with l = 4.2 w). */
const DRAWN_SHARE = 0.252;

export interface DrawnCentre {
  readonly course: number;
  /** Distance from the centre by vertex, mm; set for the loops of the drawn course (and the jog's). */
  readonly spokeMm: Float64Array;
  /** Factor on the drawn course's stitch widths: below 1 where a wide course is gathered. */
  readonly gather: number;
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
  const loops = ringSize(rings, course);
  const stitchMm = size.stitchMm[rings.start[course]];
  const roundMm = size.roundMm[rings.start[course]];
  const gathered = turning.fromCentreMm[course] > GATHER_ROUNDS * roundMm;
  const threadMm = (loops * DRAWN_SHARE * stitchMm) / (2 * Math.PI);
  const spokeMm = new Float64Array(cells.vertices);
  // The jog brings one loop of the neighbouring course to the centre's edge.
  for (const c of [course, course - 1, course + 1]) {
    if (c < 0 || c >= rings.courses) continue;
    const away = Math.abs(layout.depthMm[c] - layout.depthMm[course]);
    for (let j = 0; j < ringSize(rings, c); j++) {
      // A small ring closes by running its panels on to where they meet.
      const own = gathered ? threadMm + away : reachMm(layout, turning, c, j);
      spokeMm[rings.ids[rings.start[c] + j]] = own;
    }
  }
  return { course, spokeMm, gather: gathered ? DRAWN_SHARE : 1, stitchMm, roundMm };
}
