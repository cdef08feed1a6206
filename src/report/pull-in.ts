/** How much the cables pull the piece in: per side, at the course where it is most, and at the rim. */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';
import type { PullIn } from './report.ts';

export function measurePullIn(
  measured: MeasuredMetric,
  corners: number,
  stitchMm: number,
): PullIn | null {
  const { rings } = measured.layout;
  const sides = Math.max(1, corners);
  let most = 0;
  let round = -1;
  for (let c = 0; c < rings.courses; c++) {
    const pulledMm = courseSum(measured, measured.size.pulledInMm, c);
    if (pulledMm <= most + 1e-9) continue;
    most = pulledMm;
    round = c;
  }
  if (round < 0) return null;
  const widthMm = courseSum(measured, measured.size.stitchMm, round);
  const rim = measured.turning.outsideIn ? 0 : rings.courses - 1;
  const rimMm = courseSum(measured, measured.size.pulledInMm, rim);
  return {
    sideMm: most / sides,
    percent: (100 * most) / (widthMm + most),
    stitches: Math.round(most / sides / stitchMm),
    round,
    rimMm: rimMm / sides,
    rimPercent: (100 * rimMm) / (courseSum(measured, measured.size.stitchMm, rim) + rimMm),
  };
}

function courseSum(measured: MeasuredMetric, values: Float64Array, c: number): number {
  const { rings } = measured.layout;
  let sum = 0;
  for (let j = 0; j < ringSize(rings, c); j++) sum += values[rings.start[c] + j];
  return sum;
}
