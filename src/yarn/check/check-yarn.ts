/**
 * An exact look at laid or relaxed yarn: does every loop pass through its parents as the graph says,
 * and how near do centre lines come?
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { shortestWay } from '../../rod/contact.ts';
import { ARC_EXCLUSION } from '../../rod/contact-pairs.ts';
import { HEAD_SHARE, linkOf, NARROW_SHARE, type PointOf } from '../../rod/linking.ts';
import { emptyPairList, findPairs } from '../../rod/pair-list.ts';
import { buildRodSystem } from '../../rod/rod-system.ts';
import type { LoopKin } from '../lay/loop-links.ts';
import type { YarnCheck } from '../yarn-curves.ts';

export interface YarnPolyline {
  readonly points: ArrayLike<number>;
  readonly strandStart: Int32Array;
  /** [loops + 1] first point of each loop's span. */
  readonly loopStart: Int32Array;
  readonly segments: number;
  readonly diameter: number;
}

export function checkYarn(graph: StitchGraph, kin: LoopKin, yarn: YarnPolyline): YarnCheck {
  const wrong = wrongLinks(graph, kin, yarn);
  return {
    minCentreDistanceMm: smallestDistance(yarn),
    linksChecked: kin.parents.length,
    linksWrong: wrong.length,
  };
}

/** Indices into `kin.parents` of the links that differ from the graph. */
export function wrongLinks(graph: StitchGraph, kin: LoopKin, yarn: YarnPolyline): number[] {
  const wrong: number[] = [];
  for (let child = 0; child < graph.loops; child++) {
    wrong.push(...wrongLinksOf(graph, kin, yarn, child));
  }
  return wrong;
}

/** The wrong links of one loop with its parents. */
export function wrongLinksOf(
  graph: StitchGraph,
  kin: LoopKin,
  yarn: YarnPolyline,
  child: number,
): number[] {
  const wrong: number[] = [];
  for (let k = kin.parentStart[child]; k < kin.parentStart[child + 1]; k++) {
    const parent = kin.parents[k];
    const expected = expectedLink(graph, kin, child, parent);
    const right = [HEAD_SHARE, NARROW_SHARE].some((share) => {
      const link = linkOf(spanOf(yarn, parent), spanOf(yarn, child), yarn.segments, share);
      return link.first === expected && link.second === -expected;
    });
    if (!right) wrong.push(k);
  }
  return wrong;
}

function spanOf(yarn: YarnPolyline, loop: number): PointOf {
  const first = yarn.loopStart[loop];
  return (k, out) => {
    const i = 3 * (first + k);
    out[0] = yarn.points[i];
    out[1] = yarn.points[i + 1];
    out[2] = yarn.points[i + 2];
  };
}

/**
 * Signed piercing by the child's first half: for a knit stitch −1 in a loop whose yarn runs from left to
 * right as seen from the right side, +1 the other way (the child's own direction cancels: half and
 * traversal both change); the other sign for purl and for each crossing of the parent's legs.
 */
function expectedLink(graph: StitchGraph, kin: LoopKin, child: number, parent: number): number {
  let sign = graph.face[child];
  if (graph.wrongSide[graph.course[parent]]) sign = -sign;
  if (kin.crossedHead[parent]) sign = -sign;
  if (kin.crossedFoot[parent]) sign = -sign;
  return sign;
}

/** Smallest distance of centre lines that are not neighbours along the yarn; at most two diameters. */
function smallestDistance(yarn: YarnPolyline): number {
  const { points, strandStart, diameter } = yarn;
  const strands = [];
  for (let s = 0; s + 1 < strandStart.length; s++) {
    const from = 3 * strandStart[s];
    const to = 3 * strandStart[s + 1];
    if (to - from < 6) continue;
    strands.push({
      points: Float64Array.from({ length: to - from }, (_, i) => points[from + i]),
      closed: false,
    });
  }
  if (strands.length === 0) return 2 * diameter;
  const { system, positions } = buildRodSystem(strands);
  const pairs = emptyPairList();
  const reach = { reach: diameter, exclusion: ARC_EXCLUSION * diameter };
  findPairs(system, positions, new Float64Array(2), reach, pairs);
  let best = 4 * diameter * diameter;
  const way = new Float64Array(3);
  for (let k = 0; k < pairs.count; k++) {
    shortestWay(system, positions, pairs.first[k], pairs.second[k], way);
    const [x, y, z] = way;
    best = Math.min(best, x * x + y * y + z * z);
  }
  return Math.sqrt(best);
}
