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
  course: number;
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
    const inside = (across: number): number =>
      insidePanelMm(layout, a.panel, across, a.course, b.across, b.course, riseMm);
    const direct = inside(a.across);
    // With a single closed panel, or two, the short way may lead across the line.
    if (!layout.closed || Math.abs(a.across - b.across) < 0.5 || layout.panels > 1) return direct;
    const shift = a.across < b.across ? 1 : -1;
    if (layout.lines > 0) {
      return shift > 0
        ? acrossLineMm(layout, b, a, 0, riseMm)
        : acrossLineMm(layout, a, b, 0, -riseMm);
    }
    return inside(a.across + shift);
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
  return (1 - s.across) * layout.widthMm[s.panel * layout.depthMm.length + s.course];
}

function toBegin(layout: Layout, s: Spot): number {
  return s.across * layout.widthMm[s.panel * layout.depthMm.length + s.course];
}

function insidePanelMm(
  layout: Layout,
  panel: number,
  f1: number,
  c1: number,
  f2: number,
  c2: number,
  dy: number,
): number {
  const courses = layout.depthMm.length;
  const at1 = panel * courses + c1;
  const at2 = panel * courses + c2;
  // Width left by the lines' overhang; the rest of the narrowing is spread over the panel.
  const mitre1 = layout.widthMm[panel * courses] - layout.inBeginMm[at1] - layout.inEndMm[at1];
  const mitre2 = layout.widthMm[panel * courses] - layout.inBeginMm[at2] - layout.inEndMm[at2];
  const spread1 = layout.widthMm[at1] - mitre1;
  const spread2 = layout.widthMm[at2] - mitre2;
  const df = f2 - f1;
  const x1 = layout.inBeginMm[at1] + f1 * mitre1;
  const x2 = layout.inBeginMm[at2] + f2 * mitre2;
  let dx = x2 - x1 + ((spread1 + spread2) / 2) * df;
  const rate = c1 === c2 ? spreadRate(layout, panel, c1) : dy === 0 ? 0 : (spread2 - spread1) / dy;
  if (rate !== 0) {
    const mitreRate = c1 === c2 ? 0 : Math.abs((mitre2 - mitre1) / dy);
    const share = Math.abs(rate) / (Math.abs(rate) + mitreRate);
    // Chord of a bent course: law of cosines in the sector with radii width/rate.
    const mean = (layout.widthMm[at1] + layout.widthMm[at2]) / 2;
    const geometric = Math.sqrt(Math.max(0, layout.widthMm[at1] * layout.widthMm[at2]));
    const half = (rate * df) / 2;
    const chord = half === 0 ? 1 : Math.sin(half) / half;
    dx *= chord * (1 + share * (geometric / mean - 1));
  }
  return Math.hypot(dx, dy);
}

/** Spread narrowing per mm of depth at a course (central difference). */
export function spreadRate(layout: Layout, panel: number, course: number): number {
  const low = Math.max(0, course - 1);
  const high = Math.min(layout.depthMm.length - 1, course + 1);
  if (high === low) return 0;
  const rise = spreadAt(layout, panel, high) - spreadAt(layout, panel, low);
  return rise / (layout.depthMm[high] - layout.depthMm[low]);
}

function spreadAt(layout: Layout, panel: number, course: number): number {
  const base = panel * layout.depthMm.length;
  const at = base + course;
  return layout.widthMm[at] - layout.widthMm[base] + layout.inBeginMm[at] + layout.inEndMm[at];
}

/** Slope of the line at the beginning of a panel: overhang per mm of depth. */
export function lineSlope(layout: Layout, panel: number, course: number): number {
  const base = panel * layout.depthMm.length;
  const low = Math.max(0, course - 1);
  const high = Math.min(layout.depthMm.length - 1, course + 1);
  if (high === low) return 0;
  return (
    (layout.inBeginMm[base + high] - layout.inBeginMm[base + low]) /
    (layout.depthMm[high] - layout.depthMm[low])
  );
}

/** Distance across the line where `right`'s panel ends and `left`'s (`panel`) begins; `right` lies `dy` deeper. */
function acrossLineMm(layout: Layout, right: Spot, left: Spot, panel: number, dy: number): number {
  const u1 = toEnd(layout, right);
  const u2 = toBegin(layout, left);
  const base = panel * layout.depthMm.length;
  const shift = layout.inBeginMm[base + right.course] - layout.inBeginMm[base + left.course];
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
