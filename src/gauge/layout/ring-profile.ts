/**
 * Layout → how much the courses turn round the centre, and the RingProfile that the solver starts
 * from: each vertex's place on its course, and each course's depth and length.
 *
 * On the unstrained sheet the cone angle Θ at a course is the sum of its turning: 2·atan(overhang
 * slope) at every line plus the spread narrowing per mm of depth. A disc, square or n-gon lies flat
 * where Θ = 2π.
 */

import type { RingProfile } from '../metric.ts';
import { bentPlane } from './bent-plane.ts';
import type { Layout } from './layout.ts';
import { lineSlope, spreadRate } from './rest-length.ts';
import { ringSize } from './rings.ts';
import type { ShortRowChart } from './short-row-chart.ts';

export interface Turning {
  /** [courses] cone angle at each course, rad, positive where the piece narrows towards its centre. */
  readonly coneAngleRad: Float64Array;
  /** [courses] distance of each course from the centre, mm (apothem, not corner). */
  readonly fromCentreMm: Float64Array;
  /** [courses] smoothed length of each course along its stitches, mm. */
  readonly perimeterMm: Float64Array;
  /** True where the centre is at the last course, false where it is at the cast-on. */
  readonly outsideIn: boolean;
  /** Θ averaged from centre to rim: what the rim feels, rad. */
  readonly meanConeAngleRad: number;
}

export function measureTurning(layout: Layout): Turning {
  const courses = layout.depthMm.length;
  const perimeterMm = new Float64Array(courses);
  const turning = new Float64Array(courses);
  for (let c = 0; c < courses; c++) {
    for (let k = 0; k < layout.panels; k++) {
      perimeterMm[c] += layout.widthMm[k * courses + c];
      turning[c] -= spreadRate(layout, k, c);
      if (layout.closed && layout.lines > 0) turning[c] += 2 * Math.atan(lineSlope(layout, k, c));
    }
  }
  const last = courses - 1;
  const outsideIn = perimeterMm[0] >= perimeterMm[last];
  const coneAngleRad = outsideIn ? turning : turning.map((t) => -t);
  const centre = outsideIn ? last : 0;
  // The open or drawn-up centre: as far again as its course is long, at the local rate.
  const growth = Math.abs(narrowing(perimeterMm, layout.depthMm, centre));
  const holeMm = perimeterMm[centre] / Math.max(growth, Math.PI);
  const fromCentreMm = layout.depthMm.map((d) => holeMm + Math.abs(d - layout.depthMm[centre]));
  const rim = outsideIn ? 0 : last;
  let sum = holeMm * coneAngleRad[centre];
  for (let c = 1; c < courses; c++) {
    const step = Math.abs(layout.depthMm[c] - layout.depthMm[c - 1]);
    sum += (step * (coneAngleRad[c] + coneAngleRad[c - 1])) / 2;
  }
  return {
    coneAngleRad,
    fromCentreMm,
    perimeterMm,
    outsideIn,
    meanConeAngleRad: fromCentreMm[rim] > 0 ? sum / fromCentreMm[rim] : 0,
  };
}

function narrowing(values: Float64Array, depthMm: Float64Array, c: number): number {
  const low = Math.max(0, c - 1);
  const high = Math.min(values.length - 1, c + 1);
  const depth = depthMm[high] - depthMm[low];
  return depth > 0 ? (values[high] - values[low]) / depth : 0;
}

/** Cone angles smaller than this are tubes: the centre is too far off to count from, rad. Chosen. */
const TUBE_RAD = 0.3;

/** Total angle round the centre, rad; NaN for what is open or a tube. */
export function coneAngleOf({ closed }: Layout, { meanConeAngleRad }: Turning): number {
  return closed && meanConeAngleRad > TUBE_RAD ? meanConeAngleRad : Number.NaN;
}

/** `vertices` counts the apex (the last one) if `apex` ≥ 0. */
export function makeRingProfile(
  layout: Layout,
  turning: Turning,
  vertices: number,
  apex: number,
  halfTurns: number,
  shortRows: ShortRowChart | null,
): RingProfile {
  const { rings, depthMm: courseDepthMm } = layout;
  const courses = courseDepthMm.length;
  const rim = turning.outsideIn ? 0 : courses - 1;
  const begin = panelBegins(layout, turning, rim);
  const turn = new Float64Array(vertices);
  const depthMm = new Float64Array(vertices);
  for (let c = 0; c < courses; c++) {
    for (let j = 0; j < ringSize(rings, c); j++) {
      const flat = rings.start[c] + j;
      if (rings.home[flat] !== flat) continue;
      const k = layout.panel[flat];
      turn[rings.ids[flat]] = begin[k] + layout.across[flat] * (begin[k + 1] - begin[k]);
      depthMm[rings.ids[flat]] = shortRows?.upMm[rings.ids[flat]] ?? courseDepthMm[c];
    }
  }
  const bent =
    shortRows && !layout.closed ? bentPlane(layout, shortRows, turn, turning.perimeterMm) : null;
  const sampleDepthMm = Array.from(courseDepthMm);
  const samplePerimeterMm = Array.from(turning.perimeterMm);
  if (apex >= 0) {
    // The centre itself: a ring of no length, where the panels meet.
    const inner = turning.outsideIn ? courses - 1 : 0;
    depthMm[apex] =
      courseDepthMm[inner] + (turning.outsideIn ? 1 : -1) * turning.fromCentreMm[inner];
    const atEnd = turning.outsideIn ? sampleDepthMm.length : 0;
    sampleDepthMm.splice(atEnd, 0, depthMm[apex]);
    samplePerimeterMm.splice(atEnd, 0, 0);
  }
  return {
    closed: layout.closed,
    halfTurns,
    turn,
    depthMm,
    sampleDepthMm: Float64Array.from(sampleDepthMm),
    samplePerimeterMm: Float64Array.from(samplePerimeterMm),
    corners: layout.closed ? layout.lines : 0,
    cornerTurn: begin.slice(0, layout.closed ? layout.lines : 0),
    coneAngleRad: coneAngleOf(layout, turning),
    clockwise: turning.outsideIn ? 1 : -1,
    ...(bent && { bentPlane: bent }),
  };
}

/** [panels + 1] share of the rim's length at which each panel begins; the last entry is 1. */
function panelBegins(layout: Layout, turning: Turning, rim: number): Float64Array {
  const courses = layout.depthMm.length;
  const begin = new Float64Array(layout.panels + 1);
  for (let k = 0; k < layout.panels; k++) {
    begin[k + 1] = begin[k] + layout.widthMm[k * courses + rim] / turning.perimeterMm[rim];
  }
  return begin;
}

/** Distance of stitch j of course c from the centre of the unstrained sheet, mm. */
export function reachMm(layout: Layout, turning: Turning, c: number, j: number): number {
  const flat = layout.rings.start[c] + j;
  const k = layout.panel[flat];
  const begin = layout.lines === 0 ? 0 : lineSlope(layout, k, c);
  const end = layout.lines === 0 ? 0 : lineSlope(layout, (k + 1) % layout.panels, c);
  // Place beside the panel's normal through the centre, per mm of distance: −begin … +end.
  const aside = layout.across[flat] * (begin + end) - begin;
  return turning.fromCentreMm[c] * Math.sqrt(1 + aside * aside);
}
