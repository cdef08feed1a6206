/**
 * A patch of the piece as yarn: laid on the relaxed sheet, brought to rest, and measured. Its edge and its
 * points are held, weakly, to the sheet, so its width is the sheet's, drawn in or not as the metric says;
 * what the yarn decides for itself is how strands lie and press in it, and the gaps between them.
 *
 * Input: graph, cells, vertex positions, the loops of the patch by course (patch-loops.ts). Output: width
 * of each course on the yarn at rest, nearest approach of centre lines, gaps seen square on each stitch,
 * the yarn and the record. Lengths in mm.
 */
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import { createRandom } from '../math/random.ts';
import type { YarnRelaxation } from '../rod/yarn-material.ts';
import { wrongLinksOf } from '../yarn/check/check-yarn.ts';
import { layYarn } from '../yarn/lay/lay-yarn.ts';
import { findKin } from '../yarn/lay/loop-links.ts';
import { stitchFrame } from '../yarn/lay/stitch-frame.ts';
import { relaxYarn } from '../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../yarn/yarn-curves.ts';
import { type Hole, largestHole } from './hole-size.ts';
import { SHAKE } from './slack.ts';

export interface HeldPatchOptions {
  /** Yarn diameter; by default one that fits the piece's stitches (lay-yarn.ts). */
  readonly yarnMm?: number | null;
  readonly maxIterations?: number;
  /** Number of the start: 0 as laid, others with the laid yarn shaken by `SHAKE`, the same each time. */
  readonly start?: number;
  /** Return true to cancel. */
  readonly onProgress?: (residual: number) => boolean | undefined;
}

export interface HeldPatch {
  readonly curves: YarnCurves;
  /** Width of each course of the patch, along the course, and their mean. */
  readonly courseWidthsMm: readonly number[];
  readonly widthMm: number;
  readonly yarnMm: number;
  /** Yarn in a stitch of the patch, mean. */
  readonly loopMm: number;
  /** Least distance of centre lines that are not neighbours along the yarn; the thickness where none press. */
  readonly minCentreDistanceMm: number;
  /** Largest hole of each stitch, seen square on it: the largest, its loop, and the middle one. */
  readonly gaps: {
    readonly largestMm: number;
    readonly largestLoop: number;
    readonly usualMm: number;
  };
  /** Stitches that could not be laid through their parents as the graph says. */
  readonly linksWrong: number;
  readonly relaxation: YarnRelaxation;
}

/** Largest patch that stays within some ten seconds. Chosen. */
export const MOST_PATCH_STITCHES = 1500;
/** A patch takes some hundred steps to rest, crowded ones more. Chosen. */
const MOST_STEPS = 3000;
/** Yarn further than this from a stitch cannot bound its holes, stitch widths. Chosen: more than enough. */
const NEAR_STITCHES = 3;

export function relaxHeldPatch(
  graph: StitchGraph,
  cells: Cells,
  positions: ArrayLike<number>,
  courses: readonly (readonly number[])[],
  options: HeldPatchOptions = {},
): HeldPatch {
  const loops = courses.flat();
  if (loops.length === 0) throw new RangeError('the patch holds no stitch');
  if (loops.length > MOST_PATCH_STITCHES) {
    throw new RangeError(
      `a patch may hold ${MOST_PATCH_STITCHES} stitches at most, this one has ${loops.length}`,
    );
  }
  const free = new Uint8Array(graph.loops);
  for (const loop of loops) free[loop] = 1;
  const laid = layYarn(graph, cells, positions, { yarnMm: options.yarnMm ?? null });
  // Looked at before the yarn moves: on the way to rest no yarn passes through yarn, but a loop pulled
  // long can let its neighbour cross the chord that the test closes it with.
  const kin = findKin(graph);
  const laidYarn = { ...laid, segments: laid.segmentsPerStitch, diameter: 2 * laid.radiusMm };
  let linksWrong = 0;
  for (const loop of loops) linksWrong += wrongLinksOf(graph, kin, laidYarn, loop).length;
  const { onProgress } = options;
  const { curves, relaxation } = relaxYarn(laid, graph, {
    free,
    from: options.start ? shaken(laid, options.start) : null,
    maxIterations: options.maxIterations ?? MOST_STEPS,
    onProgress: onProgress ? (residual) => onProgress(residual) : undefined,
  });
  const yarnMm = 2 * curves.radiusMm;
  const courseWidthsMm = courses.map((course) => widthOf(curves, course));
  let length = 0;
  for (const loop of loops) {
    for (let k = curves.loopStart[loop]; k < curves.loopStart[loop + 1]; k++) {
      length += distance(curves.points, k, k + 1);
    }
  }
  const rests = relaxation.converged && linksWrong === 0;
  return {
    curves,
    courseWidthsMm,
    widthMm: courseWidthsMm.reduce((sum, width) => sum + width, 0) / courses.length,
    yarnMm,
    loopMm: length / loops.length,
    minCentreDistanceMm: relaxation.closestDiameters * yarnMm,
    gaps: measureGaps(graph, positions, curves, loops),
    linksWrong,
    relaxation: {
      ...relaxation,
      converged: rests,
      reason:
        linksWrong > 0 ? 'a stitch could not be laid through the one below' : relaxation.reason,
    },
  };
}

function shaken({ points, radiusMm }: YarnCurves, seed: number): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from(points, (v) => v + SHAKE * 2 * radiusMm * (2 * random() - 1));
}

export interface HeldPatchOverStarts extends HeldPatch {
  readonly starts: number;
  /** Largest less smallest value of the starts, mm. */
  readonly spreadMm: {
    readonly width: number;
    readonly largestGap: number;
    readonly usualGap: number;
  };
}

/** The one of several starts with the middle largest gap, and their spread; the first that does not rest instead. */
export function patchOverStarts(
  graph: StitchGraph,
  cells: Cells,
  positions: ArrayLike<number>,
  courses: readonly (readonly number[])[],
  starts: number,
  options: HeldPatchOptions = {},
): HeldPatchOverStarts {
  const patches: HeldPatch[] = [];
  for (let start = 0; start < starts; start++) {
    const patch = relaxHeldPatch(graph, cells, positions, courses, { ...options, start });
    if (!patch.relaxation.converged) {
      const none = { width: Number.NaN, largestGap: Number.NaN, usualGap: Number.NaN };
      return { ...patch, starts: patches.length, spreadMm: none };
    }
    patches.push(patch);
  }
  const spread = (of: (patch: HeldPatch) => number) => {
    const values = patches.map(of);
    return Math.max(...values) - Math.min(...values);
  };
  patches.sort((a, b) => a.gaps.largestMm - b.gaps.largestMm);
  return {
    ...patches[(starts - 1) >> 1],
    starts,
    spreadMm: {
      width: spread((patch) => patch.widthMm),
      largestGap: spread((patch) => patch.gaps.largestMm),
      usualGap: spread((patch) => patch.gaps.usualMm),
    },
  };
}

/**
 * Along the middles of a course's loops, smoothed so that loops before and behind one another do not make
 * it longer, with half a stitch at either end.
 */
function widthOf({ points, loopStart }: YarnCurves, course: readonly number[]): number {
  const n = course.length;
  const middle = course.map((loop) => {
    const sum = [0, 0, 0];
    for (let k = loopStart[loop]; k < loopStart[loop + 1]; k++) {
      for (let c = 0; c < 3; c++) sum[c] += points[3 * k + c];
    }
    return sum.map((v) => v / (loopStart[loop + 1] - loopStart[loop]));
  });
  // A single stitch is as wide as its yarn goes to either side of its middle: its sinkers.
  if (n === 1) return distance(points, loopStart[course[0]], loopStart[course[0] + 1]);
  const smooth = middle.map((own, k) =>
    own.map((v, c) =>
      k === 0 || k === n - 1 ? v : (middle[k - 1][c] + 2 * v + middle[k + 1][c]) / 4,
    ),
  );
  let along = 0;
  for (let k = 1; k < n; k++) {
    along += Math.hypot(...smooth[k].map((v, c) => v - smooth[k - 1][c]));
  }
  return (along * n) / (n - 1);
}

function measureGaps(
  graph: StitchGraph,
  positions: ArrayLike<number>,
  curves: YarnCurves,
  loops: readonly number[],
): HeldPatch['gaps'] {
  const { points, strandStart, radiusMm } = curves;
  const sizes: { loop: number; hole: Hole }[] = [];
  const near = nearPatch(curves, loops);
  for (const loop of loops) {
    const frame = stitchFrame(graph, positions, loop);
    if (!frame) continue;
    const { origin, right, up, stitchMm, roundMm } = frame;
    const reach = NEAR_STITCHES * stitchMm;
    const flat = (i: number) => {
      const x = points[3 * i] - origin[0];
      const y = points[3 * i + 1] - origin[1];
      const z = points[3 * i + 2] - origin[2];
      if (Math.hypot(x, y, z) > reach) return null;
      return [
        x * right[0] + y * right[1] + z * right[2],
        x * up[0] + y * up[1] + z * up[2],
      ] as const;
    };
    const ends: number[] = [];
    for (let s = 0; s + 1 < strandStart.length; s++) {
      for (let i = strandStart[s]; i + 1 < strandStart[s + 1]; i++) {
        const a = near[i] ? flat(i) : null;
        const b = a && flat(i + 1);
        if (a && b) ends.push(a[0], a[1], b[0], b[1]);
      }
    }
    const hole = largestHole(
      { ends: Float64Array.from(ends), count: ends.length / 4 },
      radiusMm,
      { x: [-stitchMm / 2, stitchMm / 2], y: [-roundMm / 2, roundMm / 2] },
      reach,
    );
    sizes.push({ loop, hole });
  }
  sizes.sort((a, b) => a.hole.diameter - b.hole.diameter);
  const last = sizes[sizes.length - 1];
  return {
    largestMm: last?.hole.diameter ?? 0,
    largestLoop: last?.loop ?? loops[0],
    usualMm: sizes[(sizes.length - 1) >> 1]?.hole.diameter ?? 0,
  };
}

/** [points] 1 where yarn lies in the box round the patch, with a margin that no hole crosses. */
function nearPatch({ points, loopStart }: YarnCurves, loops: readonly number[]): Uint8Array {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  let margin = 0;
  for (const loop of loops) {
    margin = Math.max(margin, distance(points, loopStart[loop], loopStart[loop + 1]));
    for (let k = loopStart[loop]; k < loopStart[loop + 1]; k++) {
      for (let c = 0; c < 3; c++) {
        low[c] = Math.min(low[c], points[3 * k + c]);
        high[c] = Math.max(high[c], points[3 * k + c]);
      }
    }
  }
  margin *= NEAR_STITCHES;
  const near = new Uint8Array(points.length / 3);
  for (let i = 0; i < near.length; i++) {
    near[i] = 1;
    for (let c = 0; c < 3; c++) {
      const v = points[3 * i + c];
      if (v < low[c] - margin || v > high[c] + margin) near[i] = 0;
    }
  }
  return near;
}

function distance(points: ArrayLike<number>, a: number, b: number): number {
  return Math.hypot(
    points[3 * b] - points[3 * a],
    points[3 * b + 1] - points[3 * a + 1],
    points[3 * b + 2] - points[3 * a + 2],
  );
}
