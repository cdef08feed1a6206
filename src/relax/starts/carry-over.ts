/**
 * A field over the loops of one piece, carried over onto another of nearly the same rounds and counts: from place to
 * place by the share of the rounds and the share of the way round. Ends of rounds, and so sides of equal counts, meet.
 * In: both StitchGraphs, [3·vertices] numbers of the first. Out: [3·vertices] of the second, or null where they differ
 * too much for that.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';

/** Most that rounds, and the stitches of the first and the last, may differ, as a share. Chosen: a corner of one then
 * still lies in the corner of the other. */
const ALIKE = 0.2;

export function carryOver(
  from: StitchGraph,
  field: Float64Array,
  to: StitchGraph,
  vertices: number,
): Float64Array | null {
  const beyond = field.length / 3 - from.loops;
  if (!alike(from, to) || beyond !== vertices - to.loops) return null;
  const carried = new Float64Array(3 * vertices);
  const low = new Float64Array(3);
  const high = new Float64Array(3);
  for (let i = 0; i < to.loops; i++) {
    const course = to.course[i];
    const count = to.start[course + 1] - to.start[course];
    const share = (to.position[i] + 0.5) / count;
    const at = (course * (from.courses - 1)) / Math.max(1, to.courses - 1);
    const below = Math.min(Math.floor(at), from.courses - 1);
    sample(from, field, below, share, low);
    sample(from, field, Math.min(below + 1, from.courses - 1), share, high);
    for (let c = 0; c < 3; c++) carried[3 * i + c] = low[c] + (at - below) * (high[c] - low[c]);
  }
  // The drawn-up centre.
  carried.set(field.subarray(3 * from.loops), 3 * to.loops);
  return carried;
}

function alike(a: StitchGraph, b: StitchGraph): boolean {
  const near = (m: number, n: number) => Math.abs(m - n) <= ALIKE * Math.max(m, n);
  const rim = (g: StitchGraph, course: number) => g.start[course + 1] - g.start[course];
  return (
    a.courses > 1 &&
    b.courses > 1 &&
    a.closure === b.closure &&
    a.ending === b.ending &&
    a.join.method === b.join.method &&
    a.join.halfTurns === b.join.halfTurns &&
    !a.held &&
    !b.held &&
    near(a.courses, b.courses) &&
    near(rim(a, 0), rim(b, 0)) &&
    near(a.loops, b.loops)
  );
}

/** The field of a course at a share of its length, between the two nearest loops. */
function sample(
  { start, wrongSide, closure }: StitchGraph,
  field: Float64Array,
  course: number,
  share: number,
  out: Float64Array,
): void {
  const count = start[course + 1] - start[course];
  const loopAt = (place: number) => {
    const p =
      closure === 'helix' ? (place + count) % count : Math.min(Math.max(place, 0), count - 1);
    return wrongSide[course] ? start[course + 1] - 1 - p : start[course] + p;
  };
  const place = share * count - 0.5;
  const before = Math.floor(place);
  const a = 3 * loopAt(before);
  const b = 3 * loopAt(before + 1);
  for (let c = 0; c < 3; c++)
    out[c] = field[a + c] + (place - before) * (field[b + c] - field[a + c]);
}
