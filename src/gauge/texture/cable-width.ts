/**
 * How much a cable narrows its stitches: a factor on the stitch width for every loop of a cabled
 * column, from how many stitches cross and how many rounds lie between crossings.
 *
 * Published: a simple 6-stitch cable takes the width of 5 (contraction 1/6), a tight one the width
 * of 4 (1/3): http://heartstringsfiberarts.com/cable-takeup.shtm. A simple 6-stitch cable is crossed
 * every 6th round (zanotowane.pl/793/6417). Between those anchors: contraction grows with the slope
 * of the travelling strands, (stitches moved)/(rounds between), which is 3/6 for the simple cable.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { type Rings, waleLinks } from '../layout/rings.ts';

const SIMPLE_CONTRACTION = 1 / 6;
const SIMPLE_SLOPE = 3 / 6;
const MAX_CONTRACTION = 1 / 3;
/** A column further than this from a crossing is plain again. Chosen. */
const FARTHEST_ROUNDS = 16;

/** Rounds over which what stands beside a crossing is looked at. Chosen: garter and seed repeat in two. */
const BESIDE_ROUNDS = 4;

/**
 * Width factor of a cable from how many stitches cross over how many, every how many rounds, and the share of the
 * stitches beside it that show the other face (1: it stands in purl, 0: in stockinette).
 */
export type CableFactorSource = (
  over: number,
  under: number,
  everyRounds: number,
  purlBeside: number,
) => number;

/** Published figures alone: width factor of a cable whose strands move `moved` stitches every `everyRounds` rounds. */
export function cableWidthFactor(moved: number, everyRounds: number): number {
  const slope = moved / Math.max(1, everyRounds);
  return 1 - Math.min(MAX_CONTRACTION, (SIMPLE_CONTRACTION * slope) / SIMPLE_SLOPE);
}

function publishedFactor(over: number, under: number, everyRounds: number): number {
  return cableWidthFactor((over + under) / 2, everyRounds);
}

/** [ids of Rings] factor on the stitch width; 1 away from cables. */
export function cableWidths(
  graph: StitchGraph,
  rings: Rings,
  factorOf: CableFactorSource = publishedFactor,
): Float64Array {
  const n = rings.ids.length;
  const factor = new Float64Array(n).fill(1);
  if (graph.crossings === 0) return factor;
  const over = new Int32Array(graph.crossings);
  const size = new Int32Array(graph.crossings);
  for (let i = 0; i < graph.loops; i++) {
    const crossing = graph.crossing[i];
    if (crossing < 0) continue;
    size[crossing]++;
    if (graph.layer[i] > 0) over[crossing]++;
  }
  const { up, down } = waleLinks(rings);
  const purl = purlBeside(graph, rings, down);
  const factorAt = (crossing: number, gap: number): number => {
    // A crossing without layers (its strands lie side by side) is taken as half over half.
    const front =
      over[crossing] > 0 && over[crossing] < size[crossing] ? over[crossing] : size[crossing] / 2;
    const under = Math.max(1, size[crossing] - front);
    return factorOf(Math.max(1, front), under, gap, purl[crossing]);
  };
  const crossingAt = (flat: number): number => graph.crossing[rings.ids[flat]];
  const gapBelow = new Int32Array(n);
  const gapAbove = new Int32Array(n);
  for (let flat = 0; flat < n; flat++) {
    if (crossingAt(flat) < 0) continue;
    let below = down[flat];
    let gap = 1;
    while (below >= 0 && crossingAt(below) < 0 && gap < FARTHEST_ROUNDS) {
      below = down[below];
      gap++;
    }
    if (below < 0 || crossingAt(below) < 0) continue;
    gapBelow[flat] = gap;
    gapAbove[below] = gap;
    fill(factor, flat, down, gap, factorAt(crossingAt(flat), gap));
  }
  // Beyond the first and the last crossing the column widens again within half an interval.
  for (let flat = 0; flat < n; flat++) {
    if (crossingAt(flat) < 0) continue;
    const gap = gapBelow[flat] || gapAbove[flat] || FARTHEST_ROUNDS;
    const own = factorAt(crossingAt(flat), gap);
    if (gapBelow[flat] === 0) fill(factor, flat, down, gap >> 1, own);
    if (gapAbove[flat] === 0) fill(factor, flat, up, gap >> 1, own);
  }
  return factor;
}

/** [crossings] share of the stitches to both sides of it, some rounds down, whose face is not its front strand's. */
function purlBeside(graph: StitchGraph, rings: Rings, down: Int32Array): Float64Array {
  const front = frontFaces(graph);
  const other = new Float64Array(graph.crossings);
  const seen = new Float64Array(graph.crossings);
  for (let c = 0; c < rings.courses; c++) {
    const first = rings.start[c];
    const size = rings.start[c + 1] - first;
    for (let j = 0; j < size; j++) {
      const crossing = graph.crossing[rings.ids[first + j]];
      // Where a loop waits through a short row it stands in this ring too.
      if (crossing < 0 || rings.home[first + j] !== first + j) continue;
      for (const step of [-1, 1]) {
        const at = rings.closed ? (j + step + size) % size : j + step;
        if (at < 0 || at >= size || graph.crossing[rings.ids[first + at]] === crossing) continue;
        let beside = first + at;
        for (let k = 0; k < BESIDE_ROUNDS && beside >= 0; k++) {
          seen[crossing]++;
          if (graph.face[rings.ids[beside]] !== front[crossing]) other[crossing]++;
          beside = down[beside];
        }
      }
    }
  }
  return other.map((count, crossing) => (seen[crossing] > 0 ? count / seen[crossing] : 0));
}

/** [crossings] face of the loops that pass in front; of any where none does. */
function frontFaces(graph: StitchGraph): Int8Array {
  const front = new Int8Array(graph.crossings);
  for (let i = 0; i < graph.loops; i++) {
    const crossing = graph.crossing[i];
    if (crossing < 0) continue;
    if (graph.layer[i] > 0 || front[crossing] === 0) front[crossing] = graph.face[i];
  }
  return front;
}

function fill(
  factor: Float64Array,
  from: number,
  link: Int32Array,
  rounds: number,
  value: number,
): void {
  let flat = from;
  for (let k = 0; k <= rounds && flat >= 0; k++) {
    factor[flat] = Math.min(factor[flat], value);
    flat = link[flat];
  }
}
