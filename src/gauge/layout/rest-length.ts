/**
 * Distance between two stitches of a Layout on the unstrained sheet, mm: within a panel, or across
 * the shaping line between two panels by unfolding both along the line.
 */
import type { Layout } from './layout.ts';

/** A stitch, or any place of the layout. */
export interface Spot {
  panel: number;
  /** 0 … 1 across the panel. */
  across: number;
  /** Between two courses where short rows put it there. */
  course: number;
}

/** Value at a course of panel `panel`, straight between whole ones. */
function valueAt(values: Float64Array, layout: Layout, panel: number, course: number): number {
  const low = Math.floor(course);
  const at = panel * layout.depthMm.length + low;
  const f = course - low;
  return f === 0 ? values[at] : values[at] + f * (values[at + 1] - values[at]);
}

/**
 * Distance of two spots whose courses differ by at most one or so. `riseMm`: how much deeper b lies than a, where
 * that is not what their courses' depths say.
 */
export function restDistanceMm(
  layout: Layout,
  a: Spot,
  b: Spot,
  riseMm = layout.depthMm[b.course] - layout.depthMm[a.course],
): number {
  if (a.panel === b.panel) {
    const direct = insidePanelMm(layout, a, b, 0, riseMm);
    // With a single closed panel, or two, the short way may lead across the line.
    if (!layout.closed || Math.abs(a.across - b.across) < 0.5 || layout.panels > 1) return direct;
    const shift = a.across < b.across ? 1 : -1;
    if (layout.lines > 0) {
      return shift > 0
        ? acrossLineMm(layout, b, a, 0, riseMm)
        : acrossLineMm(layout, a, b, 0, -riseMm);
    }
    return insidePanelMm(layout, a, b, shift, riseMm);
  }
  const next = (k: number): number => (k + 1) % layout.panels;
  const aFirst = next(a.panel) === b.panel;
  const bFirst = next(b.panel) === a.panel;
  // Two panels meet at two lines: take the nearer.
  if (aFirst && (!bFirst || a.across > b.across))
    return acrossLineMm(layout, a, b, b.panel, -riseMm);
  if (bFirst) return acrossLineMm(layout, b, a, a.panel, riseMm);
  // Panels narrower than a stitch, at the very centre: the courses are nearly points there.
  const gap = toEnd(layout, a) + toBegin(layout, b);
  return Math.hypot(riseMm, gap);
}

function toEnd(layout: Layout, s: Spot): number {
  return (1 - s.across) * valueAt(layout.widthMm, layout, s.panel, s.course);
}

function toBegin(layout: Layout, s: Spot): number {
  return s.across * valueAt(layout.widthMm, layout, s.panel, s.course);
}

/** `shift`: whole turns that a is taken on round a closed panel. */
function insidePanelMm(layout: Layout, a: Spot, b: Spot, shift: number, dy: number): number {
  const { panel } = a;
  const f1 = a.across + shift;
  const c1 = a.course;
  const f2 = b.across;
  const c2 = b.course;
  const base = layout.widthMm[panel * layout.depthMm.length];
  const width1 = valueAt(layout.widthMm, layout, panel, c1);
  const width2 = valueAt(layout.widthMm, layout, panel, c2);
  const in1 = valueAt(layout.inBeginMm, layout, panel, c1);
  const in2 = valueAt(layout.inBeginMm, layout, panel, c2);
  // Width left by the lines' overhang; the rest of the narrowing is spread over the panel.
  const mitre1 = base - in1 - valueAt(layout.inEndMm, layout, panel, c1);
  const mitre2 = base - in2 - valueAt(layout.inEndMm, layout, panel, c2);
  const spread1 = width1 - mitre1;
  const spread2 = width2 - mitre2;
  const df = f2 - f1;
  const x1 = in1 + f1 * mitre1;
  const x2 = in2 + f2 * mitre2;
  let dx = x2 - x1 + ((spread1 + spread2) / 2) * df;
  const rate = c1 === c2 ? spreadRate(layout, panel, c1) : dy === 0 ? 0 : (spread2 - spread1) / dy;
  if (rate !== 0) {
    const mitreRate = c1 === c2 ? 0 : Math.abs((mitre2 - mitre1) / dy);
    const share = Math.abs(rate) / (Math.abs(rate) + mitreRate);
    // Chord of a bent course: law of cosines in the sector with radii width/rate.
    const mean = (width1 + width2) / 2;
    const geometric = Math.sqrt(Math.max(0, width1 * width2));
    const half = (rate * df) / 2;
    const chord = half === 0 ? 1 : Math.sin(half) / half;
    dx *= chord * (1 + share * (geometric / mean - 1));
  }
  return Math.hypot(dx, dy);
}

/** Spread narrowing per mm of depth at a course (central difference). */
export function spreadRate(layout: Layout, panel: number, course: number): number {
  const low = Math.max(0, Math.ceil(course) - 1);
  const high = Math.min(layout.depthMm.length - 1, Math.floor(course) + 1);
  const depth = layout.depthMm[high] - layout.depthMm[low];
  if (!(depth > 0)) return 0;
  return (spreadAt(layout, panel, high) - spreadAt(layout, panel, low)) / depth;
}

function spreadAt(layout: Layout, panel: number, course: number): number {
  const base = panel * layout.depthMm.length;
  const at = base + course;
  return layout.widthMm[at] - layout.widthMm[base] + layout.inBeginMm[at] + layout.inEndMm[at];
}

/** Slope of the line at the beginning of a panel: overhang per mm of depth. */
export function lineSlope(layout: Layout, panel: number, course: number): number {
  const base = panel * layout.depthMm.length;
  const low = Math.max(0, Math.ceil(course) - 1);
  const high = Math.min(layout.depthMm.length - 1, Math.floor(course) + 1);
  const depth = layout.depthMm[high] - layout.depthMm[low];
  if (!(depth > 0)) return 0;
  return (layout.inBeginMm[base + high] - layout.inBeginMm[base + low]) / depth;
}

/** Distance across the line where `right`'s panel ends and `left`'s (`panel`) begins; `right` lies `dy` deeper. */
function acrossLineMm(layout: Layout, right: Spot, left: Spot, panel: number, dy: number): number {
  const u1 = toEnd(layout, right);
  const u2 = toBegin(layout, left);
  const shift =
    valueAt(layout.inBeginMm, layout, panel, right.course) -
    valueAt(layout.inBeginMm, layout, panel, left.course);
  const slope =
    right.course === left.course
      ? lineSlope(layout, panel, right.course)
      : dy === 0
        ? 0
        : shift / dy;
  // β: angle between the line and the wales. In a frame with the line upright both courses fall
  // away from it by β.
  const cos = 1 / Math.sqrt(1 + slope * slope);
  const sin = slope * cos;
  return Math.hypot((u1 + u2) * cos, dy / cos + (u1 - u2) * sin);
}
