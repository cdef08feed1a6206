/**
 * Two edges of flat stockinette sewn together a whole stitch in, the thread drawn under the bars between the edge
 * stitch and its neighbour, row by row on either side (mattress stitch).
 *
 * Input: a relaxed stitch, in yarn diameters. Output: one repeat of `SEAM_WALES` stitches and two rows, as
 * strands: the knitting, which turns at either edge, and the thread. The edge stitches are folded to the back.
 */
import type { Strand } from '../rod/rod-system.ts';
import { resampleEvenly } from '../yarn/lay/loop-shape.ts';
import type { RelaxedLoop } from './relaxed-loop.ts';

/** Stitches of a repeat between two seams, edge stitches with them. Chosen: the middle ones feel no seam. */
export const SEAM_WALES = 10;
/** Rows of a repeat: there and back. */
export const SEAM_ROWS = 2;
/** Radius of the fold at the wrong side's loops, d, and room between the two edges as laid. Chosen. */
const FOLD = 1.3;
const ROOM = 0.4;
/** Segments of the yarn that turns from row to row, and of the thread in a repeat. */
const TURN_SEGMENTS = 8;
const THREAD_SEGMENTS = 44;
/** How far before and behind the bars the thread is laid, d, and by how much of a row its ways pass. Chosen. */
const BEFORE = 1.9;
const BEHIND = 0.9;
const PASS = 0.12;

export interface SeamPatch {
  readonly strands: Strand[];
  /** Period across the seam, and of the two rows. */
  readonly period: readonly [number, number];
  /** Segments of the thread. */
  readonly thread: Int32Array;
  /** Yarn of the thread when drawn up. */
  readonly drawnUp: number;
}

export function buildSeamPatch(loop: RelaxedLoop): SeamPatch {
  const { width, height, length, segments, points } = loop;
  let top = 0;
  for (let i = 2; i < points.length; i += 3) top = Math.max(top, points[i]);
  const bend = FOLD + top + ROOM;
  const across = (SEAM_WALES - 2) * width + 2 * bend;
  const flat = flatRows(loop);
  const knitted = new Float64Array(flat.length);
  for (let i = 0; i < flat.length; i += 3) {
    const [x, z] = fold(flat[i] - width, flat[i + 2], (SEAM_WALES - 2) * width);
    knitted[i] = x + bend;
    knitted[i + 1] = flat[i + 1];
    knitted[i + 2] = z;
  }
  const rest = new Float64Array(knitted.length / 3).fill(length / segments);
  for (let row = 1; row <= SEAM_ROWS; row++) {
    const end = row * (SEAM_WALES * segments + TURN_SEGMENTS);
    rest.fill((Math.PI * height) / 2 / TURN_SEGMENTS, end - TURN_SEGMENTS, end);
  }
  const path = threadPath(height, bend, points[1], points[2]);
  const thread = resampleEvenly(path, THREAD_SEGMENTS).subarray(0, 3 * THREAD_SEGMENTS);
  const laid = pathLength(path);
  const strands: Strand[] = [
    { points: knitted, closed: true, image: [0, 1], rest },
    {
      points: thread,
      closed: true,
      image: [0, 1],
      rest: new Float64Array(THREAD_SEGMENTS).fill(laid / THREAD_SEGMENTS),
    },
  ];
  return {
    strands,
    period: [across, SEAM_ROWS * height],
    thread: Int32Array.from({ length: THREAD_SEGMENTS }, (_, k) => rest.length + k),
    // From bar to bar, a yarn to either side of the middle, once there and once back in every row.
    drawnUp: SEAM_ROWS * 2 * Math.hypot(height / 2, 2),
  };
}

/** Row 0 from left to right, its turn, row 1 back, its turn; x from the left edge on. [3·nodes] */
function flatRows({ width, height, segments, points }: RelaxedLoop): Float64Array {
  const out: number[] = [];
  const edges = [SEAM_WALES * width, 0];
  for (let row = 0; row < SEAM_ROWS; row++) {
    const back = row % 2 === 1;
    for (let n = 0; n < SEAM_WALES * segments; n++) {
      // Backwards every row starts where the next copy of its last loop would.
      const at = back ? SEAM_WALES * segments - n : n;
      const wale = Math.floor(at / segments);
      const k = at % segments;
      out.push(
        points[3 * k] + (wale + 0.5) * width,
        points[3 * k + 1] + row * height,
        points[3 * k + 2],
      );
    }
    const from = (n: number) => points[3 * n];
    const edge = edges[row] + from(0) + width / 2;
    for (let k = 0; k < TURN_SEGMENTS; k++) {
      const angle = (Math.PI * k) / TURN_SEGMENTS;
      out.push(
        edge + (back ? -1 : 1) * (height / 2) * Math.sin(angle),
        points[1] + (row + 0.5) * height - (height / 2) * Math.cos(angle),
        points[2],
      );
    }
  }
  return Float64Array.from(out);
}

/** Where a point of flat fabric comes to lie when what is beyond 0 and beyond `inner` is folded back: [x, z]. */
function fold(x: number, z: number, inner: number): [number, number] {
  if (x >= 0 && x <= inner) return [x, z];
  const side = x < 0 ? -1 : 1;
  const beyond = x < 0 ? -x : x - inner;
  const foot = x < 0 ? 0 : inner;
  const angle = Math.min(beyond / FOLD, Math.PI / 2);
  const straight = Math.max(0, beyond - (FOLD * Math.PI) / 2);
  const r = FOLD + z;
  return [foot + side * r * Math.sin(angle), -FOLD + r * Math.cos(angle) - straight];
}

/** Under a bar of the edge on the right, across, under one on the left, across; [3·points]. */
function threadPath(height: number, bend: number, barY: number, barZ: number): Float64Array {
  const out: number[] = [];
  const before = barZ + BEFORE;
  const behind = barZ - BEHIND;
  for (let row = 0; row < SEAM_ROWS; row++) {
    const y = barY + row * height;
    for (const x of [bend, -bend]) {
      const low = y - (0.5 - PASS) * height;
      const high = y + (0.5 - PASS) * height;
      out.push(x, low, before, x, low, behind, x, high, behind, x, high, before);
    }
  }
  out.push(bend, barY + (SEAM_ROWS - 0.5 + PASS) * height, before);
  return Float64Array.from(out);
}

function pathLength(path: Float64Array): number {
  let sum = 0;
  for (let i = 3; i < path.length; i += 3) {
    sum += Math.hypot(path[i] - path[i - 3], path[i + 1] - path[i - 2], path[i + 2] - path[i - 1]);
  }
  return sum;
}
