/**
 * Centre lines that lie in and around one tile of the stitch atlas.
 *
 * Input: a tile number (fabric/stitch-tiles.ts). Output: polylines [3·points] in yarn diameters: x across from
 * u = 0, y up from v = 0, z towards the eye; neighbours included as far as they reach into the tile.
 */
import { TILE_CHAIN, TILE_CORD, TILE_HOLE, TILE_TWISTED, tileOf } from '../fabric/stitch-tiles.ts';
import {
  DIFFERS_ABOVE,
  DIFFERS_BELOW,
  DIFFERS_LEFT,
  DIFFERS_RIGHT,
  LOOP_DIAMETERS,
  loopTemplate,
  NEIGHBOURHOODS,
} from './loop-template.ts';
import { SETTLED_LOOPS } from './settled-loops.ts';

export interface TileCurves {
  /** Size of a stitch in the tile, yarn diameters. */
  readonly width: number;
  readonly height: number;
  readonly curves: readonly TileCurve[];
}

export interface TileCurve {
  /** [3·points] */
  readonly points: Float32Array;
  /** Yarn of the loop up to its first point, and from point to point, diameters. */
  readonly from: number;
  readonly step: number;
  /** Whose shelter it has: a part of a stitch's tile; null for the yarn of an edge. */
  readonly shelterOf: { readonly tile: number; readonly part: LoopPart } | null;
}

export type LoopPart = 'entering' | 'head' | 'leaving';

/** Radius of the yarn as it is seen, its halo included, over that of the pressed yarn. Chosen by eye; wool's
 * wraps per inch make it two or more (cell-limits.ts). */
export const HALO = 1.5;
/** Yarn of the loop up to each part of it, and between two of its points, diameters: settled loops have 32 pieces. */
export const PART_FROM: Readonly<Record<LoopPart, number>> = {
  entering: 0,
  head: LOOP_DIAMETERS / 4,
  leaving: (3 * LOOP_DIAMETERS) / 4,
};
export const POINT_STEP = LOOP_DIAMETERS / 32;
/** Yarn of a cord's strand in a stitch, diameters: as long as it is drawn, with a whole number of plies. */
export const CORD_DIAMETERS = LOOP_DIAMETERS / 4;

/** Height of an edge's band over the yarn: two strands side by side. Chosen. */
const EDGE_HEIGHT = 1.9;

export function tileCurves(tile: number): TileCurves {
  if (tile === TILE_CORD) return edgeCurves(cordPoint, [0, 1]);
  if (tile === TILE_CHAIN) return chainCurves();
  if (tile === TILE_HOLE) return holeCurves();
  const knit = tile >= NEIGHBOURHOODS;
  const bits = tile === TILE_TWISTED ? 0 : tile % NEIGHBOURHOODS;
  const inRound = bits & (DIFFERS_RIGHT | DIFFERS_LEFT);
  const inColumn = (bits & DIFFERS_ABOVE ? 0.5 : 0) + (bits & DIFFERS_BELOW ? 0.5 : 0);
  const { plain, course, both } = SETTLED_LOOPS;
  const ridged = inRound ? both : course;
  const width = plain.width + inColumn * (ridged.width - plain.width);
  const height = plain.height + inColumn * (ridged.height - plain.height);
  const curves: TileCurve[] = [];
  for (let row = -1; row <= 1; row++) {
    for (let wale = -1; wale <= 1; wale++) {
      const aside = wale < 0 ? DIFFERS_RIGHT : wale > 0 ? DIFFERS_LEFT : 0;
      const up = row < 0 ? DIFFERS_BELOW : row > 0 ? DIFFERS_ABOVE : 0;
      const other = ((bits & aside) !== 0) !== ((bits & up) !== 0);
      const face = knit !== other ? 1 : -1;
      // A neighbour's neighbour on this side is this stitch; the pattern goes on the same way.
      const sides = aside
        ? bits & aside
          ? DIFFERS_RIGHT | DIFFERS_LEFT
          : 0
        : bits & (DIFFERS_RIGHT | DIFFERS_LEFT);
      const ends = up
        ? bits & up
          ? DIFFERS_ABOVE | DIFFERS_BELOW
          : 0
        : bits & (DIFFERS_ABOVE | DIFFERS_BELOW);
      const template = loopTemplate(face, sides | ends);
      for (const part of ['entering', 'head', 'leaving'] as const) {
        const line = template[part];
        const crossed = tile === TILE_TWISTED && row === 0 && wale === 0 && part !== 'head';
        const points = crossed ? crossFoot(line, part === 'entering') : line;
        curves.push({
          points: place(points, wale, row),
          from: PART_FROM[part],
          step: POINT_STEP,
          shelterOf: { tile: tileOf(face, sides | ends), part },
        });
      }
    }
  }
  return { width, height, curves };

  function place(line: Float32Array, wale: number, row: number): Float32Array {
    return line.map((value, i) =>
      i % 3 === 0 ? (value + wale) * width : i % 3 === 1 ? (value + row) * height : value,
    );
  }
}

/** Legs of a twisted stitch change sides at the foot, one in front of the other. */
export function crossFoot(line: Float32Array, front: boolean): Float32Array {
  const out = line.slice();
  for (let i = 0; i < line.length; i += 3) {
    const t = Math.max(0, Math.min(1, (line[i + 1] - 0.12) / 0.6));
    const side = 2 * t * t * (3 - 2 * t) - 1;
    out[i] = 0.5 + (line[i] - 0.5) * side;
    out[i + 2] = line[i + 2] + (front ? 0.45 : -0.35) * (1 - side * side);
  }
  return out;
}

/** Point of strand 0 or 1 of a cord, at u stitches along it: u, v across its band, z in diameters. */
export function cordPoint(u: number, strand: number, out: Float32Array | number[], at = 0): void {
  const turn = 2 * Math.PI * (u + strand / 2);
  out[at] = u;
  out[at + 1] = 0.42 + 0.24 * Math.cos(turn);
  out[at + 2] = 0.45 + 0.5 * Math.sin(turn);
}

function edgeCurves(
  point: (u: number, strand: number, out: number[]) => void,
  strands: readonly number[],
): TileCurves {
  const { width } = SETTLED_LOOPS.plain;
  const curves = strands.map((strand) => {
    const line: number[] = [];
    const at = [0, 0, 0];
    for (let k = -16; k <= 32; k++) {
      point(k / 16, strand, at);
      line.push(at[0] * width, at[1] * EDGE_HEIGHT, at[2]);
    }
    return { points: Float32Array.from(line), from: 0, step: CORD_DIAMETERS / 16, shelterOf: null };
  });
  return { width, height: EDGE_HEIGHT, curves };
}

/** A bound-off edge is a column of knit loops that lies along it. */
export function chainLines(): readonly { readonly line: Float32Array; readonly from: number }[] {
  const template = loopTemplate(1, 0);
  return (['entering', 'head', 'leaving'] as const).map((part) => {
    const loop = template[part];
    const line = new Float32Array(loop.length);
    for (let i = 0; i < loop.length; i += 3) {
      line[i] = loop[i + 1];
      line[i + 1] = 0.5 + 1.15 * (loop[i] - 0.5);
      line[i + 2] = 0.5 + 0.9 * loop[i + 2];
    }
    return { line, from: PART_FROM[part] };
  });
}

function chainCurves(): TileCurves {
  const { width } = SETTLED_LOOPS.plain;
  const curves = [-1, 0, 1].flatMap((link) =>
    chainLines().map(({ line, from }) => ({
      points: line.map((value, i) =>
        i % 3 === 0 ? (value + link) * width : i % 3 === 1 ? value * EDGE_HEIGHT : value,
      ),
      from,
      step: POINT_STEP,
      shelterOf: null,
    })),
  );
  return { width, height: EDGE_HEIGHT, curves };
}

/** A yarn over: its two legs only, from the sinkers beside it. */
function holeCurves(): TileCurves {
  const { width, height } = SETTLED_LOOPS.plain;
  const line = (u: (t: number) => number, part: LoopPart): TileCurve => ({
    points: Float32Array.from({ length: 27 }, (_, i) => {
      const t = Math.floor(i / 3) / 8;
      return [u(t) * width, overHeight(t) * height, 0.3 * Math.sin(Math.PI * t)][i % 3];
    }),
    from: PART_FROM[part],
    step: POINT_STEP,
    shelterOf: { tile: tileOf(1, 0), part },
  });
  const legs = [line(overLeg, 'entering'), line((t) => 1 - overLeg(t), 'leaving')];
  return { width, height, curves: legs };
}

/** Leg of a yarn over, from the sinker (t = 0) to its own level (t = 1): across, and up. */
export const overLeg = (t: number): number => 0.14 * Math.sin((Math.PI / 2) * t);
export const overHeight = (t: number): number => 0.1 + 0.9 * t;
