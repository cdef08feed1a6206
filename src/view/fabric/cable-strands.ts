/**
 * Strands of cables for the picture: loops near a crossing, where they are drawn, and how far in
 * front of or behind the sheet.
 *
 * The sheet keeps every loop in its own column, so a crossing would jump sideways within one round. Knitted strands
 * travel over several rounds: as those of a relaxed cable do (settled-cables.ts), between the rounds half way to the
 * neighbouring crossings. Only the drawing moves; measures use the sheet itself.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { SETTLED_LOOPS } from '../yarn/settled-loops.ts';
import { SETTLED_CABLES } from './settled-cables.ts';
import type { Positions } from './surface.ts';

export interface CableStrands {
  /** Wales through crossings: loops from the lowest to the highest, CSR. */
  readonly pathStart: Int32Array;
  readonly path: Int32Array;
  /** [path] share of the way across that each loop has done. */
  readonly travel: Float32Array;
  /** By wale: where in the path the crossed loop stands, and which crossing it belongs to. */
  readonly crossedAt: Int32Array;
  readonly crossing: Int32Array;
  /** [loops] 1 where a loop belongs to a strand. */
  readonly inStrand: Uint8Array;
  /** [loops] how far a strand's loop stands in front of the sheet (RS), in stitch widths. */
  readonly lift: Float32Array;
}

/** Rounds that a strand takes to travel on each side of its crossing: beyond, relaxed ones lie in their columns. */
const REACH = 3;

/** How the strands of a crossing lie at rest: of the relaxed ones the nearest in size. */
function settledFor(stitches: number) {
  const off = ({ moved }: { readonly moved: number }) => Math.abs(moved - stitches / 2);
  return SETTLED_CABLES.reduce((best, row) => (off(row) < off(best) ? row : best));
}

export function findCableStrands(graph: StitchGraph): CableStrands {
  const pathStart: number[] = [0];
  const path: number[] = [];
  const travel: number[] = [];
  const crossedAt: number[] = [];
  const crossing: number[] = [];
  const size = new Map<number, number>();
  const inStrand = new Uint8Array(graph.loops);
  const lift = new Float32Array(graph.loops);
  const nearest = new Float32Array(graph.loops).fill(Number.POSITIVE_INFINITY);

  const onlyParent = (loop: number): number =>
    graph.parentStart[loop + 1] - graph.parentStart[loop] === 1
      ? graph.parents[graph.parentStart[loop]]
      : -1;
  const onlyChild = (loop: number): number => {
    if (graph.childStart[loop + 1] - graph.childStart[loop] !== 1) return -1;
    const child = graph.children[graph.childStart[loop]];
    return onlyParent(child) >= 0 ? child : -1;
  };
  const crosses = (loop: number): boolean => graph.crossing[loop] >= 0 && graph.layer[loop] !== 0;
  /** Free rounds on the way to the next crossing of the same wale, or the reach. */
  const freeRounds = (from: number, step: (loop: number) => number, up: boolean): number => {
    let loop = from;
    let free = 0;
    while (free < 2 * REACH) {
      // Going down, the crossing lies between a crossed loop and its parent.
      if (!up && crosses(loop)) return Math.max(1, Math.floor((free + 1) / 2));
      const next = step(loop);
      if (next < 0) break;
      if (up && crosses(next)) return Math.max(1, Math.floor((free + 1) / 2));
      loop = next;
      free++;
    }
    return Math.min(REACH, Math.max(1, free));
  };

  for (let loop = 0; loop < graph.loops; loop++) {
    if (crosses(loop)) size.set(graph.crossing[loop], (size.get(graph.crossing[loop]) ?? 0) + 1);
  }
  for (let loop = 0; loop < graph.loops; loop++) {
    if (!crosses(loop)) continue;
    const foot = onlyParent(loop);
    if (foot < 0) continue;
    const below: number[] = [];
    const down = freeRounds(foot, onlyParent, false);
    for (let at = foot, k = 0; at >= 0 && k < down; k++) {
      below.unshift(at);
      at = onlyParent(at);
    }
    const above: number[] = [];
    const up = freeRounds(loop, onlyChild, true);
    for (let at = loop, k = 0; at >= 0 && k < up; k++) {
      above.push(at);
      at = onlyChild(at);
    }
    const whole = [...below, ...above];
    path.push(...whole);
    pathStart.push(path.length);
    crossedAt.push(below.length);
    crossing.push(graph.crossing[loop]);
    const settled = settledFor(size.get(graph.crossing[loop]) ?? 2);
    const strand = graph.layer[loop] > 0 ? settled.over : settled.under;
    whole.forEach((member, k) => {
      inStrand[member] = 1;
      const round = k - below.length + REACH;
      travel.push(strand.travel[round]);
      // Rounds from the middle of the crossing.
      const away = Math.abs(k - below.length + 0.5);
      if (away < nearest[member]) {
        nearest[member] = away;
        lift[member] = strand.height[round] / SETTLED_LOOPS.plain.width;
      }
    });
  }
  return {
    pathStart: Int32Array.from(pathStart),
    path: Int32Array.from(path),
    travel: Float32Array.from(travel),
    crossedAt: Int32Array.from(crossedAt),
    crossing: Int32Array.from(crossing),
    inStrand,
    lift,
  };
}

/** [6·vertices] the positions, then the same with the strands on their way across. */
export function withEasedStrands(strands: CableStrands, positions: Positions): Float64Array {
  const n = positions.length;
  const both = new Float64Array(2 * n);
  both.set(positions, 0);
  both.set(positions, n);
  const { pathStart, path, travel, crossedAt, crossing } = strands;
  // The way up is the mean of a crossing's strands; what is left of each one's step is its way across.
  const up = new Map<number, [number, number, number, number]>();
  for (let p = 0; p < crossing.length; p++) {
    const crossed = 3 * path[pathStart[p] + crossedAt[p]];
    const foot = 3 * path[pathStart[p] + crossedAt[p] - 1];
    const sum = up.get(crossing[p]) ?? [0, 0, 0, 0];
    for (let d = 0; d < 3; d++) sum[d] += positions[crossed + d] - positions[foot + d];
    sum[3]++;
    up.set(crossing[p], sum);
  }
  for (let p = 0; p < crossing.length; p++) {
    const middle = pathStart[p] + crossedAt[p];
    const crossed = 3 * path[middle];
    const foot = 3 * path[middle - 1];
    const sum = up.get(crossing[p]) ?? [0, 0, 0, 1];
    for (let k = pathStart[p]; k < pathStart[p + 1]; k++) {
      const done = k < middle ? travel[k] : travel[k] - 1;
      for (let d = 0; d < 3; d++) {
        const across = positions[crossed + d] - positions[foot + d] - sum[d] / sum[3];
        both[n + 3 * path[k] + d] = positions[3 * path[k] + d] + done * across;
      }
    }
  }
  return both;
}
