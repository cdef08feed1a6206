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
  region: Region,
  reach: number,
): Hole {
  const none: Hole = { diameter: 0, x: region.x[0], y: region.y[0] };
  const step = radius / 2;
  let best = none;
  for (const coarse of coarseHoles(segments, radius, region, step)) {
    // Moved by a length the circle grows by twice that at most, and the middle lies within half a diagonal.
    if (coarse.diameter + Math.SQRT2 * step <= best.diameter) break;
    const hole = refined(segments, radius, coarse, step, reach);
    if (hole && hole.diameter > best.diameter) best = hole;
  }
  return best;
}

interface Region {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

/**
 * The points of a grid over the region that are further from yarn than their neighbours, the farthest first. One step
 * beyond the region is looked at too: holes whose middle lies there, of which the region holds a part, belong to
 * another place.
 */
function coarseHoles(
  segments: PlanarSegments,
  radius: number,
  region: Region,
  step: number,
): Hole[] {
  const across = Math.max(1, Math.round((region.x[1] - region.x[0]) / step)) + 3;
  const upwards = Math.max(1, Math.round((region.y[1] - region.y[0]) / step)) + 3;
  const at = (i: number, j: number) => ({
    x: region.x[0] + (i - 1) * step,
    y: region.y[0] + (j - 1) * step,
  });
  const size = new Float64Array(across * upwards);
  for (let j = 0; j < upwards; j++) {
    for (let i = 0; i < across; i++) {
      const { x, y } = at(i, j);
      size[j * across + i] = 2 * (distanceTo(segments, x, y) - radius);
    }
  }
  const holes: Hole[] = [];
  for (let j = 1; j < upwards - 1; j++) {
    for (let i = 1; i < across - 1; i++) {
      const k = j * across + i;
      let highest = true;
      for (const n of [1, across - 1, across, across + 1]) {
        if (size[k + n] > size[k] || size[k - n] > size[k]) highest = false;
      }
      if (highest) holes.push({ diameter: size[k], ...at(i, j) });
    }
  }
  return holes.sort((a, b) => b.diameter - a.diameter);
}

/** Two finer looks round a coarse hole; null where nothing there is surrounded by yarn. */
function refined(
  segments: PlanarSegments,
  radius: number,
  coarse: Hole,
  step: number,
  reach: number,
): Hole | null {
  let best: Hole | null = isSurrounded(segments, coarse.x, coarse.y, reach) ? coarse : null;
  for (let level = 1; level < 3; level++) {
    const fine = step / 5 ** level;
    const { x, y } = best ?? coarse;
    for (let j = -5; j <= 5; j++) {
      for (let i = -5; i <= 5; i++) {
        const at = { x: x + i * fine, y: y + j * fine };
        const diameter = 2 * (distanceTo(segments, at.x, at.y) - radius);
        if (best && diameter <= best.diameter) continue;
        if (isSurrounded(segments, at.x, at.y, reach)) best = { diameter, ...at };
      }
    }
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
