/**
 * The yarn of a piece's edges: the cord of its cast-on, the chain that binds it off, the ring that draws its middle up. In: a pen, the
 * placed patches, which loops are wanted. Out: centre lines.
 */
import { courseCount, loopAt } from '../../fabric/stitch-graph.ts';
import { lastLoops } from '../fabric/patch-topology.ts';
import { PATCH_GATHERED } from '../fabric/stitch-patches.ts';
import { CORD_DIAMETERS, chainLines, cordPoint, POINT_STEP } from './tile-curves.ts';
import { EDGE_SHELTER } from './tile-shelter.ts';
import { type Pen, type PlacedPatches, STEP } from './yarn-pen.ts';

export function drawCord(
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

export function drawEnd(
  pen: Pen,
  placed: PlacedPatches,
  isWanted: (loop: number) => boolean,
): void {
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
