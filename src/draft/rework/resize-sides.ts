/**
 * Sides of another length: their panels whole, with the ground between them in the same proportions.
 *
 * In: the sides of a piece, right to left, and by how many stitches each is to grow. Out: the columns of each
 * side, new ones among them, or null where the panels leave no room.
 */
import type { WorkedColumns } from './column-model.ts';
import type { SideFabric } from './panel-columns.ts';

export interface ResizedSides {
  readonly sides: readonly (readonly number[])[];
  /** The piece's columns with the new ones; each new one stands where the one it copies does. */
  readonly worked: WorkedColumns;
  /** Whether a side whose panels stood even about its middle has them off it now. */
  readonly offMiddle: boolean;
}

/** Ground stitches that stay between two panels, and between a panel and the corner. Chosen. */
const MIN_GROUND = 1;

/** `halves`: whether the last side goes on in the first one, as where a round begins inside a side. */
export function resizeSides(
  worked: WorkedColumns,
  sides: readonly (readonly number[])[],
  fabric: SideFabric,
  growth: readonly number[],
  halves = false,
): ResizedSides | null {
  const order = [...worked.order];
  const copy = (like: number, step: number): number => order.push(order[like] + step) - 1;
  const stretches = sides.map((side) => stretchesOf(side, fabric.ground));
  const lengths = stretches.map((side, k) => shareOut(groundLengths(side), growth[k]));
  if (!lengths.every((each) => each !== null)) return null;
  if (halves) likeHalves(stretches, lengths);
  const fresh = stretches.map((side, k) => {
    let next = 0;
    return side.flatMap(({ columns, ground }) =>
      ground ? resized(columns, lengths[k][next++], copy) : columns,
    );
  });
  // Halves have no middle of their own; the whole sides beside them tell.
  const isHalf = (k: number) => halves && (k === 0 || k === sides.length - 1);
  const offMiddle = stretches.some(
    (side, k) =>
      !isHalf(k) && isEven(groundLengths(side)) && !isEven(lengths[k] as readonly number[]),
  );
  return { sides: fresh, worked: { ...worked, columns: order.length, order }, offMiddle };
}

/** The same from either end. */
const isEven = (lengths: readonly number[]) => lengths.every((n, i) => n === lengths.at(-1 - i));

const groundLengths = (side: readonly Stretch[]) =>
  side.flatMap(({ columns, ground }) => (ground ? [columns.length] : []));

/**
 * The halves of a side are resized each by itself, since each has a corner of its own; the sides like them follow, so
 * that all are alike.
 */
function likeHalves(sides: readonly (readonly Stretch[])[], lengths: (readonly number[])[]): void {
  const [first, last] = [0, sides.length - 1];
  const meets = sides[last][sides[last].length - 1]?.ground && sides[first][0]?.ground;
  const joined = (ends: readonly number[], begins: readonly number[]) =>
    meets
      ? [...ends.slice(0, -1), ends[ends.length - 1] + begins[0], ...begins.slice(1)]
      : [...ends, ...begins];
  const own = joined(groundLengths(sides[last]), groundLengths(sides[first])).join();
  const now = joined(lengths[last], lengths[first]);
  const total = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
  for (let k = 1; k < last; k++)
    if (groundLengths(sides[k]).join() === own && total(lengths[k]) === total(now))
      lengths[k] = now;
}

interface Stretch {
  readonly ground: boolean;
  readonly columns: readonly number[];
}

/** Ground and panels by turns; a side that begins or ends with a panel has no ground there. */
function stretchesOf(side: readonly number[], ground: ReadonlySet<number>): Stretch[] {
  const stretches: { ground: boolean; columns: number[] }[] = [];
  for (const column of side) {
    const last = stretches[stretches.length - 1];
    if (last && last.ground === ground.has(column)) last.columns.push(column);
    else stretches.push({ ground: ground.has(column), columns: [column] });
  }
  return stretches;
}

/** Lengths in proportion to those given, `growth` more in all; null where a stretch would be used up. */
export function shareOut(lengths: readonly number[], growth: number): number[] | null {
  const total = lengths.reduce((a, b) => a + b, 0);
  const wanted = total + growth;
  const least = lengths.map((length) => Math.min(length, MIN_GROUND));
  if (wanted < least.reduce((a, b) => a + b, 0) || (total === 0 && growth !== 0)) return null;
  const exact = lengths.map((length) => (length * wanted) / Math.max(1, total));
  const shares = exact.map((x, i) => Math.max(least[i], Math.floor(x + 1e-9)));
  const left = wanted - shares.reduce((a, b) => a + b, 0);
  const mirrored = lengths.every((length, i) => length === lengths[lengths.length - 1 - i]);
  const room = { exact, shares, least, sign: Math.sign(left) };
  if (mirrored && lengths.length % 2 === 1) giveMirrored(room, Math.abs(left));
  else for (let k = 0; k < Math.abs(left); k++) room.shares[mostOff(room)] += room.sign;
  return shares;
}

interface Room {
  readonly exact: readonly number[];
  readonly shares: number[];
  readonly least: readonly number[];
  /** Whether stitches are given or taken. */
  readonly sign: number;
}

/** A side that mirrors itself goes on doing so: an odd stitch is its middle's, the others go by pairs. */
function giveMirrored({ exact, shares, least, sign }: Room, stitches: number): void {
  const last = exact.length - 1;
  const middle = last >> 1;
  const off = (i: number) => sign * (exact[i] - shares[i]);
  const spare = (i: number, count: number) => sign > 0 || shares[i] - count >= least[i];
  let left = stitches;
  if (left % 2 === 1 && spare(middle, 1)) {
    shares[middle] += sign;
    left--;
  }
  for (; left > 1; left -= 2) {
    // Two stitches in the middle, or one at either side of it.
    let best = spare(middle, 2) ? middle : -1;
    let most = best < 0 ? Number.NEGATIVE_INFINITY : off(middle) - 0.5;
    for (let i = 0; i < middle; i++) if (spare(i, 1) && off(i) > most) [best, most] = [i, off(i)];
    if (best < 0) break;
    shares[best] += sign;
    shares[last - best] += sign;
  }
  for (; left > 0; left--) shares[mostOff({ exact, shares, least, sign })] += sign;
}

/** The stretch that is farthest from its share. */
function mostOff({ exact, shares, least, sign }: Room): number {
  const off = (i: number) => sign * (exact[i] - shares[i]);
  let best = -1;
  for (let i = 0; i < exact.length; i++) {
    if (sign < 0 && shares[i] <= least[i]) continue;
    if (best < 0 || off(i) > off(best) + 1e-9) best = i;
  }
  return best;
}

/** Far smaller than the distance of neighbours in the pattern's order. */
const STEP = 1e-5;

/** The stretch longer or shorter in its middle. */
function resized(
  columns: readonly number[],
  length: number,
  copy: (like: number, step: number) => number,
): number[] {
  const half = columns.length >> 1;
  if (length <= columns.length) {
    const right = Math.min(half, length >> 1);
    return [...columns.slice(0, right), ...columns.slice(columns.length - (length - right))];
  }
  const like = columns[half];
  const made = Array.from({ length: length - columns.length }, (_, i) =>
    copy(like, (i + 1) * STEP),
  );
  return [...columns.slice(0, half + 1), ...made, ...columns.slice(half + 1)];
}
