/**
 * Bakes stitches from their yarn: each tile seen square on, with normal, height, shelter and plies.
 *
 * Input: tile numbers (fabric/stitch-tiles.ts). Output: two RGBA byte layers a tile of ATLAS_SIZE² texels, that
 * reach ATLAS_MARGIN texels beyond the stitch. Relief: x and y of the unit normal, height, openness to the sky;
 * yarn: shade of the plies, cover, place along the yarn, which ply. Openness is the share of the sky over the height
 * field, by horizons in eight directions (as in Bavoil, Sainz, Dimitrov 2008, on the processor).
 */
import { TILE_CHAIN, TILE_CORD, TILE_HOLE, TILES } from '../fabric/stitch-tiles.ts';
import { LOOP_DIAMETERS } from './loop-template.ts';
import { tileCurves } from './tile-curves.ts';

export const ATLAS_SIZE = 64;
export const ATLAS_MARGIN = 8;
/** Radius of the yarn as it is seen, its halo included, over that of the pressed yarn. Chosen by eye; wool's
 * wraps per inch make it two or more (cell-limits.ts). */
export const HALO = 1.5;
/** Heights −HEIGHT_SPAN … +HEIGHT_SPAN yarn diameters fill a byte. */
export const HEIGHT_SPAN = 3.2;
/** Three plies, once round in so many diameters of pressed yarn: some 35° to the yarn, as soft knitting yarn looks
 * (by eye), and a whole number of plies in the yarn of a loop, so that loops join without a seam. */
export const PLIES = 3;
export const LAY_DIAMETERS = (PLIES * LOOP_DIAMETERS) / 8;

const INNER = ATLAS_SIZE - 2 * ATLAS_MARGIN;
/** Texels around the kept ones that still cast shade on them. */
const SURROUND = 12;
const SIDE = ATLAS_SIZE + 2 * SURROUND;
const EMPTY = -99;

export interface StitchAtlas {
  readonly size: number;
  readonly layers: number;
  readonly relief: Uint8Array<ArrayBuffer>;
  readonly yarn: Uint8Array<ArrayBuffer>;
}

const baked: { readonly atlas: StitchAtlas; readonly done: Set<number> } = {
  atlas: {
    size: ATLAS_SIZE,
    layers: TILES,
    relief: new Uint8Array(4 * ATLAS_SIZE * ATLAS_SIZE * TILES),
    yarn: new Uint8Array(4 * ATLAS_SIZE * ATLAS_SIZE * TILES),
  },
  done: new Set(),
};

/** The atlas with at least these tiles in it; true where some are new. */
export function bakeTiles(tiles: Iterable<number>): { atlas: StitchAtlas; changed: boolean } {
  let changed = false;
  for (const tile of tiles) {
    if (tile < 0 || tile >= TILES || baked.done.has(tile)) continue;
    bakeTile(tile, baked.atlas);
    baked.done.add(tile);
    changed = true;
  }
  return { atlas: baked.atlas, changed };
}

const height = new Float32Array(SIDE * SIDE);
const across = new Float32Array(SIDE * SIDE);
const up = new Float32Array(SIDE * SIDE);
const shade = new Float32Array(SIDE * SIDE);
const along = new Float32Array(SIDE * SIDE);
/** 0 on one ply of the three, 1 on the others. */
const ply = new Float32Array(SIDE * SIDE);

function bakeTile(tile: number, { relief, yarn }: StitchAtlas): void {
  const shape = tileCurves(tile);
  height.fill(EMPTY);
  const toX = INNER / shape.width;
  const toY = INNER / shape.height;
  const offset = SURROUND + ATLAS_MARGIN;
  for (const { points, from } of shape.curves) {
    drawCurve(refineCurve(points, 3), from, toX, toY, offset);
  }
  const layer = 4 * ATLAS_SIZE * ATLAS_SIZE * tile;
  for (let y = 0; y < ATLAS_SIZE; y++) {
    for (let x = 0; x < ATLAS_SIZE; x++) {
      const from = (y + SURROUND) * SIDE + x + SURROUND;
      const to = layer + 4 * (y * ATLAS_SIZE + x);
      const open = openness(x + SURROUND, y + SURROUND, 1 / toX, 1 / toY);
      const empty = height[from] === EMPTY;
      relief[to] = byte(empty ? 0.5 : 0.5 + 0.5 * across[from]);
      relief[to + 1] = byte(empty ? 0.5 : 0.5 + 0.5 * up[from]);
      relief[to + 2] = byte(0.5 + Math.max(height[from], FLOOR) / (2 * HEIGHT_SPAN));
      relief[to + 3] = byte(open);
      yarn[to] = byte(empty ? 0.6 : shade[from]);
      yarn[to + 1] = empty && !isBacked(tile, y) ? 0 : 255;
      yarn[to + 2] = byte(along[from] - Math.floor(along[from]));
      yarn[to + 3] = empty ? 255 : byte(ply[from]);
    }
  }
}

/** Gaps of an edge show the fabric behind it on its inner half, the table beyond. */
function isBacked(tile: number, y: number): boolean {
  const isInner = tile === TILE_CORD ? y > 0.4 * ATLAS_SIZE : y < 0.6 * ATLAS_SIZE;
  return tile !== TILE_HOLE && ((tile !== TILE_CORD && tile !== TILE_CHAIN) || isInner);
}

/** Where no yarn is, the sheet seems to lie this deep, diameters. Chosen. */
const FLOOR = -1.6;

const byte = (value: number): number => Math.max(0, Math.min(255, Math.round(255 * value)));

/** Draws a strand as a row of short round pieces into the height field. */
function drawCurve(
  curve: Float32Array,
  from: number,
  toX: number,
  toY: number,
  offset: number,
): void {
  const radius = 0.5 * HALO;
  const lay = LAY_DIAMETERS;
  let run = from;
  for (let k = 0; k + 3 < curve.length; k += 3) {
    const ax = curve[k];
    const ay = curve[k + 1];
    const az = curve[k + 2];
    const dx = curve[k + 3] - ax;
    const dy = curve[k + 4] - ay;
    const dz = curve[k + 5] - az;
    const flat = dx * dx + dy * dy;
    const length = Math.sqrt(flat + dz * dz);
    const minX = Math.floor(offset + (Math.min(ax, ax + dx) - radius) * toX);
    const maxX = Math.ceil(offset + (Math.max(ax, ax + dx) + radius) * toX);
    const minY = Math.floor(offset + (Math.min(ay, ay + dy) - radius) * toY);
    const maxY = Math.ceil(offset + (Math.max(ay, ay + dy) + radius) * toY);
    for (let py = Math.max(0, minY); py <= Math.min(SIDE - 1, maxY); py++) {
      for (let px = Math.max(0, minX); px <= Math.min(SIDE - 1, maxX); px++) {
        const x = (px + 0.5 - offset) / toX - ax;
        const y = (py + 0.5 - offset) / toY - ay;
        const t = flat > 1e-9 ? Math.max(0, Math.min(1, (x * dx + y * dy) / flat)) : 0;
        const ex = x - t * dx;
        const ey = y - t * dy;
        const d2 = ex * ex + ey * ey;
        if (d2 >= radius * radius) continue;
        const rise = Math.sqrt(radius * radius - d2);
        const z = az + t * dz + rise;
        const at = py * SIDE + px;
        if (z <= height[at]) continue;
        height[at] = z;
        // Which way round the yarn, from its flank on the left.
        const side = (dx * ey - dy * ex) / (Math.sqrt(flat) * radius + 1e-9);
        const phase =
          PLIES *
          (Math.asin(Math.max(-1, Math.min(1, side))) / (2 * Math.PI) + (run + t * length) / lay);
        const round = 2 * (phase - Math.floor(phase)) - 1;
        const groove = Math.max(0, Math.min(1, (Math.abs(round) - 0.5) / 0.5));
        // Plies are round themselves: their normal leans across the lay.
        const lean = 0.5 * round * (rise / radius);
        const size = Math.sqrt(flat) + 1e-9;
        let nx = ex / radius + lean * (0.75 * (dx / size) - 0.65 * (dy / size));
        let ny = ey / radius + lean * (0.75 * (dy / size) + 0.65 * (dx / size));
        const nz = rise / radius + 0.08;
        const norm = Math.sqrt(nx * nx + ny * ny + nz * nz);
        nx /= norm;
        ny /= norm;
        across[at] = nx;
        up[at] = ny;
        shade[at] = 1 - 0.38 * groove * groove * (3 - 2 * groove);
        along[at] = (run + t * length) / 8;
        ply[at] = ((Math.floor(phase) % PLIES) + PLIES) % PLIES === 0 ? 0 : 1;
      }
    }
    run += length;
  }
}

/** A curve through the points with `times` as many segments (Catmull and Rom 1974). [3·points]. */
function refineCurve(points: ArrayLike<number>, times: number): Float32Array {
  const n = points.length / 3;
  const out = new Float32Array(3 * ((n - 1) * times + 1));
  for (let k = 0; k < n - 1; k++) {
    const before = Math.max(0, k - 1);
    const after = Math.min(n - 1, k + 2);
    for (let part = 0; part < times; part++) {
      const t = part / times;
      for (let c = 0; c < 3; c++) {
        const p = points[3 * before + c];
        const q = points[3 * k + c];
        const r = points[3 * k + 3 + c];
        const s = points[3 * after + c];
        out[3 * (k * times + part) + c] =
          q + 0.5 * t * (r - p + t * (2 * p - 5 * q + 4 * r - s + t * (3 * (q - r) + s - p)));
      }
    }
  }
  for (let c = 0; c < 3; c++) out[out.length - 3 + c] = points[3 * (n - 1) + c];
  return out;
}

const DIRECTIONS = Array.from({ length: 8 }, (_, k) => [
  Math.cos((Math.PI * (k + 0.5)) / 4),
  Math.sin((Math.PI * (k + 0.5)) / 4),
]);
const STEPS = [1.5, 3.5, 6.5, 11];

function openness(x: number, y: number, mmX: number, mmY: number): number {
  const here = Math.max(height[y * SIDE + x], FLOOR);
  let sum = 0;
  for (const [cx, cy] of DIRECTIONS) {
    let horizon = 0;
    for (const step of STEPS) {
      const px = Math.round(x + cx * step);
      const py = Math.round(y + cy * step);
      const rise = height[py * SIDE + px] - here;
      if (rise <= 0) continue;
      const away = Math.hypot((px - x) * mmX, (py - y) * mmY);
      // Sine of the horizon's height.
      horizon = Math.max(horizon, rise / Math.sqrt(rise * rise + away * away));
    }
    sum += 1 - horizon;
  }
  return sum / DIRECTIONS.length;
}
