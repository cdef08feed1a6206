/**
 * Which segments may touch: a list with a skin, from a grid of cells, periodic or not.
 *
 * Pairs of the same yarn are left out while the arc gap between their facing ends is under
 * `exclusion` (1.25 diameters for contact). The gap is measured between end points: the gap between
 * midpoints would make next-but-one segments of a bent rod repel each other.
 * Periodic copies are real entries of the grid, so a period may be smaller than the reach.
 */
import type { RodSystem } from './rod-system.ts';

export interface PairList {
  count: number;
  /** [count] the two segments; the second lies (imageX, imageY) periods away. */
  first: Int32Array;
  second: Int32Array;
  imageX: Int8Array;
  imageY: Int8Array;
}

export function emptyPairList(capacity = 1024): PairList {
  return {
    count: 0,
    first: new Int32Array(capacity),
    second: new Int32Array(capacity),
    imageX: new Int8Array(capacity),
    imageY: new Int8Array(capacity),
  };
}

function grow(list: PairList): void {
  const capacity = 2 * list.first.length;
  const widen = <T extends Int32Array | Int8Array>(old: T, next: T): T => {
    next.set(old);
    return next;
  };
  list.first = widen(list.first, new Int32Array(capacity));
  list.second = widen(list.second, new Int32Array(capacity));
  list.imageX = widen(list.imageX, new Int8Array(capacity));
  list.imageY = widen(list.imageY, new Int8Array(capacity));
}

/** Appends a pair and returns its index. */
export function addPair(
  list: PairList,
  first: number,
  second: number,
  imageX: number,
  imageY: number,
): number {
  if (list.count === list.first.length) grow(list);
  list.first[list.count] = first;
  list.second[list.count] = second;
  list.imageX[list.count] = imageX;
  list.imageY[list.count] = imageY;
  return list.count++;
}

/**
 * Arc gap between the facing ends of two segments of the same yarn; Infinity for different yarns.
 * `imageX`, `imageY`: periods from the first segment's copy to the second's.
 */
export function arcGap(
  system: RodSystem,
  first: number,
  second: number,
  imageX: number,
  imageY: number,
): number {
  const strand = system.strandOf[first];
  if (system.strandOf[second] !== strand) return Infinity;
  const { arc, rest } = system;
  const turnX = system.turnX[strand];
  const turnY = system.turnY[strand];
  const length = system.length[strand];
  const a = arc[first];
  const b = arc[second];
  if (turnX === 0 && turnY === 0) {
    if (imageX !== 0 || imageY !== 0) return Infinity;
    const gap = gapBetween(a, rest[first], b, rest[second]);
    if (!system.closed[strand]) return gap;
    return Math.min(
      gap,
      gapBetween(a, rest[first], b + length, rest[second]),
      gapBetween(a, rest[first], b - length, rest[second]),
    );
  }
  const turns = turnX !== 0 ? imageX / turnX : imageY / turnY;
  if (!Number.isInteger(turns) || turns * turnX !== imageX || turns * turnY !== imageY) {
    return Infinity;
  }
  return gapBetween(a, rest[first], b + turns * length, rest[second]);
}

/** Gap between two pieces of arc that begin at a and b. */
function gapBetween(a: number, lengthA: number, b: number, lengthB: number): number {
  return a < b ? b - a - lengthA : a - b - lengthB;
}

/**
 * Fills `list` with every pair of segments that may come within `reach` (centre line to centre line).
 * `period` holds the x and y periods, 0 where the system is not periodic that way. Pairs of segments that
 * are `held` (7) at both ends push nothing that could move, and are left out.
 */
export function findPairs(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  reach: number,
  exclusion: number,
  list: PairList,
  held: Uint8Array | null = null,
): void {
  const { segments, tail, head } = system;
  const mid = new Float64Array(3 * segments);
  const half = new Float64Array(segments);
  const homeX = new Int32Array(segments);
  const homeY = new Int32Array(segments);
  let longest = 0;
  let total = 0;
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let s = 0; s < segments; s++) {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    let square = 0;
    for (let c = 0; c < 3; c++) {
      const image =
        c === 0 ? system.imageX[s] * period[0] : c === 1 ? system.imageY[s] * period[1] : 0;
      const end = positions[b + c] + image;
      const d = end - positions[a + c];
      square += d * d;
      let m = 0.5 * (end + positions[a + c]);
      if (c < 2 && period[c] > 0) {
        const turns = Math.floor(m / period[c]);
        m -= turns * period[c];
        if (c === 0) homeX[s] = turns;
        else homeY[s] = turns;
      }
      mid[3 * s + c] = m;
      if (m < low[c]) low[c] = m;
      if (m > high[c]) high[c] = m;
    }
    half[s] = 0.5 * Math.sqrt(square);
    if (half[s] > longest) longest = half[s];
    total += 2 * half[s];
  }
  if (!Number.isFinite(total)) {
    list.count = 0;
    return;
  }
  const range = reach + 2 * longest;
  // Copies of segments in a margin of one range round the home cell.
  const spanX = period[0] > 0 ? Math.ceil(range / period[0]) : 0;
  const spanY = period[1] > 0 ? Math.ceil(range / period[1]) : 0;
  const most = segments * (2 * spanX + 1) * (2 * spanY + 1);
  const entrySegment = new Int32Array(most);
  const entryX = new Int8Array(most);
  const entryY = new Int8Array(most);
  let entries = 0;
  for (let s = 0; s < segments; s++) {
    for (let ix = -spanX; ix <= spanX; ix++) {
      const x = mid[3 * s] + ix * period[0];
      if (x < low[0] - range || x > high[0] + range) continue;
      for (let iy = -spanY; iy <= spanY; iy++) {
        const y = mid[3 * s + 1] + iy * period[1];
        if (y < low[1] - range || y > high[1] + range) continue;
        entrySegment[entries] = s;
        entryX[entries] = ix;
        entryY[entries++] = iy;
      }
    }
  }
  const originX = low[0] - (spanX > 0 ? range : 0);
  const originY = low[1] - (spanY > 0 ? range : 0);
  const extentX = high[0] - low[0] + (spanX > 0 ? 2 * range : 0);
  const extentY = high[1] - low[1] + (spanY > 0 ? 2 * range : 0);
  const extentZ = high[2] - low[2];
  // Cells for segments of usual length; longer ones look further (below).
  let size = reach + total / segments;
  // Far-flung points must not cost memory: cells grow until there are at most a few per entry.
  const cellsFor = (edge: number) =>
    (Math.floor(extentX / edge) + 1) *
    (Math.floor(extentY / edge) + 1) *
    (Math.floor(extentZ / edge) + 1);
  while (cellsFor(size) > 4 * entries + 64) size *= 1.5;
  const nx = Math.floor(extentX / size) + 1;
  const ny = Math.floor(extentY / size) + 1;
  const nz = Math.floor(extentZ / size) + 1;
  const cellOf = new Int32Array(entries);
  const cellStart = new Int32Array(nx * ny * nz + 1);
  for (let e = 0; e < entries; e++) {
    const s = entrySegment[e];
    const cx = Math.floor((mid[3 * s] + entryX[e] * period[0] - originX) / size);
    const cy = Math.floor((mid[3 * s + 1] + entryY[e] * period[1] - originY) / size);
    const cz = Math.floor((mid[3 * s + 2] - low[2]) / size);
    const cell =
      (Math.min(Math.max(cz, 0), nz - 1) * ny + Math.min(Math.max(cy, 0), ny - 1)) * nx +
      Math.min(Math.max(cx, 0), nx - 1);
    cellOf[e] = cell;
    cellStart[cell + 1]++;
  }
  for (let c = 0; c < nx * ny * nz; c++) cellStart[c + 1] += cellStart[c];
  const order = new Int32Array(entries);
  const fill = cellStart.slice();
  for (let e = 0; e < entries; e++) order[fill[cellOf[e]]++] = e;
  // Midpoint and half length of each entry in the order of the cells: neighbours lie side by side.
  const sorted = new Float64Array(4 * entries);
  for (let k = 0; k < entries; k++) {
    const e = order[k];
    const q = entrySegment[e];
    sorted[4 * k] = mid[3 * q] + entryX[e] * period[0];
    sorted[4 * k + 1] = mid[3 * q + 1] + entryY[e] * period[1];
    sorted[4 * k + 2] = mid[3 * q + 2];
    sorted[4 * k + 3] = half[q];
  }

  const plain = Uint8Array.from(system.closed, (closed, strand) =>
    closed || system.turnX[strand] || system.turnY[strand] ? 0 : 1,
  );
  const still = new Uint8Array(segments);
  if (held) {
    for (let s = 0; s < segments; s++) {
      still[s] = held[tail[s]] === 7 && held[head[s]] === 7 ? 1 : 0;
    }
  }
  list.count = 0;
  for (let s = 0; s < segments; s++) {
    const stays = still[s];
    const strand = system.strandOf[s];
    const simple = plain[strand] === 1;
    const x = mid[3 * s];
    const y = mid[3 * s + 1];
    const z = mid[3 * s + 2];
    const own = half[s];
    // The longer of two segments finds the pair: partners are no longer than s.
    const look = reach + 2 * own;
    const x0 = Math.max(Math.floor((x - look - originX) / size), 0);
    const x1 = Math.min(Math.floor((x + look - originX) / size), nx - 1);
    const y0 = Math.max(Math.floor((y - look - originY) / size), 0);
    const y1 = Math.min(Math.floor((y + look - originY) / size), ny - 1);
    const z0 = Math.max(Math.floor((z - look - low[2]) / size), 0);
    const z1 = Math.min(Math.floor((z + look - low[2]) / size), nz - 1);
    for (let gz = z0; gz <= z1; gz++) {
      for (let gy = y0; gy <= y1; gy++) {
        const row = (gz * ny + gy) * nx;
        for (let k = cellStart[row + x0]; k < cellStart[row + x1 + 1]; k++) {
          const other = sorted[4 * k + 3];
          if (other > own) continue;
          const dx = sorted[4 * k] - x;
          const dy = sorted[4 * k + 1] - y;
          const dz = sorted[4 * k + 2] - z;
          const far = reach + own + other;
          if (dx * dx + dy * dy + dz * dz > far * far) continue;
          const e = order[k];
          const q = entrySegment[e];
          if (stays & still[q]) continue;
          if (other === own && q < s) continue;
          let ix = entryX[e] - homeX[q] + homeX[s];
          let iy = entryY[e] - homeY[q] + homeY[s];
          // A segment meets its own copies: each pair of copies once.
          if (q === s && (ix < 0 || (ix === 0 && iy <= 0))) continue;
          const swap = q < s;
          const first = swap ? q : s;
          const second = swap ? s : q;
          if (swap) {
            // Never a negative zero, which is no integer to the engine.
            ix = 0 - ix;
            iy = 0 - iy;
          }
          if (simple) {
            // An open strand has no copies of itself: the gap is that between two pieces of arc.
            const gap =
              system.strandOf[q] === strand
                ? gapBetween(system.arc[s], system.rest[s], system.arc[q], system.rest[q])
                : Infinity;
            if (gap < exclusion) continue;
          } else if (arcGap(system, first, second, ix, iy) < exclusion) continue;
          addPair(list, first, second, ix, iy);
        }
      }
    }
  }
}
