/**
 * Close-up of the gap between two needles: the row of the yarn model repeated over the picture, its slack
 * thread and a tugged stitch marked, on its way to rest and at rest with what was measured.
 */
import { ladderOpening, type PatchShape, type PatchYarn } from '../../cell/ladder-opening.ts';
import type { CloseUp, HoleMark } from '../yarn-messages.ts';
import {
  type Asked,
  Cutting,
  centred,
  markOf,
  mustRest,
  type Watch,
  yarnOf,
} from './close-up-frame.ts';

export function showNeedles(asked: Asked<'needles'>, onProgress: Watch): CloseUp {
  const { slackMm, tugged, tugMm } = asked;
  const { loopMm, yarnMm } = yarnOf(asked);
  const tighten = tugged === 0 || tugMm === 0 ? null : { stitch: tugged, byMm: tugMm };
  const { shape, widerMm, relaxation } = ladderOpening({
    slackMm,
    loopMm,
    yarnMm,
    tighten,
    onProgress: (residual, yarn) => onProgress(residual, () => draw(asked, yarn(), null, 0)),
  });
  mustRest(relaxation);
  return { ...draw(asked, shape, shape, relaxation.iterations), widerMm };
}

function draw(
  asked: Asked<'needles'>,
  { points, radiusMm, periodMm, stitchMm, roundMm }: PatchYarn,
  measured: PatchShape | null,
  steps: number,
): CloseUp {
  const { loopMm, yarnMm } = yarnOf(asked);
  const n = points.length / 3;
  const perStitch = n / Math.round(Math.abs(periodMm[0]) / stitchMm);
  const tugged = asked.tugMm > 0 ? asked.tugged : 0;
  // The row's yarn starts at the gap: half of its thread lies at either end.
  const toldOf = (node: number) => {
    if (node <= perStitch / 4 || node >= n - perStitch / 4) return 1;
    return tugged > 0 && Math.floor(node / perStitch) === tugged - 1 ? 2 : 0;
  };
  const gapX = points[0];
  const picture = new Cutting(
    (x, y) => Math.abs(x - gapX) < 6.5 * stitchMm && Math.abs(y) < 9 * roundMm,
  );
  for (let row = -5; row <= 5; row++) {
    picture.end();
    for (let k = 0; k <= 2 * n; k++) {
      const node = k % n;
      const copy = Math.floor(k / n) - 1;
      picture.add(
        points[3 * node] + copy * periodMm[0],
        points[3 * node + 1] + row * periodMm[1],
        points[3 * node + 2],
        toldOf(node),
      );
    }
  }
  return centred(
    {
      place: 'needles',
      ...picture.finish(),
      radiusMm,
      // The ordinary gap lies two or three stitches from the other.
      view: [3.6 * stitchMm, 2 * roundMm],
      stitchMm,
      roundMm,
      opening: measured && markOf(measured.hole),
      ordinary: measured && beside(markOf(measured.ordinary), gapX, periodMm[0]),
      width: null,
      loopMm,
      yarnMm,
      steps,
    },
    gapX,
    0,
  );
}

/** The same place of the row as near to the gap as its repeat brings it: within the picture. */
function beside(mark: HoleMark, gapX: number, periodX: number): HoleMark {
  const period = Math.abs(periodX);
  return { ...mark, x: mark.x - period * Math.round((mark.x - gapX) / period) };
}
