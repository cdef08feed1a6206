/**
 * Who is really drawn through whom: parents and children with carried (slipped) loops left out.
 *
 * A slipped loop is the old loop carried up, while the yarn floats by. For the yarn's geometry the old
 * loop's head reaches up to whatever is drawn through it at last, so slips are skipped on both sides.
 * Input: StitchGraph. Output: CSR lists over loops and the twist collected on the way.
 */
import { FLAG_SLIPPED, FLAG_TWISTED, type StitchGraph } from '../../fabric/stitch-graph.ts';

export interface LoopKin {
  /** [loops + 1] offsets; front to back as seen from the right side. Empty for slipped loops. */
  readonly parentStart: Int32Array;
  readonly parents: Int32Array;
  /** [parents] 1 where the parent hangs twisted in this child. */
  readonly twisted: Uint8Array;
  readonly childStart: Int32Array;
  readonly children: Int32Array;
  /** [loops] 1 where every child takes the loop twisted (legs crossed below its head). */
  readonly crossedHead: Uint8Array;
  /** [loops] 1 where the legs cross at the foot: half hitches (cast-on, backward loop), twisted strands. */
  readonly crossedFoot: Uint8Array;
}

export function findKin(graph: StitchGraph): LoopKin {
  const n = graph.loops;
  const parentStart = new Int32Array(n + 1);
  const parents: number[] = [];
  const twisted: number[] = [];
  for (let i = 0; i < n; i++) {
    if (!(graph.flags[i] & FLAG_SLIPPED)) {
      for (let k = graph.parentStart[i]; k < graph.parentStart[i + 1]; k++) {
        let p = graph.parents[k];
        let twist = graph.flags[i] & FLAG_TWISTED ? 1 : 0;
        while (graph.flags[p] & FLAG_SLIPPED && graph.parentStart[p] < graph.parentStart[p + 1]) {
          if (graph.flags[p] & FLAG_TWISTED) twist ^= 1;
          p = graph.parents[graph.parentStart[p]];
        }
        parents.push(p);
        twisted.push(twist);
      }
    }
    parentStart[i + 1] = parents.length;
  }
  const childStart = new Int32Array(n + 1);
  for (const p of parents) childStart[p + 1]++;
  for (let i = 0; i < n; i++) childStart[i + 1] += childStart[i];
  const fill = childStart.slice(0, n);
  const children = new Int32Array(parents.length);
  const straight = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    for (let k = parentStart[i]; k < parentStart[i + 1]; k++) {
      children[fill[parents[k]]++] = i;
      if (!twisted[k]) straight[parents[k]]++;
    }
  }
  const crossedHead = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    crossedHead[i] = childStart[i + 1] > childStart[i] && straight[i] === 0 ? 1 : 0;
  }
  const crossedFoot = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const hangsInNothing = graph.parentStart[i + 1] === graph.parentStart[i];
    if (graph.course[i] === 0 || (hangsInNothing && graph.flags[i] & FLAG_TWISTED))
      crossedFoot[i] = 1;
  }
  return {
    parentStart,
    parents: Int32Array.from(parents),
    twisted: Uint8Array.from(twisted),
    childStart,
    children,
    crossedHead,
    crossedFoot,
  };
}
