/**
 * The largest hole in a piece of yarn work, as the eye sees it: the biggest circle that shows nothing but
 * background, looking square at the fabric.
 *
 * Input: polylines in the plane (x, y of their points), the yarn's radius, a region to look in. Only places
 * that are surrounded by yarn count: towards all four sides something must lie within reach.
 */

export interface Hole {
  /** Diameter of the empty circle; 0 where yarn covers everything. */
  readonly diameter: number;
  readonly x: number;
  readonly y: number;
}

export interface PlanarSegments {
  /** [4·count] x and y of both ends. */
  readonly ends: Float64Array;
  readonly count: number;
}

export function largestHole(
  segments: PlanarSegments,
  radius: number,
  region: { readonly x: readonly [number, number]; readonly y: readonly [number, number] },
  reach: number,
): Hole {
  let best: Hole = { diameter: 0, x: region.x[0], y: region.y[0] };
  let step = radius / 2;
  let [x0, x1] = region.x;
  let [y0, y1] = region.y;
  // A coarse look over the region, then two finer ones round the best place.
  for (let level = 0; level < 3; level++) {
    for (let y = y0; y <= y1 + 1e-9; y += step) {
      for (let x = x0; x <= x1 + 1e-9; x += step) {
        const diameter = 2 * (distanceTo(segments, x, y) - radius);
        if (diameter > best.diameter && isSurrounded(segments, x, y, reach)) {
          best = { diameter, x, y };
        }
      }
    }
    if (best.diameter === 0) return best;
    x0 = Math.max(region.x[0], best.x - step);
    x1 = Math.min(region.x[1], best.x + step);
    y0 = Math.max(region.y[0], best.y - step);
    y1 = Math.min(region.y[1], best.y + step);
    step /= 5;
  }
  return best;
}

function distanceTo({ ends, count }: PlanarSegments, x: number, y: number): number {
  let best = Infinity;
  for (let k = 0; k < count; k++) {
    const ax = ends[4 * k] - x;
    const ay = ends[4 * k + 1] - y;
    const ux = ends[4 * k + 2] - ends[4 * k];
    const uy = ends[4 * k + 3] - ends[4 * k + 1];
    const square = ux * ux + uy * uy;
    const t = square > 0 ? Math.min(Math.max(-(ax * ux + ay * uy) / square, 0), 1) : 0;
    const dx = ax + t * ux;
    const dy = ay + t * uy;
    best = Math.min(best, dx * dx + dy * dy);
  }
  return Math.sqrt(best);
}

/** Yarn crosses the rays to the left, right, up and down within reach. */
function isSurrounded(
  { ends, count }: PlanarSegments,
  x: number,
  y: number,
  reach: number,
): boolean {
  let sides = 0;
  for (let k = 0; k < count && sides !== 15; k++) {
    const ax = ends[4 * k] - x;
    const ay = ends[4 * k + 1] - y;
    const bx = ends[4 * k + 2] - x;
    const by = ends[4 * k + 3] - y;
    if (ay > 0 !== by > 0) {
      const at = ax + ((bx - ax) * ay) / (ay - by);
      if (at > 0 && at < reach) sides |= 1;
      if (at < 0 && at > -reach) sides |= 2;
    }
    if (ax > 0 !== bx > 0) {
      const at = ay + ((by - ay) * ax) / (ax - bx);
      if (at > 0 && at < reach) sides |= 4;
      if (at < 0 && at > -reach) sides |= 8;
    }
  }
  return sides === 15;
}
