/**
 * From where the whole of something is in view.
 *
 * Input: positions, mm; the direction to look from as angles from the z axis and from −y; the camera's angle. Output:
 * the point to look at and the distance to it, mm.
 */
import { vec3 } from 'gl-matrix';
import { furthestRad, type Positions } from '../fabric/surface.ts';

export interface ViewLens {
  /** Angle of the picture from its lower to its upper edge, rad. */
  readonly fovRad: number;
  /** Width over height. */
  readonly aspect: number;
  /** Share of the picture that may be filled. */
  readonly fill: number;
}

export interface FittedView {
  readonly distanceMm: number;
  readonly target: vec3;
}

/** How much further than it must be the eye may stand before a picture is framed anew. Chosen. */
const SPARE = 1.18;
/** Share of the picture's half height that a piece may reach beyond its margin meanwhile. Chosen. */
const OVER = 0.04;
/** Share of the picture's half height that the middle of a piece may lie above or below that of the picture. Chosen. */
const OFF_MIDDLE = 0.1;

/**
 * Whether a piece that has moved is still framed well by a view: all of it within the picture, not small in it, and about
 * as much of the picture above it as below.
 * In: where the eye is now, at what distance, mm, and what it looks at.
 */
export function stillFramed(
  inView: readonly Positions[],
  view: FittedView,
  polarRad: number,
  aroundRad: number,
  lens: ViewLens,
): boolean {
  const eased = { ...lens, fill: Math.min(1, lens.fill + OVER) };
  const axes = viewAxes(polarRad, aroundRad);
  const least = leastDistance(inView, view.target, axes, eased);
  if (view.distanceMm < least || view.distanceMm > SPARE * least) return false;
  const off = middleAbove(inView, view, axes);
  return Math.abs(off) <= OFF_MIDDLE * Math.tan(lens.fovRad / 2);
}

/** Whether a piece that moves reaches out of the picture of a view. In: as above. */
export function leavesPicture(
  inView: readonly Positions[],
  view: FittedView,
  polarRad: number,
  aroundRad: number,
  lens: ViewLens,
): boolean {
  const axes = viewAxes(polarRad, aroundRad);
  return view.distanceMm < leastDistance(inView, view.target, axes, { ...lens, fill: 1 });
}

interface ViewAxes {
  /** Towards the eye, to its right, and up. */
  readonly towards: vec3;
  readonly right: vec3;
  readonly up: vec3;
}

function viewAxes(polarRad: number, aroundRad: number): ViewAxes {
  const towards = vec3.fromValues(
    Math.sin(polarRad) * Math.sin(aroundRad),
    -Math.sin(polarRad) * Math.cos(aroundRad),
    Math.cos(polarRad),
  );
  const right = vec3.fromValues(Math.cos(aroundRad), Math.sin(aroundRad), 0);
  return { towards, right, up: vec3.cross(vec3.create(), towards, right) };
}

/** The nearest that an eye which looks at `target` may come with everything in its picture, mm. */
function leastDistance(
  inView: readonly Positions[],
  target: vec3,
  { towards, right, up }: ViewAxes,
  lens: ViewLens,
): number {
  const high = Math.tan(lens.fovRad / 2) * lens.fill;
  const wide = high * lens.aspect;
  const offset = vec3.create();
  let distanceMm = NEAREST_MM;
  for (const positions of inView) {
    for (let i = 0; i < positions.length; i += 3) {
      vec3.set(offset, positions[i], positions[i + 1], positions[i + 2]);
      vec3.subtract(offset, offset, target);
      const near = vec3.dot(offset, towards);
      const aside = Math.abs(vec3.dot(offset, right));
      const above = Math.abs(vec3.dot(offset, up));
      distanceMm = Math.max(distanceMm, near + aside / wide, near + above / high);
    }
  }
  return distanceMm;
}

/** How far the middle of everything in view lies above what is looked at, as the tangent of an angle at the eye. */
function middleAbove(
  inView: readonly Positions[],
  { distanceMm, target }: FittedView,
  { towards, up }: ViewAxes,
): number {
  const offset = vec3.create();
  let low = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const positions of inView) {
    for (let i = 0; i < positions.length; i += 3) {
      vec3.set(offset, positions[i], positions[i + 1], positions[i + 2]);
      vec3.subtract(offset, offset, target);
      const near = vec3.dot(offset, towards);
      if (distanceMm <= near) continue;
      const above = vec3.dot(offset, up) / (distanceMm - near);
      low = Math.min(low, above);
      top = Math.max(top, above);
    }
  }
  return top > low ? (low + top) / 2 : 0;
}

/** Nearest look at anything, mm. */
const NEAREST_MM = 10;

export function fitView(
  inView: readonly Positions[],
  middle: vec3,
  polarRad: number,
  aroundRad: number,
  lens: ViewLens,
): FittedView {
  const axes = viewAxes(polarRad, aroundRad);
  const target = vec3.clone(middle);
  let distanceMm = NEAREST_MM;
  // Near parts look bigger, so the middle of the picture is found in a few rounds.
  for (let round = 0; round < 4; round++) {
    const before = distanceMm;
    distanceMm = leastDistance(inView, target, axes, lens);
    if (round === 0 || round === 3) continue;
    const off = middleAbove(inView, { distanceMm: before, target }, axes);
    vec3.scaleAndAdd(target, target, axes.up, off * before);
  }
  return { distanceMm, target };
}

export interface ViewExtent {
  readonly radiusMm: number;
  readonly middle: vec3;
  /** Direction in which the first piece reaches furthest, rad. */
  readonly cornerRad: number;
}

/** Middle of the box around all positions, its radius, and where the first piece reaches furthest. */
export function measureView(inView: readonly Positions[]): ViewExtent {
  const low = vec3.fromValues(Infinity, Infinity, Infinity);
  const high = vec3.fromValues(-Infinity, -Infinity, -Infinity);
  const point = vec3.create();
  for (const positions of inView) {
    for (let i = 0; i < positions.length; i += 3) {
      vec3.set(point, positions[i], positions[i + 1], positions[i + 2]);
      vec3.min(low, low, point);
      vec3.max(high, high, point);
    }
  }
  const isEmpty = low[0] > high[0];
  const middle = isEmpty ? vec3.create() : vec3.lerp(vec3.create(), low, high, 0.5);
  const radiusMm = isEmpty ? NEAREST_MM : Math.max(NEAREST_MM, vec3.distance(high, middle));
  return { radiusMm, middle, cornerRad: furthestRad(inView[0] ?? []) };
}

/**
 * The angle nearest to `nowRad` from which a side of a piece with so many corners faces the eye, turned on by
 * `offRad`; of equal sides the nearest, so that the camera never swings round needlessly.
 */
export function facingRad(
  corners: number,
  cornerRad: number,
  offRad: number,
  nowRad: number,
): number {
  if (corners < 3) return offRad;
  const step = (2 * Math.PI) / corners;
  const theta = cornerRad + step / 2 + Math.PI / 2 + offRad;
  return theta + Math.round((nowRad - theta) / step) * step;
}

/** Vertices looked at to find the nearest. Chosen: of larger pieces some are passed over. */
const LOOKED_AT = 20_000;

/** Distance from the eye to the nearest of the vertices before it, mm; infinite where none is. */
export function nearestAhead(
  inView: readonly Positions[],
  eye: { readonly x: number; readonly y: number; readonly z: number },
  looking: { readonly x: number; readonly y: number; readonly z: number },
): number {
  let best = Number.POSITIVE_INFINITY;
  for (const positions of inView) {
    const step = 3 * Math.ceil(positions.length / 3 / LOOKED_AT);
    for (let i = 0; i < positions.length; i += step) {
      const dx = positions[i] - eye.x;
      const dy = positions[i + 1] - eye.y;
      const dz = positions[i + 2] - eye.z;
      if (dx * looking.x + dy * looking.y + dz * looking.z <= 0) continue;
      best = Math.min(best, dx * dx + dy * dy + dz * dz);
    }
  }
  return Math.sqrt(best);
}
