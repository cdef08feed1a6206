/**
 * Layout → RingProfile: each vertex in intrinsic polar coordinates about the centre, and how fast
 * the rounds grow with distance from it. This is what the solver starts from.
 *
 * On the unstrained sheet the cone angle Θ at a course is the sum of its turning: 2·atan(overhang
 * slope) at every line plus the spread narrowing per mm of depth. A disc, square or n-gon lies flat
 * where Θ = 2π.
 */
import type { Layout } from './layout.ts';
import type { RingProfile } from './metric.ts';
import { lineSlope, spreadRate } from './rest-length.ts';
import { ringSize } from './rings.ts';

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
  return high === low ? 0 : (values[high] - values[low]) / (depthMm[high] - depthMm[low]);
}

/** Cone angles smaller than this are tubes: the centre is too far off to count from, rad. Chosen. */
const TUBE_RAD = 0.3;

/** `vertices` counts the apex (the last one) if `apex` ≥ 0. */
export function makeRingProfile(
  layout: Layout,
  turning: Turning,
  vertices: number,
  apex: number,
  halfTurns: number,
): RingProfile {
  const { rings } = layout;
  const courses = layout.depthMm.length;
  const conical = layout.closed && turning.meanConeAngleRad > TUBE_RAD;
  const inward = conical && turning.outsideIn;
  const turn = new Float64Array(vertices);
  const depthMm = new Float64Array(vertices);
  let farMm = 0;
  for (let c = 0; c < courses; c++) {
    for (let j = 0; j < ringSize(rings, c); j++) {
      const id = rings.ids[rings.start[c] + j];
      const polar = conical
        ? placeOnCone(layout, turning, c, j)
        : placeOnTube(layout, turning, c, j);
      turn[id] = polar.turn;
      depthMm[id] = polar.mm;
      farMm = Math.max(farMm, polar.mm);
    }
  }
  if (inward) for (let i = 0; i < vertices; i++) depthMm[i] = farMm - depthMm[i];
  if (apex >= 0) depthMm[apex] = turning.outsideIn ? farMm : 0;
  const rim = turning.outsideIn ? 0 : courses - 1;
  const corners = layout.closed ? layout.lines : 0;
  const cornerTurn = new Float64Array(corners);
  for (let k = 0; k < corners; k++) cornerTurn[k] = panelBegin(layout, turning, k, rim, conical);
  return {
    closed: layout.closed,
    halfTurns,
    turn,
    depthMm,
    ...(conical ? sampleCone(turning, farMm) : sampleTube(turning, layout)),
    corners,
    cornerTurn,
    coneAngleRad: conical ? turning.meanConeAngleRad : NaN,
    clockwise: turning.outsideIn ? 1 : -1,
  };
}

/** Share of the full turn at which panel k begins, at course c. */
function panelBegin(
  layout: Layout,
  turning: Turning,
  k: number,
  c: number,
  conical: boolean,
): number {
  let before = 0;
  let total = 0;
  for (let q = 0; q < layout.panels; q++) {
    const part = conical
      ? panelAngle(layout, q, c)
      : layout.widthMm[q * layout.depthMm.length + c] / turning.perimeterMm[c];
    if (q < k) before += part;
    total += part;
  }
  return total === 0 ? k / layout.panels : before / total;
}

/** Angle that panel k takes up at the centre, rad, signed like the narrowing. */
function panelAngle(layout: Layout, k: number, c: number): number {
  const mitre =
    layout.lines === 0
      ? 0
      : Math.atan(lineSlope(layout, k, c)) +
        Math.atan(lineSlope(layout, (k + 1) % layout.panels, c));
  return mitre - spreadRate(layout, k, c);
}

/** Stitch j of course c in polar coordinates about the centre of an unstrained cone. */
export function placeOnCone(
  layout: Layout,
  turning: Turning,
  c: number,
  j: number,
): { turn: number; mm: number } {
  const flat = layout.rings.start[c] + j;
  const k = layout.panel[flat];
  const f = layout.across[flat];
  const begin = layout.lines === 0 ? 0 : lineSlope(layout, k, c);
  const end = layout.lines === 0 ? 0 : lineSlope(layout, (k + 1) % layout.panels, c);
  // Angle from the panel's normal through the centre: −atan(begin) at f = 0, +atan(end) at f = 1.
  const psi = Math.atan(f * (begin + end) - begin);
  const angle = psi + Math.atan(begin) - f * spreadRate(layout, k, c);
  const total = panelAngle(layout, k, c);
  const share = total === 0 ? f : angle / total;
  const from = panelBegin(layout, turning, k, c, true);
  const to = k + 1 < layout.panels ? panelBegin(layout, turning, k + 1, c, true) : 1;
  return { turn: from + share * (to - from), mm: turning.fromCentreMm[c] / Math.cos(psi) };
}

function placeOnTube(
  layout: Layout,
  turning: Turning,
  c: number,
  j: number,
): { turn: number; mm: number } {
  const flat = layout.rings.start[c] + j;
  const k = layout.panel[flat];
  const width = layout.widthMm[k * layout.depthMm.length + c] / turning.perimeterMm[c];
  const from = panelBegin(layout, turning, k, c, false);
  return { turn: from + layout.across[flat] * width, mm: layout.depthMm[c] };
}

type Samples = Pick<RingProfile, 'sampleDepthMm' | 'samplePerimeterMm'>;

/** Rings by distance from the centre; their perimeter is ∫Θ, beyond the rim at the rim's rate. */
function sampleCone(turning: Turning, farMm: number): Samples {
  const courses = turning.fromCentreMm.length;
  const order = Array.from({ length: courses }, (_, i) =>
    turning.outsideIn ? courses - 1 - i : i,
  );
  const fromCentre = [0];
  const perimeter = [0];
  for (const c of order) {
    const step = turning.fromCentreMm[c] - fromCentre[fromCentre.length - 1];
    if (step <= 0) continue;
    fromCentre.push(turning.fromCentreMm[c]);
    perimeter.push(perimeter[perimeter.length - 1] + Math.max(0, turning.coneAngleRad[c]) * step);
  }
  const rimMm = fromCentre[fromCentre.length - 1];
  if (farMm > rimMm) {
    const rim = Math.max(0, turning.coneAngleRad[order[courses - 1]]);
    perimeter.push(perimeter[perimeter.length - 1] + rim * (farMm - rimMm));
    fromCentre.push(farMm);
  }
  if (!turning.outsideIn) {
    return {
      sampleDepthMm: Float64Array.from(fromCentre),
      samplePerimeterMm: Float64Array.from(perimeter),
    };
  }
  return {
    sampleDepthMm: Float64Array.from(fromCentre.reverse().map((d) => farMm - d)),
    samplePerimeterMm: Float64Array.from(perimeter.reverse()),
  };
}

function sampleTube(turning: Turning, layout: Layout): Samples {
  return { sampleDepthMm: layout.depthMm.slice(), samplePerimeterMm: turning.perimeterMm.slice() };
}
