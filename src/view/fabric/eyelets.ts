/**
 * Where a yarn over leaves a hole: the gap between two columns that it hangs over.
 * In: graph and neighbours. Out: the loops that part there.
 */
import { FLAG_LIFTED, FLAG_YARN_OVER, type StitchGraph } from '../../fabric/stitch-graph.ts';

export interface Eyelet {
  /** The loop of the yarn over. */
  readonly over: number;
  /** The two loops of the course below that it hangs between. */
  readonly right: number;
  readonly left: number;
}

/** The loop below that stands nearest to a loop without a foot, under its right (0) or left (1) neighbour; −1 for none. */
export function besideFoot(
  graph: StitchGraph,
  neighbour: Int32Array,
  loop: number,
  side: 0 | 1,
): number {
  const beside = neighbour[2 * loop + side];
  if (beside < 0) return -1;
  const from = graph.parentStart[beside];
  const to = graph.parentStart[beside + 1];
  if (from === to) return -1;
  let nearest = graph.parents[from];
  for (let p = from; p < to; p++) {
    const candidate = graph.parents[p];
    const further = graph.position[candidate] - graph.position[nearest];
    if (side === 0 ? further > 0 : further < 0) nearest = candidate;
  }
  return nearest;
}

/** Yarn overs between two stitches that stand side by side; one that is knitted up twisted has no hole. */
export function findEyelets(graph: StitchGraph, neighbour: Int32Array): readonly Eyelet[] {
  const found: Eyelet[] = [];
  for (let over = 0; over < graph.loops; over++) {
    if (!(graph.flags[over] & FLAG_YARN_OVER) || graph.flags[over] & FLAG_LIFTED) continue;
    const right = besideFoot(graph, neighbour, over, 0);
    const left = besideFoot(graph, neighbour, over, 1);
    if (right >= 0 && left >= 0 && neighbour[2 * right + 1] === left) {
      found.push({ over, right, left });
    }
  }
  return found;
}

/** Tells the triangles of the bare sheet that lie behind eyelets: round a yarn over's foot, and between the loops that part. */
export function openTriangles(
  eyelets: readonly Eyelet[],
): (a: number, b: number, c: number) => boolean {
  const edges = new Set(
    eyelets.flatMap(({ over, right, left }) => [
      `${right} ${left}`,
      `${over} ${right}`,
      `${over} ${left}`,
    ]),
  );
  const isOpen = (a: number, b: number) => edges.has(`${a} ${b}`) || edges.has(`${b} ${a}`);
  return (a, b, c) => edges.size > 0 && (isOpen(a, b) || isOpen(b, c) || isOpen(c, a));
}
