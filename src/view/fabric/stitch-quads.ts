/**
 * One drawn patch per stitch: from the loops that a loop is drawn through up to the loop itself, half way to its
 * neighbours on both sides, in yarn order. In: StitchGraph, Cells (for the drawn-up centre). Out: draw vertices as
 * weighted sums of loops, so that new positions cost one sparse product.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { FLAG_LIFTED, FLAG_SEAM, FLAG_SLIPPED, FLAG_YARN_OVER } from '../../fabric/stitch-graph.ts';
import { findCableStrands } from './cable-strands.ts';
import { openTriangles } from './eyelets.ts';
import { patchEdges } from './patch-edges.ts';
import {
  buildNeighbours,
  gatheredCourse,
  lastLoops,
  shareOf,
  trianglesByCourse,
} from './patch-topology.ts';
import { type Blend, createPatchWriter, mix, type Rim } from './patch-writer.ts';
import {
  GROUND,
  PATCH_BEHIND,
  PATCH_EDGE,
  PATCH_GATHERED,
  PATCH_GROUND,
  PATCH_HOLE,
  PATCH_KNIT,
  PATCH_PURL,
  type StitchPatches,
} from './stitch-patches.ts';
import { stitchTile, TILE_CHAIN, TILE_CORD, TILE_HOLE, TILE_NONE, tileOf } from './stitch-tiles.ts';

/** Depth of the ground under a cable, stitch widths: about a yarn. Chosen. */
const GROUND_DEPTH = 0.22;
/** How far a seam's folded edges stand out behind, stitch widths: two yarns. Chosen. */
const SEAM_RIDGE = 0.45;
/** Part of the way to the middle that drawn-up loops reach: the yarn through them has the rest. Chosen. */
const GATHERED_TO = 0.92;
/** How far a yarn over stands in front of the columns that its legs lie over, stitch widths. Chosen. */
const EYELET_LIFT = 0.06;
/** Half the depth of the overlap at a decrease, in stitch widths: chosen, half a yarn's thickness. */
const DECREASE_LIFT = 0.14;

export function buildStitchPatches(
  graph: StitchGraph,
  cells: Cells,
  triangles: Int32Array,
): StitchPatches {
  const builder = new PatchBuilder(graph, cells, triangles);
  for (let c = 0; c < graph.courses; c++) builder.addCourse(c);
  return builder.finish();
}

class PatchBuilder {
  private readonly graph: StitchGraph;
  private readonly cells: Cells;
  private readonly triangles: Int32Array;
  private readonly neighbour: ReturnType<typeof buildNeighbours>;
  private readonly gathered: ReturnType<typeof gatheredCourse>;
  private readonly strands: ReturnType<typeof findCableStrands>;
  private readonly behind: ReturnType<typeof trianglesByCourse>;
  private readonly edges: ReturnType<typeof patchEdges>;
  private readonly isOpen: ReturnType<typeof openTriangles>;
  private readonly writer: ReturnType<typeof createPatchWriter>;

  constructor(graph: StitchGraph, cells: Cells, triangles: Int32Array) {
    this.graph = graph;
    this.cells = cells;
    this.triangles = triangles;
    this.neighbour = buildNeighbours(graph);
    this.gathered = gatheredCourse(graph, cells);
    this.strands = findCableStrands(graph);
    this.behind = trianglesByCourse(graph, triangles);
    this.writer = createPatchWriter(graph);
    this.edges = patchEdges(graph, cells, this.neighbour, this.strands);
    this.isOpen = openTriangles(this.edges.eyelets);
  }

  addCourse(c: number): void {
    const { graph, cells } = this;
    for (let loop = graph.start[c]; loop < graph.start[c + 1]; loop++) {
      if (graph.flags[loop] & FLAG_SEAM || !cells.inSurface[loop]) continue;
      if (c > 0) this.addStitch(loop);
      else if (this.gathered === 0) this.addGather(loop);
      else this.addEdgeBand(loop);
    }
    this.addBehind(c);
    if (c === graph.courses - 1) this.closeLastCourse(c);
    this.writer.endCourse(c);
  }

  finish(): StitchPatches {
    return this.writer.finish(this.strands, this.neighbour, this.cells.vertices);
  }

  private addStitch(loop: number): void {
    const { graph, edges } = this;
    const top: Rim = [edges.edge(loop, 0), edges.edge(loop, 1)];
    const parents = graph.parentStart[loop + 1] - graph.parentStart[loop];
    if (parents === 0) {
      this.addFloating(loop, top);
      return;
    }
    this.addGround(loop, top);
    if (parents > 1) this.addGroundOfDecrease(loop, top);
    this.addDrawn(loop, top);
    this.addSeam(loop);
  }

  /** A yarn over or a lifted strand: drawn through nothing. */
  private addFloating(loop: number, top: Rim): void {
    const { graph, neighbour, edges, writer } = this;
    const foot = edges.floatingFoot(loop);
    if (!foot) return;
    const hole = graph.flags[loop] & FLAG_YARN_OVER && !(graph.flags[loop] & FLAG_LIFTED);
    const front = hole ? TILE_HOLE : stitchTile(graph, neighbour, loop);
    writer.lower[loop] = writer.addPatch(
      foot,
      top,
      { of: loop, as: hole ? PATCH_HOLE : faceOf(graph, loop), front },
      1,
      // Its legs lie over the columns beside it.
      (v) => (hole ? EYELET_LIFT * (1 - v) : 0),
    );
  }

  /** A stitch over each of the loops that it is drawn through. */
  private addDrawn(loop: number, top: Rim): void {
    const { graph, neighbour, strands, edges, writer } = this;
    const from = graph.parentStart[loop];
    const to = graph.parentStart[loop + 1];
    const several = to - from > 1;
    const as = faceOf(graph, loop);
    const front = stitchTile(graph, neighbour, loop);
    const slipped = graph.flags[loop] & FLAG_SLIPPED ? 0.1 : 0;
    const head = strands.lift[loop] ?? 0;
    // Back first, so that front strands are drawn over them where depths tie.
    for (let p = to - 1; p >= from; p--) {
      const parent = graph.parents[p];
      const [share, of] = shareOf(graph, parent, loop);
      const right = edges.edge(parent, 0);
      const left = edges.edge(parent, 1);
      const base: Rim = [mix(right, left, share / of), mix(right, left, (share + 1) / of)];
      const foot = strands.lift[parent] ?? 0;
      const bulge = several ? (p === from ? DECREASE_LIFT : -DECREASE_LIFT) : slipped;
      const patch = writer.addPatch(
        base,
        top,
        { of: loop, as, front },
        several ? 2 : 1,
        (v, u) =>
          foot +
          (head - foot) * v +
          bulge * Math.min(1, 4 * v) -
          edges.seamDip(v < 0.5 ? parent : loop, u),
      );
      if (p === from) writer.lower[loop] = patch;
      if (share === 0) writer.upper[2 * parent] = patch;
      if (share === of - 1) writer.upper[2 * parent + 1] = patch;
    }
  }

  /** The bare sheet up to a course: triangles whose last loop belongs to it. Through an eyelet the table shows. */
  private addBehind(c: number): void {
    const { graph, triangles, writer, behind, isOpen } = this;
    for (const t of behind[c]) {
      if (isOpen(triangles[t], triangles[t + 1], triangles[t + 2])) continue;
      const corners = [0, 1, 2].map((k) => {
        const vertex = triangles[t + k];
        const of = Math.min(vertex, graph.loops - 1);
        return writer.addVertex([[vertex, 1]], 0.5, 0.5, 0, {
          of,
          as: PATCH_BEHIND,
          front: TILE_NONE,
        });
      });
      writer.addTriangle(corners[0], corners[1], corners[2]);
    }
  }

  /** Under strands that travel, and beside them, the fabric goes on as on its wrong side. */
  private addGround(loop: number, top: Rim): void {
    const { graph, neighbour, strands, edges, writer } = this;
    const { edgeUnderStrands } = edges;
    const parent = graph.parents[graph.parentStart[loop]];
    const beside = [neighbour[2 * loop], neighbour[2 * loop + 1]];
    const near = strands.inStrand[loop] || beside.some((of) => of >= 0 && strands.inStrand[of]);
    if (!near) return;
    const of = strands.inStrand[loop] ? edges.columnBelow(loop) : parent;
    if (of < 0) return;
    const base: Rim = [edgeUnderStrands(of, 0), edgeUnderStrands(of, 1)];
    const over: Rim = strands.inStrand[loop]
      ? [edgeUnderStrands(loop, 0), edgeUnderStrands(loop, 1)]
      : [...top];
    writer.ground[loop] = writer.addPatch(
      base,
      over,
      { of: loop, as: PATCH_GROUND, front: GROUND + tileOf(-1, 0) },
      1,
      () => -GROUND_DEPTH,
    );
  }

  /** Behind a seam the edges that are folded back lie side by side, a column of their own. */
  private addSeam(loop: number): void {
    const { graph, edges, writer } = this;
    const beside = edges.sewnTo(loop, 1);
    if (beside < 0) return;
    const [from, to] = [loop, beside].map((of) => graph.parents[graph.parentStart[of]]);
    if (from === undefined || to === undefined) return;
    const at = (of: number): Blend => [[of, 1]];
    writer.seam[loop] = writer.addPatch(
      [at(from), at(to)],
      [at(loop), at(beside)],
      { of: loop, as: PATCH_GROUND, front: GROUND + tileOf(1, 0) },
      1,
      () => -SEAM_RIDGE,
    );
  }

  /** Between stitches that lean together the fabric goes on. */
  private addGroundOfDecrease(loop: number, top: Rim): void {
    const { graph, writer } = this;
    const { edge } = this.edges;
    const together = [
      ...graph.parents.subarray(graph.parentStart[loop], graph.parentStart[loop + 1]),
    ];
    together.sort((a, b) => graph.position[a] - graph.position[b]);
    const right = together[0];
    const left = together[together.length - 1];
    // Over the beginning of a round the first and the last stitch are no neighbours in their course.
    if (graph.position[left] - graph.position[right] >= together.length + 2) return;
    const base: Rim = [edge(right, 0), edge(left, 1)];
    const front = GROUND + tileOf(graph.face[loop], 0);
    writer.addPatch(base, top, { of: loop, as: PATCH_GROUND, front }, 1, () => -2 * DECREASE_LIFT);
  }

  /** The cast-on chain below the first loops. */
  private addEdgeBand(loop: number): void {
    const { graph, neighbour, writer } = this;
    const { edge, rimEdge, outward, besideOnRim } = this.edges;
    const top: Rim = [rimEdge(loop, 0), rimEdge(loop, 1)];
    const child = (of: number) =>
      graph.childStart[of] < graph.childStart[of + 1] ? graph.children[graph.childStart[of]] : -1;
    const rim: Rim = [outward(loop, 0, child), outward(loop, 1, child)];
    this.addBehindBand(loop, top, rim);
    writer.band[loop] = writer.addPatch(
      rim,
      top,
      { of: loop, as: PATCH_EDGE, front: TILE_CORD },
      1,
      () => 0,
    );
    if (neighbour[2 * loop + 1] !== besideOnRim(loop, 1)) {
      this.fillStep(loop, top, [edge(loop, 0), edge(loop, 1)]);
    }
  }

  /** The bare sheet goes on under an edge's band: at corners that curl the band parts from its stitches by a hair. */
  private addBehindBand(loop: number, inside: Rim, rim: Rim): void {
    const { writer } = this;
    const half: Rim = [mix(inside[0], rim[0], 0.5), mix(inside[1], rim[1], 0.5)];
    const bare = { of: loop, as: PATCH_BEHIND, front: TILE_NONE } as const;
    writer.addPatch(inside, half, bare, 1, () => 0);
  }

  /** Where a round begins one course above its end, the edge's band leaves a corner of fabric bare. */
  private fillStep(loop: number, low: Rim, high: Rim): void {
    const { graph, writer } = this;
    const front = GROUND + tileOf(graph.face[loop], 0);
    writer.addPatch(low, high, { of: loop, as: PATCH_GROUND, front }, 1, () => -0.1);
  }

  /** From a loop to the drawn-up centre. */
  private addGather(loop: number): void {
    const { cells, gathered, writer } = this;
    const { edge } = this.edges;
    const rim: Rim = [edge(loop, 0), edge(loop, 1)];
    const apex: Blend = [[cells.apex, 1]];
    const ring: Rim = [mix(rim[0], apex, GATHERED_TO), mix(rim[1], apex, GATHERED_TO)];
    const [base, top] = gathered === 0 ? [ring, rim] : [rim, ring];
    const patch = writer.addPatch(
      base,
      top,
      { of: loop, as: PATCH_GATHERED, front: tileOf(1, 0) },
      1,
      () => 0,
    );
    if (gathered === 0) writer.lower[loop] = patch;
    else writer.upper.fill(patch, 2 * loop, 2 * loop + 2);
  }

  /** Bound-off chain, or the gathers at a drawn-up centre. Live loops need nothing more. */
  private closeLastCourse(last: number): void {
    const { graph, cells, gathered, neighbour, writer } = this;
    const { edge, rimEdge, outward, besideOnRim } = this.edges;
    const parent = (of: number) =>
      graph.parentStart[of] < graph.parentStart[of + 1] ? graph.parents[graph.parentStart[of]] : -1;
    for (const loop of lastLoops(graph)) {
      if (graph.flags[loop] & FLAG_SEAM || !cells.inSurface[loop]) continue;
      if (gathered === last) {
        this.addGather(loop);
      } else if (graph.ending === 'bound-off') {
        const inside: Rim = [rimEdge(loop, 0), rimEdge(loop, 1)];
        const rim: Rim = [outward(loop, 0, parent), outward(loop, 1, parent)];
        if (neighbour[2 * loop] !== besideOnRim(loop, 0)) {
          this.fillStep(loop, [edge(loop, 0), edge(loop, 1)], inside);
        }
        this.addBehindBand(loop, inside, rim);
        writer.band[loop] = writer.addPatch(
          inside,
          rim,
          { of: loop, as: PATCH_EDGE, front: TILE_CHAIN },
          1,
          () => 0,
        );
      }
    }
  }
}

const faceOf = (graph: StitchGraph, loop: number) =>
  graph.face[loop] > 0 ? PATCH_KNIT : PATCH_PURL;
