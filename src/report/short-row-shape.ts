/**
 * What short rows do to the piece: how far an open strip bends, and how much deeper the piece is in one place than
 * in another. In: MeasuredMetric. Out: degrees and mm; null without short rows.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { bendOf } from '../gauge/layout/bent-plane.ts';

export interface ShortRowShape {
  /** Angle between the cast-on and the last row of an open piece, without its sign; null for a closed one. */
  readonly bendDeg: number | null;
  /** Deepest less shallowest column, of what the blocks of short rows add. */
  readonly deeperMm: number;
}

/** Places along the row at which the depths are compared. Chosen: a stitch or two apart. */
const PLACES = 128;

export function shortRowShape({
  shortRows,
  layout,
  turning,
}: MeasuredMetric): ShortRowShape | null {
  if (!shortRows) return null;
  const depth = new Float64Array(PLACES);
  let bend = 0;
  for (const block of shortRows.blocks) {
    const n = block.heightMm.length;
    for (let k = 0; k < PLACES; k++) {
      depth[k] += block.heightMm[Math.min(n - 1, Math.floor(((k + 0.5) / PLACES) * n))];
    }
    bend += bendOf(block, turning.perimeterMm[block.from]).rad;
  }
  return {
    bendDeg: layout.closed ? null : (Math.abs(bend) * 180) / Math.PI,
    deeperMm: Math.max(...depth) - Math.min(...depth),
  };
}
