/**
 * Shelter of the yarn in each tile by the yarn around it, in the frame of the stitch: for strands, what openness is
 * for the baked picture. Output: [4·points] of the tile's entering half, head and leaving half.
 */
import { computeShelter } from './ambient-occlusion.ts';
import { HALO, tileCurves } from './tile-curves.ts';

export interface TileShelter {
  readonly entering: Float32Array;
  readonly head: Float32Array;
  readonly leaving: Float32Array;
}

/** Shelter of an edge's yarn: its inside lies against the fabric. Chosen. */
export const EDGE_SHELTER = Float32Array.from([0, 0, -0.6, 0.9]);

const known = new Map<number, TileShelter>();

export function tileShelter(tile: number): TileShelter {
  let found = known.get(tile);
  if (!found) {
    found = shelterOf(tile);
    known.set(tile, found);
  }
  return found;
}

/** Whole rounds as strands, so that yarn is not sheltered by its own next piece. */
function shelterOf(tile: number): TileShelter {
  const { curves } = tileCurves(tile);
  // Three curves a stitch: entering, head of the loop below, leaving; stitches row by row (tile-curves.ts).
  const at = (row: number, wale: number, k: number) => 3 * (3 * (row + 1) + wale + 1) + k;
  const points: number[] = [];
  const strandStart = [0];
  const first = new Map<number, number>();
  const add = (curve: number) => {
    first.set(curve, points.length / 3);
    points.push(...curves[curve].points);
  };
  for (let row = -2; row <= 1; row++) {
    for (let wale = -1; wale <= 1; wale++) {
      if (row >= -1) add(at(row, wale, 0));
      if (row < 1) add(at(row + 1, wale, 1));
      if (row >= -1) add(at(row, wale, 2));
    }
    strandStart.push(points.length / 3);
  }
  const shelter = computeShelter(points, strandStart, 0.5 * HALO);
  const of = (curve: number) => {
    const from = first.get(curve) ?? 0;
    return shelter.slice(4 * from, 4 * (from + curves[curve].points.length / 3));
  };
  return { entering: of(at(0, 0, 0)), head: of(at(0, 0, 1)), leaving: of(at(0, 0, 2)) };
}
