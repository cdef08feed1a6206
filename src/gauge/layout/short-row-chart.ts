/**
 * Where the loops of short rows lie: each block of rows between two whole ones is a strip whose height varies
 * along the row, and every loop gets a place between its bottom and its top.
 *
 * In: rings, their stitches' sizes, depths of the courses. Out: heights in mm of the block's mean, and how much
 * taller each column is. Rows stop in steps, fabric does not: the steps are drawn as ramps (`ramp-steps.ts`), so
 * that evenly stepped turns make an even sector. Inside, loops are set by least squares: columns want their rounds'
 * heights and courses want to run level.
 */
import { type AffineEdges, leastSquares } from '../../math/least-squares.ts';
import type { LocalSize } from '../texture/local-size.ts';
import { rampSteps } from './ramp-steps.ts';
import type { Rings } from './rings.ts';
import { ringSize } from './rings.ts';
import { type RowBlock, rowBlocks } from './short-row-blocks.ts';

export interface ShortRowChart {
  readonly blocks: readonly ChartedBlock[];
  /** [courses] block that the course was worked in, −1 outside. */
  readonly blockOf: Int32Array;
  /** [loops] depth at which the loop lies: that of its course outside blocks, within one a share of its mean height, mm. */
  readonly upMm: Float64Array;
  /** [loops] the same as a course; between two where the loop lies between their depths. */
  readonly level: Float64Array;
  /** [loops] height of the loop's column over the block's mean: in the block that it was made in … */
  readonly stretch: Float64Array;
  /** … and in the block that it is the bottom of. */
  readonly stretchOver: Float64Array;
}

export interface ChartedBlock extends RowBlock {
  /** [slots of course `from`] height of the block there, mm. */
  readonly heightMm: Float64Array;
}

/** Shear over stretch: how much courses mind running askew beside columns being stretched (as the sheet's springs). */
const LEVEL = 0.3;
/** No column is lower than this share of a round: one that no row has covered yet. Chosen. */
const LEAST_ROUNDS = 0.25;

/** Null where no course is a short row. */
export function chartShortRows(
  rings: Rings,
  size: LocalSize,
  depthMm: Float64Array,
): ShortRowChart | null {
  const found = rowBlocks(rings);
  if (found.length === 0) return null;
  const loops = rings.slot.length;
  const upMm = new Float64Array(loops);
  const level = new Float64Array(loops);
  for (let c = 0; c < rings.courses; c++) {
    for (let flat = rings.start[c]; flat < rings.start[c + 1]; flat++) {
      if (rings.home[flat] !== flat) continue;
      upMm[rings.ids[flat]] = depthMm[c];
      level[rings.ids[flat]] = c;
    }
  }
  const chart = {
    blockOf: new Int32Array(rings.courses).fill(-1),
    upMm,
    level,
    stretch: new Float64Array(loops).fill(1),
    stretchOver: new Float64Array(loops).fill(1),
  };
  const blocks = found.map((block, b) => {
    chart.blockOf.fill(b, block.from + 1, block.to + 1);
    return chartBlock(rings, size, depthMm, block, chart);
  });
  return { ...chart, blocks };
}

/** How much higher loop `j` lies than `i`, measured up their columns, mm; null away from short rows. `course` [loops]. */
export function riseBetween(
  chart: ShortRowChart,
  course: ArrayLike<number>,
  i: number,
  j: number,
): number | null {
  const block = chart.blocks[chart.blockOf[Math.max(course[i], course[j])]];
  if (!block) {
    // Where rounds begin a row of a block lies beside the second round above it.
    const onCourse = Number.isInteger(chart.level[i]) && Number.isInteger(chart.level[j]);
    return onCourse ? null : chart.upMm[j] - chart.upMm[i];
  }
  const tall = (v: number): number =>
    course[v] === block.from ? chart.stretchOver[v] : chart.stretch[v];
  return Math.sqrt(tall(i) * tall(j)) * (chart.upMm[j] - chart.upMm[i]);
}

/** The course at a depth, from `from` to `to`; between two courses a part of the way. */
function levelAt(depthMm: Float64Array, upMm: number, from: number, to: number): number {
  let [low, high] = [from, to];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (depthMm[middle] <= upMm) low = middle;
    else high = middle;
  }
  const height = depthMm[high] - depthMm[low];
  return height > 0 ? low + Math.min(Math.max((upMm - depthMm[low]) / height, 0), 1) : low;
}

function chartBlock(
  rings: Rings,
  size: LocalSize,
  depthMm: Float64Array,
  block: RowBlock,
  chart: Pick<ShortRowChart, 'upMm' | 'level' | 'stretch' | 'stretchOver'>,
): ChartedBlock {
  const { from, to } = block;
  const heightMm = columnHeights(rings, size, block);
  const n = heightMm.length;
  const heightAt = (place: number): number => {
    const low = Math.floor(place);
    const at = (k: number): number =>
      heightMm[rings.closed ? ((k % n) + n) % n : Math.min(Math.max(k, 0), n - 1)];
    return at(low) + (place - low) * (at(low + 1) - at(low));
  };
  const total = depthMm[to] - depthMm[from];
  // [loops] height of each loop's column; 0 for loops outside.
  const tall = new Map<number, number>();
  const edges: AffineEdges = { from: [], to: [], scale: [], want: [], weight: [] };
  const tie = (a: number, b: number, want: number, weight: number): void => {
    edges.from.push(a);
    edges.to.push(b);
    edges.scale.push(Math.sqrt((tall.get(a) ?? 0) * (tall.get(b) ?? 0)));
    edges.want.push(want);
    edges.weight.push(weight);
  };
  const share = new Map<number, number>();
  const fixed = new Set<number>();
  for (let flat = rings.start[from]; flat < rings.start[from + 1]; flat++) {
    const id = rings.ids[flat];
    tall.set(id, heightMm[flat - rings.start[from]]);
    chart.stretchOver[id] = heightMm[flat - rings.start[from]] / total;
    share.set(id, 0);
    fixed.add(id);
  }
  for (let c = from + 1; c <= to; c++) {
    const first = rings.start[c];
    const count = ringSize(rings, c);
    for (let flat = first; flat < first + count; flat++) {
      if (rings.home[flat] !== flat) continue;
      const id = rings.ids[flat];
      tall.set(id, heightAt(block.column[flat - rings.start[from]]));
      chart.stretch[id] = (tall.get(id) ?? 0) / total;
      share.set(id, (depthMm[c] - depthMm[from]) / total);
      if (c === to && block.closed) fixed.add(id);
      const ratio = size.stitchMm[flat] / size.roundMm[flat];
      for (let k = rings.downStart[flat]; k < rings.downStart[flat + 1]; k++) {
        tie(rings.ids[rings.down[k]], id, size.roundMm[flat], ratio);
      }
    }
    for (let j = 0; j < (rings.closed ? count : count - 1); j++) {
      const [a, b] = [first + j, first + ((j + 1) % count)];
      if (rings.home[a] !== a && rings.home[b] !== b) continue;
      tie(rings.ids[a], rings.ids[b], 0, (LEVEL * size.roundMm[a]) / size.stitchMm[a]);
    }
  }
  leastSquares(edges, share, fixed);
  for (const [id, up] of share) {
    if (fixed.has(id)) continue;
    chart.upMm[id] = depthMm[from] + up * total;
    chart.level[id] = levelAt(depthMm, chart.upMm[id], from, to);
  }
  return { ...block, heightMm };
}

/** [slots of the block's bottom] mm, with the turns drawn as ramps. */
function columnHeights(rings: Rings, size: LocalSize, block: RowBlock): Float64Array {
  const { from, to, rounds } = block;
  const n = rounds.length;
  const sum = new Float64Array(n);
  const count = new Float64Array(n);
  let [all, times] = [0, 0];
  for (let flat = rings.start[from + 1]; flat < rings.start[to + 1]; flat++) {
    if (rings.home[flat] !== flat) continue;
    const column = Math.round(block.column[flat - rings.start[from]]);
    const at = rings.closed ? ((column % n) + n) % n : Math.min(Math.max(column, 0), n - 1);
    sum[at] += size.roundMm[flat];
    count[at]++;
    all += size.roundMm[flat];
    times++;
  }
  const smooth = rampSteps(rounds, rings.closed);
  return smooth.map(
    (r, j) => Math.max(r, LEAST_ROUNDS) * (count[j] > 0 ? sum[j] / count[j] : all / times),
  );
}
