/**
 * Which segments may touch: a list with a skin, from a grid of cells (segment-grid.ts), periodic or not.
 *
 * Pairs of the same yarn are left out while the arc gap between their facing ends is under
 * `exclusion` (1.25 diameters for contact). The gap is measured between end points: the gap between
 * midpoints would make next-but-one segments of a bent rod repel each other.
 * Periodic copies are real entries of the grid, so a period may be smaller than the reach.
 */
import type { RodSystem } from './rod-system.ts';
import { buildSegmentGrid, type SegmentGrid } from './segment-grid.ts';

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

/** Which pairs are looked for. */
export interface PairReach {
  /** Distance of centre lines up to which segments are paired. */
  readonly reach: number;
  /** Gap along the same yarn under which they are not. */
  readonly exclusion: number;
  /** [nodes] Pairs of segments that are held (7) at both ends push nothing that could move, and are left out. */
  readonly held?: Uint8Array | null;
}

/**
 * Fills `list` with every pair of segments that may come within the reach. `period` holds the x and y periods, 0
 * where the system is not periodic that way.
 */
export function findPairs(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  { reach, exclusion, held = null }: PairReach,
  list: PairList,
): void {
  list.count = 0;
  const grid = buildSegmentGrid(system, positions, period, reach);
  if (grid)
    collectPairs({ system, grid, reach, exclusion, still: stillSegments(system, held) }, list);
}

/**
 * Finds the pairs of some segments anew, of a system that is not periodic: those of `fresh` ones (1) go, and every pair
 * that one of them makes within the reach is added. All others stay as they are.
 */
export function refreshPairs(
  system: RodSystem,
  positions: Float64Array,
  { reach, exclusion, held = null }: PairReach,
  list: PairList,
  fresh: Uint8Array,
): void {
  dropPairs(list, fresh);
  const grid = buildSegmentGrid(system, positions, NO_PERIOD, reach);
  if (!grid) return;
  collectPairs({ system, grid, reach, exclusion, still: stillSegments(system, held) }, list, fresh);
}

const NO_PERIOD = new Float64Array(2);
/** Half length, over the mean one, beyond which a segment is longer than usual. Chosen: tails and long ways alone are. */
const USUAL = 1.5;

/** Takes the pairs of `fresh` segments out; the others keep their order. */
export function dropPairs(list: PairList, fresh: Uint8Array): void {
  const { first, second, imageX, imageY, count } = list;
  let kept = 0;
  for (let k = 0; k < count; k++) {
    if (fresh[first[k]] | fresh[second[k]]) continue;
    first[kept] = first[k];
    second[kept] = second[k];
    imageX[kept] = imageX[k];
    imageY[kept++] = imageY[k];
  }
  list.count = kept;
}

interface PairSearch {
  readonly system: RodSystem;
  readonly grid: SegmentGrid;
  readonly reach: number;
  readonly exclusion: number;
  /** [segments] 1 where both ends are held. */
  readonly still: Uint8Array;
}

function stillSegments({ segments, tail, head }: RodSystem, held: Uint8Array | null): Uint8Array {
  const still = new Uint8Array(segments);
  if (!held) return still;
  for (let s = 0; s < segments; s++) {
    still[s] = held[tail[s]] === 7 && held[head[s]] === 7 ? 1 : 0;
  }
  return still;
}

/**
 * Adds all pairs: the longer of two segments finds them, so that it need not look farther than its own length. Or those
 * with a `fresh` segment, which finds them where both are of usual length; of two fresh ones the first does, and of segments
 * longer than usual the longer one, fresh or not.
 */
function collectPairs(
  { system, grid, reach, exclusion, still }: PairSearch,
  list: PairList,
  fresh: Uint8Array | null = null,
): void {
  const { strandOf, arc, rest } = system;
  const { mid, half, homeX, homeY, entrySegment, entryX, entryY, entryAt, cellStart, size } = grid;
  const [nx, ny, nz] = grid.counts;
  const [originX, originY, originZ] = grid.origin;
  const plain = openStrands(system);
  const usual = fresh ? USUAL * grid.mean : 0;
  for (let s = 0; s < system.segments; s++) {
    const own = half[s];
    const isLong = own > usual;
    if (fresh && !fresh[s] && !isLong) continue;
    const stays = still[s];
    const strand = strandOf[s];
    const simple = plain[strand] === 1;
    const x = mid[3 * s];
    const y = mid[3 * s + 1];
    const z = mid[3 * s + 2];
    /** Longest segment that this one finds. */
    const most = isLong ? own : usual;
    const look = reach + own + most;
    const x0 = Math.max(Math.floor((x - look - originX) / size), 0);
    const x1 = Math.min(Math.floor((x + look - originX) / size), nx - 1);
    const y0 = Math.max(Math.floor((y - look - originY) / size), 0);
    const y1 = Math.min(Math.floor((y + look - originY) / size), ny - 1);
    const z0 = Math.max(Math.floor((z - look - originZ) / size), 0);
    const z1 = Math.min(Math.floor((z + look - originZ) / size), nz - 1);
    for (let gz = z0; gz <= z1; gz++) {
      for (let gy = y0; gy <= y1; gy++) {
        const row = (gz * ny + gy) * nx;
        for (let k = cellStart[row + x0]; k < cellStart[row + x1 + 1]; k++) {
          const other = entryAt[4 * k + 3];
          if (other > most) continue;
          const dx = entryAt[4 * k] - x;
          const dy = entryAt[4 * k + 1] - y;
          const dz = entryAt[4 * k + 2] - z;
          const far = reach + own + other;
          if (dx * dx + dy * dy + dz * dz > far * far) continue;
          const q = entrySegment[k];
          if (stays & still[q]) continue;
          if (fresh && isLong && !(fresh[s] | fresh[q])) continue;
          if (q < s && (isLong ? other === own : fresh?.[q])) continue;
          let ix = entryX[k] - homeX[q] + homeX[s];
          let iy = entryY[k] - homeY[q] + homeY[s];
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
              strandOf[q] === strand ? gapBetween(arc[s], rest[s], arc[q], rest[q]) : Infinity;
            if (gap < exclusion) continue;
          } else if (arcGap(system, first, second, ix, iy) < exclusion) continue;
          addPair(list, first, second, ix, iy);
        }
      }
    }
  }
}

/** [strands] 1 where a strand neither closes nor runs on in a copy. */
function openStrands({ closed, turnX, turnY }: RodSystem): Uint8Array {
  return closed.map((ring, strand) => (ring || turnX[strand] || turnY[strand] ? 0 : 1));
}
