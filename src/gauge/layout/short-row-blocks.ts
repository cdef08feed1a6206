/**
 * Blocks of rows that short rows make uneven: from a whole course to the next whole one, and where single pairs of
 * short rows step on across the piece with a few whole rows between, all of them together.
 *
 * In: rings. Out: first and last course of each block, the rows in each column, and each loop's column.
 */
import { type Rings, ringSize } from './rings.ts';

export interface RowBlock {
  /** The whole course below the block. */
  readonly from: number;
  /** The last course of the block: whole where `closed`. */
  readonly to: number;
  readonly closed: boolean;
  /** [slots of course `from`] courses worked in the column. */
  readonly rounds: Float64Array;
  /** Slot in course `from` of the column of each loop of courses from … to, by flat index less the first. */
  readonly column: Float64Array;
}

/** Whole rows between two pairs that still act as one wedge. Chosen: as far as loops lend yarn along a row. */
const NEAR_ROWS = 4;

export function rowBlocks(rings: Rings): RowBlock[] {
  const isShort = (c: number): boolean => {
    for (let flat = rings.start[c]; flat < rings.start[c + 1]; flat++) {
      if (rings.home[flat] !== flat) return true;
    }
    return false;
  };
  const blocks: RowBlock[] = [];
  for (let c = 1; c < rings.courses; ) {
    if (!isShort(c)) {
      c++;
      continue;
    }
    let to = c;
    while (to < rings.courses && isShort(to)) to++;
    const closed = to < rings.courses;
    blocks.push(measureBlock(rings, c - 1, closed ? to : to - 1, closed));
    c = to + 1;
  }
  // A row of nothing but seam stitches, or of none, adds no height.
  return together(
    rings,
    blocks.filter(({ rounds }) => rounds.some((n) => n > 0)),
  );
}

function measureBlock(rings: Rings, from: number, to: number, closed: boolean): RowBlock {
  const first = rings.start[from];
  const n = ringSize(rings, from);
  const column = new Float64Array(rings.start[to + 1] - first);
  const rounds = new Float64Array(n);
  for (let j = 0; j < n; j++) column[j] = j;
  for (let c = from + 1; c <= to; c++) {
    const below = ringSize(rings, c - 1);
    const at = (slot: number): number => {
      const turns = rings.closed ? Math.floor(slot / below) : 0;
      const inside = rings.closed ? slot - turns * below : Math.min(Math.max(slot, 0), below - 1);
      return column[rings.start[c - 1] - first + inside] + turns * n;
    };
    const size = ringSize(rings, c);
    let last = Number.NaN;
    for (let j = 0; j < size; j++) {
      const flat = rings.start[c] + j;
      const place = rings.below[flat];
      const low = Math.floor(place);
      const f = place - low;
      column[flat - first] = f === 0 ? at(low) : at(low) + f * (at(low + 1) - at(low));
      if (rings.home[flat] !== flat) continue;
      // The columns that it stands on; two stitches out of one stand on the same.
      for (let k = rings.downStart[flat]; k < rings.downStart[flat + 1]; k++) {
        const below = Math.round(column[rings.down[k] - first]);
        if (below !== last)
          rounds[rings.closed ? ((below % n) + n) % n : Math.min(Math.max(below, 0), n - 1)]++;
        last = below;
      }
    }
  }
  return { from, to, closed, rounds, column };
}

/** Joins blocks of one step each whose turns move on in one direction, a few whole rows apart. */
function together(rings: Rings, blocks: RowBlock[]): RowBlock[] {
  const out: RowBlock[] = [];
  let way = 0;
  let before: Span | null = null;
  for (const block of blocks) {
    const span = spanOf(block);
    const last = out[out.length - 1];
    const step = before && span ? wayOf(before, span) : 0;
    const near = last?.closed && block.from - last.to <= NEAR_ROWS;
    if (near && step !== 0 && (way === 0 || way === step)) {
      out[out.length - 1] = measureBlock(rings, last.from, block.to, block.closed);
      way = step;
    } else {
      out.push(block);
      way = 0;
    }
    before = span;
  }
  return out;
}

/** Columns that have more rows than the rest, as shares of the course. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** Null where a block steps more than once to a side. */
function spanOf({ rounds }: RowBlock): Span | null {
  const most = Math.max(...rounds);
  const least = Math.min(...rounds);
  let [from, to] = [-1, -1];
  for (let j = 0; j < rounds.length; j++) {
    if (rounds[j] !== most && rounds[j] !== least) return null;
    if (rounds[j] !== most) continue;
    if (from >= 0 && to !== j) return null;
    if (from < 0) from = j;
    to = j + 1;
  }
  return most === least ? null : { from: from / rounds.length, to: to / rounds.length };
}

/** +1 where the second span lies within the first, −1 where it holds it, 0 else. */
function wayOf(a: Span, b: Span): -1 | 0 | 1 {
  const hair = 1e-9;
  const inside = b.from >= a.from - hair && b.to <= a.to + hair;
  const holds = a.from >= b.from - hair && a.to <= b.to + hair;
  return inside === holds ? 0 : inside ? 1 : -1;
}
