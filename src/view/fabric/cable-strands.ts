/**
 * Strands of cables for the picture: loops near a crossing, where they are drawn, and how far in
 * front of or behind the sheet.
 *
 * The sheet keeps every loop in its own column, so a crossing would jump sideways within one round.
 * Knitted strands travel over several rounds: here each crossed wale is eased, between the rounds
 * half way to its neighbouring crossings. Only the drawing moves; measures use the sheet itself.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { Positions } from './surface.ts';

export interface CableStrands {
  /** Wales through crossings: loops from the lowest to the highest, CSR. */
  readonly pathStart: Int32Array;
  readonly path: Int32Array;
  /** [loops] 1 where a loop belongs to a strand. */
  readonly inStrand: Uint8Array;
  /** [loops] how far a strand's loop stands in front of the sheet (RS), in stitch widths. */
  readonly lift: Float32Array;
}

/** Rounds that a strand takes to travel on each side of its crossing. Chosen by eye. */
const REACH = 3;
/** Half the distance of crossing strands, stitch widths: a yarn and a half. Chosen by eye. */
const LIFT = 0.4;
/** Smoothing passes; on at most seven loops this comes close to a straight line. */
const PASSES = 7;

export function findCableStrands(graph: StitchGraph): CableStrands {
  const pathStart: number[] = [0];
  const path: number[] = [];
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
    whole.forEach((member, k) => {
      inStrand[member] = 1;
      // Rounds from the middle of the crossing.
      const away = Math.abs(k - below.length + 0.5);
      if (away < nearest[member]) {
        nearest[member] = away;
        const near = Math.exp(-((away / 1.7) ** 2));
        lift[member] = graph.layer[loop] > 0 ? 0.06 + LIFT * near : 0.04 - LIFT * 0.8 * near;
      }
    });
  }
  return { pathStart: Int32Array.from(pathStart), path: Int32Array.from(path), inStrand, lift };
}

/** [6·vertices] the positions, then the same with the strands eased. */
export function withEasedStrands(strands: CableStrands, positions: Positions): Float64Array {
  const n = positions.length;
  const both = new Float64Array(2 * n);
  both.set(positions, 0);
  both.set(positions, n);
  const { pathStart, path } = strands;
  for (let p = 0; p + 1 < pathStart.length; p++) {
    const from = pathStart[p];
    const to = pathStart[p + 1];
    for (let pass = 0; pass < PASSES; pass++) {
      for (let k = from + 1; k < to - 1; k++) {
        const here = n + 3 * path[k];
        const below = n + 3 * path[k - 1];
        const above = n + 3 * path[k + 1];
        for (let d = 0; d < 3; d++) both[here + d] = 0.5 * (both[below + d] + both[above + d]);
      }
    }
  }
  return both;
}
