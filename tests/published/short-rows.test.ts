/**
 * Short rows against plane geometry. A strip whose columns grow evenly from one edge to the other is a slice of a
 * ring: its ends are turned by (difference of heights) / (width between them). Slices side by side add their angles,
 * and a whole turn of them closes. Closed forms: any text on plane sectors; nothing here is fitted.
 */
import { describe, expect, it } from 'vitest';
import { type Knitted, prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

interface Strip {
  readonly sts: number;
  readonly rows: number;
  readonly stitches: number;
  readonly pairs: number;
  /** Stitches between one turn and the next. */
  readonly step: number;
  readonly wedges?: number;
  /** Turns move towards the edge that the rows begin at, or away from it. */
  readonly way?: 'shorter' | 'longer';
  /** Whole rows between the pairs. */
  readonly between?: number;
}

function stripText({ sts, rows, stitches, pairs, step, wedges = 1, way, between = 0 }: Strip) {
  const list = ['knit', 'purl'];
  for (let wedge = 0; wedge < wedges; wedge++) {
    for (let k = 1; k <= pairs; k++) {
      const left = step * (way === 'longer' ? pairs + 1 - k : k);
      list.push(`k${stitches - left}, w&t`, 'purl');
      for (let row = 0; row < between; row++) list.push(row % 2 === 0 ? 'knit' : 'purl');
    }
    list.push('knit, picking up the wraps and knitting them with their sts', 'purl');
  }
  const body = list.map((row, i) => `Row ${i + 1}: ${row}`).join('\n');
  return `Worked: flat\nGauge: ${sts} sts and ${rows} rows to 10 cm\nCast on ${stitches} sts\n${body}\nBind off.\n`;
}

function knitStrip(strip: Strip): Knitted {
  return relax(prepare(parsePlan(stripText(strip))), { advise: false, load: null });
}

/** From the third stitch to the third last of a course: x, y, z, mm. */
function course({ graph, measured, sheet }: Knitted, c: number) {
  const { rings } = measured.layout;
  const ends = [rings.ids[rings.start[c] + 2], rings.ids[rings.start[c + 1] - 3]];
  expect(ends.every((id) => id < graph.loops)).toBe(true);
  const [a, b] = ends.map((id) => Array.from(sheet.positions.subarray(3 * id, 3 * id + 3)));
  return { a, b, way: b.map((v, k) => v - a[k]) };
}

/** Angle in the plane from the cast-on to the last course, degrees, 0 … 360. */
function turned(piece: Knitted): number {
  const from = course(piece, 0).way;
  const to = course(piece, piece.graph.courses - 1).way;
  const angle = Math.atan2(from[0] * to[1] - from[1] * to[0], from[0] * to[0] + from[1] * to[1]);
  return (Math.abs(angle) * 180) / Math.PI;
}

/** Rows added between the middles of the outermost treads, over the width between those: degrees. */
function sectorDeg({ sts, rows, pairs, step }: Strip): number {
  const addedMm = (2 * pairs * 100) / rows;
  const widthMm = (pairs * step * 100) / sts;
  return ((addedMm / widthMm) * 180) / Math.PI;
}

const STRIPS: readonly Strip[] = [
  { sts: 22, rows: 30, stitches: 40, pairs: 9, step: 4 },
  { sts: 16, rows: 24, stitches: 30, pairs: 5, step: 5 },
  { sts: 28, rows: 36, stitches: 60, pairs: 11, step: 5, way: 'longer' },
  { sts: 22, rows: 30, stitches: 40, pairs: 7, step: 5, between: 2 },
];

describe('a strip with evenly stepped pairs of short rows', () => {
  it.each(STRIPS)('bends into a slice of a ring and lies flat: %j', (strip) => {
    const piece = knitStrip(strip);
    expect(Math.abs(turned(piece) - sectorDeg(strip))).toBeLessThan(0.3);
    expect(piece.report.weightlessRiseMm).toBeLessThan(0.05);
    expect(piece.report.verdict).toBe('flat');
    expect(piece.report.shortRows?.bendDeg).toBeCloseTo(sectorDeg(strip), 0);
  });
});

describe('equal wedges worked side to side', () => {
  // 2 rows of 2.618 mm a stitch of 5 mm: π/3 a wedge.
  const sixth: Strip = { sts: 20, rows: 38.197, stitches: 12, pairs: 11, step: 1 };

  it('add their angles', () => {
    const two = knitStrip({ ...sixth, wedges: 2 });
    expect(Math.abs(turned(two) - 120)).toBeLessThan(1.5);
    expect(two.report.weightlessRiseMm).toBeLessThan(0.5);
  });

  it('close to a whole ring where they come to a full turn', () => {
    const six = knitStrip({ ...sixth, wedges: 6 });
    const [first, last] = [course(six, 0), course(six, six.graph.courses - 1)];
    const apart = Math.hypot(...first.b.map((v, k) => v - last.b[k]));
    const reach = Math.hypot(...first.way);
    // The last row comes back to the cast-on, to within the two rows between them.
    expect(apart).toBeLessThan(0.2 * reach);
    expect(Math.min(turned(six), 360 - turned(six))).toBeLessThan(5);
  });
});
