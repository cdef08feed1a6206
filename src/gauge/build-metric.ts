/**
 * StitchGraph + Gauge → Metric: rest lengths of the sheet's springs from the smooth layout, their
 * stiffness from the cells' shape, and the bending hinges.
 *
 * Stiffness (design choice, K = 1): course k = h/w, wale k = w/h, diagonals G (w² + h²)/(2 w h) with
 * G = 0.3, so that a unit strain costs the same per area whatever the stitch's shape.
 */
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import { EdgeTable } from '../math/edge-table.ts';
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
  readonly edges: EdgeTable;
  /** [edges] 1 for a diagonal of a quadrilateral. */
  readonly diagonal: Uint8Array;
  /** [edges] rest length, mm. */
  readonly restMm: Float64Array;
  readonly triangles: Int32Array;
  readonly layers: readonly Triangulation[];
}

/** Cuts every cell into triangles: quadrilaterals both ways, at half weight each. */
function cutCells(cells: Cells, restMm: (i: number, j: number) => number): Mesh {
  const { cellStart, corners, vertices } = cells;
  const count = cellStart.length - 1;
  // A polygon of n corners makes n − 2 triangles.
  const total = corners.length - 2 * count;
  const edges = new EdgeTable(vertices, 2 * total + 2);
  for (let q = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    for (let k = 0; k < n; k++) edges.add(corners[at + k], corners[at + ((k + 1) % n)]);
  }
  const sides = edges.count;
  const cuts = [new Int32Array(3 * total), new Int32Array(3 * total)];
  const owner = new Int32Array(total);
  for (let q = 0, t = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    for (let k = 1; k + 1 < n; k++, t++) {
      owner[t] = q;
      cuts[0].set([corners[at], corners[at + k], corners[at + k + 1]], 3 * t);
      // The other cut of a quadrilateral starts from its second corner.
      const shift = n === 4 ? 1 : 0;
      const other = [at + shift, at + k + shift, at + ((k + 1 + shift) % n)];
      for (let m = 0; m < 3; m++) cuts[1][3 * t + m] = corners[other[m]];
      if (k + 2 < n) edges.add(corners[at], corners[at + k + 1]);
      if (n === 4 && k === 1) edges.add(corners[at + 1], corners[at + 3]);
    }
  }
  const diagonal = new Uint8Array(edges.count).fill(1, sides);
  const ends = edges.ends();
  const lengths = new Float64Array(edges.count);
  for (let e = 0; e < lengths.length; e++) lengths[e] = restMm(ends[2 * e], ends[2 * e + 1]);
  const triangles = shorterCuts(cells, cuts, edges, lengths);
  const layers = cuts.map((cut) => ({ triangles: cut, polygon: owner, weight: 0.5 }));
  return { edges, diagonal, restMm: lengths, triangles, layers };
}

/** For drawing: quadrilaterals cut along their shorter diagonal. */
function shorterCuts(
  cells: Cells,
  cuts: readonly Int32Array[],
  edges: EdgeTable,
  restMm: Float64Array,
): Int32Array {
  const { cellStart, corners } = cells;
  const triangles = cuts[0].slice();
  for (let q = 0, t = 0; q + 1 < cellStart.length; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    if (n === 4) {
      const first = restMm[edges.find(corners[at], corners[at + 2])];
      const second = restMm[edges.find(corners[at + 1], corners[at + 3])];
      if (second < first) triangles.set(cuts[1].subarray(3 * t, 3 * t + 6), 3 * t);
    }
    t += n - 2;
  }
  return triangles;
}

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
  return { springs, restMm: mesh.restMm, stiffness, springKind };
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
