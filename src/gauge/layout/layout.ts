/**
 * The smooth layout of the sheet: every stitch gets a place in the panel between two shaping lines,
 * from which any rest length follows as a distance in the plane (or, where shaping is spread, in a
 * plane sector).
 *
 * A panel is what lies between two lines. Its courses are straight and parallel; it narrows by the
 * overhang of its two lines. A line takes half its lost stitches from either side, for only then do
 * the courses meet there at equal heights: the courses turn by 2·atan(overhang / height), which is
 * the closed form for stacked shaping. What a panel loses otherwise is spread: its courses bend.
 * Lengths are smoothed over a decrease period (`smooth-steps.ts`), since whole-stitch steps would
 * put false curvature into an exactly flat plan.
 */

import type { ShapingLines } from '../shaping/shaping-lines.ts';
import type { LocalSize } from '../texture/local-size.ts';
import { EvenCourses } from './even-courses.ts';
import { lineOverhang, smoothWidth } from './panel-width.ts';
import { type Rings, ringSize } from './rings.ts';

export interface Layout {
  readonly rings: Rings;
  readonly panels: number;
  /** True where panel k's end is panel k + 1's beginning, all the way round. */
  readonly closed: boolean;
  /** Shaping lines; panel k of a closed piece begins at line k. 0: one panel, shaped by spread only. */
  readonly lines: number;
  /** [courses] depth of each course from the cast-on, mm. */
  readonly depthMm: Float64Array;
  /** [ids] panel of each stitch. */
  readonly panel: Int32Array;
  /** [ids] place across the panel, 0 … 1. */
  readonly across: Float64Array;
  /** [panels × courses] smoothed width of the panel, mm. */
  readonly widthMm: Float64Array;
  /** [panels × courses] how far the panel's beginning has moved in since the cast-on, mm. */
  readonly inBeginMm: Float64Array;
  /** [panels × courses] the same at its end. */
  readonly inEndMm: Float64Array;
}

export function layOut(rings: Rings, lines: ShapingLines, size: LocalSize): Layout {
  const { courses, closed } = rings;
  const depthMm = new Float64Array(courses);
  // A course's own height lies half below and half above its loops' middles.
  for (let c = 1; c < courses; c++) depthMm[c] = depthMm[c - 1] + size.courseMm[c];
  const panels = closed ? Math.max(1, lines.lines) : lines.lines + 1;
  const panel = new Int32Array(rings.ids.length);
  const across = new Float64Array(rings.ids.length);
  const widthMm = new Float64Array(panels * courses);
  const count = new Float64Array(panels * courses);
  const along = new Float64Array(
    1 + Math.max(...Array.from({ length: courses }, (_, c) => ringSize(rings, c))),
  );
  for (let c = 0; c < courses; c++) {
    placeCourse(rings, lines, size, c, { panels, panel, across, widthMm, count, along });
  }
  const inBeginMm = new Float64Array(panels * courses);
  const inEndMm = new Float64Array(panels * courses);
  const even = evenCourses(rings, size);
  const steps = even ? even.count : courses;
  const narrowing = new Float64Array(panels * steps);
  let zoned = false;
  for (let k = 0; k < panels; k++) {
    const own = (values: Float64Array) => values.subarray(k * courses, (k + 1) * courses);
    const perStitch = narrowing.subarray(k * steps, (k + 1) * steps);
    if (even) {
      const width = even.thin(own(widthMm));
      smoothWidth(even.thin(own(count)), width, perStitch, null);
      own(widthMm).set(even.spread(width));
    } else if (smoothWidth(own(count), own(widthMm), perStitch, depthMm)) zoned = true;
  }
  for (let line = 0; line < lines.lines; line++) {
    const before = closed ? (line + panels - 1) % panels : line;
    const after = closed ? line : line + 1;
    const lost = totals(lines.loss.subarray(line * courses, (line + 1) * courses));
    const thin = lineOverhang(
      even ? even.thin(lost) : lost,
      [before, after],
      narrowing,
      zoned ? depthMm : null,
    );
    const overhang = even ? even.spread(thin) : thin;
    inEndMm.set(overhang, before * courses);
    inBeginMm.set(overhang, after * courses);
  }
  if (!closed) shapeFreeEdges(lines, panels, courses, widthMm, inBeginMm, inEndMm);
  return {
    rings,
    panels,
    closed,
    lines: lines.lines,
    depthMm,
    panel,
    across,
    widthMm,
    inBeginMm,
    inEndMm,
  };
}

/** Null where every course is a whole round. */
function evenCourses(rings: Rings, { courseMm, roundMm }: LocalSize): EvenCourses | null {
  let short = false;
  const whole = courseMm.map((mm, c) => {
    const from = rings.start[c];
    const n = ringSize(rings, c);
    let sum = 0;
    for (let flat = from; flat < from + n; flat++) {
      sum += roundMm[flat];
      short ||= rings.home[flat] !== flat;
    }
    return n > 0 ? sum / n : mm;
  });
  return short ? new EvenCourses(courseMm, whole) : null;
}

function totals(lost: Float64Array): Float64Array {
  let sum = 0;
  return lost.map((one, c) => {
    if (c > 0) sum += one;
    return sum;
  });
}

/** What is filled in course by course: as in Layout, raw widths, and the stitches between a panel's edges. */
interface Placed extends Pick<Layout, 'panels' | 'panel' | 'across' | 'widthMm'> {
  /** [panels × courses] */
  readonly count: Float64Array;
  /** [longest course + 1] scratch: mm from the middle of stitch 0 to the middle of stitch j; the last closes the ring. */
  readonly along: Float64Array;
}

/** Places every stitch of a course in its panel and notes the panels' raw widths. */
function placeCourse(
  rings: Rings,
  lines: ShapingLines,
  size: LocalSize,
  c: number,
  { panels, panel, across, widthMm, count, along }: Placed,
): void {
  const { courses, closed } = rings;
  const first = rings.start[c];
  const n = ringSize(rings, c);
  if (n === 0) return;
  along[0] = 0;
  for (let j = 1; j <= n; j++) {
    const before = size.stitchMm[first + j - 1];
    const here = size.stitchMm[first + (j % n)];
    along[j] = along[j - 1] + (before + here) / 2;
  }
  const total = along[n];
  const at = (place: number): number => {
    const turns = Math.floor(place / n);
    const inside = place - turns * n;
    const low = Math.floor(inside);
    return turns * total + along[low] + (inside - low) * (along[low + 1] - along[low]);
  };
  // Panel edges as places; the ends of an open course lie half a stitch outside its stitches.
  const place = new Float64Array(panels + 1);
  place[0] = closed && lines.lines > 0 ? lines.place[c] : -0.5;
  place[panels] = place[0] + n;
  for (let k = 1; k < panels; k++) place[k] = lines.place[(closed ? k : k - 1) * courses + c];
  const edges = place.map(at);
  if (!closed) {
    edges[0] = -size.stitchMm[first] / 2;
    edges[panels] = along[n - 1] + size.stitchMm[first + n - 1] / 2;
  }
  for (let k = 0; k < panels; k++) {
    widthMm[k * courses + c] = edges[k + 1] - edges[k];
    count[k * courses + c] = place[k + 1] - place[k];
  }
  for (let j = 0; j < n; j++) {
    let x = along[j];
    if (closed && x < edges[0] - 1e-9) x += total;
    let k = 0;
    while (k + 1 < panels && x >= edges[k + 1] - 1e-9) k++;
    panel[first + j] = k;
    across[first + j] = (x - edges[k]) / Math.max(edges[k + 1] - edges[k], 1e-9);
  }
}

/** Open work: what the lines do not explain of the outer panels' narrowing happens at the edges. */
function shapeFreeEdges(
  lines: ShapingLines,
  panels: number,
  courses: number,
  widthMm: Float64Array,
  inBeginMm: Float64Array,
  inEndMm: Float64Array,
): void {
  const last = (panels - 1) * courses;
  let begin = 0;
  let end = 0;
  let spread = 0;
  for (let c = 0; c < courses; c++) {
    begin += lines.edgeBegin[c];
    end += lines.edgeEnd[c];
    spread += lines.spread[c];
    if (panels === 1) {
      // Shaped at one edge or at both; shaping in the middle moves either edge alike.
      const middle = spread - begin - end;
      const share = Math.abs(spread) > 0 ? (begin + middle / 2) / spread : 0.5;
      const narrowed = widthMm[0] - widthMm[c];
      inBeginMm[c] = narrowed * share;
      inEndMm[c] = narrowed * (1 - share);
      continue;
    }
    inBeginMm[c] = widthMm[0] - widthMm[c] - inEndMm[c];
    inEndMm[last + c] = widthMm[last] - widthMm[last + c] - inBeginMm[last + c];
  }
}
