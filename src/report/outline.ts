/**
 * The outline of the relaxed piece as it lies, seen from above: its widest course, or all round an open piece.
 * In: StitchGraph and positions, [3·vertices] mm, the sheet's normal along z. Out: points turned so that the
 * narrowest width stands upright; lengths mm.
 */
import { courseCount, FLAG_SEAM, loopAt, type StitchGraph } from '../fabric/stitch-graph.ts';
import type { Extents, TubeSize } from './report.ts';

export interface Outline {
  /** [2·points] x, y round the rim in working order, mm, about the middle. */
  readonly points: Float64Array;
  /** [2·courses] where every course begins: the line along which rounds change, or the seam runs. */
  readonly starts: Float64Array;
  /** Narrowest and widest extent: of a square from side to side and from corner to corner. */
  readonly acrossMm: number;
  readonly cornersMm: number;
  /** From edge to edge along the narrowest width through the middle: less than it where the sides bow in. */
  readonly throughMm: number;
  /** Extents of `points`: along and across the narrowest width. */
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Directions tried in half a turn. Chosen: a degree apart. */
const DIRECTIONS = 180;

export function measureOutline(graph: StitchGraph, positions: Float64Array): Outline {
  const rim =
    graph.closure === 'open' ? openEdge(graph, positions) : widestCourse(graph, positions);
  const count = rim.length / 2;
  let [x, y] = [0, 0];
  for (let i = 0; i < count; i++) {
    x += rim[2 * i] / count;
    y += rim[2 * i + 1] / count;
  }
  const narrow = narrowest(rim);
  const { acrossMm, cornersMm, upright } = narrow;
  const open = graph.closure === 'open' ? extentsAlong(rim, narrow, graph, positions) : null;
  const turn = open ? castOnDown(graph, positions, upright, open) : Math.PI / 2 - upright;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const placed = (places: readonly number[]) =>
    Float64Array.from(places, (_, k) => {
      const [dx, dy] = [places[k & ~1] - x, places[k | 1] - y];
      return k % 2 === 0 ? cos * dx - sin * dy : sin * dx + cos * dy;
    });
  const firsts: number[] = [];
  for (let c = 0; c < graph.courses; c++) {
    const [first] = loopsOf(graph, c);
    if (first !== undefined) firsts.push(positions[3 * first], positions[3 * first + 1]);
  }
  const points = placed(rim);
  return {
    points,
    starts: placed(firsts),
    acrossMm,
    cornersMm,
    throughMm: uprightThrough(points),
    widthMm: open?.widthMm ?? extent(rim, upright + Math.PI / 2),
    heightMm: open?.lengthMm ?? acrossMm,
  };
}

/** The turn, rad, that lays an open piece's width level and its cast-on below. */
function castOnDown(
  graph: StitchGraph,
  positions: Float64Array,
  upright: number,
  { widthMm, lengthMm }: Extents,
): number {
  const turn = widthMm < lengthMm ? -upright : Math.PI / 2 - upright;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const height = (course: number) => {
    const loops = loopsOf(graph, course);
    return loops.reduce(
      (sum, k) => sum + (sin * positions[3 * k] + cos * positions[3 * k + 1]) / loops.length,
      0,
    );
  };
  return height(0) > height(graph.courses - 1) ? turn + Math.PI : turn;
}

/** Of an open piece; null for one that is closed to a ring or a band. */
export function extentsOf(graph: StitchGraph, positions: Float64Array): Extents | null {
  if (graph.closure !== 'open') return null;
  const rim = openEdge(graph, positions);
  return extentsAlong(rim, narrowest(rim), graph, positions);
}

/** Of a tube at rest, its axis along z. */
export function tubeSizeOf(graph: StitchGraph, positions: Float64Array): TubeSize {
  let [leastMm, mostMm, low, high] = [Infinity, 0, Infinity, -Infinity];
  for (let c = 0; c < graph.courses; c++) {
    const loops = loopsOf(graph, c);
    let roundMm = 0;
    loops.forEach((loop, k) => {
      const next = loops[(k + 1) % loops.length];
      roundMm += Math.hypot(
        positions[3 * next] - positions[3 * loop],
        positions[3 * next + 1] - positions[3 * loop + 1],
        positions[3 * next + 2] - positions[3 * loop + 2],
      );
      low = Math.min(low, positions[3 * loop + 2]);
      high = Math.max(high, positions[3 * loop + 2]);
    });
    leastMm = Math.min(leastMm, roundMm);
    mostMm = Math.max(mostMm, roundMm);
  }
  return { leastMm, mostMm, heightMm: high - low };
}

function extentsAlong(
  rim: readonly number[],
  { acrossMm, cornersMm, upright }: ReturnType<typeof narrowest>,
  graph: StitchGraph,
  positions: Float64Array,
): Extents {
  const otherMm = extent(rim, upright + Math.PI / 2);
  const castOn = loopsOf(graph, 0);
  const [first, last] = [castOn[0], castOn[castOn.length - 1]];
  const along = Math.atan2(
    positions[3 * last + 1] - positions[3 * first + 1],
    positions[3 * last] - positions[3 * first],
  );
  return Math.abs(Math.cos(upright - along)) > Math.SQRT1_2
    ? { widthMm: acrossMm, lengthMm: otherMm, cornersMm }
    : { widthMm: otherMm, lengthMm: acrossMm, cornersMm };
}

/** x, y of the course with the most loops. */
function widestCourse(graph: StitchGraph, positions: Float64Array): number[] {
  let rim = 0;
  for (let c = 1; c < graph.courses; c++)
    if (courseCount(graph, c) > courseCount(graph, rim)) rim = c;
  return loopsOf(graph, rim).flatMap((loop) => [positions[3 * loop], positions[3 * loop + 1]]);
}

/** x, y all round an open piece: the cast-on, the ends of the rows, the last row, their beginnings. */
function openEdge(graph: StitchGraph, positions: Float64Array): number[] {
  const rows: number[][] = [];
  for (let c = 0; c < graph.courses; c++) {
    const row = selvedged(loopsOf(graph, c), positions);
    if (row.length > 0) rows.push(row);
  }
  const edge = [...rows[0]];
  for (const row of rows.slice(1, -1)) edge.push(...row.slice(-2));
  const last = rows[rows.length - 1];
  if (rows.length > 1)
    for (let i = last.length - 2; i >= 0; i -= 2) edge.push(last[i], last[i + 1]);
  for (const row of rows.slice(1, -1).reverse()) edge.push(row[0], row[1]);
  return edge;
}

/** x, y of a row, its ends half a stitch farther out: there the fabric ends. */
function selvedged(loops: readonly number[], positions: Float64Array): number[] {
  const row = loops.flatMap((loop) => [positions[3 * loop], positions[3 * loop + 1]]);
  const n = row.length;
  if (n < 4) return row;
  const ends = [
    row[0] + (row[0] - row[2]) / 2,
    row[1] + (row[1] - row[3]) / 2,
    row[n - 2] + (row[n - 2] - row[n - 4]) / 2,
    row[n - 1] + (row[n - 1] - row[n - 3]) / 2,
  ];
  return [ends[0], ends[1], ...row, ends[2], ends[3]];
}

/** Least and greatest width, and the direction of the least, rad. */
function narrowest(rim: readonly number[]): {
  acrossMm: number;
  cornersMm: number;
  upright: number;
} {
  let [acrossMm, cornersMm, upright] = [Infinity, 0, 0];
  for (let d = 0; d < DIRECTIONS; d++) {
    const angle = (d * Math.PI) / DIRECTIONS;
    const wide = extent(rim, angle);
    if (wide < acrossMm) {
      acrossMm = wide;
      upright = angle;
    }
    cornersMm = Math.max(cornersMm, wide);
  }
  return { acrossMm, cornersMm, upright };
}

/** Length of the line x = 0 between the outermost edges that it crosses. */
function uprightThrough(points: Float64Array): number {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    const j = (i + 2) % points.length;
    const [x0, y0, x1, y1] = [points[i], points[i + 1], points[j], points[j + 1]];
    if (x0 <= 0 === x1 <= 0) continue;
    const y = y0 + ((y1 - y0) * x0) / (x0 - x1);
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  return Math.max(0, high - low);
}

function extent(rim: readonly number[], angle: number): number {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < rim.length; i += 2) {
    const along = cos * rim[i] + sin * rim[i + 1];
    low = Math.min(low, along);
    high = Math.max(high, along);
  }
  return high - low;
}

function loopsOf(graph: StitchGraph, course: number): number[] {
  const loops: number[] = [];
  for (let p = 0; p < courseCount(graph, course); p++) {
    const loop = loopAt(graph, course, p);
    if (!(graph.flags[loop] & FLAG_SEAM)) loops.push(loop);
  }
  return loops;
}
