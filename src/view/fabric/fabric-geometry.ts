/**
 * Vertex buffers of the fabric: made once for a surface, refilled for every new state of it.
 *
 * Input: stitch patches, positions, normals, colours. Output: a three BufferGeometry whose
 * attributes are those of shaders/fabric.vert.glsl.
 */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Sphere, Vector3 } from 'three';
import {
  DIFFERS_ABOVE,
  DIFFERS_BELOW,
  DIFFERS_LEFT,
  DIFFERS_RIGHT,
  settledArea,
} from '../yarn/loop-template.ts';
import { tileRise, tileTop } from '../yarn/tile-rise.ts';
import { withEasedStrands } from './cable-strands.ts';
import type { StitchPatches } from './stitch-patches.ts';
import { GROUND, PATCH_EDGE } from './stitch-patches.ts';
import { buildStitchPatches } from './stitch-quads.ts';
import { neighbourhoodOf, TILE_NONE, TILES, tileOf } from './stitch-tiles.ts';
import type { Positions, Surface } from './surface.ts';
import { computeBend, computeNormals } from './surface-measures.ts';

export interface FabricGeometry {
  readonly geometry: BufferGeometry;
  readonly patches: StitchPatches;
  readonly surface: Surface;
  /** Mean stitch width, mm. */
  readonly stitchMm: number;
  /** Diameter of the pressed yarn, mm. */
  readonly yarnMm: number;
  /** Tiles that the piece wears on its right and on its wrong side (stitch-tiles.ts). */
  readonly tiles: readonly [ReadonlySet<number>, ReadonlySet<number>];
  /** [TILES] highest yarn of each of them, diameters. */
  readonly tops: readonly number[];
}

/** A number 0 … 1 that differs from stitch to stitch. */
const fractionOf = (loop: number): number => (loop * 0.618033988749895) % 1;

export function createFabricGeometry(surface: Surface): FabricGeometry {
  const patches = buildStitchPatches(surface.graph, surface.cells, surface.metric.triangles);
  const n = patches.vertices;
  const geometry = new BufferGeometry();
  const dynamic = (values: number, size: number) => {
    const attribute = new BufferAttribute(new Float32Array(values * size), size);
    attribute.setUsage(DynamicDrawUsage);
    return attribute;
  };
  geometry.setAttribute('position', dynamic(n, 3));
  geometry.setAttribute('normal', dynamic(n, 3));
  geometry.setAttribute('yarn', dynamic(n, 3));
  geometry.setAttribute('uv', new BufferAttribute(patches.uv, 2));
  const stitch = dynamic(n, 4);
  for (let v = 0; v < n; v++) {
    const seed = 0.05 + 0.9 * fractionOf(patches.owner[v]);
    stitch.setXYZW(
      v,
      patches.tile[2 * v] + seed,
      patches.tile[2 * v + 1] + seed,
      patches.course[v],
      0,
    );
  }
  geometry.setAttribute('stitch', stitch);
  geometry.setAttribute('raise', new BufferAttribute(raiseOf(surface, patches), 2));
  geometry.setIndex(new BufferAttribute(patches.indices, 1));
  geometry.boundingSphere = new Sphere(new Vector3(), 1);
  let sum = 0;
  for (const width of surface.metric.stitchMm) sum += width;
  const tiles = [new Set<number>(), new Set<number>()] as const;
  patches.tile.forEach((tile, k) => {
    if (tile !== TILE_NONE) tiles[k % 2].add(tile % GROUND);
  });
  return {
    geometry,
    patches,
    surface,
    stitchMm: sum / Math.max(1, surface.metric.vertices),
    yarnMm: drawnYarnMm(surface, patches.neighbour),
    tiles,
    tops: Array.from({ length: TILES }, (_, tile) =>
      tiles.some((worn) => worn.has(tile)) ? tileTop(tile) : 0,
    ),
  };
}

/** [2·vertices] how far in front of the sheet and behind it the yarn is seen, diameters: smooth over the piece. */
function raiseOf({ graph }: Surface, patches: StitchPatches): Float32Array {
  const { lower, tile } = patches;
  const own = (loop: number, side: number) => {
    const patch = lower[loop];
    return tileRise(patch < 0 ? tileOf(1, 0) : tile[2 * patch + side] % GROUND);
  };
  const atLoop = new Float32Array(2 * patches.eased);
  for (let loop = 0; loop < patches.eased; loop++) {
    for (const side of [0, 1]) {
      if (loop >= graph.loops) {
        atLoop[2 * loop + side] = tileRise(tileOf(side === 0 ? 1 : -1, 0));
        continue;
      }
      // A loop stands between its own stitch and the one above.
      const above = graph.childStart[loop] < graph.childStart[loop + 1];
      const from = lower[loop] >= 0 || !above ? own(loop, side) : 0;
      const to = above ? own(graph.children[graph.childStart[loop]], side) : from;
      atLoop[2 * loop + side] = lower[loop] >= 0 ? (from + to) / 2 : to;
    }
  }
  const raise = new Float32Array(2 * patches.vertices);
  for (let v = 0; v < patches.vertices; v++) {
    if (patches.tile[2 * v] === TILE_NONE) continue;
    // An edge's band leaves the fabric at its height and ends in its own.
    const isOuter = patches.uv[2 * v + 1] === (patches.course[v] === 0 ? 0 : 1);
    if (patches.kind[v] === PATCH_EDGE && isOuter) {
      raise.fill(tileRise(patches.tile[2 * v]), 2 * v, 2 * v + 2);
      continue;
    }
    for (let term = patches.rowStart[v]; term < patches.rowStart[v + 1]; term++) {
      const loop = patches.loop[term] % patches.eased;
      for (const side of [0, 1]) {
        raise[2 * v + side] += patches.weight[term] * atLoop[2 * loop + side];
      }
    }
  }
  return raise;
}

/** Diameter of yarn that fills the stitches as settled yarn does, mm: from the area of a stitch. */
function drawnYarnMm({ graph, metric }: Surface, neighbour: Int32Array): number {
  let area = 0;
  let settled = 0;
  for (let loop = 0; loop < graph.loops; loop++) {
    const bits = neighbourhoodOf(graph, neighbour, loop);
    area += metric.stitchMm[loop] * metric.roundMm[loop];
    settled += settledArea(
      (bits & (DIFFERS_RIGHT | DIFFERS_LEFT)) !== 0,
      (bits & (DIFFERS_ABOVE | DIFFERS_BELOW)) !== 0,
    );
  }
  return Math.sqrt(area / Math.max(1, settled)) || 1;
}

/** Sums each draw vertex from its loops and refreshes the shelter that darkens hollows. */
export function placeFabric(fabric: FabricGeometry, positions: Positions): void {
  const { geometry, patches, surface, stitchMm } = fabric;
  const { metric } = surface;
  const loopNormals = computeNormals(metric, positions);
  const bend = computeBend(metric, positions, loopNormals);
  const places = withEasedStrands(patches.strands, positions);
  const place = geometry.getAttribute('position') as BufferAttribute;
  const normal = geometry.getAttribute('normal') as BufferAttribute;
  const stitch = geometry.getAttribute('stitch') as BufferAttribute;
  const out = place.array as Float32Array;
  const outNormal = normal.array as Float32Array;
  let reach = 1;
  for (let v = 0; v < patches.vertices; v++) {
    let x = 0;
    let y = 0;
    let z = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    for (let term = patches.rowStart[v]; term < patches.rowStart[v + 1]; term++) {
      const w = patches.weight[term];
      const loop = patches.loop[term];
      const at = 3 * loop;
      x += w * places[at];
      y += w * places[at + 1];
      z += w * places[at + 2];
      const from = loop < patches.eased ? at : at - 3 * patches.eased;
      nx += w * loopNormals[from];
      ny += w * loopNormals[from + 1];
      nz += w * loopNormals[from + 2];
    }
    const length = Math.hypot(nx, ny, nz) || 1;
    const up = (patches.lift[v] * stitchMm) / length;
    out[3 * v] = x + nx * up;
    out[3 * v + 1] = y + ny * up;
    out[3 * v + 2] = z + nz * up;
    outNormal[3 * v] = nx / length;
    outNormal[3 * v + 1] = ny / length;
    outNormal[3 * v + 2] = nz / length;
    // A hollow of 40 mm radius is fully sheltered, and so is what passes behind a cable: chosen, by eye.
    // What is shut in on one side stands out on the other.
    const hollow = -bend[patches.owner[v]] * 40;
    const lift = patches.lift[v];
    const behind = -Math.sign(lift) * Math.max(0, Math.abs(lift) - 0.05) * BEHIND_SHELTER;
    stitch.setW(v, Math.max(-1, Math.min(1, hollow + behind)));
    reach = Math.max(reach, x * x + y * y + z * z);
  }
  place.needsUpdate = true;
  normal.needsUpdate = true;
  stitch.needsUpdate = true;
  (geometry.boundingSphere as Sphere).radius = Math.sqrt(reach) * 1.05;
}

/** Shelter of a strand by the one that crosses over it, per stitch width of its depth. Chosen by eye. */
const BEHIND_SHELTER = 3;

export function colourFabric(fabric: FabricGeometry, rgb: Float32Array): void {
  const { geometry, patches } = fabric;
  const yarn = geometry.getAttribute('yarn') as BufferAttribute;
  const out = yarn.array as Float32Array;
  for (let v = 0; v < patches.vertices; v++) {
    const of = 3 * patches.owner[v];
    out[3 * v] = rgb[of];
    out[3 * v + 1] = rgb[of + 1];
    out[3 * v + 2] = rgb[of + 2];
  }
  yarn.needsUpdate = true;
}

/** Draws only the stitches up to a course; null draws all. */
export function takeBack(fabric: FabricGeometry, throughCourse: number | null): void {
  const { indexEnd } = fabric.patches;
  const course =
    throughCourse === null
      ? indexEnd.length - 1
      : Math.max(0, Math.min(indexEnd.length - 1, throughCourse));
  fabric.geometry.setDrawRange(0, indexEnd[course]);
}
