/** What re-timing a plan needs to know of its metric: how wide a course of so many stitches is. */
import type { CourseWidths } from '../draft/search/level-gap.ts';
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';

/** Mean width of the courses of each stitch count, unsmoothed. */
export function courseWidths(measured: MeasuredMetric, corners: number): CourseWidths {
  const { layout, size } = measured;
  const { rings } = layout;
  const byCount = new Map<number, { sum: number; courses: number }>();
  for (let c = 0; c < rings.courses; c++) {
    const n = ringSize(rings, c);
    const entry = byCount.get(n) ?? { sum: 0, courses: 0 };
    for (let j = 0; j < n; j++) entry.sum += size.stitchMm[rings.start[c] + j];
    entry.courses++;
    byCount.set(n, entry);
  }
  const stitches = [...byCount.keys()].filter((n) => n > 0).sort((a, b) => a - b);
  const rounds = Math.max(1, rings.courses - 1);
  return {
    stitches,
    widthMm: stitches.map((n) => {
      const { sum, courses } = byCount.get(n) ?? { sum: 0, courses: 1 };
      return sum / courses;
    }),
    roundMm: Math.abs(layout.depthMm[rings.courses - 1] - layout.depthMm[0]) / rounds,
    corners,
  };
}
