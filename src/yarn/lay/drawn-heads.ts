/**
 * Heads of the loops that the yarn's end draws up: towards the centre as far as there is room round the
 * thread, and turned edge-on where they crowd, as stitches sit on a needle: right leg in front.
 *
 * In: graph, cells, sheet [3·vertices] mm, the loops' places. Out: `up`, `headAcross` and `edgeOn` of the drawn
 * loops, changed in place.
 */
import type { Cells } from '../../fabric/cells.ts';
import { courseCount, loopAt, type StitchGraph } from '../../fabric/stitch-graph.ts';
import type { LoopKin } from './loop-links.ts';
import type { LoopPlaces } from './loop-places.ts';

/** How near to the centre heads come where there is room, share of their loops' distance. Chosen. */
const NEAREST = 0.15;
/** … and how near they come at least. Chosen: less leaves no room for the thread. */
const FARTHEST = 0.75;
/** Length of thread that a loop sitting edge-on takes, diameters: its own thickness and some room. Chosen. */
const EDGE_ON = 1.3;
/** Length of thread below which loops lying flat touch their neighbours, diameters. Chosen. */
const FLAT = 2.6;
/** Width of a head turned edge-on, diameters: the thread passes between its legs (0.65 of this apart). */
const HEAD = 3.4;
/** Loops on either side over which the sheet's normal is averaged. Chosen. */
const BESIDE = 2;
/** Where the thread runs, from a head's top down, share of the way to its loop (yarn-ending.ts). */
export const THREAD_BELOW_TOP = 0.35;

export function drawUp(
  graph: StitchGraph,
  cells: Cells,
  kin: LoopKin,
  positions: ArrayLike<number>,
  diameter: number,
  places: LoopPlaces,
): void {
  if (graph.ending !== 'drawn-up' || cells.apex < 0 || cells.centre !== 'ending') return;
  const last = graph.courses - 1;
  const drawn: number[] = [];
  for (let at = 0; at < courseCount(graph, last); at++) {
    const i = loopAt(graph, last, at);
    if (kin.childStart[i + 1] === kin.childStart[i]) drawn.push(i);
  }
  const { own, up, headAcross, normal, edgeOn } = places;
  const apex = 3 * cells.apex;
  const away = drawn.map((i) =>
    Math.hypot(...[0, 1, 2].map((c) => positions[apex + c] - own[3 * i + c])),
  );
  // The thread's circle: as small as the heads reach, as large as they need it.
  const middle = away.reduce((a, b) => a + b, 0) / Math.max(1, drawn.length);
  const reach = (NEAREST + THREAD_BELOW_TOP * (1 - NEAREST)) * middle;
  const threadMm = (width: number) => (drawn.length * width * diameter) / (2 * Math.PI);
  const circle = Math.max(reach, threadMm(EDGE_ON));
  const turns = circle < threadMm(FLAT);
  drawn.forEach((i, k) => {
    if (!(away[k] > 0)) return;
    const near = (circle / away[k] - THREAD_BELOW_TOP) / (1 - THREAD_BELOW_TOP);
    const share = Math.min(Math.max(near, NEAREST / 2), FARTHEST);
    for (let c = 0; c < 3; c++) {
      up[3 * i + c] = own[3 * i + c] + (1 - share) * (positions[apex + c] - own[3 * i + c]);
    }
    if (!turns) return;
    const out = (graph.wrongSide[graph.course[i]] ? 1 : -1) * HEAD * diameter;
    // Neighbours turn nearly alike, whatever pleats the sheet lies in there.
    const axis = [0, 1, 2].map((c) => {
      let sum = 0;
      for (let d = -BESIDE; d <= BESIDE; d++) {
        sum += normal[3 * drawn[(k + d + BESIDE * drawn.length) % drawn.length] + c];
      }
      return sum;
    });
    const size = Math.hypot(...axis) || 1;
    for (let c = 0; c < 3; c++) headAcross[3 * i + c] = (out * axis[c]) / size;
    edgeOn[i] = 1;
  });
}
