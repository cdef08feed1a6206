/**
 * Close-up of the join: the patch of the yarn model with its running thread marked, on its way to rest and
 * at rest, then with the opening and the ordinary gap where they were measured.
 */

import { LEVELS, SIDE } from '../../cell/join-geometry.ts';
import {
  type JoinBase,
  joinOpening,
  type PatchShape,
  type PatchYarn,
  relaxJoin,
} from '../../cell/join-opening.ts';
import { checkSlack } from '../../cell/slack.ts';
import type { CloseUp } from '../yarn-messages.ts';
import {
  type Asked,
  type Beginning,
  Cutting,
  centred,
  markOf,
  mustRest,
  type Watch,
  yarnOf,
} from './close-up-frame.ts';

/** Stitches to each side of the join, and rounds, that are looked at: the patch without its edge. */
const LOOK_STITCHES = SIDE - 1.6;
const LOOK_ROUNDS = LEVELS - 1;

export function showJoin(asked: Asked<'join'>, onProgress: Watch, start: Beginning): CloseUp {
  const { method, slackMm } = asked;
  const { loopMm, yarnMm } = yarnOf(asked);
  const request = {
    method,
    slackMm,
    loopMm,
    yarnMm,
    onProgress: (residual: number, yarn: () => PatchYarn) =>
      onProgress(residual, () => draw(asked, yarn(), null, 0)),
  };
  // The limits come before the long part.
  checkSlack(slackMm, loopMm);
  // Any slack starts from the join without slack.
  const key = `join ${method} ${loopMm} ${yarnMm}`;
  let from = start.base?.key === key ? (start.base.from as JoinBase) : null;
  if (!from) {
    from = relaxJoin(request);
    start.keep({ key, from });
  }
  const { shape, relaxation } = joinOpening(request, from);
  mustRest(relaxation);
  return draw(asked, shape, shape, relaxation.iterations);
}

function draw(
  asked: Asked<'join'>,
  yarn: PatchYarn,
  measured: PatchShape | null,
  steps: number,
): CloseUp {
  return asked.method === 'flat'
    ? drawSeam(asked, yarn, measured, steps)
    : drawJoin(asked, yarn, measured, steps);
}

function drawJoin(
  asked: Asked<'join'>,
  { points, strandStart, radiusMm, stitchMm, roundMm }: PatchYarn,
  measured: PatchShape | null,
  steps: number,
): CloseUp {
  const { loopMm, yarnMm } = yarnOf(asked);
  const told = new Uint8Array(points.length / 3);
  // The running thread: from the last stitch of the cast-on into round 1.
  const right = SIDE + (asked.method === 'extra' ? 1 : 0);
  const [from, to] = [strandStart[1], strandStart[2]];
  const perStitch = (to - from - 1) / (right + SIDE);
  const middle = from + right * perStitch;
  for (let i = middle - perStitch / 4; i <= middle + perStitch / 4; i++) told[i] = 1;
  return centred(
    {
      place: 'join',
      points: Float32Array.from(points),
      strandStart,
      told,
      radiusMm,
      view: [LOOK_STITCHES * stitchMm, (LOOK_ROUNDS / 2 + 0.85) * roundMm],
      stitchMm,
      roundMm,
      opening: measured && markOf(measured.hole),
      ordinary: measured && markOf(measured.ordinary),
      width: null,
      loopMm,
      yarnMm,
      steps,
    },
    0,
    // Centred on the height of the patch; the cast-on stands at the bottom.
    (LOOK_ROUNDS / 2 - 0.1) * roundMm,
  );
}

/** The seam repeats up, down and to the sides. */
function drawSeam(
  asked: Asked<'join'>,
  { points, strandStart, radiusMm, periodMm, stitchMm, roundMm }: PatchYarn,
  measured: PatchShape | null,
  steps: number,
): CloseUp {
  const { loopMm, yarnMm } = yarnOf(asked);
  const [, thread, end] = strandStart;
  let seamX = 0;
  for (let k = thread; k < end; k++) seamX += points[3 * k] / (end - thread);
  const picture = new Cutting(
    (x, y) => Math.abs(x - seamX) < 6.5 * stitchMm && Math.abs(y) < 9 * roundMm,
  );
  for (let s = 0; s + 1 < strandStart.length; s++) {
    const [from, to] = [strandStart[s], strandStart[s + 1]];
    const sideways = s === 0 ? [-1, 0, 1] : [0];
    for (const copy of sideways) {
      picture.end();
      // Strands run on from repeat to repeat upwards.
      for (let k = 0; k <= 10 * (to - from); k++) {
        const node = from + (k % (to - from));
        const up = Math.floor(k / (to - from)) - 5;
        picture.add(
          points[3 * node] + copy * periodMm[0],
          points[3 * node + 1] + up * periodMm[1],
          points[3 * node + 2],
          s === 0 ? 0 : 1,
        );
      }
    }
  }
  return centred(
    {
      place: 'join',
      ...picture.finish(),
      radiusMm,
      view: [LOOK_STITCHES * stitchMm, 2 * roundMm],
      stitchMm,
      roundMm,
      opening: measured && markOf(measured.hole),
      ordinary: measured && markOf(measured.ordinary),
      width: null,
      loopMm,
      yarnMm,
      steps,
    },
    seamX,
    0,
  );
}
