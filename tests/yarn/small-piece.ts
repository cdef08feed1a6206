/** Small pieces for yarn tests: a plan given stitch by stitch, its graph, and plain places for its loops. */
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import type { StitchGraph } from '../../src/fabric/stitch-graph.ts';
import { courseCount } from '../../src/fabric/stitch-graph.ts';
import type { Ending, Plan } from '../../src/plan/plan.ts';
import type { StitchKind } from '../../src/plan/stitches/stitch-kind.ts';
import { stitchKind } from '../../src/plan/stitches/table.ts';

export interface SmallPiece {
  readonly castOn: number;
  /** Each round as stitch names separated by commas; `k*4` repeats. */
  readonly rounds: readonly string[];
  readonly worked: 'round' | 'flat';
  readonly ending?: Ending;
}

export function smallPlan(piece: SmallPiece): Plan {
  const kinds: StitchKind[] = [];
  const at = { line: 1, column: 1 };
  let live = piece.castOn;
  const rounds = piece.rounds.map((text, r) => {
    const works: number[] = [];
    let after = 0;
    for (const part of text.split(/,(?![^(]*\))/)) {
      const [name, times] = part.trim().split('*');
      let k = kinds.findIndex((kind) => kind.name === name.trim());
      if (k < 0) {
        const made = stitchKind(name.trim());
        if (!made) throw new Error(`no stitch ${name}`);
        k = kinds.push(made) - 1;
      }
      for (let i = 0; i < Number(times ?? 1); i++) {
        works.push(k);
        after += kinds[k].loops.length;
      }
    }
    const before = live;
    live = after;
    return {
      n: r + 1,
      label: `Round ${r + 1}`,
      wrongSide: piece.worked === 'flat' && r % 2 === 1,
      before,
      after,
      works: Int16Array.from(works),
      stated: null,
      markers: new Int32Array(0),
      from: at,
      to: at,
    };
  });
  return {
    version: 1,
    text: '',
    title: '',
    yarn: null,
    gauges: [],
    needles: null,
    worked: piece.worked,
    join: { method: 'plain', halfTurns: 0 },
    seam: null,
    castOn: piece.castOn,
    castOnAt: at,
    rounds,
    ending: piece.ending ?? 'live',
    kinds,
    diagnostics: [],
  } as unknown as Plan;
}

/**
 * Graph, cells and loop places: flat work on a lattice in the plane (rows centred), rounds on a
 * cylinder whose right side faces outwards. Stitch 5 mm wide, 3.8 mm high.
 */
export function smallPiece(piece: SmallPiece, stitchMm = 5, roundMm = 3.8) {
  const graph = buildStitchGraph(smallPlan(piece));
  const cells = buildCells(graph);
  const positions = new Float64Array(3 * Math.max(cells.vertices, graph.loops));
  const turns = piece.worked === 'round' ? settleRounds(graph) : null;
  for (let i = 0; i < graph.loops; i++) {
    const course = graph.course[i];
    const count = courseCount(graph, course);
    if (!turns) {
      // Position counts from the right.
      positions[3 * i] = -(graph.position[i] - (count - 1) / 2) * stitchMm;
      positions[3 * i + 1] = course * roundMm;
    } else {
      const radius = (count * stitchMm) / (2 * Math.PI);
      // Seen from outside, later rounds above, work runs from right to left.
      positions[3 * i] = radius * Math.cos(-2 * Math.PI * turns[i]);
      positions[3 * i + 1] = radius * Math.sin(-2 * Math.PI * turns[i]);
      positions[3 * i + 2] = (1 + turns[i]) * roundMm;
    }
  }
  if (piece.worked === 'flat') settleRows(graph, positions, stitchMm);
  placeApex(graph, positions, cells.apex);
  return { graph, cells, positions };
}

/** Lets every loop stand over its parents while its row keeps its spacing (a few hundred sweeps). */
function settleRows(graph: StitchGraph, positions: Float64Array, stitchMm: number): void {
  for (let sweep = 0; sweep < 400; sweep++) {
    for (let i = 0; i < graph.loops; i++) {
      let sum = 0;
      let weight = 0;
      const pull = (x: number, w: number) => {
        sum += w * x;
        weight += w;
      };
      const row = graph.course[i];
      const out = graph.wrongSide[row] ? 1 : -1;
      if (i > graph.start[row]) pull(positions[3 * i - 3] + out * stitchMm, 1);
      if (i + 1 < graph.start[row + 1]) pull(positions[3 * i + 3] - out * stitchMm, 1);
      // Crossings do not move the columns.
      if (graph.crossing[i] < 0) {
        const from = graph.parentStart[i];
        const to = graph.parentStart[i + 1];
        for (let k = from; k < to; k++) pull(positions[3 * graph.parents[k]], 0.5 / (to - from));
      }
      for (let k = graph.childStart[i]; k < graph.childStart[i + 1]; k++) {
        const child = graph.children[k];
        if (graph.crossing[child] >= 0) continue;
        const mates = graph.parentStart[child + 1] - graph.parentStart[child];
        let mean = 0;
        for (let m = graph.parentStart[child]; m < graph.parentStart[child + 1]; m++) {
          mean += positions[3 * graph.parents[m]] / mates;
        }
        pull(positions[3 * i] + positions[3 * child] - mean, 0.5 / mates);
      }
      positions[3 * i] = sum / weight;
    }
  }
}

/**
 * Turns round the cylinder, unwrapped along the yarn: every loop stands one turn after its parents while
 * its round keeps its spacing.
 */
function settleRounds(graph: StitchGraph): Float64Array {
  const turns = new Float64Array(graph.loops);
  const step = new Float64Array(graph.loops);
  for (let i = 0; i < graph.loops; i++) {
    const count = courseCount(graph, graph.course[i]);
    step[i] = 1 / count;
    turns[i] = graph.course[i] + graph.position[i] / count;
  }
  for (let sweep = 0; sweep < 400; sweep++) {
    for (let i = 0; i < graph.loops; i++) {
      let sum = 0;
      let weight = 0;
      const pull = (x: number, w: number) => {
        sum += w * x;
        weight += w;
      };
      if (i > 0) pull(turns[i - 1] + (step[i] + step[i - 1]) / 2, 1);
      if (i + 1 < graph.loops) pull(turns[i + 1] - (step[i] + step[i + 1]) / 2, 1);
      if (graph.crossing[i] < 0) {
        const from = graph.parentStart[i];
        const to = graph.parentStart[i + 1];
        for (let k = from; k < to; k++) pull(turns[graph.parents[k]] + 1, 0.5 / (to - from));
      }
      for (let k = graph.childStart[i]; k < graph.childStart[i + 1]; k++) {
        const child = graph.children[k];
        if (graph.crossing[child] >= 0) continue;
        const mates = graph.parentStart[child + 1] - graph.parentStart[child];
        let mean = 0;
        for (let m = graph.parentStart[child]; m < graph.parentStart[child + 1]; m++) {
          mean += turns[graph.parents[m]] / mates;
        }
        pull(turns[i] + turns[child] - mean - 1, 0.5 / mates);
      }
      turns[i] = sum / weight;
    }
  }
  return turns;
}

function placeApex(graph: StitchGraph, positions: Float64Array, apex: number): void {
  if (apex < 0) return;
  const last = graph.courses - 1;
  const count = courseCount(graph, last);
  for (let k = 0; k < count; k++) {
    for (let c = 0; c < 3; c++)
      positions[3 * apex + c] += positions[3 * (graph.start[last] + k) + c] / count;
  }
}
