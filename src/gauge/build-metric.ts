/**
 * StitchGraph + Gauge → Metric: rest lengths of the sheet's springs from the smooth layout, their
 * stiffness from the cells' shape, and the bending hinges.
 *
 * Stiffness (design choice, K = 1): course k = h/w, wale k = w/h, diagonals G (w² + h²)/(2 w h) with
 * G = 0.3, so that a unit strain costs the same per area whatever the stitch's shape. Fabrics differ: each
 * spring is as stiff as its fabric along it, over the piece's mean, so that K stays the piece's own.
 */
import type { Cells } from '../fabric/cells.ts';
import { courseCount, type StitchGraph } from '../fabric/stitch-graph.ts';
import { buildHinges } from '../math/hinges.ts';
import type { Gauge } from './gauge/gauge.ts';
import { cutCells, type Mesh, vertexAreas } from './layout/cut-cells.ts';
import { drawnCentre } from './layout/drawn-centre.ts';
import { type Layout, layOut } from './layout/layout.ts';
import { restDistanceMm } from './layout/rest-length.ts';
import { makeRingProfile, measureTurning, type Turning } from './layout/ring-profile.ts';
import { makeRings, type Rings } from './layout/rings.ts';
import { chartShortRows, riseBetween, type ShortRowChart } from './layout/short-row-chart.ts';
import { type Metric, SPRING_COURSE, SPRING_DIAGONAL, SPRING_WALE } from './metric.ts';
import { findShapingLines, type ShapingLines } from './shaping/shaping-lines.ts';
import type { CableFactorSource } from './texture/cable-width.ts';
import { type LocalSize, measureLocally } from './texture/local-size.ts';
import { readTexture, type Texture } from './texture/texture.ts';

/** In-plane shear stiffness as a share of the stretch stiffness. From the design's recipe. */
const SHEAR = 0.3;
/** Bending length √(B/K), mm. The shape hardly depends on it up to 1 mm (design, section 5). */
const BENDING_MM = 1;
/** What the loops say before any gauge is known. */
export interface FabricReading {
  readonly rings: Rings;
  readonly texture: Texture;
  readonly lines: ShapingLines;
}

export function readFabric(graph: StitchGraph): FabricReading {
  const rings = makeRings(graph);
  return { rings, texture: readTexture(graph, rings), lines: findShapingLines(rings) };
}

/** Where every stitch lies on the smooth fabric, and how its courses turn: all but the springs. */
export interface LaidFabric {
  readonly layout: Layout;
  readonly turning: Turning;
  readonly size: LocalSize;
  /** Null where the plan has no short rows. */
  readonly shortRows: ShortRowChart | null;
}

/** Everything of the metric that reports need besides the springs. */
export interface MeasuredMetric extends LaidFabric {
  readonly metric: Metric;
}

export function layFabric(
  graph: StitchGraph,
  { rings, lines, texture }: FabricReading,
  gauge: Gauge,
  cableFactor?: CableFactorSource,
): LaidFabric {
  const size = measureLocally(graph, rings, texture, gauge, cableFactor);
  const layout = layOut(rings, lines, size);
  const shortRows = chartShortRows(rings, size, layout.depthMm);
  return { layout, turning: measureTurning(layout), size, shortRows };
}

export function buildMetric(
  graph: StitchGraph,
  cells: Cells,
  reading: FabricReading,
  gauge: Gauge,
  cableFactor?: CableFactorSource,
): MeasuredMetric {
  const laid = layFabric(graph, reading, gauge, cableFactor);
  const { layout, turning, size, shortRows } = laid;
  const ruler = makeRuler(graph, cells, layout, turning, size, shortRows);
  const mesh = cutCells(cells, ruler.restMm);
  const springs = collectSprings(graph, mesh, ruler);
  const restMm = (i: number, j: number): number => mesh.restMm[mesh.edges.find(i, j)];
  const hinges = buildHinges(mesh.layers, cells.vertices, restMm);
  const metric: Metric = {
    version: 1,
    vertices: cells.vertices,
    ...springs,
    hinges: hinges.hinges,
    hingeWeights: hinges.hingeWeights,
    bendingMm: BENDING_MM,
    triangles: mesh.triangles,
    areaMm2: vertexAreas(mesh, cells.vertices, restMm),
    stitchMm: ruler.stitchMm,
    roundMm: ruler.roundMm,
    ring: makeRingProfile(
      layout,
      turning,
      cells.vertices,
      cells.apex,
      graph.join.halfTurns,
      shortRows,
    ),
  };
  return { metric, ...laid };
}

/** Rest distances by vertex. */
interface Ruler {
  readonly restMm: (i: number, j: number) => number;
  readonly stitchMm: Float64Array;
  readonly roundMm: Float64Array;
  /** [vertices] stiffness along the course and along the wale over the piece's mean. */
  readonly courseStiffness: Float64Array;
  readonly waleStiffness: Float64Array;
}

function makeRuler(
  graph: StitchGraph,
  cells: Cells,
  layout: Layout,
  turning: Turning,
  size: LocalSize,
  shortRows: ShortRowChart | null,
): Ruler {
  const { rings } = layout;
  const stitchMm = new Float64Array(cells.vertices);
  const roundMm = new Float64Array(cells.vertices);
  const courseStiffness = new Float64Array(cells.vertices).fill(1);
  const waleStiffness = new Float64Array(cells.vertices).fill(1);
  const piece = meanStiffness(size);
  const panel = new Int32Array(cells.vertices);
  const across = new Float64Array(cells.vertices);
  for (let flat = 0; flat < rings.ids.length; flat++) {
    const id = rings.ids[flat];
    if (rings.home[flat] !== flat) continue;
    stitchMm[id] = size.stitchMm[flat];
    roundMm[id] = size.roundMm[flat];
    courseStiffness[id] = size.courseStiffness[flat] / piece;
    waleStiffness[id] = size.waleStiffness[flat] / piece;
    panel[id] = layout.panel[flat];
    across[id] = layout.across[flat];
  }
  const centre = cells.apex < 0 ? null : drawnCentre(cells, layout, turning, size);
  if (cells.apex >= 0 && centre) {
    stitchMm[cells.apex] = centre.stitchMm;
    roundMm[cells.apex] = centre.roundMm;
  }
  const spotA = { panel: 0, across: 0, course: 0 };
  const spotB = { panel: 0, across: 0, course: 0 };
  const restMm = (i: number, j: number): number => {
    if (centre && (i === cells.apex || j === cells.apex)) return centre.spokeMm[Math.min(i, j)];
    spotA.panel = panel[i];
    spotA.across = across[i];
    spotA.course = shortRows ? shortRows.level[i] : graph.course[i];
    spotB.panel = panel[j];
    spotB.across = across[j];
    spotB.course = shortRows ? shortRows.level[j] : graph.course[j];
    if (meetTurnedOver(graph, i, j)) spotB.course = graph.courses - 1 - spotB.course;
    const lift = shortRows && riseBetween(shortRows, graph.course, i, j);
    let rest = restDistanceMm(layout, spotA, spotB, lift ?? undefined);
    // Within a block of short rows the chart has the column's own height already.
    if (lift === null && spotA.course !== spotB.course) {
      // A column whose rounds are taller or shorter than its course's mean.
      const rise = layout.depthMm[spotB.course] - layout.depthMm[spotA.course];
      const high = Math.max(spotA.course, spotB.course);
      const own = (roundMm[i] + roundMm[j]) / (2 * size.courseMm[high]);
      rest = Math.sqrt(Math.max(rest * rest + rise * rise * (own * own - 1), 0));
    }
    return Math.max(rest, MIN_REST * stitchMm[i]);
  };
  return { restMm, stitchMm, roundMm, courseStiffness, waleStiffness };
}

/** Geometric mean of both ways, over all stitches. */
function meanStiffness({ courseStiffness, waleStiffness }: LocalSize): number {
  let sum = 0;
  for (let i = 0; i < courseStiffness.length; i++)
    sum += Math.sqrt(courseStiffness[i] * waleStiffness[i]);
  return sum > 0 ? sum / courseStiffness.length : 1;
}

/** No two loops sit closer than this share of a stitch: keeps degenerate centres solvable. Chosen. */
const MIN_REST = 0.1;

function collectSprings(
  graph: StitchGraph,
  mesh: Mesh,
  ruler: Ruler,
): Pick<Metric, 'springs' | 'restMm' | 'stiffness' | 'springKind'> {
  const count = mesh.edges.count;
  const springs = mesh.edges.ends();
  const stiffness = new Float64Array(count);
  const springKind = new Uint8Array(count);
  for (let e = 0; e < count; e++) {
    const i = springs[2 * e];
    const j = springs[2 * e + 1];
    const w = (ruler.stitchMm[i] + ruler.stitchMm[j]) / 2;
    const h = (ruler.roundMm[i] + ruler.roundMm[j]) / 2;
    const course = (ruler.courseStiffness[i] + ruler.courseStiffness[j]) / 2;
    const wale = (ruler.waleStiffness[i] + ruler.waleStiffness[j]) / 2;
    if (mesh.diagonal[e]) {
      springKind[e] = SPRING_DIAGONAL;
      stiffness[e] = (Math.sqrt(course * wale) * SHEAR * (w * w + h * h)) / (2 * w * h);
    } else if (isCourse(graph, i, j)) {
      springKind[e] = SPRING_COURSE;
      stiffness[e] = (course * h) / w;
    } else {
      springKind[e] = SPRING_WALE;
      stiffness[e] = (wale * w) / h;
    }
  }
  return { springs, restMm: mesh.restMm, stiffness, springKind };
}

/**
 * Whether two loops meet where a band with an odd number of half turns is closed: the courses run the other way beyond
 * it, the first of its beginning beside the last of its end.
 */
function meetTurnedOver(graph: StitchGraph, i: number, j: number): boolean {
  if (graph.closure === 'open' || graph.join.halfTurns % 2 === 0) return false;
  const share = (loop: number) => graph.position[loop] / courseCount(graph, graph.course[loop]);
  return Math.abs(share(i) - share(j)) > 0.5;
}

/** Neighbours along the yarn or across the seam; spokes and parent links are wales. */
function isCourse(graph: StitchGraph, i: number, j: number): boolean {
  if (i >= graph.loops || j >= graph.loops) return false;
  if (meetTurnedOver(graph, i, j)) return true;
  if (graph.course[i] === graph.course[j]) return true;
  const later = Math.max(i, j);
  // At a turn the earlier one waits beside the other, and is worked later.
  if (graph.held) return waitsBeside(graph, Math.min(i, j), graph.course[later]);
  const joinsRounds = Math.abs(i - j) === 1 && graph.start[graph.course[later]] === later;
  return graph.closure === 'helix' && joinsRounds;
}

/** Nothing is drawn through the loop before that course is done. */
function waitsBeside({ childStart, children, course }: StitchGraph, loop: number, during: number) {
  const first = childStart[loop];
  return first === childStart[loop + 1] || course[children[first]] > during;
}
