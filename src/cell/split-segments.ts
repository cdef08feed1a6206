/**
 * A strand with some of its segments cut into equal parts, so that yarn that will be lengthened can still bend.
 * In: an open strand with its rest lengths, the segments from and to (not included), parts. Out: the strand, and where its old
 * segments begin.
 */
import type { Strand } from '../rod/rod-system.ts';

export interface SplitStrand {
  readonly cut: Strand;
  /** [segments + 1] first new segment of each old one; the last is their number. */
  readonly first: Int32Array;
}

export function splitSegments(
  { points, rest }: Strand & { readonly rest: ArrayLike<number> },
  from: number,
  to: number,
  parts: number,
): SplitStrand {
  const nodes: number[] = [];
  const lengths: number[] = [];
  const first = new Int32Array(rest.length + 1);
  for (let k = 0; k < rest.length; k++) {
    const pieces = k >= from && k < to ? parts : 1;
    for (let piece = 0; piece < pieces; piece++) {
      const f = piece / pieces;
      for (let i = 3 * k; i < 3 * k + 3; i++) nodes.push((1 - f) * points[i] + f * points[i + 3]);
      lengths.push(rest[k] / pieces);
    }
    first[k + 1] = lengths.length;
  }
  for (let i = 3 * rest.length; i < points.length; i++) nodes.push(points[i]);
  const cut = {
    points: Float64Array.from(nodes),
    closed: false,
    rest: Float64Array.from(lengths),
  };
  return { cut, first };
}
