/**
 * Which baked tile a stitch wears, by its face and those of its neighbours.
 *
 * Input: graph, neighbours. Output: tile numbers of both sides; yarn/stitch-atlas.ts bakes them.
 */
import { FLAG_TWISTED, type StitchGraph } from '../../fabric/stitch-graph.ts';
import {
  DIFFERS_ABOVE,
  DIFFERS_BELOW,
  DIFFERS_LEFT,
  DIFFERS_RIGHT,
  NEIGHBOURHOODS,
} from '../yarn/loop-template.ts';

/** Tiles 0 … 15 are purl, 16 … 31 knit in the sixteen neighbourhoods; then the special ones. */
export const TILE_TWISTED = 2 * NEIGHBOURHOODS;
export const TILE_HOLE = TILE_TWISTED + 1;
/** Twisted cord along a cast-on edge; chain along a bound-off one. */
export const TILE_CORD = TILE_TWISTED + 2;
export const TILE_CHAIN = TILE_TWISTED + 3;
export const TILES = TILE_TWISTED + 4;
/** Not baked: the dark behind stitches. */
export const TILE_NONE = 63;

export function tileOf(face: number, neighbourhood: number): number {
  return (face > 0 ? NEIGHBOURHOODS : 0) + neighbourhood;
}

/** The tile that the same stitch shows from the wrong side. */
export function backOf(tile: number): number {
  if (tile >= TILE_TWISTED) return tile === TILE_TWISTED || tile === TILE_CHAIN ? 0 : tile;
  const bits = tile % NEIGHBOURHOODS;
  const swapped =
    (bits & (DIFFERS_ABOVE | DIFFERS_BELOW)) |
    (bits & DIFFERS_RIGHT ? DIFFERS_LEFT : 0) |
    (bits & DIFFERS_LEFT ? DIFFERS_RIGHT : 0);
  return tileOf(tile < NEIGHBOURHOODS ? 1 : -1, swapped);
}

/** Which neighbours of a loop show the other face (DIFFERS_*); a missing one counts as alike. */
export function neighbourhoodOf(graph: StitchGraph, neighbour: Int32Array, loop: number): number {
  const { face, parentStart, parents, childStart, children } = graph;
  const own = face[loop];
  const right = neighbour[2 * loop];
  const left = neighbour[2 * loop + 1];
  const below = parentStart[loop] < parentStart[loop + 1] ? parents[parentStart[loop]] : -1;
  const above = childStart[loop] < childStart[loop + 1] ? children[childStart[loop]] : -1;
  return (
    (right >= 0 && face[right] !== own ? DIFFERS_RIGHT : 0) +
    (left >= 0 && face[left] !== own ? DIFFERS_LEFT : 0) +
    (above >= 0 && face[above] !== own ? DIFFERS_ABOVE : 0) +
    // What lies below a first round is an edge, whatever its face.
    (below >= 0 && graph.course[below] > 0 && face[below] !== own ? DIFFERS_BELOW : 0)
  );
}

export function stitchTile(graph: StitchGraph, neighbour: Int32Array, loop: number): number {
  if (graph.flags[loop] & FLAG_TWISTED && graph.face[loop] > 0) return TILE_TWISTED;
  return tileOf(graph.face[loop], neighbourhoodOf(graph, neighbour, loop));
}
