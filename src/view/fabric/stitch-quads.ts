/**
 * One drawn patch per stitch: from the loops that a loop is drawn through up to the loop itself,
 * half way to its neighbours on both sides.
 *
 * Input: StitchGraph (and the Cells' drawn-up centre). Output: draw vertices as weighted sums of
 * loops, so that new positions cost one sparse product. Patches follow yarn order: the first
 * `indexEnd[c]` indices draw the piece up to and including course c.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { FLAG_LIFTED, FLAG_SEAM, FLAG_SLIPPED, FLAG_YARN_OVER } from '../../fabric/stitch-graph.ts';
import type { CableStrands } from './cable-strands.ts';
import { findCableStrands } from './cable-strands.ts';
import { buildNeighbours, gatheredCourse, shareOf, trianglesByCourse } from './patch-topology.ts';
import {
  backOf,
  stitchTile,
  TILE_CHAIN,
  TILE_CORD,
  TILE_HOLE,
  TILE_NONE,
  tileOf,
} from './stitch-tiles.ts';

/** What the fabric shader draws on a patch. */
export const PATCH_KNIT = 0;
export const PATCH_PURL = 1;
/** Cast-on or bound-off edge. */
export const PATCH_EDGE = 2;
/** Pulled together at the drawn-up centre. */
export const PATCH_GATHERED = 3;
/** Yarn over: a hole at its foot. */
export const PATCH_HOLE = 4;
/** The dark behind the stitches: the bare sheet, so that no table shows between them. */
export const PATCH_BEHIND = 5;
/** The ground under a travelling strand: what its columns leave behind. */
export const PATCH_GROUND = 6;

export interface StitchPatches {
  /** Number of draw vertices. */
  readonly vertices: number;
  /** [vertices + 1] CSR offsets into `loop` and `weight`. */
  readonly rowStart: Int32Array;
  /**
   * Surface vertex (loop, or the drawn-up centre) of each term; from `eased` on, the same vertices
   * with the strands of cables eased.
   */
  readonly loop: Int32Array;
  /** Number of surface vertices: where the eased ones begin. */
  readonly eased: number;
  readonly strands: CableStrands;
  /** [2·loops] as from `buildNeighbours`. */
  readonly neighbour: Int32Array;
  readonly weight: Float32Array;
  /** [vertices] how far the vertex stands in front of the sheet, in stitch widths. */
  readonly lift: Float32Array;
  /** [2·vertices] u 0 … 1 from right to left as seen from the RS, v 0 … 1 from foot to head. */
  readonly uv: Float32Array;
  /** [vertices] PATCH_* */
  readonly kind: Float32Array;
  /** [2·vertices] baked tile of the right side and of the wrong side (stitch-tiles.ts). */
  readonly tile: Float32Array;
  /** [loops] first vertex of the patch with the loop's own lower half, −1 for none. */
  readonly lower: Int32Array;
  /**
   * [2·loops] first vertex of the patches with the loop's head, those of its first and of its last child;
   * −1 for none. The head runs from the right edge of the one to the left edge of the other.
   */
  readonly upper: Int32Array;
  /** [loops] first vertex of the band of a cast-on or bound-off edge, −1 for none. */
  readonly band: Int32Array;
  /** [vertices] rows of vertices in the patch that starts here, 0 elsewhere. */
  readonly rows: Uint8Array;
  /** [vertices] loop whose patch this is: colours and picking. */
  readonly owner: Int32Array;
  /** [vertices] course of the owner. */
  readonly course: Float32Array;
  readonly indices: Uint32Array;
  /** [courses] how many indices draw the piece up to this course. */
  readonly indexEnd: Int32Array;
}

/** A point as a weighted sum of loops. */
type Blend = readonly (readonly [loop: number, weight: number])[];

function mix(a: Blend, b: Blend, t: number): Blend {
  if (t <= 0) return a;
  if (t >= 1) return b;
  const sum: [number, number][] = a.map(([loop, w]) => [loop, w * (1 - t)]);
  for (const [loop, w] of b) {
    const same = sum.find((term) => term[0] === loop);
    if (same) same[1] += w * t;
    else sum.push([loop, w * t]);
  }
  return sum;
}

/** How far an edge reaches beyond the loops, rounds. Chosen: about a yarn and a half. */
const EDGE_REACH = 0.6;
/** Depth of the ground under a cable and of a seam, stitch widths: about a yarn, and half of one. Chosen. */
const GROUND_DEPTH = 0.22;
const SEAM_DEPTH = 0.14;
/** Part of the way to the middle that drawn-up loops reach: the yarn through them has the rest. Chosen. */
const GATHERED_TO = 0.92;
/** Added to a tile's number where it lies in the shade of a strand. */
export const GROUND = 64;

/** Half the depth of the overlap at a decrease, in stitch widths: chosen, half a yarn's thickness. */
const DECREASE_LIFT = 0.14;

export function buildStitchPatches(
  graph: StitchGraph,
  cells: Cells,
  triangles: Int32Array,
): StitchPatches {
  const rowStart: number[] = [0];
  const loops: number[] = [];
  const weights: number[] = [];
  const lift: number[] = [];
  const uv: number[] = [];
  const kind: number[] = [];
  const tile: number[] = [];
  const rowsAt: number[] = [];
  const lower = new Int32Array(graph.loops).fill(-1);
  const upper = new Int32Array(2 * graph.loops).fill(-1);
  const band = new Int32Array(graph.loops).fill(-1);
  const owner: number[] = [];
  const course: number[] = [];
  const indices: number[] = [];
  const indexEnd = new Int32Array(graph.courses);

  const addVertex = (
    blend: Blend,
    u: number,
    v: number,
    up: number,
    of: number,
    as: number,
    front: number,
  ): number => {
    for (const [loop, w] of blend) {
      loops.push(loop);
      weights.push(w);
    }
    rowStart.push(loops.length);
    lift.push(up);
    uv.push(u, v);
    kind.push(as);
    tile.push(front, front === TILE_NONE ? front : backOf(front));
    rowsAt.push(0);
    owner.push(of);
    course.push(graph.course[of]);
    return rowStart.length - 2;
  };

  const neighbour = buildNeighbours(graph);
  const gathered = gatheredCourse(graph, cells);
  const strands = findCableStrands(graph);
  const easedFrom = cells.vertices;
  const edge = (loop: number, side: 0 | 1): Blend => {
    const beside = neighbour[2 * loop + side];
    const other = neighbour[2 * loop + (1 - side)];
    if (strands.inStrand[loop]) {
      // A strand keeps its width while it travels.
      const [from, to] = beside >= 0 ? [loop, beside] : [other, loop];
      return from < 0
        ? [[easedFrom + loop, 1]]
        : [
            [easedFrom + loop, 1],
            [to, 0.5],
            [from, -0.5],
          ];
    }
    if (beside >= 0 && strands.inStrand[beside]) {
      // The neighbours of a strand stretch half way after it.
      return [
        [easedFrom + beside, 0.5],
        [loop, 0.5],
      ];
    }
    if (beside >= 0) {
      return [
        [loop, 0.5],
        [beside, 0.5],
      ];
    }
    if (other < 0) return [[loop, 1]];
    return [
      [loop, 1.5],
      [other, -0.5],
    ];
  };
  const behind = trianglesByCourse(graph, triangles);
  const liftOf = (loop: number): number => strands.lift[loop] ?? 0;

  /** Quad strip from the base edge to the top edge. `arch` lifts its middle. */
  const addPatch = (
    base: readonly [Blend, Blend],
    top: readonly [Blend, Blend],
    of: number,
    as: number,
    rows: number,
    front: number,
    liftAt: (v: number, u: number) => number,
  ): number => {
    const first = rowStart.length - 1;
    let below = [-1, -1];
    for (let row = 0; row <= rows; row++) {
      const v = row / rows;
      const here = [
        addVertex(mix(base[0], top[0], v), 0, v, liftAt(v, 0), of, as, front),
        addVertex(mix(base[1], top[1], v), 1, v, liftAt(v, 1), of, as, front),
      ];
      if (row > 0) {
        indices.push(below[0], here[0], here[1], below[0], here[1], below[1]);
      }
      below = here;
    }
    rowsAt[first] = rows + 1;
    return first;
  };

  /** Foot of a loop that is drawn through nothing: between its neighbours' feet. */
  const floatingFoot = (loop: number): readonly [Blend, Blend] | null => {
    let foot: [Blend, Blend] | null = null;
    for (const side of [0, 1] as const) {
      const beside = neighbour[2 * loop + side];
      if (beside < 0) continue;
      const from = graph.parentStart[beside];
      const to = graph.parentStart[beside + 1];
      if (from === to) continue;
      // The parent nearest to the gap.
      let nearest = graph.parents[from];
      for (let p = from; p < to; p++) {
        const candidate = graph.parents[p];
        const further = graph.position[candidate] - graph.position[nearest];
        if (side === 0 ? further > 0 : further < 0) nearest = candidate;
      }
      const point = edge(nearest, side === 0 ? 1 : 0);
      foot = foot ? [foot[0], point] : [point, point];
    }
    return foot;
  };

  for (let c = 0; c < graph.courses; c++) {
    for (let loop = graph.start[c]; loop < graph.start[c + 1]; loop++) {
      if (graph.flags[loop] & FLAG_SEAM || !cells.inSurface[loop]) continue;
      const top: [Blend, Blend] = [edge(loop, 0), edge(loop, 1)];
      if (c === 0) {
        if (gathered === 0) addGather(loop);
        else addEdgeBand(loop);
        continue;
      }
      const as = graph.face[loop] > 0 ? PATCH_KNIT : PATCH_PURL;
      const from = graph.parentStart[loop];
      const to = graph.parentStart[loop + 1];
      if (from === to) {
        const foot = floatingFoot(loop);
        const hole = graph.flags[loop] & FLAG_YARN_OVER && !(graph.flags[loop] & FLAG_LIFTED);
        if (foot) {
          const front = hole ? TILE_HOLE : stitchTile(graph, neighbour, loop);
          lower[loop] = addPatch(foot, top, loop, hole ? PATCH_HOLE : as, 1, front, () => 0);
        }
        continue;
      }
      const several = to - from > 1;
      const front = stitchTile(graph, neighbour, loop);
      addGround(loop, top);
      if (several) addGroundOfDecrease(loop, top);
      const slipped = graph.flags[loop] & FLAG_SLIPPED ? 0.1 : 0;
      // Back first, so that front strands are drawn over them where depths tie.
      for (let p = to - 1; p >= from; p--) {
        const parent = graph.parents[p];
        const [share, of] = shareOf(graph, parent, loop);
        const right = edge(parent, 0);
        const left = edge(parent, 1);
        const base: [Blend, Blend] = [
          mix(right, left, share / of),
          mix(right, left, (share + 1) / of),
        ];
        const foot = liftOf(parent);
        const head = liftOf(loop);
        const bulge = several ? (p === from ? DECREASE_LIFT : -DECREASE_LIFT) : slipped;
        const patch = addPatch(
          base,
          top,
          loop,
          as,
          several ? 2 : 1,
          front,
          (v, u) =>
            foot +
            (head - foot) * v +
            bulge * Math.min(1, 4 * v) -
            seamDip(v < 0.5 ? parent : loop, u),
        );
        if (p === from) lower[loop] = patch;
        if (share === 0) upper[2 * parent] = patch;
        if (share === of - 1) upper[2 * parent + 1] = patch;
      }
    }
    addBehind(c);
    if (c === graph.courses - 1) closeLastCourse(c);
    indexEnd[c] = indices.length;
  }

  /** The bare sheet up to a course: triangles whose last loop belongs to it. */
  function addBehind(c: number) {
    for (const t of behind[c]) {
      const corners = [0, 1, 2].map((k) => {
        const vertex = triangles[t + k];
        const of = Math.min(vertex, graph.loops - 1);
        return addVertex([[vertex, 1]], 0.5, 0.5, 0, of, PATCH_BEHIND, TILE_NONE);
      });
      indices.push(...corners);
    }
  }

  /** Under strands that travel, and beside them, the fabric goes on as on its wrong side. */
  function addGround(loop: number, top: readonly [Blend, Blend]) {
    const parent = graph.parents[graph.parentStart[loop]];
    const beside = [neighbour[2 * loop], neighbour[2 * loop + 1]];
    const near = strands.inStrand[loop] || beside.some((of) => of >= 0 && strands.inStrand[of]);
    if (!near) return;
    const flat = (of: number, side: 0 | 1): Blend => {
      const next = neighbour[2 * of + side];
      if (next >= 0)
        return [
          [of, 0.5],
          [next, 0.5],
        ];
      return edge(of, side);
    };
    const of = strands.inStrand[loop] ? columnBelow(loop) : parent;
    if (of < 0) return;
    const base: [Blend, Blend] = [flat(of, 0), flat(of, 1)];
    const over: [Blend, Blend] = strands.inStrand[loop] ? [flat(loop, 0), flat(loop, 1)] : [...top];
    addPatch(base, over, loop, PATCH_GROUND, 1, GROUND + tileOf(-1, 0), () => -GROUND_DEPTH);
  }

  /** Between stitches that lean together the fabric goes on. */
  function addGroundOfDecrease(loop: number, top: readonly [Blend, Blend]) {
    const together = [
      ...graph.parents.subarray(graph.parentStart[loop], graph.parentStart[loop + 1]),
    ];
    together.sort((a, b) => graph.position[a] - graph.position[b]);
    const right = together[0];
    const left = together[together.length - 1];
    // Over the beginning of a round the first and the last stitch are no neighbours in their course.
    if (graph.position[left] - graph.position[right] >= together.length + 2) return;
    const base: [Blend, Blend] = [edge(right, 0), edge(left, 1)];
    const front = GROUND + tileOf(graph.face[loop], 0);
    addPatch(base, top, loop, PATCH_GROUND, 1, front, () => -2 * DECREASE_LIFT);
  }

  /** The loop that stands under this one in its column, whatever crosses there. */
  function columnBelow(loop: number): number {
    const { stitch, stitchStart, consumedStart, consumed, madeStart } = graph;
    const of = stitch[loop];
    const from = consumedStart[of];
    const to = consumedStart[of + 1];
    if (from === to || of < stitchStart[0]) return -1;
    const k = loop - madeStart[of];
    return consumed[Math.min(to - 1, from + k)];
  }

  /** Sewn edges sink a little between their columns. */
  function seamDip(loop: number, u: number): number {
    if (graph.closure !== 'seam') return 0;
    const beside = neighbour[2 * loop + (u < 0.5 ? 0 : 1)];
    if (beside < 0) return 0;
    return Math.abs(graph.position[loop] - graph.position[beside]) > 1 ? SEAM_DEPTH : 0;
  }

  /** Neighbour along an edge, which closes on itself where the work is joined. */
  function besideOnRim(loop: number, side: 0 | 1): number {
    if (graph.closure !== 'helix' || graph.join.halfTurns % 2 !== 0)
      return neighbour[2 * loop + side];
    const c = graph.course[loop];
    let at = loop;
    do {
      at += side === 0 ? -1 : 1;
      if (at < graph.start[c]) at = graph.start[c + 1] - 1;
      if (at >= graph.start[c + 1]) at = graph.start[c];
    } while (at !== loop && (graph.flags[at] & FLAG_SEAM || !cells.inSurface[at]));
    return at === loop ? -1 : at;
  }

  function rimEdge(loop: number, side: 0 | 1): Blend {
    const beside = besideOnRim(loop, side);
    return beside < 0
      ? edge(loop, side)
      : [
          [loop, 0.5],
          [beside, 0.5],
        ];
  }

  /** An edge point moved away from the fabric by about half a round, the mean of both its loops. */
  function outward(loop: number, side: 0 | 1, inner: (of: number) => number): Blend {
    const sum: [number, number][] = rimEdge(loop, side).map(([of, w]) => [of, w]);
    const loops = [loop, besideOnRim(loop, side)].filter((of) => of >= 0 && inner(of) >= 0);
    for (const of of loops) {
      const w = EDGE_REACH / loops.length;
      sum.push([of, w], [inner(of), -w]);
    }
    return sum;
  }

  /** The cast-on chain below the first loops. */
  function addEdgeBand(loop: number) {
    const top: [Blend, Blend] = [rimEdge(loop, 0), rimEdge(loop, 1)];
    const child = (of: number) =>
      graph.childStart[of] < graph.childStart[of + 1] ? graph.children[graph.childStart[of]] : -1;
    const rim: [Blend, Blend] = [outward(loop, 0, child), outward(loop, 1, child)];
    band[loop] = addPatch(rim, top, loop, PATCH_EDGE, 1, TILE_CORD, () => 0);
    if (neighbour[2 * loop + 1] !== besideOnRim(loop, 1)) {
      fillStep(loop, top, [edge(loop, 0), edge(loop, 1)]);
    }
  }

  /** Where a round begins one course above its end, the edge's band leaves a corner of fabric bare. */
  function fillStep(loop: number, low: readonly [Blend, Blend], high: readonly [Blend, Blend]) {
    const front = GROUND + tileOf(graph.face[loop], 0);
    addPatch(low, high, loop, PATCH_GROUND, 1, front, () => -0.1);
  }

  /** From a loop to the drawn-up centre. */
  function addGather(loop: number) {
    const rim: [Blend, Blend] = [edge(loop, 0), edge(loop, 1)];
    const apex: Blend = [[cells.apex, 1]];
    const ring: [Blend, Blend] = [mix(rim[0], apex, GATHERED_TO), mix(rim[1], apex, GATHERED_TO)];
    const [base, top] = gathered === 0 ? [ring, rim] : [rim, ring];
    const patch = addPatch(base, top, loop, PATCH_GATHERED, 1, tileOf(1, 0), () => 0);
    if (gathered === 0) lower[loop] = patch;
    else upper.fill(patch, 2 * loop, 2 * loop + 2);
  }

  /** Bound-off chain, or the gathers at a drawn-up centre. Live loops need nothing more. */
  function closeLastCourse(last: number) {
    const parent = (of: number) =>
      graph.parentStart[of] < graph.parentStart[of + 1] ? graph.parents[graph.parentStart[of]] : -1;
    for (let loop = graph.start[last]; loop < graph.start[last + 1]; loop++) {
      if (graph.flags[loop] & FLAG_SEAM || !cells.inSurface[loop]) continue;
      if (gathered === last) {
        addGather(loop);
      } else if (graph.ending === 'bound-off') {
        const inside: [Blend, Blend] = [rimEdge(loop, 0), rimEdge(loop, 1)];
        const rim: [Blend, Blend] = [outward(loop, 0, parent), outward(loop, 1, parent)];
        if (neighbour[2 * loop] !== besideOnRim(loop, 0)) {
          fillStep(loop, [edge(loop, 0), edge(loop, 1)], inside);
        }
        band[loop] = addPatch(inside, rim, loop, PATCH_EDGE, 1, TILE_CHAIN, () => 0);
      }
    }
  }

  return {
    vertices: rowStart.length - 1,
    rowStart: Int32Array.from(rowStart),
    loop: Int32Array.from(loops),
    weight: Float32Array.from(weights),
    eased: easedFrom,
    strands,
    neighbour,
    lift: Float32Array.from(lift),
    uv: Float32Array.from(uv),
    kind: Float32Array.from(kind),
    tile: Float32Array.from(tile),
    lower,
    upper,
    band,
    rows: Uint8Array.from(rowsAt),
    owner: Int32Array.from(owner),
    course: Float32Array.from(course),
    indices: Uint32Array.from(indices),
    indexEnd,
  };
}
