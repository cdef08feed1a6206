/**
 * Second thoughts of laying: feet that miss a head they are drawn through.
 *
 * Input: the graph, the loops as laid with their links and frames. Frames and points are changed in place.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { wrongLinks, wrongLinksOf } from '../check/check-yarn.ts';
import type { LaidLoops } from './laid-loops.ts';
import type { LoopKin } from './loop-links.ts';
import { traceQuarters } from './loop-shape.ts';

/** Shifts of a foot along the yarn (stitches), reaches and factors on its depth, tried in this order. */
const FOOT_TRIALS: readonly (readonly [number, number, number])[] = [0, 0.3, -0.2]
  .flatMap((reach) =>
    [0, 0.12, -0.12, 0.25, -0.25, 0.4, -0.4, 0.6, -0.6].flatMap((shift) =>
      [1, 1.6, 0.5, 2.4, 0, 3.5, 7, 12].map((depth) => [shift, reach, depth] as const),
    ),
  )
  .slice(1);
/** Factors on the width of a missed head, and pinches of the foot (null: as it is). */
const HEAD_TRIALS: readonly (readonly [number, number | null])[] = [
  [1, null],
  [1.3, null],
  [1.6, null],
  [1, 0.5],
  [1, 0.98],
  [1.3, 0.5],
];

/** Poses tried in a piece: a few seconds. Chosen: only pieces drawn up tighter than yarn can be need more. */
const MOST_POSES = 12_000;

type Which = (loop: number) => boolean;
const all: Which = () => true;

/** Factor on the heads' width; pinch, shift, reach and factor on the depth of the foot. */
type Pose = readonly [number, number | null, number, number, number];

/**
 * Where loops crowd (decreases over decreases), a foot can miss a head. Widens such heads and moves such
 * feet until every link is as the graph says; what cannot be mended stays and is reported. Of loops not
 * `wanted` the feet stay as they are; of those not `mended` they are laid behind the head, and no more is tried.
 */
export function mendFeet(
  graph: StitchGraph,
  yarn: LaidLoops,
  { wanted = all, mended = all }: { wanted?: Which; mended?: Which } = {},
): void {
  const { segments, kin, frames } = yarn;
  const trace = (i: number) =>
    yarn.points.set(
      traceQuarters(frames[i], segments).subarray(0, 3 * segments),
      3 * yarn.loopStart[i],
    );
  const feet = new Set(
    wrongLinks(graph, kin, yarn)
      .map((k) => childOfLink(kin, k))
      .filter(wanted),
  );
  let poses = 0;
  for (const i of feet) {
    const f = frames[i];
    const layer = f.footLayer || -graph.face[i] * 0.3 * yarn.diameter;
    const heads = new Set(kin.parents.subarray(kin.parentStart[i], kin.parentStart[i + 1]));
    const widths = [...heads].map((p) => frames[p].headAcross.slice());
    // A head that is changed must keep its other children.
    const family = new Set([i]);
    for (const p of heads) {
      for (let k = kin.childStart[p]; k < kin.childStart[p + 1]; k++) family.add(kin.children[k]);
    }
    const pinch = f.footPinch;
    const pose = (
      widen: number,
      narrow: number | null,
      shift: number,
      reach: number,
      depth: number,
    ) => {
      f.footPinch = narrow ?? pinch;
      f.footShift = shift;
      f.footReach = reach;
      f.footLayer = layer * depth;
      [...heads].forEach((p, h) => {
        for (let c = 0; c < 3; c++) frames[p].headAcross[c] = widen * widths[h][c];
        trace(p);
      });
      trace(i);
      let wrong = 0;
      for (const member of family) wrong += wrongLinksOf(graph, kin, yarn, member).length;
      return wrong;
    };
    let best: Pose = [1, null, 0, 0, 1];
    let fewest = pose(...best);
    search: for (const [widen, narrow] of HEAD_TRIALS) {
      for (const [shift, reach, depth] of FOOT_TRIALS) {
        if (fewest === 0 || poses >= MOST_POSES || !mended(i)) break search;
        poses++;
        const wrong = pose(widen, narrow, shift, reach, depth);
        if (wrong < fewest) {
          fewest = wrong;
          best = [widen, narrow, shift, reach, depth];
        }
      }
    }
    pose(...best);
  }
}

function childOfLink(kin: LoopKin, link: number): number {
  let low = 0;
  let high = kin.parentStart.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (kin.parentStart[mid] <= link) low = mid;
    else high = mid;
  }
  return low;
}
