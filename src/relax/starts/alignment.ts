/**
 * Rigid placing of a sheet: area-weighted centroid at the origin, mean normal along +z. Sheets whose
 * normals cancel (tubes, twisted bands) are placed by the axis of their rings instead.
 */

import { type Metric, SPRING_COURSE } from '../../gauge/metric.ts';

/** Mean normal shorter than this share of 1 is no direction. Chosen. */
const LEAST_NORMAL = 0.05;

/** Writes the unit axis of the sheet into `axis`. */
export function sheetAxis(metric: Metric, x: Float64Array, axis: Float64Array): void {
  const { triangles } = metric;
  axis.fill(0);
  let total = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const ux = x[b] - x[a];
    const uy = x[b + 1] - x[a + 1];
    const uz = x[b + 2] - x[a + 2];
    const vx = x[c] - x[a];
    const vy = x[c + 1] - x[a + 1];
    const vz = x[c + 2] - x[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    axis[0] += nx;
    axis[1] += ny;
    axis[2] += nz;
    total += Math.sqrt(nx * nx + ny * ny + nz * nz);
  }
  if (normalize(axis) > LEAST_NORMAL * total) return;
  ringAxis(metric, x, axis);
  if (!(normalize(axis) > 0)) axis.set([0, 0, 1]);
}

/** Axis of the rings: sum of (place on the ring) × (step along the ring) over the course springs. */
function ringAxis(metric: Metric, x: Float64Array, axis: Float64Array): void {
  const { springs, springKind, ring, vertices } = metric;
  const centre = [0, 0, 0];
  for (let v = 0; v < 3 * vertices; v++) centre[v % 3] += x[v] / vertices;
  axis.fill(0);
  for (let s = 0; s < springKind.length; s++) {
    if (springKind[s] !== SPRING_COURSE) continue;
    const i = springs[2 * s];
    const j = springs[2 * s + 1];
    let ahead = ring.turn[j] - ring.turn[i];
    if (ahead > 0.5) ahead -= 1;
    else if (ahead < -0.5) ahead += 1;
    // Rings run clockwise about the axis when `clockwise` is +1.
    const sign = -Math.sign(ahead) * ring.clockwise;
    const px = x[3 * i] - centre[0];
    const py = x[3 * i + 1] - centre[1];
    const pz = x[3 * i + 2] - centre[2];
    const dx = x[3 * j] - x[3 * i];
    const dy = x[3 * j + 1] - x[3 * i + 1];
    const dz = x[3 * j + 2] - x[3 * i + 2];
    axis[0] += sign * (py * dz - pz * dy);
    axis[1] += sign * (pz * dx - px * dz);
    axis[2] += sign * (px * dy - py * dx);
  }
}

function normalize(a: Float64Array): number {
  const length = Math.hypot(a[0], a[1], a[2]);
  if (length > 0) for (let d = 0; d < 3; d++) a[d] /= length;
  return length;
}

/** The way that a table faces. */
export const UP = Float64Array.of(0, 0, 1);

/** Extent of the sheet along its axis, mm. */
export function riseAlong(x: Float64Array, axis: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < x.length; k += 3) {
    const t = x[k] * axis[0] + x[k + 1] * axis[1] + x[k + 2] * axis[2];
    if (t < low) low = t;
    if (t > high) high = t;
  }
  return high - low;
}

/** Moves the sheet in place by the shortest turn that puts its axis on +z. */
export function alignSheet(metric: Metric, x: Float64Array): void {
  const axis = new Float64Array(3);
  sheetAxis(metric, x, axis);
  const [a, b, c] = axis;
  // Rodrigues' rotation about (b, −a, 0); for c near −1 turn half way round about x instead.
  const down = c < -0.999999;
  const k = down ? 0 : 1 / (1 + c);
  const rows = down
    ? [1, 0, 0, 0, -1, 0, 0, 0, -1]
    : [1 - k * a * a, -k * a * b, -a, -k * a * b, 1 - k * b * b, -b, a, b, c];
  const area = metric.areaMm2;
  let total = 0;
  const centre = [0, 0, 0];
  for (let v = 0; v < metric.vertices; v++) {
    total += area[v];
    for (let d = 0; d < 3; d++) centre[d] += area[v] * x[3 * v + d];
  }
  if (total > 0) for (let d = 0; d < 3; d++) centre[d] /= total;
  for (let v = 0; v < metric.vertices; v++) {
    const px = x[3 * v] - centre[0];
    const py = x[3 * v + 1] - centre[1];
    const pz = x[3 * v + 2] - centre[2];
    x[3 * v] = rows[0] * px + rows[1] * py + rows[2] * pz;
    x[3 * v + 1] = rows[3] * px + rows[4] * py + rows[5] * pz;
    x[3 * v + 2] = rows[6] * px + rows[7] * py + rows[8] * pz;
  }
}
