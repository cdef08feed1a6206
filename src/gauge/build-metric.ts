/**
 * StitchGraph + Gauge → Metric: rest lengths of the sheet's springs from the smooth layout, their
 * stiffness from the cells' shape, and the bending hinges.
 *
 * Stiffness (design choice, K = 1): course k = h/w, wale k = w/h, diagonals G (w² + h²)/(2 w h) with
 * G = 0.3, so that a unit strain costs the same per area whatever the stitch's shape.
 */
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import { buildHinges, type Triangulation } from '../math/hinges.ts';
import type { Gauge } from './gauge.ts';
import { type Layout, layOut } from './layout.ts';
import { type LocalSize, measureLocally } from './local-size.ts';
import { type Metric, SPRING_COURSE, SPRING_DIAGONAL, SPRING_WALE } from './metric.ts';
import { restDistanceMm } from './rest-length.ts';
import { makeRingProfile, measureTurning, placeOnCone, type Turning } from './ring-profile.ts';
import { makeRings, type Rings, ringSize } from './rings.ts';
import { findShapingLines, type ShapingLines } from './shaping-lines.ts';
import { readTexture, type Texture } from './texture.ts';

/** In-plane shear stiffness as a share of the stretch stiffness. From the design's recipe. */
const SHEAR = 0.3;
/** Bending length √(B/K), mm. The shape hardly depends on it up to 1 mm (design, section 5). */
const BENDING_MM = 1;
/** A course of more loops than this that is drawn up without tapering is a gathering. Chosen. */
const GATHER_LOOPS = 16;
/** Loops drawn on a thread lie a yarn's width apart: at most 0.252 of the stitch width (jamming of
 * plain knit, l/d = 16.66 with l = 4.2 w). */
const DRAWN_SHARE = 0.252;

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

/** Everything of the metric that reports need besides the springs. */
export interface MeasuredMetric {
  readonly metric: Metric;
  readonly layout: Layout;
  readonly turning: Turning;
  readonly size: LocalSize;
}

export function buildMetric(
  graph: StitchGraph,
  cells: Cells,
  reading: FabricReading,
  gauge: Gauge,
): MeasuredMetric {
  const { rings, lines } = reading;
  const size = measureLocally(graph, rings, reading.texture, gauge);
  const layout = layOut(rings, lines, size);
  const turning = measureTurning(layout);
  const ruler = makeRuler(graph, cells, layout, turning, size);
  const mesh = cutCells(cells, ruler.restMm);
  const springs = collectSprings(graph, mesh, ruler);
  const hinges = buildHinges(mesh.layers, cells.vertices, ruler.restMm);
  const metric: Metric = {
    version: 1,
    vertices: cells.vertices,
    ...springs,
    hinges: hinges.hinges,
    hingeWeights: hinges.hingeWeights,
    bendingMm: BENDING_MM,
    triangles: mesh.triangles,
    areaMm2: vertexAreas(mesh, cells.vertices, ruler.restMm),
    stitchMm: ruler.stitchMm,
    roundMm: ruler.roundMm,
    ring: makeRingProfile(layout, turning, cells.vertices, cells.apex, graph.join.halfTurns),
  };
  return { metric, layout, turning, size };
}

/** Rest distances by vertex. */
interface Ruler {
  readonly restMm: (i: number, j: number) => number;
  readonly stitchMm: Float64Array;
  readonly roundMm: Float64Array;
}

function makeRuler(
  graph: StitchGraph,
  cells: Cells,
  layout: Layout,
  turning: Turning,
  size: LocalSize,
): Ruler {
  const { rings } = layout;
  const stitchMm = new Float64Array(cells.vertices);
  const roundMm = new Float64Array(cells.vertices);
  const panel = new Int32Array(cells.vertices);
  const across = new Float64Array(cells.vertices);
  for (let flat = 0; flat < rings.ids.length; flat++) {
    const id = rings.ids[flat];
    stitchMm[id] = size.stitchMm[flat];
    roundMm[id] = size.roundMm[flat];
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
    spotA.course = graph.course[i];
    spotB.panel = panel[j];
    spotB.across = across[j];
    spotB.course = graph.course[j];
    let rest = restDistanceMm(layout, spotA, spotB);
    if (spotA.course === spotB.course) {
      if (centre && spotA.course === centre.course) rest *= centre.gather;
    } else {
      // A column whose rounds are taller or shorter than its course's mean.
      const rise = layout.depthMm[spotB.course] - layout.depthMm[spotA.course];
      const high = Math.max(spotA.course, spotB.course);
      const own = (roundMm[i] + roundMm[j]) / (2 * size.courseMm[high]);
      rest = Math.sqrt(Math.max(rest * rest + rise * rise * (own * own - 1), 0));
    }
    return Math.max(rest, MIN_REST * stitchMm[i]);
  };
  return { restMm, stitchMm, roundMm };
}

/** No two loops sit closer than this share of a stitch: keeps degenerate centres solvable. Chosen. */
const MIN_REST = 0.1;

interface DrawnCentre {
  readonly course: number;
  /** Distance from the centre by vertex, mm; set for the loops of the drawn course (and the jog's). */
  readonly spokeMm: Float64Array;
  /** Factor on the drawn course's stitch widths: below 1 where a wide course is gathered. */
  readonly gather: number;
  readonly stitchMm: number;
  readonly roundMm: number;
}

function drawnCentre(cells: Cells, layout: Layout, turning: Turning, size: LocalSize): DrawnCentre {
  const { rings } = layout;
  const course = cells.centre === 'cast-on' ? 0 : layout.depthMm.length - 1;
  const loops = ringSize(rings, course);
  const stitchMm = size.stitchMm[rings.start[course]];
  const roundMm = size.roundMm[rings.start[course]];
  const gathered = loops > GATHER_LOOPS;
  const threadMm = (loops * DRAWN_SHARE * stitchMm) / (2 * Math.PI);
  const spokeMm = new Float64Array(cells.vertices);
  // The jog brings one loop of the neighbouring course to the centre's edge.
  for (const c of [course, course - 1, course + 1]) {
    if (c < 0 || c >= rings.courses) continue;
    const away = Math.abs(layout.depthMm[c] - layout.depthMm[course]);
    for (let j = 0; j < ringSize(rings, c); j++) {
      // A small ring closes by running its panels on to where they meet.
      const own = gathered ? threadMm + away : placeOnCone(layout, turning, c, j).mm;
      spokeMm[rings.ids[rings.start[c] + j]] = own;
    }
  }
  return { course, spokeMm, gather: gathered ? DRAWN_SHARE : 1, stitchMm, roundMm };
}

interface Mesh {
  /** Unique edges of the cells and, in quadrilaterals, both diagonals: [2·edges]. */
  readonly edges: Int32Array;
  /** [edges] 1 for a diagonal. */
  readonly diagonal: Uint8Array;
  readonly triangles: Int32Array;
  readonly layers: readonly Triangulation[];
}

/** Cuts every cell into triangles: quadrilaterals both ways, at half weight each. */
function cutCells(cells: Cells, restMm: (i: number, j: number) => number): Mesh {
  const { cellStart, corners, vertices } = cells;
  const count = cellStart.length - 1;
  const seen = new Set<number>();
  const edges: number[] = [];
  const diagonal: number[] = [];
  const triangles: number[] = [];
  const cuts: [number[], number[]] = [[], []];
  const owner: [number[], number[]] = [[], []];
  const addEdge = (i: number, j: number, isDiagonal: 0 | 1): void => {
    const key = Math.min(i, j) * vertices + Math.max(i, j);
    if (i === j || seen.has(key)) return;
    seen.add(key);
    edges.push(i, j);
    diagonal.push(isDiagonal);
  };
  for (let q = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    for (let k = 0; k < n; k++) addEdge(corners[at + k], corners[at + ((k + 1) % n)], 0);
  }
  for (let q = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    const [a, b, c, d] = [corners[at], corners[at + 1], corners[at + 2], corners[at + 3]];
    if (n === 4) {
      addEdge(a, c, 1);
      addEdge(b, d, 1);
      cuts[0].push(a, b, c, a, c, d);
      cuts[1].push(a, b, d, b, c, d);
      triangles.push(...(restMm(a, c) <= restMm(b, d) ? [a, b, c, a, c, d] : [a, b, d, b, c, d]));
      for (const o of owner) o.push(q, q);
      continue;
    }
    for (let k = 1; k + 1 < n; k++) {
      const [u, v] = [corners[at + k], corners[at + k + 1]];
      if (k + 2 < n) addEdge(a, v, 1);
      triangles.push(a, u, v);
      for (const cut of cuts) cut.push(a, u, v);
      for (const o of owner) o.push(q);
    }
  }
  return {
    edges: Int32Array.from(edges),
    diagonal: Uint8Array.from(diagonal),
    triangles: Int32Array.from(triangles),
    layers: cuts.map((cut, s) => ({
      triangles: Int32Array.from(cut),
      polygon: Int32Array.from(owner[s]),
      weight: 0.5,
    })),
  };
}

function collectSprings(
  graph: StitchGraph,
  mesh: Mesh,
  ruler: Ruler,
): Pick<Metric, 'springs' | 'restMm' | 'stiffness' | 'springKind'> {
  const count = mesh.diagonal.length;
  const restMm = new Float64Array(count);
  const stiffness = new Float64Array(count);
  const springKind = new Uint8Array(count);
  for (let e = 0; e < count; e++) {
    const i = mesh.edges[2 * e];
    const j = mesh.edges[2 * e + 1];
    const w = (ruler.stitchMm[i] + ruler.stitchMm[j]) / 2;
    const h = (ruler.roundMm[i] + ruler.roundMm[j]) / 2;
    restMm[e] = ruler.restMm(i, j);
    if (mesh.diagonal[e]) {
      springKind[e] = SPRING_DIAGONAL;
      stiffness[e] = (SHEAR * (w * w + h * h)) / (2 * w * h);
    } else if (isCourse(graph, i, j)) {
      springKind[e] = SPRING_COURSE;
      stiffness[e] = h / w;
    } else {
      springKind[e] = SPRING_WALE;
      stiffness[e] = w / h;
    }
  }
  return { springs: mesh.edges, restMm, stiffness, springKind };
}

/** Neighbours along the yarn or across the seam; spokes and parent links are wales. */
function isCourse(graph: StitchGraph, i: number, j: number): boolean {
  if (i >= graph.loops || j >= graph.loops) return false;
  if (graph.course[i] === graph.course[j]) return true;
  const later = Math.max(i, j);
  const joinsRounds = Math.abs(i - j) === 1 && graph.start[graph.course[later]] === later;
  return graph.closure === 'helix' && joinsRounds;
}

function vertexAreas(
  mesh: Mesh,
  vertices: number,
  restMm: (i: number, j: number) => number,
): Float64Array {
  const area = new Float64Array(vertices);
  for (const layer of mesh.layers) {
    const t = layer.triangles;
    for (let k = 0; k < t.length; k += 3) {
      const a = restMm(t[k + 1], t[k + 2]);
      const b = restMm(t[k + 2], t[k]);
      const c = restMm(t[k], t[k + 1]);
      const sixteen = (a + b + c) * (b + c - a) * (c + a - b) * (a + b - c);
      const third = (layer.weight * Math.sqrt(Math.max(0, sixteen))) / 12;
      for (let m = 0; m < 3; m++) area[t[k + m]] += third;
    }
  }
  return area;
}
