/**
 * What of an earlier rest serves a sheet again: all of it where the sheet is the same, a start where it has the
 * same loops. In: the rest that the page had before, the graph and metric now. Out: options of the relaxation.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { Metric } from '../../gauge/metric.ts';
import type { Load, RelaxedSheet, RelaxOptions } from '../../relax/relaxed-sheet.ts';
import { carryOver } from '../../relax/starts/carry-over.ts';
import { ringsAreLower } from '../../relax/starts/warm-starts.ts';
import type { Previous } from '../messages.ts';

function same(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
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

/** Start positions for a sheet of that metric, or null to start from its own profile. */
export function warmStart(
  previous: Previous | null,
  graph: StitchGraph,
  metric: Metric,
): Pick<RelaxOptions, 'from' | 'lyingFrom' | 'like'> {
  const none = { from: null, lyingFrom: null, like: null };
  if (!previous?.positions.every(Number.isFinite)) return none;
  const { positions } = previous;
  const lying = previous.lying?.every(Number.isFinite) ? previous.lying : null;
  const { vertices } = metric;
  if (positions.length === 3 * vertices && sameTopology(previous.graph, graph)) {
    // What was a cup and is flat now, or the other way round, is found as afresh.
    return ringsAreLower(metric, positions) ? none : { ...none, from: positions, lyingFrom: lying };
  }
  // Other counts: it finds its own shape, and lies as the former did where it hangs as that did.
  const hung = carryOver(previous.graph, positions, graph, vertices);
  const laid = lying && carryOver(previous.graph, lying, graph, vertices);
  return { ...none, like: hung && laid ? { positions: hung, lying: laid } : null };
}

/** A sheet at rest, with all that decided where it rests. */
export interface Rested {
  readonly metric: Metric;
  readonly load: Load | null;
  readonly sheet: RelaxedSheet;
}

/**
 * The rest of a sheet like the last one in all that counts: an edit of words or faces need not move it.
 * `previous` is what the page shows; null where it asks for a fresh start.
 */
export function knownRest(
  last: Rested | null,
  previous: Previous | null,
  metric: Metric,
  load: Load | null,
): RelaxedSheet | null {
  if (!last || !previous || !sameLoad(last.load, load)) return null;
  if (!last.sheet.relaxation.converged || !same(last.sheet.positions, previous.positions))
    return null;
  return sameSheet(last.metric, metric) ? last.sheet : null;
}

function sameLoad(a: Load | null, b: Load | null): boolean {
  if (a === null || b === null) return a === b;
  return a.friction === b.friction && same(a.loadMm, b.loadMm);
}

function sameSheet(a: Metric, b: Metric): boolean {
  const keys = [
    'springs',
    'restMm',
    'stiffness',
    'hinges',
    'hingeWeights',
    'areaMm2',
    'triangles',
  ] as const;
  return (
    a.vertices === b.vertices &&
    a.bendingMm === b.bendingMm &&
    !a.curl &&
    !b.curl &&
    keys.every((key) => same(a[key], b[key]))
  );
}
