/**
 * The fabric's yarn for a near look: every stitch's settled loop, laid on the same patches as its baked tile, so
 * that both pictures agree wherever the sheet lies.
 *
 * Input: stitch patches with their vertices placed (fabric-geometry.ts), and which loops to draw. Output: centre
 * lines in working order with their shelter, as shaders/yarn.vert.glsl reads them. Edges come as a cast-on cord,
 * a bound-off chain, and the yarn that draws the middle up.
 */
import { FLAG_LIFTED, FLAG_TWISTED, FLAG_YARN_OVER } from '../../fabric/stitch-graph.ts';
import { neighbourhoodOf, tileOf } from '../fabric/stitch-tiles.ts';
import { drawCord, drawEnd } from './drawn-edges.ts';
import { LOOP_DIAMETERS, loopTemplate } from './loop-template.ts';
import { crossFoot, overHeight, overLeg, PART_FROM, POINT_STEP } from './tile-curves.ts';
import { tileShelter } from './tile-shelter.ts';
import { type DrawnYarn, Pen, type PlacedPatches, STEP } from './yarn-pen.ts';

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
