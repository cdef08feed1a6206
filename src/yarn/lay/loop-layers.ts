/**
 * Which loop lies over which: loops drawn together, and the strands of a crossing.
 *
 * Input: the graph, a loop. Output: layers, along the normal of the sheet.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';

/** Depth of loops drawn together, yarn diameters: of two, and of more, which press flatter. Chosen. */
const PAIR_DEPTH = 1;
const STACK_DEPTH = 1.2;

/**
 * Place of the k-th of `count` loops drawn together, front to back, along the normal: the one next to
 * the sinkers of the loop drawn through them stays in the sheet, the others lie on it, under the legs. Yarn
 * diameters, 0 for a loop by itself.
 */
export function stackOrder(face: number, count: number, k: number): number {
  if (count < 2) return 0;
  const depth = count === 2 ? PAIR_DEPTH : STACK_DEPTH;
  return ((face > 0 ? count - 1 - k : -k) * depth) / (count - 1);
}

/**
 * Layer of a crossing's loop: as in the graph, but where a middle group keeps its place behind, the strand
 * that travels between it and the one in front lies in the sheet.
 */
export function crossingLayer(graph: StitchGraph, i: number): number {
  return !staysInPlace(graph, i) && hasMiddle(graph, i, graph.layer[i]) ? 0 : graph.layer[i];
}

/** True where a loop of the crossing stands over the one it is drawn through; of one layer, or of any. */
export function hasMiddle(graph: StitchGraph, i: number, layer: number | null): boolean {
  const [from, to] = loopsOfCrossing(graph, i);
  for (let loop = from; loop < to; loop++) {
    if ((layer === null || graph.layer[loop] === layer) && staysInPlace(graph, loop)) return true;
  }
  return false;
}

/** As many of the crossing's loops come before it as of the loops below before the one it is drawn through. */
function staysInPlace(graph: StitchGraph, i: number): boolean {
  const { position, parentStart, parents } = graph;
  const below = (loop: number) => position[parents[parentStart[loop]]];
  const [from, to] = loopsOfCrossing(graph, i);
  let shift = 0;
  for (let loop = from; loop < to; loop++) {
    if (position[loop] < position[i]) shift++;
    if (below(loop) < below(i)) shift--;
  }
  return shift === 0;
}

/** The loops of a crossing follow one another along the yarn. */
function loopsOfCrossing({ crossing, loops }: StitchGraph, i: number): [number, number] {
  let from = i;
  while (from > 0 && crossing[from - 1] === crossing[i]) from--;
  let to = i + 1;
  while (to < loops && crossing[to] === crossing[i]) to++;
  return [from, to];
}
