/**
 * Starting centre lines of a periodic repeat of knit and purl stitches, one periodic strand a course.
 *
 * Wale unit 1 before scaling. Stitch parameter t ∈ [−π, π], head at t = 0, sinker at ±π:
 * x = (t + a sin 2t)/2π + wale, y = h (course + cos t), z = −c cos 2t · σ(t). σ is the stitch's own sign
 * (knit +, purl −) in its lower half and that of the stitch above in its upper half, because a head
 * lies behind or before the stitch that is drawn through it; at the sinkers it is the neighbours' mean.
 * Then the whole is scaled so that the mean yarn length of a stitch is as wanted.
 */

import type { Strand } from '../rod/rod-system.ts';
import { resampleEvenly, smoothStep } from '../yarn/lay/loop-shape.ts';

/** Faces of a repeat: rows from the first worked upwards, stitches in any one direction; +1 or −1. */
export type FaceGrid = readonly (readonly (1 | -1)[])[];

/** Row height over stitch width of the start (relaxed stockinette, Munden). */
const START_HEIGHT = 0.77;
/** Above 0.6 the legs of a loop cross its neighbours' twice a side, as in real loops. Chosen. */
const OMEGA = 1.25;
/** Depth of the start in stitch widths. Chosen: enough to keep thin yarns apart. */
const DEPTH = 0.2;
/** Half width of the change of sign at t = ±π/2, rad. Chosen. */
const TURN = 0.16;

export interface LoopStart {
  readonly strands: Strand[];
  /** Periods of the repeat. */
  readonly width: number;
  readonly height: number;
}

/** `length`: yarn a stitch; `segments`: polyline segments a stitch. Same unit out as in. */
export function startLoops(faces: FaceGrid, length: number, segments: number): LoopStart {
  const rows = faces.length;
  const wales = faces[0].length;
  const fine = 16 * segments;
  const curves: Float64Array[] = [];
  let total = 0;
  for (let row = 0; row < rows; row++) {
    const points = new Float64Array(3 * (wales * fine + 1));
    for (let k = 0; k <= wales * fine; k++) {
      const wale = Math.min(Math.floor(k / fine), wales - 1);
      const t = -Math.PI + (2 * Math.PI * (k - wale * fine)) / fine;
      points[3 * k] = (t + OMEGA * Math.sin(2 * t)) / (2 * Math.PI) + wale + 0.5;
      points[3 * k + 1] = START_HEIGHT * (row + Math.cos(t));
      points[3 * k + 2] = -DEPTH * Math.cos(2 * t) * signAt(faces, row, wale, t);
      if (k > 0) {
        total += Math.hypot(
          points[3 * k] - points[3 * k - 3],
          points[3 * k + 1] - points[3 * k - 2],
          points[3 * k + 2] - points[3 * k - 1],
        );
      }
    }
    curves.push(points);
  }
  const scale = length / (total / (rows * wales));
  const strands = curves.map((points): Strand => {
    for (let i = 0; i < points.length; i++) points[i] *= scale;
    const resampled = resampleEvenly(points, wales * segments);
    return {
      points: resampled.subarray(0, 3 * wales * segments),
      closed: true,
      image: [1, 0],
      rest: new Float64Array(wales * segments).fill(length / segments),
    };
  });
  return { strands, width: wales * scale, height: rows * START_HEIGHT * scale };
}

function signAt(faces: FaceGrid, row: number, wale: number, t: number): number {
  const rows = faces.length;
  const wales = faces[0].length;
  const own = faces[row][wale];
  const above = faces[(row + 1) % rows][wale];
  const side = Math.abs(t);
  if (side > 2.7) {
    const neighbour = faces[row][(wale + (t > 0 ? 1 : wales - 1)) % wales];
    const mean = (own + neighbour) / 2;
    return own + (mean - own) * smoothStep((side - 2.7) / (Math.PI - 2.7));
  }
  return above + (own - above) * smoothStep((side - Math.PI / 2 + TURN) / (2 * TURN));
}
