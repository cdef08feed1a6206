/**
 * StitchGraph → Cells: the sheet between the loops.
 *
 * Each stitch fills the space between the loops it consumed and those it made; between two stitches
 * lies the cell of the running yarn. Crossings do not permute the columns here (loop k of a crossing
 * stands on column k), so the sheet stays a manifold; `parents` keeps the true topology.
 * In the round the strip of cells is one helix from the first stitch to the last, so a jog shows only
 * at the two rims. Flat work gives a strip per row, sewn into rings course by course where there is a
 * seam. An odd number of half turns glues the two side edges upside down: a Möbius band.
 * The Euler characteristic and the rest are counted from the finished cells, never assumed.
 */
import { cellEdges, surfaceInvariants } from './cell-edges.ts';
import { CellStrip } from './cell-strip.ts';
import type { Cells } from './cells.ts';
import { courseCount, FLAG_SEAM, loopAt, type StitchGraph } from './stitch-graph.ts';
import { addCell, type CellSink } from './zip-paths.ts';

/**
 * Work in the round counts as begun at a drawn-up centre if it was cast on with so few loops …
 * (chosen: common practice begins centre-out motifs with 4 to 12 loops) …
 */
const CENTRE_LOOPS = 12;
/** … and at least doubles them, or with less than this share of the last round's loops (chosen). */
const CENTRE_SHARE = 1 / 6;

/** How the strip of cells closes: see the header. */
type Band = 'helix' | 'ring' | 'strip' | 'flipped';

export function buildCells(graph: StitchGraph): Cells {
  const sink = makeSink(graph);
  const band = bandOf(graph);
  const strip = new CellStrip(graph, sink);
  if (graph.held) zipShortRows(graph, strip, band);
  else if (band === 'helix') zipHelix(graph, strip);
  else zipRows(graph, strip, band === 'ring');
  if (band === 'flipped') glueFlipped(graph, sink);
  const wanted = centreOf(graph, band);
  const centre = wanted && addApex(graph, sink, wanted, band) ? wanted : null;
  const vertices = graph.loops + (centre ? 1 : 0);

  const cellStart = sink.cellStart.slice(0, sink.cells + 1);
  const corners = sink.corners.slice(0, cellStart[sink.cells]);
  const inSurface = new Uint8Array(vertices);
  for (let i = 0; i < corners.length; i++) inSurface[corners[i]] = 1;
  const edges = cellEdges({ vertices, cellStart, corners });
  const found = surfaceInvariants({ vertices, cellStart, corners }, edges);
  return {
    version: 1,
    vertices,
    apex: centre ? graph.loops : -1,
    centre,
    cellStart,
    corners,
    euler: found.euler,
    boundaries: found.boundaries,
    orientable: found.orientable,
    shape: edges.crowded === 0 && found.pieces === 1 ? shapeOf(found) : 'other',
    inSurface,
  };
}

function shapeOf(s: { euler: number; boundaries: number; orientable: boolean }): Cells['shape'] {
  if (s.orientable && s.euler === 1 && s.boundaries === 1) return 'disc';
  if (s.orientable && s.euler === 0 && s.boundaries === 2) return 'annulus';
  if (!s.orientable && s.euler === 0 && s.boundaries === 1) return 'moebius';
  return 'other';
}

function bandOf(graph: StitchGraph): Band {
  if (graph.closure === 'open') return 'strip';
  if (Math.abs(graph.join.halfTurns) % 2 === 1) return 'flipped';
  // A single round has no next one to run into: its ends are joined to each other.
  return graph.closure === 'helix' && graph.courses > 2 ? 'helix' : 'ring';
}

/** Every edge of a lower or an upper path and of a rim gives at most one cell of four corners. */
function makeSink(graph: StitchGraph): CellSink {
  const cells = 3 * graph.loops + 2 * graph.courses + 8;
  return {
    cells: 0,
    cellStart: new Int32Array(cells + 1),
    corners: new Int32Array(4 * cells),
  };
}

/** Loops on the needle after a course that are part of the surface, right to left. */
function keptCourse(graph: StitchGraph, course: number): number[] {
  const kept: number[] = [];
  for (let i = 0, n = courseCount(graph, course); i < n; i++) {
    const loop = loopAt(graph, course, i);
    if (!(graph.flags[loop] & FLAG_SEAM)) kept.push(loop);
  }
  return kept;
}

/** In the round: one strip over all rounds; the running yarn leads from each round to the next. */
function zipHelix(graph: StitchGraph, strip: CellStrip): void {
  strip.begin(false);
  for (let s = graph.stitchStart[1]; s < graph.stitches; s++) strip.add(s, false);
  strip.end(true);
}

/** Row by row; with a seam the last loop of each course lies beside the first of the same course. */
function zipRows(graph: StitchGraph, strip: CellStrip, ring: boolean): void {
  let below = keptCourse(graph, 0).length;
  for (let c = 1; c < graph.courses; c++) {
    const count = keptCourse(graph, c).length;
    const reversed = graph.wrongSide[c] === 1;
    const first = graph.stitchStart[c];
    const end = graph.stitchStart[c + 1];
    strip.begin(ring);
    for (let i = first; i < end; i++) strip.add(reversed ? first + end - 1 - i : i, reversed);
    // Two loops side by side can be sewn together once: where more courses follow they stay a slit.
    strip.end(!(below === 2 && c > 1) && !(count === 2 && c < graph.courses - 1));
    below = count;
  }
}

/**
 * Row by row where some are short: at a turn the row closes against the loop that waits beside it, which is
 * a triangle. In the round a row that ends where the next begins runs on into it, as in `zipHelix`.
 */
function zipShortRows(graph: StitchGraph, strip: CellStrip, band: Band): void {
  const closed = band !== 'strip';
  let runsOn = band === 'helix';
  // First loop of a round that nothing has joined to its end yet.
  let open = -1;
  strip.begin(false);
  for (let c = 1; c < graph.courses; c++) {
    const reversed = graph.wrongSide[c] === 1;
    const first = graph.stitchStart[c];
    const end = graph.stitchStart[c + 1];
    if (first === end) continue;
    const beside = waitingBeside(graph, c, closed);
    if (!runsOn) {
      strip.begin(band === 'ring' && beside === null);
      // A round that begins where a row turned: the last loop of the needle waits beside it for now.
      const begins = band === 'helix' && beside === null ? keptCourse(graph, c - 1).at(-1) : -1;
      const right = beside?.right ?? begins ?? -1;
      if (right >= 0) strip.pass(right);
      open = begins === undefined || begins < 0 ? -1 : graph.madeStart[first];
    } else open = -1;
    for (let i = first; i < end; i++) strip.add(reversed ? first + end - 1 - i : i, reversed);
    runsOn = band === 'helix' && graph.held?.turned[c] !== 1 && !reversed;
    if (runsOn) continue;
    if (beside && beside.left >= 0) strip.pass(beside.left);
    strip.end(true);
  }
  if (open >= 0) strip.pass(open);
  if (runsOn) strip.end(true);
}

/** Loops waiting right and left of those that a course made, −1 at an edge; null where none waits. */
function waitingBeside(
  graph: StitchGraph,
  course: number,
  closed: boolean,
): { right: number; left: number } | null {
  const needle = keptCourse(graph, course);
  const n = needle.length;
  const waits = (k: number): boolean => graph.course[needle[k]] < course;
  if (!needle.some((_, k) => waits(k))) return null;
  const found = { right: -1, left: -1 };
  for (let k = 0; k < n; k++) {
    if (waits(k)) continue;
    const right = closed ? (k + n - 1) % n : k - 1;
    const left = closed ? (k + 1) % n : k + 1;
    if (right >= 0 && waits(right)) found.right = needle[right];
    if (left < n && waits(left)) found.left = needle[left];
  }
  return found;
}

/**
 * Glues the left edge of the strip to its right edge upside down. The yarn of a band worked in plain
 * rounds cannot run so (its running thread would change courses); the surface can.
 */
function glueFlipped(graph: StitchGraph, sink: CellSink): void {
  const top = graph.courses - 1;
  const right: number[] = [];
  const left: number[] = [];
  for (let c = 0; c <= top; c++) {
    const course = keptCourse(graph, c);
    if (course.length < 2) return;
    right.push(course[0]);
    left.push(course[course.length - 1]);
  }
  for (let c = 0; c < top; c++) {
    addCell(sink, left[c], left[c + 1], right[top - c - 1], right[top - c]);
  }
}

/**
 * The rim at one end of the work, right to left, and whether it closes on itself. In the round a rim
 * includes the loop beyond the jog: the first loop of round 1, or the last of the round before.
 */
function rimOf(graph: StitchGraph, end: 'cast-on' | 'ending', band: Band) {
  const last = graph.courses - 1;
  if (band !== 'helix') {
    const rim = keptCourse(graph, end === 'ending' ? last : 0);
    return { rim, closed: band === 'ring' };
  }
  const rim = keptCourse(graph, end === 'ending' ? last : 0);
  if (end === 'ending') rim.unshift(graph.start[last] - 1);
  else rim.push(graph.start[1]);
  return { rim, closed: true };
}

/** Which end of the work is drawn together to a point. */
function centreOf(graph: StitchGraph, band: Band): Cells['centre'] {
  const last = graph.courses - 1;
  if (last < 1) return null;
  if (graph.ending === 'drawn-up') return 'ending';
  if (band === 'strip' || band === 'flipped') return null;
  const from = keptCourse(graph, 0).length;
  const to = keptCourse(graph, last).length;
  const begun = (from <= CENTRE_LOOPS && to >= 2 * from) || from < CENTRE_SHARE * to;
  return begun ? 'cast-on' : null;
}

/** The edge of the cells at that end, right to left: short rows leave steps in it, which the needle does not show. */
function edgeRound(
  graph: StitchGraph,
  { cells, cellStart, corners }: CellSink,
  end: 'cast-on' | 'ending',
): { rim: number[]; closed: boolean } {
  const needle = keptCourse(graph, end === 'ending' ? graph.courses - 1 : 0);
  const sides = new Map<number, number[]>();
  for (let c = 0; c < cells; c++) {
    for (let k = cellStart[c]; k < cellStart[c + 1]; k++) {
      const to = corners[k + 1 < cellStart[c + 1] ? k + 1 : cellStart[c]];
      const list = sides.get(corners[k]) ?? [];
      list.push(to);
      sides.set(corners[k], list);
    }
  }
  const isEdge = (from: number, to: number): boolean => !sides.get(to)?.includes(from);
  const next = (from: number) => sides.get(from)?.find((to) => isEdge(from, to));
  const start = needle.find((loop) => next(loop) !== undefined);
  const rim: number[] = [];
  for (let at = start; at !== undefined && rim.length <= corners.length; at = next(at)) {
    if (rim.length > 0 && at === start) break;
    rim.push(at);
  }
  // Cells run from right to left along their top, from left to right along their bottom.
  if (end === 'cast-on') rim.reverse();
  return { rim, closed: true };
}

/** Fans a rim out to the apex. False where the rim is too short: then it is closed already. */
function addApex(
  graph: StitchGraph,
  sink: CellSink,
  centre: 'cast-on' | 'ending',
  band: Band,
): boolean {
  const { rim, closed } =
    graph.held && band !== 'strip' ? edgeRound(graph, sink, centre) : rimOf(graph, centre, band);
  if (rim.length < (closed ? 3 : 2)) return false;
  const apex = graph.loops;
  for (let i = 0; i < rim.length - (closed ? 0 : 1); i++) {
    const right = rim[i];
    const left = rim[i + 1 < rim.length ? i + 1 : 0];
    if (centre === 'ending') addCell(sink, right, apex, apex, left);
    else addCell(sink, apex, right, left, apex);
  }
  return true;
}
