/**
 * Bakes stitches from their yarn: each tile seen square on, with normal, height, shelter and plies.
 *
 * Input: tile numbers (fabric/stitch-tiles.ts). Output: three RGBA byte layers a tile of ATLAS_SIZE² texels, that reach
 * ATLAS_MARGIN texels beyond the stitch. Relief: x and y of the unit normal, height, which ply; yarn: shade of the
 * plies, cover, place along the yarn, whether any yarn is there; shelter: as strands have it (tile-shelter.ts).
 */
import { TILE_CHAIN, TILE_CORD, TILE_HOLE, TILES } from '../fabric/stitch-tiles.ts';
import { LOOP_DIAMETERS } from './loop-template.ts';
import { HALO, type TileCurve, tileCurves } from './tile-curves.ts';
import { EDGE_SHELTER, tileShelter } from './tile-shelter.ts';

/** Texels of a layer, and of it beyond each side of the stitch: what lies there is seen past an edge, at a slant. */
export const ATLAS_SIZE = 96;
export const ATLAS_MARGIN = 28;
/** Heights −HEIGHT_SPAN … +HEIGHT_SPAN yarn diameters fill a byte. */
export const HEIGHT_SPAN = 3.2;
/** Parts of shelter −SHELTER_SPAN … +SHELTER_SPAN fill a byte; their sum, 0 … SHELTER_SUM. Settled loops have up to 6.5 and 16. */
export const SHELTER_SPAN = 8;
export const SHELTER_SUM = 18;
/** Three plies, once round in so many diameters of pressed yarn: some 35° to the yarn, as soft knitting yarn looks
 * (by eye), and a whole number of plies in the yarn of a loop, so that loops join without a seam. */
export const PLIES = 3;
export const LAY_DIAMETERS = (PLIES * LOOP_DIAMETERS) / 8;

const INNER = ATLAS_SIZE - 2 * ATLAS_MARGIN;
const EMPTY = -99;

export interface StitchAtlas {
  readonly size: number;
  readonly layers: number;
  readonly relief: Uint8Array<ArrayBuffer>;
  readonly yarn: Uint8Array<ArrayBuffer>;
  readonly shelter: Uint8Array<ArrayBuffer>;
}

const layers = () => new Uint8Array(4 * ATLAS_SIZE * ATLAS_SIZE * TILES);

const baked: { readonly atlas: StitchAtlas; readonly done: Set<number> } = {
  atlas: {
    size: ATLAS_SIZE,
    layers: TILES,
    relief: layers(),
    yarn: layers(),
    shelter: layers(),
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

const AREA = ATLAS_SIZE * ATLAS_SIZE;
const height = new Float32Array(AREA);
const across = new Float32Array(AREA);
const up = new Float32Array(AREA);
const shade = new Float32Array(AREA);
const along = new Float32Array(AREA);
/** 0 on one ply of the three, 1 on the others. */
const ply = new Float32Array(AREA);
const shelter = new Float32Array(4 * AREA);

function bakeTile(tile: number, atlas: StitchAtlas): void {
  const shape = tileCurves(tile);
  height.fill(EMPTY);
  shelter.fill(0);
  const toX = INNER / shape.width;
  const toY = INNER / shape.height;
  for (const curve of shape.curves) drawCurve(curve, toX, toY);
  const { relief, yarn } = atlas;
  const layer = 4 * AREA * tile;
  for (let from = 0; from < AREA; from++) {
    const to = layer + 4 * from;
    const empty = height[from] === EMPTY;
    relief[to] = byte(empty ? 0.5 : 0.5 + 0.5 * across[from]);
    relief[to + 1] = byte(empty ? 0.5 : 0.5 + 0.5 * up[from]);
    relief[to + 2] = byte(0.5 + Math.max(height[from], FLOOR) / (2 * HEIGHT_SPAN));
    relief[to + 3] = empty ? 255 : byte(ply[from]);
    yarn[to] = byte(empty ? 0.6 : shade[from]);
    yarn[to + 1] = empty && !isBacked(tile, Math.floor(from / ATLAS_SIZE)) ? 0 : 255;
    yarn[to + 2] = byte(along[from] - Math.floor(along[from]));
    yarn[to + 3] = empty ? 0 : 255;
    for (let c = 0; c < 3; c++) {
      atlas.shelter[to + c] = byte(0.5 + shelter[4 * from + c] / (2 * SHELTER_SPAN));
    }
    atlas.shelter[to + 3] = byte(shelter[4 * from + 3] / SHELTER_SUM);
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

/** Segments drawn for each of a curve's. */
const FINER = 3;

/** Draws a strand as a row of short round pieces into the height field. */
function drawCurve({ points, from, step, shelterOf }: TileCurve, toX: number, toY: number): void {
  const curve = refineCurve(points, FINER);
  const sheltering = shelterOf ? tileShelter(shelterOf.tile)[shelterOf.part] : EDGE_SHELTER;
  const radius = 0.5 * HALO;
  for (let k = 0; k + 3 < curve.length; k += 3) {
    const ax = curve[k];
    const ay = curve[k + 1];
    const az = curve[k + 2];
    const dx = curve[k + 3] - ax;
    const dy = curve[k + 4] - ay;
    const dz = curve[k + 5] - az;
    const flat = dx * dx + dy * dy;
    const size = Math.sqrt(flat) + 1e-9;
    const minX = Math.floor(ATLAS_MARGIN + (Math.min(ax, ax + dx) - radius) * toX);
    const maxX = Math.ceil(ATLAS_MARGIN + (Math.max(ax, ax + dx) + radius) * toX);
    const minY = Math.floor(ATLAS_MARGIN + (Math.min(ay, ay + dy) - radius) * toY);
    const maxY = Math.ceil(ATLAS_MARGIN + (Math.max(ay, ay + dy) + radius) * toY);
    for (let py = Math.max(0, minY); py <= Math.min(ATLAS_SIZE - 1, maxY); py++) {
      for (let px = Math.max(0, minX); px <= Math.min(ATLAS_SIZE - 1, maxX); px++) {
        const x = (px + 0.5 - ATLAS_MARGIN) / toX - ax;
        const y = (py + 0.5 - ATLAS_MARGIN) / toY - ay;
        const t = flat > 1e-9 ? Math.max(0, Math.min(1, (x * dx + y * dy) / flat)) : 0;
        const ex = x - t * dx;
        const ey = y - t * dy;
        const d2 = ex * ex + ey * ey;
        if (d2 >= radius * radius) continue;
        const rise = Math.sqrt(radius * radius - d2);
        const z = az + t * dz + rise;
        const at = py * ATLAS_SIZE + px;
        if (z <= height[at]) continue;
        height[at] = z;
        const place = k / 3 + t;
        const run = from + (step * place) / FINER;
        // Which way round the yarn, from its flank on the left.
        const side = (dx * ey - dy * ex) / (size * radius);
        const phase =
          PLIES *
          (Math.asin(Math.max(-1, Math.min(1, side))) / (2 * Math.PI) + run / LAY_DIAMETERS);
        const round = 2 * (phase - Math.floor(phase)) - 1;
        const groove = Math.max(0, Math.min(1, (Math.abs(round) - 0.55) / 0.45));
        // Plies are round themselves: their normal leans across the lay, as in yarn.frag.glsl.
        const lean = 0.62 * round * (rise / radius);
        let nx = ex / radius + lean * (0.6 * (dx / size) - 0.8 * (rise / radius) * (dy / size));
        let ny = ey / radius + lean * (0.6 * (dy / size) + 0.8 * (rise / radius) * (dx / size));
        const nz = rise / radius - lean * 0.8 * side;
        const norm = Math.sqrt(nx * nx + ny * ny + nz * nz) + 1e-9;
        nx /= norm;
        ny /= norm;
        across[at] = nx;
        up[at] = ny;
        shade[at] = 1 - 0.38 * groove * groove * (3 - 2 * groove);
        along[at] = run / 8;
        ply[at] = ((Math.floor(phase) % PLIES) + PLIES) % PLIES === 0 ? 0 : 1;
        shelterAt(sheltering, place / FINER, at);
      }
    }
  }
}

/** Shelter between two points of a curve. */
function shelterAt(values: Float32Array, place: number, at: number): void {
  const k = Math.min(Math.floor(place), values.length / 4 - 1);
  const next = Math.min(k + 1, values.length / 4 - 1);
  for (let c = 0; c < 4; c++) {
    shelter[4 * at + c] =
      values[4 * k + c] + (place - k) * (values[4 * next + c] - values[4 * k + c]);
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
