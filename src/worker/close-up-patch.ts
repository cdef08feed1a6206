/**
 * Close-ups of the patches that the yarn model relaxes by itself: the join, the gap between two needles,
 * a cable. Output: a place ready to draw with what was measured on it. A patch that did not come to
 * rest is never shown: it is a `YarnTrouble` with the reason.
 */
import { MUNDEN_KW } from '../paper/yarn-use.ts';
import { largestHole } from '../yarn/hole-size.ts';
import { joinOpening, ladderOpening, type PatchShape } from '../yarn/join-opening.ts';
import { LEVELS, SIDE } from '../yarn/join-patch.ts';
import { STITCH_OVER_YARN } from '../yarn/lay-yarn.ts';
import type { YarnRelaxation } from '../yarn/relax-cell.ts';
import { relaxCell } from '../yarn/relax-cell.ts';
import { relaxPanel } from '../yarn/relax-panel.ts';
import type { CloseUp, CloseUpAsked, HoleMark, Knitting } from './yarn-messages.ts';

export type Watch = (residual: number) => boolean | undefined;

/** Nothing to show, in words for the user. */
export class YarnTrouble extends Error {}

type Asked<Place extends CloseUpAsked['place']> = Extract<CloseUpAsked, { place: Place }>;

/** Loop and yarn in mm of a fabric whose plain stitch is so wide. */
function yarnOf({ stitchMm, loopMm }: Knitting): { loopMm: number; yarnMm: number } {
  // Before anything is measured in loop lengths.
  if (loopMm !== null && !(loopMm > 0)) {
    throw new RangeError(`the yarn in a stitch must be more than 0 mm, got ${loopMm}`);
  }
  return { loopMm: loopMm ?? MUNDEN_KW * stitchMm, yarnMm: stitchMm / STITCH_OVER_YARN };
}

const REASONS: Readonly<Record<string, string>> = {
  'iteration-limit': 'the limit of steps was reached',
  stalled: 'no further progress was made',
  'two stopping points differ': 'two stopping points gave different openings',
};

export function mustRest(
  { converged, reason, linksKept }: YarnRelaxation,
  advice = 'Try a little less slack, or more yarn in a stitch.',
): void {
  if (converged) return;
  const why = linksKept ? (REASONS[reason] ?? reason) : 'yarn would have passed through yarn';
  throw new YarnTrouble(
    `The yarn did not come to rest (${why}), so there is nothing to believe or to draw. ${advice}`,
  );
}

export function showJoin(asked: Asked<'join'>, onProgress: Watch): CloseUp {
  const { method, slackMm } = asked;
  const { loopMm, yarnMm } = yarnOf(asked);
  const result = joinOpening({ method, slackMm, loopMm, yarnMm, onProgress });
  mustRest(result.relaxation);
  const { stitchMm, roundMm } = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments: 16 });
  const { shape } = result;
  const points = Float32Array.from(shape.points);
  const told = new Uint8Array(points.length / 3);
  // The running thread: from the last stitch of the cast-on into round 1.
  const right = SIDE + (method === 'extra' ? 1 : 0);
  const [from, to] = [shape.strandStart[1], shape.strandStart[2]];
  const perStitch = (to - from - 1) / (right + SIDE);
  const middle = from + right * perStitch;
  for (let i = middle - perStitch / 4; i <= middle + perStitch / 4; i++) told[i] = 1;
  const ends = planarEnds(points, shape.strandStart, () => true);
  const far = [1.5 * roundMm, (LEVELS - 1) * roundMm] as const;
  const at = (x: readonly [number, number]) =>
    largestHole(ends, yarnMm / 2, { x, y: far }, 3 * stitchMm);
  const rightSide = at([1.5 * stitchMm, (SIDE - 1.5) * stitchMm]);
  const leftSide = at([-(SIDE - 1.5) * stitchMm, -1.5 * stitchMm]);
  const ordinary = rightSide.diameter > leftSide.diameter ? rightSide : leftSide;
  // Centred on the height of the patch; the cast-on stands at the bottom.
  const middleMm = ((LEVELS - 1) * roundMm) / 2 - 0.4 * roundMm;
  return centred(
    {
      place: 'join',
      points,
      strandStart: shape.strandStart,
      told,
      radiusMm: shape.radiusMm,
      view: [(SIDE - 0.6) * stitchMm, (LEVELS / 2 + 0.35) * roundMm],
      stitchMm,
      roundMm,
      opening: markOf(shape.hole),
      ordinary: { x: ordinary.x, y: ordinary.y, diameterMm: result.ordinaryGapMm },
      width: null,
      loopMm,
      yarnMm,
      steps: result.relaxation.iterations,
    },
    0,
    middleMm,
  );
}

export function showNeedles(asked: Asked<'needles'>, onProgress: Watch): CloseUp {
  const { slackMm, tugged, tugMm } = asked;
  const { loopMm, yarnMm } = yarnOf(asked);
  const tighten = tugged === 0 || tugMm === 0 ? null : { stitch: tugged, byMm: tugMm };
  const result = ladderOpening({ slackMm, loopMm, yarnMm, tighten, onProgress });
  mustRest(result.relaxation);
  const { stitchMm, roundMm } = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments: 24 });
  const { shape } = result;
  const n = shape.points.length / 3;
  const periodX = closingPeriod(shape);
  const wales = Math.round(Math.abs(periodX) / stitchMm);
  const perStitch = n / wales;
  // The row's yarn starts at the gap: half of its thread lies at either end.
  const gapX = shape.points[0];
  const picture = new Cutting(
    (x, y) => Math.abs(x - gapX) < 6.5 * stitchMm && Math.abs(y) < 9 * roundMm,
  );
  for (let row = -5; row <= 5; row++) {
    picture.end();
    for (let k = 0; k <= 2 * n; k++) {
      const node = k % n;
      const copy = Math.floor(k / n) - 1;
      picture.add(
        shape.points[3 * node] + copy * periodX,
        shape.points[3 * node + 1] + row * roundMm,
        shape.points[3 * node + 2],
        node <= perStitch / 4 || node >= n - perStitch / 4 ? 1 : 0,
      );
    }
  }
  const { points, strandStart, told } = picture.finish();
  const ends = planarEnds(points, strandStart, () => true);
  const ordinary = largestHole(
    ends,
    yarnMm / 2,
    {
      x: [gapX + 1.4 * stitchMm, gapX + 2.9 * stitchMm],
      y: [-0.5 * roundMm, 0.5 * roundMm],
    },
    3 * stitchMm,
  );
  return centred(
    {
      place: 'needles',
      points,
      strandStart,
      told,
      radiusMm: shape.radiusMm,
      view: [3 * stitchMm, 2 * roundMm],
      stitchMm,
      roundMm,
      opening: markOf(shape.hole),
      ordinary: { x: ordinary.x, y: ordinary.y, diameterMm: result.ordinaryGapMm },
      width: null,
      loopMm,
      yarnMm,
      steps: result.relaxation.iterations,
    },
    gapX,
    shape.hole.y,
  );
}

/** Most rounds between crossings that are relaxed while somebody waits. Chosen. */
export const MOST_ROUNDS_BETWEEN = 12;

export function showCable(asked: Asked<'cable'>, onProgress: Watch): CloseUp {
  const { over, under, lean, everyRounds, besides } = asked;
  const { loopMm, yarnMm } = yarnOf(asked);
  if (!Number.isInteger(everyRounds) || everyRounds < 2 || everyRounds > MOST_ROUNDS_BETWEEN) {
    throw new RangeError(
      `a cable is crossed every 2 to ${MOST_ROUNDS_BETWEEN} rounds here, got ${everyRounds}`,
    );
  }
  const size = over + under;
  const crossed = Math.floor(everyRounds / 2);
  const row = [besides[0], ...new Array<1>(size).fill(1), besides[1]];
  const faces = Array.from({ length: everyRounds }, () => row);
  const result = relaxPanel({
    faces,
    crossings: [{ row: crossed, wale: 1, over, under, lean }],
    loopMm,
    yarnMm,
    onProgress,
  });
  mustRest(result.relaxation);
  const { shape, roundMm } = result;
  const [periodX, periodY] = shape.periodMm;
  const wales = size + 2;
  const stitchMm = Math.abs(periodX) / wales;
  const halfHeight = Math.max(5, Math.min(8, everyRounds + 1)) * 0.5 * roundMm;
  // Wale 0 stands at the right or the left according to the sign of the period.
  let sumX = 0;
  let sumY = 0;
  for (let i = 0; i < shape.points.length; i += 3) {
    sumX += shape.points[i];
    sumY += shape.points[i + 1];
  }
  const count = shape.points.length / 3;
  const middleX = sumX / count;
  const middleY = sumY / count;
  const wide = Math.abs(periodX) / 2;
  const picture = new Cutting(
    (x, y) =>
      Math.abs(x - middleX) < wide + 6 * stitchMm &&
      Math.abs(y - middleY) < halfHeight + 2 * roundMm,
  );
  // One strand of the rope, from crossing to crossing on the other side; strands of unlike size mix.
  const inStrand = (wale: number, tile: number, r: number) => {
    if (over !== under || wale < 1 || wale > size) return false;
    const swapped = Math.abs(tile + (r >= crossed ? 1 : 0)) % 2 === 1;
    return swapped ? wale > over : wale <= over;
  };
  const tiles = Math.ceil((halfHeight + 2 * roundMm) / Math.abs(periodY)) + 1;
  for (let ty = -tiles; ty <= tiles; ty++) {
    for (let r = 0; r < shape.rows; r++) {
      picture.end();
      for (let k = 0; k < 5 * shape.pointsPerRow; k++) {
        const node = r * shape.pointsPerRow + (k % shape.pointsPerRow);
        const copy = Math.floor(k / shape.pointsPerRow) - 2;
        const wale = Math.floor(((k % shape.pointsPerRow) * shape.wales) / shape.pointsPerRow);
        picture.add(
          shape.points[3 * node] + copy * periodX,
          shape.points[3 * node + 1] + ty * periodY,
          shape.points[3 * node + 2],
          copy === 0 && inStrand(wale, ty, r) ? 1 : 0,
        );
      }
    }
  }
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
        crossedMm: result.widthMm,
        uncrossedMm: result.uncrossedWidthMm,
        percent: result.pullInPercent,
        cablePercent: result.cablePullInPercent,
        stitches: wales,
      },
      loopMm,
      yarnMm,
      steps: result.relaxation.iterations,
    },
    middleX,
    middleY,
  );
}

/**
 * Period of a row along x, mm: its closing segment is as long as its neighbours (the yarn does not
 * stretch) and goes their way.
 */
function closingPeriod({ points }: PatchShape): number {
  const n = points.length / 3;
  const span = (a: number, b: number) =>
    Math.hypot(
      points[3 * b] - points[3 * a],
      points[3 * b + 1] - points[3 * a + 1],
      points[3 * b + 2] - points[3 * a + 2],
    );
  const length = (span(0, 1) + span(n - 2, n - 1)) / 2;
  const dy = points[1] - points[3 * n - 2];
  const dz = points[2] - points[3 * n - 1];
  const way = Math.sign(points[3] - points[0] + points[3 * n - 3] - points[3 * n - 6]);
  const dx = way * Math.sqrt(Math.max(0, length * length - dy * dy - dz * dz));
  return points[3 * n - 3] + dx - points[0];
}

function markOf(hole: { x: number; y: number; diameter: number }): HoleMark {
  return { x: hole.x, y: hole.y, diameterMm: hole.diameter };
}

/** Ends of all segments as `largestHole` wants them. */
export function planarEnds(
  points: ArrayLike<number>,
  strandStart: ArrayLike<number>,
  wanted: (point: number) => boolean,
): { ends: Float64Array; count: number } {
  const ends: number[] = [];
  for (let s = 0; s + 1 < strandStart.length; s++) {
    for (let i = strandStart[s]; i + 1 < strandStart[s + 1]; i++) {
      if (!wanted(i)) continue;
      ends.push(points[3 * i], points[3 * i + 1], points[3 * i + 3], points[3 * i + 4]);
    }
  }
  return { ends: Float64Array.from(ends), count: ends.length / 4 };
}

/** Moves a place so that what matters lies at the origin. */
function centred(closeUp: CloseUp, x: number, y: number): CloseUp {
  for (let i = 0; i < closeUp.points.length; i += 3) {
    closeUp.points[i] -= x;
    closeUp.points[i + 1] -= y;
  }
  const moved = (mark: HoleMark | null) => mark && { ...mark, x: mark.x - x, y: mark.y - y };
  return { ...closeUp, opening: moved(closeUp.opening), ordinary: moved(closeUp.ordinary) };
}

/** Collects strands, cut where they leave the window. */
class Cutting {
  private readonly out: number[] = [];
  private readonly marks: number[] = [];
  private readonly starts: number[] = [0];

  constructor(private readonly inside: (x: number, y: number) => boolean) {}

  add(x: number, y: number, z: number, told: 0 | 1): void {
    if (!this.inside(x, y)) {
      this.end();
      return;
    }
    this.out.push(x, y, z);
    this.marks.push(told);
  }

  end(): void {
    const points = this.marks.length;
    if (points > this.starts[this.starts.length - 1]) this.starts.push(points);
  }

  finish(): Pick<CloseUp, 'points' | 'strandStart' | 'told'> {
    this.end();
    return {
      points: Float32Array.from(this.out),
      strandStart: Int32Array.from(this.starts),
      told: Uint8Array.from(this.marks),
    };
  }
}
