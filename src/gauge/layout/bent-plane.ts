/**
 * An open strip with short rows laid out in the plane: whole rows go straight on, a block of short rows turns about
 * where its rows would meet. In: layout, chart, [vertices] place along the row (0 … 1), length of each course, mm.
 * Out: [3·vertices] mm, z = 0. The start that the sheet is relaxed from, and what it is pressed from.
 */
import type { Layout } from './layout.ts';
import { ringSize } from './rings.ts';
import type { ChartedBlock, ShortRowChart } from './short-row-chart.ts';

export function bentPlane(
  layout: Layout,
  chart: ShortRowChart,
  turn: Float64Array,
  perimeterMm: Float64Array,
): Float64Array {
  const { rings, depthMm } = layout;
  const out = new Float64Array(3 * turn.length);
  // The course that is laid: its middle, and the direction of the wales.
  let [ox, oy, angle, base] = [0, 0, 0, 0];
  for (let c = 0; c < rings.courses; c++) {
    const block = chart.blocks[chart.blockOf[c]];
    const bend = block ? bendOf(block, perimeterMm[block.from]) : null;
    for (let j = 0; j < ringSize(rings, c); j++) {
      const flat = rings.start[c] + j;
      if (rings.home[flat] !== flat) continue;
      const id = rings.ids[flat];
      const aside = (turn[id] - 0.5) * perimeterMm[c];
      const up = chart.upMm[id] - base;
      const [x, y] = step(aside, up, block, bend, depthMm);
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      out[3 * id] = ox + cos * x - sin * y;
      out[3 * id + 1] = oy + sin * x + cos * y;
    }
    const ends = block ? c === block.to : true;
    if (!ends) continue;
    const [x, y, turned] = step(0, depthMm[c] - base, block, bend, depthMm);
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    ox += cos * x - sin * y;
    oy += sin * x + cos * y;
    angle += turned;
    base = depthMm[c];
  }
  return out;
}

/** Rad that the block turns the strip by, and its height at the middle, mm: a straight line through its heights. */
export function bendOf(
  { heightMm }: ChartedBlock,
  widthMm: number,
): { rad: number; middleMm: number } {
  const n = heightMm.length;
  let [mean, slope, square] = [0, 0, 0];
  for (let j = 0; j < n; j++) {
    const x = ((j + 0.5) / n - 0.5) * widthMm;
    mean += heightMm[j] / n;
    slope += x * heightMm[j];
    square += x * x;
  }
  return { rad: square > 0 ? slope / square : 0, middleMm: mean };
}

/** Place beside and above the middle of the course below, and how far the wales have turned there. */
function step(
  aside: number,
  up: number,
  block: ChartedBlock | undefined,
  bend: { rad: number; middleMm: number } | null,
  depthMm: Float64Array,
): [number, number, number] {
  if (!block || !bend || Math.abs(bend.rad) < 1e-6) return [aside, up, 0];
  const turned = (bend.rad * up) / (depthMm[block.to] - depthMm[block.from]);
  const centre = -bend.middleMm / bend.rad;
  const reach = aside - centre;
  return [centre + reach * Math.cos(turned), reach * Math.sin(turned), turned];
}
