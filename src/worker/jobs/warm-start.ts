/** Whether a sheet can start from where an earlier one came to rest: only with the same loops. */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { Previous } from '../messages.ts';

function same(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false;
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}

/** The same loops drawn through the same loops. Faces, twists and gauge may differ. */
export function sameTopology(a: StitchGraph, b: StitchGraph): boolean {
  return (
    a.loops === b.loops &&
    a.closure === b.closure &&
    a.ending === b.ending &&
    a.join.halfTurns === b.join.halfTurns &&
    same(a.start, b.start) &&
    same(a.parentStart, b.parentStart) &&
    same(a.parents, b.parents)
  );
}

/** Start positions for a sheet of so many vertices, or null to start from its own profile. */
export function warmStart(
  previous: Previous | null,
  graph: StitchGraph,
  vertices: number,
): Float64Array | null {
  if (!previous || previous.positions.length !== 3 * vertices) return null;
  if (!sameTopology(previous.graph, graph)) return null;
  return previous.positions.every(Number.isFinite) ? previous.positions : null;
}
