/**
 * What close-ups of all places share: the worker's way of watching, troubles in words, and pictures cut to
 * a window and centred.
 */

import type { Hole, PlanarSegments } from '../../cell/hole-size.ts';
import { MUNDEN_KW } from '../../report/yarn-estimate.ts';
import type { YarnRelaxation } from '../../rod/yarn-material.ts';
import { STITCH_OVER_YARN } from '../../yarn/lay/lay-yarn.ts';
import type { CloseUp, CloseUpAsked, CloseUpBase, HoleMark, Knitting } from '../yarn-messages.ts';

/** Hears of every step and can ask for the picture as it is now. */
export type Watch = (residual: number, closeUp: () => CloseUp) => boolean | undefined;

/** Where a place that is asked for again with another setting can start, and who keeps that. */
export interface Beginning {
  readonly base: CloseUpBase | null;
  readonly keep: (base: CloseUpBase) => void;
}

/** Nothing to show, in words for the user. */
export class YarnTrouble extends Error {}

export type Asked<Place extends CloseUpAsked['place']> = Extract<CloseUpAsked, { place: Place }>;

/** Loop and yarn in mm of a fabric whose plain stitch is so wide. */
export function yarnOf({ stitchMm, loopMm }: Knitting): { loopMm: number; yarnMm: number } {
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

export function markOf(hole: Hole): HoleMark {
  return { x: hole.x, y: hole.y, diameterMm: hole.diameter };
}

/** Ends of all segments as `largestHole` wants them. */
export function planarEnds(
  points: ArrayLike<number>,
  strandStart: ArrayLike<number>,
  wanted: (point: number) => boolean,
): PlanarSegments {
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
export function centred(closeUp: CloseUp, x: number, y: number): CloseUp {
  for (let i = 0; i < closeUp.points.length; i += 3) {
    closeUp.points[i] -= x;
    closeUp.points[i + 1] -= y;
  }
  const moved = (mark: HoleMark | null) => mark && { ...mark, x: mark.x - x, y: mark.y - y };
  return { ...closeUp, opening: moved(closeUp.opening), ordinary: moved(closeUp.ordinary) };
}

/** Collects strands, cut where they leave the window. */
export class Cutting {
  private readonly out: number[] = [];
  private readonly marks: number[] = [];
  private readonly starts: number[] = [0];

  constructor(private readonly inside: (x: number, y: number) => boolean) {}

  add(x: number, y: number, z: number, told: number): void {
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
