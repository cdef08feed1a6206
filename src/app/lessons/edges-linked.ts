/**
 * How often the two edges of a band are linked: the cast-on and the last round as closed curves in space.
 * In: the stitch graph and where its loops lie, [3·loops] mm. Out: the linking number; null for a band with
 * one edge (an odd number of half turns) and for work that is open.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { linkingNumber } from '../../math/linking-number.ts';

export function edgesLinked(graph: StitchGraph, positions: ArrayLike<number>): number | null {
  const { start, courses, closure, join } = graph;
  if (closure === 'open' || join.halfTurns % 2 !== 0 || courses < 2) return null;
  const edge = (course: number) => {
    const points: number[] = [];
    for (let loop = start[course]; loop < start[course + 1]; loop++) {
      points.push(positions[3 * loop], positions[3 * loop + 1], positions[3 * loop + 2]);
    }
    return points;
  };
  const [first, last] = [edge(0), edge(courses - 1)];
  return first.length < 9 || last.length < 9 ? null : linkingNumber(first, last);
}
