/**
 * Where the edges of patches lie: half way to the neighbours, eased with the strands of cables, moved outward
 * along a cast-on or bound-off edge. In: graph, cells, neighbours, strands. Out: points as weighted sums of loops.
 */
import type { Cells } from '../../fabric/cells.ts';
import { courseCount, FLAG_SEAM, type StitchGraph } from '../../fabric/stitch-graph.ts';
import type { CableStrands } from './cable-strands.ts';
import { besideFoot, findEyelets } from './eyelets.ts';
import { cornerLoops } from './patch-topology.ts';
import type { Blend, Rim } from './patch-writer.ts';

/** How far an edge reaches beyond the loops, rounds. Chosen: about a yarn and a half. */
const EDGE_REACH = 0.6;
/** How far the edge beside a corner stitch runs on towards the corner, stitches: its own link of the chain goes round it. Chosen. */
const CORNER_REACH = 0.36;
/**
 * How far an eyelet parts the columns below it, stitch widths from the middle of the gap: to each side, and where a column
 * has one on either side. Chosen: yarn as thick as it is seen leaves about half a stitch open between its legs.
 */
const EYELET_REACH = 0.3;
const EYELET_REACH_OF_TWO = 0.24;
/** So much further out its legs begin, over the columns: what is open between them is then round. Chosen by eye. */
const EYELET_LEGS = 0.13;
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
  const corners = graph.ending === 'bound-off' ? cornerLoops(graph, neighbour) : new Set<number>();
  const eyelets = findEyelets(graph, neighbour);
  /** [2·loops] 1 where an eyelet opens over a loop's right or left edge. */
  const opened = new Uint8Array(2 * graph.loops);
  for (const { right, left } of eyelets) {
    opened[2 * right + 1] = 1;
    opened[2 * left] = 1;
  }

  /** Where a column ends beside an eyelet, or `further` into the column. */
  function eyeletEdge(loop: number, side: 0 | 1, further: number): Blend {
    const reach = opened[2 * loop + (1 - side)] ? EYELET_REACH_OF_TWO : EYELET_REACH;
    return [
      [loop, 0.5 + reach + further],
      [neighbour[2 * loop + side], 0.5 - reach - further],
    ];
  }

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
    if (beside >= 0 && opened[2 * loop + side]) return eyeletEdge(loop, side, 0);
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
    const [right, left] = ([0, 1] as const).map((side) => besideFoot(graph, neighbour, loop, side));
    const at = (of: number, side: 0 | 1) =>
      opened[2 * of + side] ? eyeletEdge(of, side, EYELET_LEGS) : edge(of, side);
    const from = right < 0 ? null : at(right, 1);
    const to = left < 0 ? null : at(left, 0);
    return from && to ? [from, to] : from ? [from, from] : to ? [to, to] : null;
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
    const [a, b] = [loop, besideOnRim(loop, side)];
    if (b >= 0 && corners.has(a) !== corners.has(b)) {
      const [corner, other] = corners.has(a) ? [a, b] : [b, a];
      sum.push([corner, CORNER_REACH], [other, -CORNER_REACH]);
    }
    return sum;
  }

  return {
    eyelets,
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
