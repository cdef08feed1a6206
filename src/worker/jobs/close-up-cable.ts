/**
 * Close-up of a cable: one repeat of the panel of the yarn model, repeated over the picture, one strand of
 * the rope marked, on its way to rest and at rest with its width measured.
 */
import { HAND_LOOP } from '../../cell/fabric-ratios.ts';
import {
  type PanelGround,
  type PanelNow,
  relaxGround,
  relaxPanel,
} from '../../cell/relax-panel.ts';
import { MUNDEN_KW } from '../../report/yarn-estimate.ts';
import type { CloseUp, Knitting } from '../yarn-messages.ts';
import {
  type Asked,
  type Beginning,
  Cutting,
  centred,
  mustRest,
  type Watch,
  yarnOf,
} from './close-up-frame.ts';

/** Most rounds between crossings that are relaxed while somebody waits. Chosen. */
const MOST_ROUNDS_BETWEEN = 12;

export function showCable(asked: Asked<'cable'>, onProgress: Watch, start: Beginning): CloseUp {
  const { over, under, lean, everyRounds, besides } = asked;
  const { loopMm, yarnMm } = cableYarnOf(asked);
  if (!Number.isInteger(everyRounds) || everyRounds < 2 || everyRounds > MOST_ROUNDS_BETWEEN) {
    throw new RangeError(
      `a cable is crossed every 2 to ${MOST_ROUNDS_BETWEEN} rounds here, got ${everyRounds}`,
    );
  }
  const row = [besides[0], ...new Array<1>(over + under).fill(1), besides[1]];
  const request = {
    faces: Array.from({ length: everyRounds }, () => row),
    crossings: [{ row: crossedRow(everyRounds), wale: 1, over, under, lean }],
    loopMm,
    yarnMm,
    onProgress: (residual: number, now: () => PanelNow) =>
      onProgress(residual, () => draw(asked, now(), 0)),
  };
  // Any interval is compared with the same panel without crossings.
  const key = `cable ${row} ${loopMm} ${yarnMm}`;
  let ground = start.base?.key === key ? (start.base.from as PanelGround) : null;
  if (!ground) {
    ground = relaxGround(request);
    start.keep({ key, from: ground });
  }
  const panel = relaxPanel(request, ground);
  mustRest(panel.relaxation);
  return draw(asked, panel, panel.relaxation.iterations);
}

/** As tight as hand knitting, so that a cable here and the table's (cable-pull-in.ts) are of one yarn. */
function cableYarnOf(asked: Knitting): { loopMm: number; yarnMm: number } {
  const { loopMm } = yarnOf(asked);
  return { loopMm, yarnMm: (MUNDEN_KW * asked.stitchMm) / HAND_LOOP };
}

function crossedRow(everyRounds: number): number {
  return Math.floor(everyRounds / 2);
}

function draw(
  asked: Asked<'cable'>,
  { widthMm, uncrossedWidthMm, roundMm, shape }: PanelNow,
  steps: number,
): CloseUp {
  const { over, under, everyRounds } = asked;
  const { loopMm, yarnMm } = cableYarnOf(asked);
  const { points, pointsPerRow, rows, wales, periodMm } = shape;
  const crossed = crossedRow(everyRounds);
  const size = over + under;
  const stitchMm = periodMm[0] / wales;
  const halfHeight = Math.max(5, Math.min(8, everyRounds + 1)) * 0.5 * roundMm;
  // The repeat's rows are worked from right to left: the next copy along the yarn stands to the left.
  const end = points[3 * pointsPerRow - 3];
  const way = Math.abs(points[0] + periodMm[0] - end) < Math.abs(points[0] - periodMm[0] - end);
  const alongX = way ? periodMm[0] : -periodMm[0];
  let sumX = 0;
  let sumY = 0;
  for (let i = 0; i < points.length; i += 3) {
    sumX += points[i];
    sumY += points[i + 1];
  }
  const middleX = (3 * sumX) / points.length;
  const middleY = (3 * sumY) / points.length;
  const wide = periodMm[0] / 2;
  const picture = new Cutting(
    (x, y) =>
      Math.abs(x - middleX) < wide + 6 * stitchMm &&
      Math.abs(y - middleY) < halfHeight + 2 * roundMm,
  );
  // One strand of the rope, from crossing to crossing on the other side; strands of unlike size mix.
  const inStrand = (wale: number, tile: number, r: number) => {
    // Without its crossings the panel is one row, or no strand passes over another.
    if (over !== under || wale < 1 || wale > size || rows !== everyRounds) return false;
    const swapped = Math.abs(tile + (r >= crossed ? 1 : 0)) % 2 === 1;
    return swapped ? wale > over : wale <= over;
  };
  const tiles = Math.ceil((halfHeight + 2 * roundMm) / periodMm[1]) + 1;
  for (let ty = -tiles; ty <= tiles; ty++) {
    for (let r = 0; r < rows; r++) {
      picture.end();
      for (let k = 0; k < 5 * pointsPerRow; k++) {
        const node = r * pointsPerRow + (k % pointsPerRow);
        const copy = Math.floor(k / pointsPerRow) - 2;
        const wale = Math.floor(((k % pointsPerRow) * wales) / pointsPerRow);
        picture.add(
          points[3 * node] + copy * alongX,
          points[3 * node + 1] + ty * periodMm[1],
          points[3 * node + 2],
          copy === 0 && inStrand(wale, ty, r) ? 1 : 0,
        );
      }
    }
  }
  const percent = 100 * (1 - widthMm / uncrossedWidthMm);
  return centred(
    {
      place: 'cable',
      ...picture.finish(),
      radiusMm: yarnMm / 2,
      view: [wide + 0.9 * stitchMm, halfHeight + 0.8 * roundMm],
      stitchMm,
      roundMm,
      opening: null,
      ordinary: null,
      width: {
        crossedMm: widthMm,
        uncrossedMm: uncrossedWidthMm,
        percent,
        // The panel is the cable and a stitch to each side of it.
        cablePercent: (percent * wales) / size,
        stitches: wales,
      },
      loopMm,
      yarnMm,
      steps,
    },
    middleX,
    middleY,
  );
}
