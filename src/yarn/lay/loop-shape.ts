/**
 * The centre line of one loop, between the points it shares with its neighbours.
 *
 * Input: a LoopFrame: where the loop stands (own), where it is drawn through (down), where its head lies
 * (up), the two sinker points, directions and signs. Output: the point at parameter t ∈ [−π, π]: sinker
 * at ±π, legs at ±π/2, head at 0. In a regular fabric this is
 * x = (t + a sin 2t)/2π, y = cos t, z = −c cos 2t·σ(t) (loop-start.ts); everything else bends that.
 * The spine down–own–up is C1 at own, and two loops meet in their sinker point with one tangent.
 */

export interface LoopFrame {
  /** [3] points. */
  readonly down: Float64Array;
  readonly own: Float64Array;
  readonly up: Float64Array;
  readonly sinkerIn: Float64Array;
  readonly sinkerOut: Float64Array;
  /** [3] one stitch along the yarn, at the legs and at the head. */
  readonly across: Float64Array;
  readonly headAcross: Float64Array;
  /** [3] unit normals towards the right side: of the loop, and shared at its two sinkers. */
  readonly normal: Float64Array;
  /** [3] the normal at the head: that of the loops drawn through it, so that gathered heads lie flat on
   * one another however the sheet bends. */
  readonly headNormal: Float64Array;
  readonly normalIn: Float64Array;
  readonly normalOut: Float64Array;
  /** Depth of the loop's waves along the normal. */
  depth: number;
  /** Yarn diameter; keeps crossed legs apart. */
  diameter: number;
  /** σ of the lower half, the upper half and the two sinkers: + where it lies as in a knit stitch. */
  sigmaLow: number;
  sigmaUp: number;
  sigmaIn: number;
  sigmaOut: number;
  /** Shift along the normal while the upper half travels (cable), and at the head (nested heads). */
  travelLayer: number;
  headLayer: number;
  /** Shift of the legs along the normal, where they lie over several heads. */
  legLayer: number;
  /** Legs crossed above the middle (stitch worked through its back leg) or at the foot (cast-on). */
  crossedHead: boolean;
  crossedFoot: boolean;
  /** [3] sideways part of own − down that the head leaves out: gathered heads stand upright. */
  readonly headLean: Float64Array;
  /** Share of the upper half in which the legs travel; small where several loops are gathered. */
  travel: number;
  /** Narrowing of the foot (0 … 1) and its shift along the normal, where it meets gathered heads. */
  footPinch: number;
  footLayer: number;
  /** Shift of the foot along the yarn, stitches. */
  footShift: number;
  /** Reach of the foot beyond its place, shares of the way from own to down. */
  footReach: number;
  /** A strand that is drawn through nothing below (yarn over): its foot stays open. */
  openFoot: boolean;
  /** Carried loops: no loop here, just yarn floating by, at this distance along the normal; 0: a loop. */
  float: number;
}

export function makeLoopFrame(): LoopFrame {
  const vector = () => new Float64Array(3);
  return {
    down: vector(),
    own: vector(),
    up: vector(),
    sinkerIn: vector(),
    sinkerOut: vector(),
    across: vector(),
    headAcross: vector(),
    normal: vector(),
    headNormal: vector(),
    normalIn: vector(),
    normalOut: vector(),
    depth: 0,
    diameter: 0,
    sigmaLow: 1,
    sigmaUp: 1,
    sigmaIn: 1,
    sigmaOut: 1,
    travelLayer: 0,
    headLayer: 0,
    legLayer: 0,
    crossedHead: false,
    crossedFoot: false,
    headLean: vector(),
    travel: 1,
    footPinch: 0,
    footLayer: 0,
    footShift: 0,
    footReach: 0,
    openFoot: false,
    float: 0,
  };
}

/** Above 0.6 the legs of a loop cross those of the next course twice a side, as in real loops. Chosen. */
const OMEGA = 1.25;
/** Omega of an open foot: no crossing. */
const OPEN_OMEGA = 0.2;
/** Half width of the change of σ at the legs, rad. Chosen (YARN.md). */
const TURN = 0.16;
/** Beyond this |t| the sinker's σ takes over. */
const SINKER = 2.7;

/** From this |t| on a foot turns towards the sinker point shared with its neighbour. Chosen. */
const FOOT = 0.6 * Math.PI;

/** Point of the loop at t into `out` at `offset`. */
function traceLoop(f: LoopFrame, t: number, out: Float64Array, offset: number): void {
  const side = Math.abs(t);
  const y = Math.cos(t);
  const outward = t >= 0;
  const sinker = outward ? f.sinkerOut : f.sinkerIn;
  const normalSide = outward ? f.normalOut : f.normalIn;
  if (f.float !== 0) {
    const g = (t + Math.PI) / (2 * Math.PI);
    const bump = Math.sin(Math.PI * g) ** 2;
    for (let c = 0; c < 3; c++) {
      out[offset + c] =
        f.sinkerIn[c] + g * (f.sinkerOut[c] - f.sinkerIn[c]) + f.float * bump * f.normal[c];
    }
    // Meet the neighbours' sinkers at their depth.
    const edge = smoothStep((side - Math.PI / 2) / (Math.PI / 2));
    const sigma = outward ? f.sigmaOut : f.sigmaIn;
    for (let c = 0; c < 3; c++) out[offset + c] -= f.depth * sigma * edge * normalSide[c];
    return;
  }
  const low = smoothStep((side - Math.PI / 2 + TURN) / (2 * TURN));
  const omega = f.openFoot ? OMEGA + (OPEN_OMEGA - OMEGA) * smoothStep((side - 1) / 1.2) : OMEGA;
  let x = (t + omega * Math.sin(2 * t)) / (2 * Math.PI);
  let z = 0;
  if (f.crossedFoot) {
    const m = 1 - 2 * smoothStep((y + 0.85) / 0.6);
    x *= m;
    z += (outward ? 0.6 : -0.6) * f.diameter * (1 - m * m);
  }
  if (f.crossedHead) {
    const m = 1 - 2 * smoothStep((y + 0.1) / 0.55);
    x *= m;
    z += (outward ? 0.6 : -0.6) * f.diameter * (1 - m * m);
  }
  let sigma = f.sigmaUp + (f.sigmaLow - f.sigmaUp) * low;
  if (side > SINKER) {
    const mean = outward ? f.sigmaOut : f.sigmaIn;
    sigma += (mean - sigma) * smoothStep((side - SINKER) / (Math.PI - SINKER));
  }
  z -= f.depth * Math.cos(2 * t) * sigma;

  const foot = smoothStep((side - Math.PI / 2) / (Math.PI / 2));
  // The foot keeps the loop's own direction until it has passed the head below.
  const toSinker = smoothStep((side - FOOT) / (Math.PI - FOOT));
  const above = Math.max(y, 0);
  const travelled = smoothStep(above / f.travel);
  z += f.travelLayer * Math.sin(Math.PI * Math.min(above / (1.25 * f.travel), 1)) ** 2;
  z += f.headLayer * smoothStep(above / 0.7);
  // Most just above where the foot has come through, nothing where the next course's sinkers pass.
  z += f.legLayer * smoothStep((y + 1) / 0.6) * (1 - smoothStep((y + 0.4) / 0.55));
  const below = Math.max(-y, 0);
  // Strongest where the legs pass the head below, nothing at the sinkers and at the middle.
  x *= 1 - f.footPinch * Math.sin(Math.PI * below) ** 2;
  const pass = Math.sin(Math.PI * below) ** 2;
  x += f.footShift * pass;
  z += f.footLayer * Math.sin(Math.PI * below ** 2) ** 2;
  const head = smoothStep(above);
  for (let c = 0; c < 3; c++) {
    // Spine: straight on from down through own, bent towards up.
    const rise = f.own[c] - f.down[c];
    let p = f.own[c] + (y - f.footReach * pass) * rise;
    if (y > 0) p += travelled * (f.up[c] - f.own[c] - rise + (1 - y) * f.headLean[c]);
    // One stitch along the yarn: at the foot it points to the shared sinker point.
    const footAcross = outward ? 2 * (sinker[c] - f.down[c]) : 2 * (f.down[c] - sinker[c]);
    let across = f.across[c];
    if (y > 0) across += (f.headAcross[c] - across) * head;
    else across += (footAcross - across) * toSinker;
    const normal =
      f.normal[c] + foot * (normalSide[c] - f.normal[c]) + head * (f.headNormal[c] - f.normal[c]);
    out[offset + c] = p + x * across + z * normal;
  }
}

/** Samples a segment before equal spacing. Chosen. */
const FINE = 4;

/**
 * The loop as `segments` segments (a multiple of 4), equal within each quarter: points 0 and n at the
 * sinkers, n/4 and 3n/4 at the legs, n/2 at the head, whatever travels. [3·(segments + 1)].
 */
export function traceQuarters(f: LoopFrame, segments: number): Float64Array {
  const quarter = segments / 4;
  const fine = new Float64Array(3 * (FINE * quarter + 1));
  const out = new Float64Array(3 * (segments + 1));
  for (let q = 0; q < 4; q++) {
    for (let k = 0; k <= FINE * quarter; k++) {
      traceLoop(f, -Math.PI + (Math.PI / 2) * (q + k / (FINE * quarter)), fine, 3 * k);
    }
    out.set(resampleEvenly(fine, quarter), 3 * q * quarter);
  }
  return out;
}

export function smoothStep(u: number): number {
  const v = Math.min(Math.max(u, 0), 1);
  return v * v * (3 - 2 * v);
}

/** Resamples a polyline [3·n] to `count` segments of equal length along it; [3·(count + 1)]. */
export function resampleEvenly(points: ArrayLike<number>, count: number): Float64Array {
  const n = points.length / 3;
  const arc = new Float64Array(n);
  for (let k = 1; k < n; k++) {
    arc[k] =
      arc[k - 1] +
      Math.hypot(
        points[3 * k] - points[3 * k - 3],
        points[3 * k + 1] - points[3 * k - 2],
        points[3 * k + 2] - points[3 * k - 1],
      );
  }
  const out = new Float64Array(3 * (count + 1));
  let k = 0;
  for (let i = 0; i <= count; i++) {
    const s = (arc[n - 1] * i) / count;
    while (k < n - 2 && arc[k + 1] < s) k++;
    const span = arc[k + 1] - arc[k];
    const f = span > 0 ? (s - arc[k]) / span : 0;
    for (let c = 0; c < 3; c++) {
      out[3 * i + c] = points[3 * k + c] + f * (points[3 * k + 3 + c] - points[3 * k + c]);
    }
  }
  return out;
}
