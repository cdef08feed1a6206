/**
 * The segments of a RodSystem in a grid of cells, periodic copies included: what lies near a segment is found without
 * looking at all. In: a system, positions, periods (0 where not periodic), the distance to be looked up. Out: the grid.
 */
import type { RodSystem } from './rod-system.ts';

/** Midpoints and half lengths of segments, each in the home cell of the periods. */
interface MeasuredSegments {
  /** [3·segments] */
  readonly mid: Float64Array;
  readonly half: Float64Array;
  /** [segments] periods from the home cell to where the segment is. */
  readonly homeX: Int32Array;
  readonly homeY: Int32Array;
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly longest: number;
  readonly mean: number;
  /** Sum of all lengths; not finite where positions are not. */
  readonly total: number;
}

export interface SegmentGrid extends MeasuredSegments {
  /** Entries are segments and those of their copies that lie near the home cell, in the order of the cells. */
  readonly entrySegment: Int32Array;
  /** [entries] periods from the home cell to the copy. */
  readonly entryX: Int8Array;
  readonly entryY: Int8Array;
  /** [4·entries] midpoint and half length. */
  readonly entryAt: Float64Array;
  /** [cells + 1] first entry of each cell; x runs fastest, then y. */
  readonly cellStart: Int32Array;
  readonly counts: readonly [number, number, number];
  readonly origin: readonly [number, number, number];
  /** Edge of a cell. */
  readonly size: number;
}

/** null where positions are not finite. */
export function buildSegmentGrid(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  reach: number,
): SegmentGrid | null {
  const measured = measureSegments(system, positions, period);
  const { low, high, longest, total } = measured;
  if (!Number.isFinite(total)) return null;
  const range = reach + 2 * longest;
  // Copies of segments in a margin of one range round the home cell.
  const spanX = period[0] > 0 ? Math.ceil(range / period[0]) : 0;
  const spanY = period[1] > 0 ? Math.ceil(range / period[1]) : 0;
  const copies = listCopies(measured, period, range, spanX, spanY);
  const marginX = spanX > 0 ? range : 0;
  const marginY = spanY > 0 ? range : 0;
  const origin = [low[0] - marginX, low[1] - marginY, low[2]] as const;
  const extent = [
    high[0] - low[0] + 2 * marginX,
    high[1] - low[1] + 2 * marginY,
    high[2] - low[2],
  ] as const;
  // Cells for segments of usual length; longer ones look further.
  let size = reach + 2 * measured.mean;
  // Far-flung points must not cost memory: cells grow until there are at most a few per entry.
  const countsFor = (edge: number) => extent.map((e) => Math.floor(e / edge) + 1);
  let [nx, ny, nz] = countsFor(size);
  while (nx * ny * nz > 4 * copies.count + 64) {
    size *= 1.5;
    [nx, ny, nz] = countsFor(size);
  }
  const counts = [nx, ny, nz] as const;
  return {
    ...measured,
    counts,
    origin,
    size,
    ...sortIntoCells(measured, period, copies, counts, origin, size),
  };
}

function measureSegments(
  { segments, tail, head, imageX, imageY }: RodSystem,
  positions: Float64Array,
  period: Float64Array,
): MeasuredSegments {
  const mid = new Float64Array(3 * segments);
  const half = new Float64Array(segments);
  const homeX = new Int32Array(segments);
  const homeY = new Int32Array(segments);
  const [periodX, periodY] = period;
  let longest = 0;
  let total = 0;
  for (let s = 0; s < segments; s++) {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    const ux = positions[b] - positions[a] + imageX[s] * periodX;
    const uy = positions[b + 1] - positions[a + 1] + imageY[s] * periodY;
    const uz = positions[b + 2] - positions[a + 2];
    let x = positions[a] + 0.5 * ux;
    let y = positions[a + 1] + 0.5 * uy;
    if (periodX > 0) {
      homeX[s] = Math.floor(x / periodX);
      x -= homeX[s] * periodX;
    }
    if (periodY > 0) {
      homeY[s] = Math.floor(y / periodY);
      y -= homeY[s] * periodY;
    }
    mid[3 * s] = x;
    mid[3 * s + 1] = y;
    mid[3 * s + 2] = positions[a + 2] + 0.5 * uz;
    const length = Math.sqrt(ux * ux + uy * uy + uz * uz);
    half[s] = 0.5 * length;
    if (half[s] > longest) longest = half[s];
    total += length;
  }
  const [low, high] = boundsOf(mid);
  const mean = (0.5 * total) / segments;
  return { mid, half, homeX, homeY, low, high, longest, mean, total };
}

function boundsOf(points: Float64Array): [number[], number[]] {
  let [lowX, lowY, lowZ, highX, highY, highZ] = [
    Infinity,
    Infinity,
    Infinity,
    -Infinity,
    -Infinity,
    -Infinity,
  ];
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    if (x < lowX) lowX = x;
    if (x > highX) highX = x;
    if (y < lowY) lowY = y;
    if (y > highY) highY = y;
    if (z < lowZ) lowZ = z;
    if (z > highZ) highZ = z;
  }
  return [
    [lowX, lowY, lowZ],
    [highX, highY, highZ],
  ];
}

interface Copies {
  readonly segment: Int32Array;
  readonly x: Int8Array;
  readonly y: Int8Array;
  readonly count: number;
}

/** Segments and their copies up to so many periods away that lie within `range` of the home cell's segments. */
function listCopies(
  { mid, half, low, high }: MeasuredSegments,
  period: Float64Array,
  range: number,
  spanX: number,
  spanY: number,
): Copies {
  const segments = half.length;
  const most = segments * (2 * spanX + 1) * (2 * spanY + 1);
  const segment = new Int32Array(most);
  const copyX = new Int8Array(most);
  const copyY = new Int8Array(most);
  let count = 0;
  for (let s = 0; s < segments; s++) {
    for (let ix = -spanX; ix <= spanX; ix++) {
      const x = mid[3 * s] + ix * period[0];
      if (x < low[0] - range || x > high[0] + range) continue;
      for (let iy = -spanY; iy <= spanY; iy++) {
        const y = mid[3 * s + 1] + iy * period[1];
        if (y < low[1] - range || y > high[1] + range) continue;
        segment[count] = s;
        copyX[count] = ix;
        copyY[count++] = iy;
      }
    }
  }
  return { segment, x: copyX, y: copyY, count };
}

function sortIntoCells(
  { mid, half }: MeasuredSegments,
  period: Float64Array,
  copies: Copies,
  [nx, ny, nz]: readonly [number, number, number],
  [originX, originY, originZ]: readonly [number, number, number],
  size: number,
) {
  const { count } = copies;
  const [periodX, periodY] = period;
  const cellOf = new Int32Array(count);
  const cellStart = new Int32Array(nx * ny * nz + 1);
  for (let e = 0; e < count; e++) {
    const s = 3 * copies.segment[e];
    const cx = Math.floor((mid[s] + copies.x[e] * periodX - originX) / size);
    const cy = Math.floor((mid[s + 1] + copies.y[e] * periodY - originY) / size);
    const cz = Math.floor((mid[s + 2] - originZ) / size);
    const cell =
      (Math.min(Math.max(cz, 0), nz - 1) * ny + Math.min(Math.max(cy, 0), ny - 1)) * nx +
      Math.min(Math.max(cx, 0), nx - 1);
    cellOf[e] = cell;
    cellStart[cell + 1]++;
  }
  for (let c = 0; c < nx * ny * nz; c++) cellStart[c + 1] += cellStart[c];
  const fill = cellStart.slice();
  const entrySegment = new Int32Array(count);
  const entryX = new Int8Array(count);
  const entryY = new Int8Array(count);
  const entryAt = new Float64Array(4 * count);
  for (let e = 0; e < count; e++) {
    const k = fill[cellOf[e]]++;
    const s = copies.segment[e];
    entrySegment[k] = s;
    entryX[k] = copies.x[e];
    entryY[k] = copies.y[e];
    entryAt[4 * k] = mid[3 * s] + copies.x[e] * periodX;
    entryAt[4 * k + 1] = mid[3 * s + 1] + copies.y[e] * periodY;
    entryAt[4 * k + 2] = mid[3 * s + 2];
    entryAt[4 * k + 3] = half[s];
  }
  return { entrySegment, entryX, entryY, entryAt, cellStart };
}
