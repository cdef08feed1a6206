/**
 * Close-up of one stitch of the piece itself: yarn is laid on the sheet, the loops around the stitch are
 * brought to rest, and the place is turned to face the eye.
 */

import { largestHole } from '../../cell/hole-size.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { wrongLinksOf } from '../../yarn/check/check-yarn.ts';
import { layYarn } from '../../yarn/lay/lay-yarn.ts';
import { findKin } from '../../yarn/lay/loop-links.ts';
import { type StitchFrame, stitchFrame } from '../../yarn/lay/stitch-frame.ts';
import { relaxYarn } from '../../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import type { CloseUp, SheetAtRest } from '../yarn-messages.ts';
import { markOf, mustRest, planarEnds, type Watch, YarnTrouble } from './close-up-frame.ts';

/** Steps to neighbours over which loops move, and over which they are drawn. Chosen. */
const MOVES = 3;
const DRAWN = 6;
const MOVES_IN_A_CROWD = 2;
/** A few dozen loops take some hundred steps to rest, crowded ones more. Chosen: some five seconds. */
const MOST_STEPS = 3000;
/** Pieces beyond this are laid too slowly to wait for. Chosen: some ten seconds. */
const MOST_LOOPS = 60_000;

/** Yarn laid on the last sheet: picking another stitch of it does not lay it anew. */
let last: { sheet: SheetAtRest; curves: YarnCurves } | null = null;

export function showStitch(sheet: SheetAtRest, loop: number, onProgress: Watch): CloseUp {
  const { graph, positions } = sheet;
  if (!Number.isInteger(loop) || loop < 0 || loop >= graph.loops) {
    throw new RangeError(`the piece has ${graph.loops} stitches, there is no number ${loop + 1}`);
  }
  if (graph.loops > MOST_LOOPS) {
    throw new YarnTrouble(
      `This piece has ${graph.loops} stitches; close-ups of its own stitches go up to ${MOST_LOOPS}.`,
    );
  }
  const laid = sameSheet(sheet) ?? layYarn(graph, sheet.cells, positions);
  last = { sheet, curves: laid };
  const steps = stepsFrom(graph, loop, DRAWN);
  const free = steps.map((step) => (step <= MOVES ? 1 : 0));
  const frame = stitchFrame(graph, positions, loop);
  if (!frame) throw new YarnTrouble('This stitch has no width or height of its own to look at.');
  // On the way to rest no yarn passes through yarn: what was laid rightly stays so.
  const kin = findKin(graph);
  const yarn = {
    ...laid,
    segments: laid.segmentsPerStitch,
    diameter: 2 * laid.radiusMm,
  };
  for (let i = 0; i < graph.loops; i++) {
    if (steps[i] <= MOVES && wrongLinksOf(graph, kin, yarn, i).length > 0) {
      throw new YarnTrouble(
        'Stitches crowd here so much that the yarn could not be laid through all of them: no picture rather than a wrong one. Choose a stitch a little further out.',
      );
    }
  }
  const settle = (moving: Uint8Array, around: 'yields' | 'stays') =>
    relaxYarn(laid, graph, {
      free: moving,
      around,
      onProgress: (residual, _step, pointsNow) =>
        onProgress(residual, () =>
          draw(graph, { ...laid, points: pointsNow() }, steps, loop, frame, null),
        ),
      maxIterations: MOST_STEPS,
    });
  let { curves, relaxation } = settle(free, 'yields');
  if (!relaxation.converged && relaxation.reason !== 'cancelled') {
    // Something near is crowded, often the drawn-up centre: it stays as laid, and less is moved.
    const near = steps.map((step) => (step <= MOVES_IN_A_CROWD ? 1 : 0));
    ({ curves, relaxation } = settle(near, 'stays'));
  }
  mustRest(relaxation, 'Choose a stitch where the loops crowd less.');
  return draw(graph, curves, steps, loop, frame, relaxation.iterations);
}

/** The place as it is now; `rest`: the steps that brought it to rest, then its holes are measured. */
function draw(
  graph: StitchGraph,
  curves: YarnCurves,
  steps: Uint8Array,
  loop: number,
  frame: StitchFrame,
  rest: number | null,
): CloseUp {
  const { points, strandStart, told } = drawn(curves, steps, loop, frame);
  const { stitchMm, roundMm } = frame;
  const ends = planarEnds(points, strandStart, () => true);
  const hole = (x: readonly [number, number]) => {
    const y = [-1.1 * roundMm, 1.1 * roundMm] as const;
    return markOf(largestHole(ends, curves.radiusMm, { x, y }, 3 * stitchMm));
  };
  const besides = () => {
    const right = hole([1.3 * stitchMm, 2.6 * stitchMm]);
    const left = hole([-2.6 * stitchMm, -1.3 * stitchMm]);
    return right.diameterMm > left.diameterMm ? right : left;
  };
  return {
    place: 'stitch',
    points,
    strandStart,
    told,
    radiusMm: curves.radiusMm,
    view: [3.3 * stitchMm, 3 * roundMm],
    stitchMm,
    roundMm,
    opening: rest === null ? null : hole([-1.1 * stitchMm, 1.1 * stitchMm]),
    ordinary: rest === null ? null : besides(),
    width: null,
    loopMm: curves.lengthMm / Math.max(1, graph.loops),
    yarnMm: 2 * curves.radiusMm,
    steps: rest ?? 0,
  };
}

function sameSheet(sheet: SheetAtRest): YarnCurves | null {
  const before = last?.sheet.positions;
  const { positions } = sheet;
  if (!last || !before || before.length !== positions.length) return null;
  if (last.sheet.graph.loops !== sheet.graph.loops) return null;
  for (let i = 0; i < positions.length; i++) if (before[i] !== positions[i]) return null;
  const { parents, face } = sheet.graph;
  const old = last.sheet.graph;
  if (parents.length !== old.parents.length) return null;
  for (let i = 0; i < parents.length; i++) if (parents[i] !== old.parents[i]) return null;
  for (let i = 0; i < face.length; i++) if (face[i] !== old.face[i]) return null;
  return last.curves;
}

/** [loops] steps along yarn and wales from a loop; 255 beyond `most`. */
function stepsFrom(graph: StitchGraph, loop: number, most: number): Uint8Array {
  const steps = new Uint8Array(graph.loops).fill(255);
  steps[loop] = 0;
  let front = [loop];
  for (let step = 1; step <= most; step++) {
    const next: number[] = [];
    const reachLoop = (other: number) => {
      if (other < 0 || other >= graph.loops || steps[other] <= step) return;
      steps[other] = step;
      next.push(other);
    };
    for (const i of front) {
      reachLoop(i - 1);
      reachLoop(i + 1);
      for (let k = graph.parentStart[i]; k < graph.parentStart[i + 1]; k++)
        reachLoop(graph.parents[k]);
      for (let k = graph.childStart[i]; k < graph.childStart[i + 1]; k++)
        reachLoop(graph.children[k]);
    }
    front = next;
  }
  return steps;
}

function drawn(
  curves: YarnCurves,
  steps: Uint8Array,
  loop: number,
  { origin, right, up, out }: StitchFrame,
): Pick<CloseUp, 'points' | 'strandStart' | 'told'> {
  const points: number[] = [];
  const told: number[] = [];
  const strandStart = [0];
  const total = curves.points.length / 3;
  for (let i = 0; i <= total; i++) {
    const of = i < total ? curves.loop[i] : -1;
    if (of < 0 || steps[of] > DRAWN) {
      if (told.length > strandStart[strandStart.length - 1]) strandStart.push(told.length);
      continue;
    }
    const away = [0, 1, 2].map((c) => curves.points[3 * i + c] - origin[c]);
    for (const axis of [right, up, out]) {
      points.push(away[0] * axis[0] + away[1] * axis[1] + away[2] * axis[2]);
    }
    told.push(of === loop ? 1 : 0);
  }
  return {
    points: Float32Array.from(points),
    strandStart: Int32Array.from(strandStart),
    told: Uint8Array.from(told),
  };
}
