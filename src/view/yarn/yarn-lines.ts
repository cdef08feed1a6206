/**
 * Centre lines ready for the textures of shaders/yarn.vert.glsl: points with the length of yarn up to
 * them, their shelter and their strand.
 */
import { computeShelter } from './ambient-occlusion.ts';

/** What there is to draw. */
export interface YarnStrands {
  /** [3·points] mm. */
  readonly points: ArrayLike<number>;
  /** [strands + 1] first point of each strand. */
  readonly strandStart: ArrayLike<number>;
  readonly radiusMm: number;
}

export interface YarnLines {
  readonly points: number;
  /** [4·points] x, y, z, length of yarn; mm. */
  readonly centre: Float32Array;
  /** [4·points] see yarn-shelter.ts. */
  readonly shelter: Float32Array;
  /** [points] strand of each point. */
  readonly strand: Int32Array;
  /** [points] 0…1 how much of the yarn is there: less and less towards its ends, where it frays. */
  readonly whole: Float32Array;
  readonly radiusMm: number;
}

/** Length over which a cut end comes apart, diameters. By eye. */
const FRAY = 2.5;

/** Where a strand is cut when a piece is taken back to a course: it frays there as at its ends. */
export interface YarnCut {
  /** First point of the strand that is cut. */
  readonly first: number;
  /** Length of that strand up to the cut, and over which it comes apart; mm. */
  readonly atMm: number;
  readonly overMm: number;
}

/** The cut of yarn of which only the first so many points are drawn; null where that is where a strand ends. */
export function cutOf(lines: YarnLines, drawn: number): YarnCut | null {
  const { strand, centre, points, radiusMm } = lines;
  if (drawn < 1 || drawn >= points || strand[drawn - 1] !== strand[drawn]) return null;
  const first = strand.indexOf(strand[drawn]);
  return { first, atMm: centre[4 * drawn - 1], overMm: FRAY * 2 * radiusMm };
}

/** The same strands with their points elsewhere: shelter is worked out anew once they lie still. */
export function moveLines(lines: YarnLines, yarn: YarnStrands): YarnLines {
  return { ...lines, ...placeLines(yarn) };
}

export function lineUp(yarn: YarnStrands): YarnLines {
  const { points, strandStart, radiusMm } = yarn;
  const shelter = computeShelter(points, strandStart, radiusMm);
  const strand = new Int32Array(points.length / 3);
  for (let s = 0; s + 1 < strandStart.length; s++) {
    strand.fill(s, strandStart[s], strandStart[s + 1]);
  }
  const placed = placeLines(yarn);
  const whole = new Float32Array(strand.length);
  for (let s = 0; s + 1 < strandStart.length; s++) {
    const end = placed.centre[4 * (strandStart[s + 1] - 1) + 3];
    for (let i = strandStart[s]; i < strandStart[s + 1]; i++) {
      const along = placed.centre[4 * i + 3];
      whole[i] = Math.min(1, Math.min(along, end - along) / (FRAY * 2 * radiusMm));
    }
  }
  return { ...placed, shelter, strand, whole, radiusMm };
}

function placeLines({ points, strandStart }: YarnStrands): Pick<YarnLines, 'points' | 'centre'> {
  const n = points.length / 3;
  const centre = new Float32Array(4 * n);
  for (let s = 0; s + 1 < strandStart.length; s++) {
    let along = 0;
    for (let i = strandStart[s]; i < strandStart[s + 1]; i++) {
      if (i > strandStart[s]) {
        along += Math.hypot(
          points[3 * i] - points[3 * i - 3],
          points[3 * i + 1] - points[3 * i - 2],
          points[3 * i + 2] - points[3 * i - 1],
        );
      }
      for (let c = 0; c < 3; c++) centre[4 * i + c] = points[3 * i + c];
      centre[4 * i + 3] = along;
    }
  }
  return { points: n, centre };
}
