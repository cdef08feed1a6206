/**
 * Where the edges of patches lie: half way to the neighbours, eased with the strands of cables, moved outward
 * along a cast-on or bound-off edge. In: graph, cells, neighbours, strands. Out: points as weighted sums of loops.
 */
import type { Cells } from '../../fabric/cells.ts';
import { courseCount, FLAG_SEAM, type StitchGraph } from '../../fabric/stitch-graph.ts';
import type { CableStrands } from './cable-strands.ts';
import type { Blend, Rim } from './patch-writer.ts';

/** How far an edge reaches beyond the loops, rounds. Chosen: about a yarn and a half. */
const EDGE_REACH = 0.6;
/** Depth of a seam, stitch widths: a yarn, as its edges are folded back. Chosen. */
const SEAM_DEPTH = 0.26;

const midway = (a: number, b: number): Blend => [
  [a, 0.5],
  [b, 0.5],
];

export function patchEdges(
  graph: StitchGraph,
  cells: Cells,
  neighbour: Int32Array,
  strands: CableStrands,
) {
  const easedFrom = cells.vertices;

  /** Right (0) or left (1) edge of a loop's patch. */
  function edge(loop: number, side: 0 | 1): Blend {
    const beside = neighbour[2 * loop + side];
    const other = neighbour[2 * loop + (1 - side)];
    if (strands.inStrand[loop]) {
      // A strand keeps its width while it travels.
      const [from, to] = beside >= 0 ? [loop, beside] : [other, loop];
      return from < 0
        ? [[easedFrom + loop, 1]]
        : [
            [easedFrom + loop, 1],
            [to, 0.5],
            [from, -0.5],
          ];
    }
    if (beside >= 0 && strands.inStrand[beside]) {
      // The neighbours of a strand stretch half way after it.
      return midway(easedFrom + beside, loop);
    }
    if (beside >= 0) return midway(loop, beside);
    if (other < 0) return [[loop, 1]];
    return [
      [loop, 1.5],
      [other, -0.5],
    ];
  }

  /** The same as if no strand travelled there. */
  function edgeUnderStrands(loop: number, side: 0 | 1): Blend {
    const beside = neighbour[2 * loop + side];
    return beside < 0 ? edge(loop, side) : midway(loop, beside);
  }

  /** Foot of a loop that is drawn through nothing: between its neighbours' feet. */
  function floatingFoot(loop: number): Rim | null {
    let foot: Rim | null = null;
    for (const side of [0, 1] as const) {
      const beside = neighbour[2 * loop + side];
      if (beside < 0) continue;
      const from = graph.parentStart[beside];
      const to = graph.parentStart[beside + 1];
      if (from === to) continue;
      // The parent nearest to the gap.
      let nearest = graph.parents[from];
      for (let p = from; p < to; p++) {
        const candidate = graph.parents[p];
        const further = graph.position[candidate] - graph.position[nearest];
        if (side === 0 ? further > 0 : further < 0) nearest = candidate;
      }
      const point = edge(nearest, side === 0 ? 1 : 0);
      foot = foot ? [foot[0], point] : [point, point];
    }
    return foot;
  }

  /** The loop that stands under this one in its column, whatever crosses there. */
  function columnBelow(loop: number): number {
    const { stitch, stitchStart, consumedStart, consumed, madeStart } = graph;
    const of = stitch[loop];
    const from = consumedStart[of];
    const to = consumedStart[of + 1];
    if (from === to || of < stitchStart[0]) return -1;
    const k = loop - madeStart[of];
    return consumed[Math.min(to - 1, from + k)];
  }

  /** The loop that a loop is sewn to on its right (0) or left (1); −1 where it is not. */
  function sewnTo(loop: number, side: 0 | 1): number {
    if (graph.closure !== 'seam') return -1;
    const beside = neighbour[2 * loop + side];
    if (beside < 0) return -1;
    return Math.abs(graph.position[loop] - graph.position[beside]) > 1 ? beside : -1;
  }

  /** Sewn edges sink a little between their columns. */
  const seamDip = (loop: number, u: number): number =>
    sewnTo(loop, u < 0.5 ? 0 : 1) < 0 ? 0 : SEAM_DEPTH;

  /** Neighbour along an edge, which closes on itself where the work is joined. */
  function besideOnRim(loop: number, side: 0 | 1): number {
    const c = graph.course[loop];
    const isWhole = graph.start[c + 1] - graph.start[c] === courseCount(graph, c);
    if (graph.closure !== 'helix' || graph.join.halfTurns % 2 !== 0 || (graph.held && !isWhole))
      return neighbour[2 * loop + side];
    let at = loop;
    do {
      at += side === 0 ? -1 : 1;
      if (at < graph.start[c]) at = graph.start[c + 1] - 1;
      if (at >= graph.start[c + 1]) at = graph.start[c];
    } while (at !== loop && (graph.flags[at] & FLAG_SEAM || !cells.inSurface[at]));
    return at === loop ? -1 : at;
  }

  function rimEdge(loop: number, side: 0 | 1): Blend {
    const beside = besideOnRim(loop, side);
    return beside < 0 ? edge(loop, side) : midway(loop, beside);
  }

  /** An edge point moved away from the fabric by about half a round, the mean of both its loops. */
  function outward(loop: number, side: 0 | 1, inner: (of: number) => number): Blend {
    const sum: [number, number][] = rimEdge(loop, side).map(([of, w]) => [of, w]);
    const loops = [loop, besideOnRim(loop, side)].filter((of) => of >= 0 && inner(of) >= 0);
    for (const of of loops) {
      const w = EDGE_REACH / loops.length;
      sum.push([of, w], [inner(of), -w]);
    }
    return sum;
  }

  return {
    easedFrom,
    edge,
    edgeUnderStrands,
    floatingFoot,
    columnBelow,
    sewnTo,
    seamDip,
    besideOnRim,
    rimEdge,
    outward,
  };
}
