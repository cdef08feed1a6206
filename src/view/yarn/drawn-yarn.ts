/**
 * The fabric's yarn for a near look: every stitch's settled loop, laid on the same patches as its baked tile, so
 * that both pictures agree wherever the sheet lies.
 *
 * Input: stitch patches with their vertices placed (fabric-geometry.ts), and which loops to draw. Output: centre
 * lines in working order with their shelter, as shaders/yarn.vert.glsl reads them. Edges come as a cast-on cord,
 * a bound-off chain, and the yarn that draws the middle up.
 */
import {
  courseCount,
  FLAG_LIFTED,
  FLAG_TWISTED,
  FLAG_YARN_OVER,
  loopAt,
  type StitchGraph,
} from '../../fabric/stitch-graph.ts';
import { lastLoops } from '../fabric/patch-topology.ts';
import type { StitchPatches } from '../fabric/stitch-patches.ts';
import { PATCH_GATHERED } from '../fabric/stitch-patches.ts';
import { neighbourhoodOf, tileOf } from '../fabric/stitch-tiles.ts';
import { LOOP_DIAMETERS, loopTemplate } from './loop-template.ts';
import {
  CORD_DIAMETERS,
  chainLines,
  cordPoint,
  crossFoot,
  overHeight,
  overLeg,
  PART_FROM,
  POINT_STEP,
} from './tile-curves.ts';
import { EDGE_SHELTER, tileShelter } from './tile-shelter.ts';

/** Patches as they lie now. */
export interface PlacedPatches {
  readonly graph: StitchGraph;
  readonly patches: StitchPatches;
  /** [3·vertices] mm, and unit normals. */
  readonly positions: ArrayLike<number>;
  readonly normals: ArrayLike<number>;
  /** [4·vertices] whose last is how far the place is shut in on the right side; left out where it is open. */
  readonly stitch?: ArrayLike<number>;
  /** Diameter of the pressed yarn, mm. */
  readonly yarnMm: number;
}

export interface DrawnYarn {
  readonly points: number;
  /** [4·points] x, y, z, length of yarn; mm. A loop's yarn has the length of a settled one, as where it is baked. */
  readonly centre: Float32Array;
  /** [4·points] see ambient-occlusion.ts. */
  readonly shelter: Float32Array;
  /** [points] loop whose colour the yarn wears. */
  readonly loop: Int32Array;
  /** [points] strand of each point. */
  readonly strand: Int32Array;
}

/** Points nearer to each other than this are one, yarn diameters. Chosen: half a segment. */
const JOIN_DIAMETERS = 0.5;
/** Points of a loop: eight segments of its own half, eight of its head. */
const STEP = 2;

/**
 * `ground`: also what lies behind cables; without it where that is baked. `coversHead`: whether a loop's head lies under
 * stitches that are baked, which show it; by default none does.
 */
export function drawYarn(
  placed: PlacedPatches,
  isWanted: (loop: number) => boolean,
  ground = true,
  coversHead: (loop: number) => boolean = () => false,
): DrawnYarn {
  const { graph, patches } = placed;
  const pen = new Pen(placed);
  for (let c = 0; c < graph.courses; c++) {
    const from = graph.start[c];
    const to = graph.start[c + 1];
    if (c === 0) drawCord(pen, placed, isWanted);
    if (c === 1) pen.breakOff();
    for (let loop = from; loop < to; loop++) {
      const lower = patches.lower[loop];
      const drawn = (lower >= 0 || patches.upper[2 * loop] >= 0) && isWanted(loop);
      // Cast-on loops come out of the cord one by one.
      if (!drawn || lower < 0) pen.breakOff();
      if (drawn) drawLoop(pen, placed, loop, graph.wrongSide[c] === 1, coversHead(loop));
    }
  }
  pen.go(false);
  if (ground) drawGround(pen, placed, isWanted);
  drawSeam(pen, placed, isWanted);
  drawEnd(pen, placed, isWanted);
  return pen.finish();
}

/**
 * The ground is pressed by the strands on it: its loops' relief is this share of theirs, and lies so many yarn diameters
 * behind its patch; what stands over it takes more of its light. Chosen by eye: no loop of it comes through a strand.
 */
const GROUND_FLATTER = 0.4;
const GROUND_BEHIND = 0.85;
const GROUND_SHADE = 1.5;
/** A place wholly shut in is as dark as so much more yarn nearby makes it; as in fabric.frag.glsl. */
const HOLLOW_SHADE = 9;

/** [4·points] the same shelter with more above. */
function inShade(shelter: Float32Array): Float32Array {
  return shelter.map((value, k) => (k % 4 < 2 ? value : value + GROUND_SHADE));
}

/** How high a bound-off loop's head stands, of what a free one does: within the band of the chain. Chosen. */
const IN_CHAIN = 0.35;

/** What the columns of a crossing leave behind goes on as purl: loops of its own under the strands and beside them. */
function drawGround(
  pen: Pen,
  { graph, patches }: PlacedPatches,
  isWanted: (loop: number) => boolean,
): void {
  const { entering, head, leaving } = loopTemplate(-1, 0);
  const open = tileShelter(tileOf(-1, 0));
  const shelter = {
    entering: inShade(open.entering),
    head: inShade(open.head),
    leaving: inShade(open.leaving),
  };
  const line = (patch: number, path: Float32Array, from: number, shade: Float32Array, rise = 0) => {
    for (let i = 0; i < path.length / 3; i += STEP) {
      const z = GROUND_FLATTER * path[3 * i + 2] - GROUND_BEHIND;
      pen.along(from + i * POINT_STEP);
      pen.add(patch, patch, path[3 * i], path[3 * i + 1] + rise, z, shade, 4 * i);
    }
  };
  for (let loop = 0; loop < graph.loops; loop++) {
    const own = patches.ground[loop];
    if (own < 0 || !isWanted(loop)) {
      pen.breakOff();
      continue;
    }
    const child = graph.childStart[loop] < graph.childStart[loop + 1] ? graph.childStart[loop] : -1;
    const above = child >= 0 ? patches.ground[graph.children[child]] : -1;
    pen.wear(loop);
    line(own, entering, PART_FROM.entering, shelter.entering);
    line(above >= 0 ? above : own, head, PART_FROM.head, shelter.head, above >= 0 ? 0 : 1);
    line(own, leaving, PART_FROM.leaving, shelter.leaving);
    pen.nextLoop(LOOP_DIAMETERS);
  }
  pen.breakOff();
}

/** The edges that a seam folds back: a column that shows its knit side behind. */
function drawSeam(
  pen: Pen,
  { graph, patches }: PlacedPatches,
  isWanted: (loop: number) => boolean,
): void {
  const template = loopTemplate(1, 0);
  const { seam } = patches;
  for (let loop = 0; loop < graph.loops; loop++) {
    if (seam[loop] < 0 || !isWanted(loop)) continue;
    pen.breakOff();
    pen.wear(loop);
    for (const part of ['entering', 'head', 'leaving'] as const) {
      const line = template[part];
      const rise = part === 'head' ? 1 : 0;
      for (let i = 0; i < line.length / 3; i += STEP) {
        pen.along(PART_FROM[part] + i * POINT_STEP);
        const [u, v, z] = line.subarray(3 * i, 3 * i + 3);
        pen.add(seam[loop], seam[loop], u, v + rise, -z, SEAM_SHELTER, 0);
      }
    }
    pen.nextLoop(LOOP_DIAMETERS);
  }
  pen.breakOff();
}

/** Its inside lies against the fabric: as EDGE_SHELTER, which lies behind its edge. Chosen. */
const SEAM_SHELTER = Float32Array.from([0, 0, 0.6, 0.9]);

function drawLoop(
  pen: Pen,
  { graph, patches }: PlacedPatches,
  loop: number,
  backwards: boolean,
  headCovered: boolean,
): void {
  const lower = patches.lower[loop];
  const face = graph.face[loop];
  const own = loopTemplate(face, neighbourhoodOf(graph, patches.neighbour, loop));
  const ownTile = tileOf(face, neighbourhoodOf(graph, patches.neighbour, loop));
  const child =
    graph.childStart[loop] < graph.childStart[loop + 1]
      ? graph.children[graph.childStart[loop]]
      : -1;
  const upFace = child >= 0 ? graph.face[child] : face;
  const upBits = child >= 0 ? neighbourhoodOf(graph, patches.neighbour, child) : 0;
  const { head } = loopTemplate(upFace, upBits);
  const headShelter = tileShelter(tileOf(upFace, upBits)).head;
  const ownShelter = tileShelter(ownTile);
  const open = graph.flags[loop] & FLAG_YARN_OVER && !(graph.flags[loop] & FLAG_LIFTED);
  const twisted = (graph.flags[loop] & FLAG_TWISTED) !== 0;
  pen.wear(loop);
  pen.go(backwards);
  const half = (line: Float32Array, shelter: Float32Array, isEntering: boolean) => {
    if (lower < 0) return;
    const path = twisted ? crossFoot(line, isEntering) : line;
    for (let k = 0; k < 9; k += STEP) {
      const i = backwards ? 8 - k : k;
      pen.along((isEntering ? PART_FROM.entering : PART_FROM.leaving) + i * POINT_STEP);
      if (open) {
        const t = isEntering ? i / 8 : 1 - i / 8;
        const u = isEntering ? overLeg(t) : 1 - overLeg(t);
        pen.add(lower, lower, u, overHeight(t), 0.3 * Math.sin(Math.PI * t), shelter, 4 * i);
      } else {
        pen.add(lower, lower, path[3 * i], path[3 * i + 1], path[3 * i + 2], shelter, 4 * i);
      }
    }
  };
  const first = patches.upper[2 * loop];
  const last = patches.upper[2 * loop + 1];
  const over = () => {
    if (headCovered) {
      pen.breakOff();
      return;
    }
    // A head that nothing is drawn through stands as far above its legs as they above their feet; bound off it lies in
    // the chain.
    const [right, left, rise] =
      first >= 0 ? [first, last >= 0 ? last : first, 0] : [lower, lower, 1];
    const high = rise && patches.band[loop] >= 0 ? IN_CHAIN : 1;
    if (right < 0) return;
    for (let k = lower < 0 ? 0 : STEP; k < (lower < 0 ? 17 : 16); k += STEP) {
      const i = backwards ? 16 - k : k;
      pen.along(PART_FROM.head + i * POINT_STEP);
      pen.add(
        right,
        left,
        head[3 * i],
        high * head[3 * i + 1] + rise,
        head[3 * i + 2],
        headShelter,
        4 * i,
      );
    }
  };
  const enter = () => half(own.entering, ownShelter.entering, true);
  const leave = () => half(own.leaving, ownShelter.leaving, false);
  if (backwards) {
    leave();
    over();
    enter();
  } else {
    enter();
    over();
    leave();
  }
  pen.nextLoop(LOOP_DIAMETERS);
}

function drawCord(
  pen: Pen,
  { graph, patches }: PlacedPatches,
  isWanted: (loop: number) => boolean,
): void {
  const at = [0, 0, 0];
  const count = courseCount(graph, 0);
  for (const strand of [0, 1]) {
    pen.breakOff();
    for (let position = 0; position < count; position++) {
      const loop = loopAt(graph, 0, position);
      const band = patches.band[loop];
      if (band < 0 || !isWanted(loop)) {
        pen.breakOff();
        continue;
      }
      pen.wear(loop);
      for (let k = 0; k < 8; k++) {
        cordPoint(k / 8, strand, at);
        pen.along((k / 8) * CORD_DIAMETERS);
        pen.add(band, band, at[0], at[1], at[2], EDGE_SHELTER, 0);
      }
      pen.nextLoop(CORD_DIAMETERS);
    }
  }
  pen.breakOff();
}

function drawEnd(pen: Pen, placed: PlacedPatches, isWanted: (loop: number) => boolean): void {
  const { graph, patches } = placed;
  const last = graph.courses - 1;
  const links = chainLines();
  for (const loop of last > 0 ? lastLoops(graph) : []) {
    const band = patches.band[loop];
    if (band < 0 || !isWanted(loop)) continue;
    pen.wear(loop);
    for (const { line, from } of links) {
      // The head is that of the link behind, as in the baked chain.
      pen.breakOff();
      for (let i = 0; i < line.length; i += 3 * STEP) {
        pen.along(from + (i / 3) * POINT_STEP);
        pen.add(band, band, line[i], line[i + 1], line[i + 2], EDGE_SHELTER, 0);
      }
    }
  }
  pen.breakOff();
  drawRing(pen, placed, isWanted);
}

/** Yarn drawn through the middle. */
function drawRing(pen: Pen, placed: PlacedPatches, isWanted: (loop: number) => boolean): void {
  const { graph, patches, positions, yarnMm } = placed;
  const last = graph.courses - 1;
  const ring: { loop: number; patch: number; v: number; at: number }[] = [];
  for (let loop = 0; loop < graph.loops; loop++) {
    const course = graph.course[loop];
    if (course !== 0 && course !== last) continue;
    const patch = course === 0 ? patches.lower[loop] : patches.upper[2 * loop];
    if (patch < 0 || patches.kind[patch] !== PATCH_GATHERED || !isWanted(loop)) continue;
    ring.push({
      loop,
      patch,
      v: course === 0 ? 0.06 : 0.94,
      at: 3 * (course === 0 ? patch : patch + 2),
    });
  }
  let round = 0;
  ring.forEach(({ at }, k) => {
    const next = ring[(k + 1) % ring.length].at;
    round += Math.hypot(...[0, 1, 2].map((c) => positions[next + c] - positions[at + c]));
  });
  if (round < RING_DIAMETERS * yarnMm) return;
  const step = round / ring.length / yarnMm;
  // Its ends lie over each other.
  for (const { loop, patch, v } of [...ring, ...ring.slice(0, 3)]) {
    pen.wear(loop);
    pen.along(0);
    pen.nextLoop(step);
    pen.add(patch, patch, 0.5, v, RING_BEHIND, RING_SHELTER, 0);
  }
  pen.breakOff();
}

/** A ring no longer than this is drawn to a point, yarn diameters. Chosen. */
const RING_DIAMETERS = 0.5;
/** It runs behind the front of the loops, and deep between them: diameters, and shelter as in ambient-occlusion.ts. By eye. */
const RING_BEHIND = -0.45;
const RING_SHELTER = Float32Array.from([0, 0, -1, 5]);

/** Collects points that are given on patches. */
class Pen {
  private readonly centre: number[] = [];
  private readonly shelter: number[] = [];
  private readonly loop: number[] = [];
  private readonly strand: number[] = [];
  private now = 0;
  private used = false;
  private wears = 0;
  private way = 1;
  private base = 0;
  private length = 0;

  constructor(private readonly placed: PlacedPatches) {}

  wear(loop: number): void {
    this.wears = loop;
  }

  /** Which way the strand runs through loops: as in right-side work, or against it. */
  go(backwards: boolean): void {
    this.way = backwards ? -1 : 1;
  }

  /** The next points lie so far along the yarn of their loop, diameters. */
  along(diameters: number): void {
    this.length = diameters;
  }

  /** The yarn of a loop lies behind. */
  nextLoop(diameters: number): void {
    this.base += diameters;
  }

  breakOff(): void {
    if (this.used) this.now++;
    this.used = false;
  }

  /**
   * A point at u, v between the right edge of one patch and the left edge of another (or the same), z yarn
   * diameters off it. `shelter` [4·points] is in the frame of the patch.
   */
  add(
    right: number,
    left: number,
    u: number,
    v: number,
    z: number,
    shelter: ArrayLike<number>,
    s: number,
  ): void {
    const { patches, positions, normals, yarnMm } = this.placed;
    const rows = patches.rows[right] - 1;
    const rowsLeft = patches.rows[left] - 1;
    const row = Math.max(0, Math.min(rows - 1, Math.floor(v * rows)));
    const f = v * rows - row;
    // Both patches have as many rows, or the left one is taken as a whole.
    const a = 3 * (right + 2 * row);
    const b = rowsLeft === rows ? 3 * (left + 2 * row + 1) : 3 * (left + 1);
    const aUp = a + 6;
    const bUp = rowsLeft === rows ? b + 6 : 3 * (left + 2 * rowsLeft + 1);
    const g = rowsLeft === rows ? f : v;
    const point = [0, 0, 0];
    const normal = [0, 0, 0];
    const across = [0, 0, 0];
    const up = [0, 0, 0];
    for (let c = 0; c < 3; c++) {
      const r = positions[a + c] + f * (positions[aUp + c] - positions[a + c]);
      const l = positions[b + c] + g * (positions[bUp + c] - positions[b + c]);
      point[c] = r + u * (l - r);
      across[c] = l - r;
      up[c] =
        (1 - u) * (positions[aUp + c] - positions[a + c]) +
        u * (positions[bUp + c] - positions[b + c]);
      normal[c] =
        (1 - u) * (normals[a + c] + f * (normals[aUp + c] - normals[a + c])) +
        u * (normals[b + c] + g * (normals[bUp + c] - normals[b + c]));
    }
    const acrossMm = Math.hypot(across[0], across[1], across[2]) || 1;
    const upMm = Math.hypot(up[0], up[1], up[2]) || 1;
    const size = Math.hypot(normal[0], normal[1], normal[2]) || 1;
    if (this.used && this.joins(point, normal, z / size)) return;
    for (let c = 0; c < 3; c++) {
      const n = normal[c] / size;
      this.centre.push(point[c] + z * yarnMm * n);
      this.shelter.push(
        (shelter[s] * across[c]) / acrossMm + (shelter[s + 1] * up[c]) / upMm + shelter[s + 2] * n,
      );
    }
    // Against the work, the yarn of a loop is counted down.
    this.centre.push((this.base + this.way * this.length) * yarnMm);
    const { stitch } = this.placed;
    const shut = stitch ? 0.5 * (stitch[(4 * a) / 3 + 3] + stitch[(4 * b) / 3 + 3]) : 0;
    this.shelter.push(shelter[s + 3] + HOLLOW_SHADE * Math.max(0, shut));
    this.loop.push(this.wears);
    this.strand.push(this.now);
    this.used = true;
  }

  /** Where two loops meet in one point it is drawn once, half way between both. */
  private joins(point: readonly number[], normal: readonly number[], z: number): boolean {
    const { yarnMm } = this.placed;
    const at = this.centre.length - 4;
    let square = 0;
    for (let c = 0; c < 3; c++) {
      square += (point[c] + z * yarnMm * normal[c] - this.centre[at + c]) ** 2;
    }
    if (square > (JOIN_DIAMETERS * yarnMm) ** 2) return false;
    for (let c = 0; c < 3; c++) {
      this.centre[at + c] = (this.centre[at + c] + point[c] + z * yarnMm * normal[c]) / 2;
    }
    return true;
  }

  finish(): DrawnYarn {
    const points = this.loop.length;
    return {
      points,
      centre: Float32Array.from(this.centre),
      shelter: Float32Array.from(this.shelter),
      loop: Int32Array.from(this.loop),
      strand: Int32Array.from(this.strand),
    };
  }
}
