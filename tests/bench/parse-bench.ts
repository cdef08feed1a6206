/**
 * Text to counts, graph, cells and metric, at growing plans: what happens at every keystroke.
 * Baseline in the same run: splitting the same plan, written out stitch by stitch, into words and
 * counting them, which is the least that any reader of stitches does.
 */
import { performance } from 'node:perf_hooks';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { motifText } from '../gauge/motif-texts.ts';

/** Stitches a side of squares with about 1k, 5k, 20k and 100k loops. */
const SIDES = [22, 49, 99, 222];
const REPEATS = 7;

export function benchParsing(): void {
  const sizes: number[] = [];
  const totals: number[] = [];
  console.log(
    'loops    parse   graph   cells   metric (ms, median of 7)   baseline   parse+graph/baseline',
  );
  for (const side of SIDES) {
    const text = motifText({
      sides: 4,
      side,
      every: [2],
      corner: 'paired',
      garter: true,
      stitchMm: 5,
      roundMm: 2.5,
    });
    const plan = parsePlan(text);
    const graph = buildStitchGraph(plan);
    const words = plan.rounds
      .map((r) => Array.from(r.works, (id) => plan.kinds[id].name).join(', '))
      .join('\n');
    const parse = median(() => parsePlan(text));
    const build = median(() => buildStitchGraph(plan));
    const cells = median(() => buildCells(graph));
    const metric = median(() => prepare(plan)) - build - cells;
    const baseline = median(() => countWords(words));
    sizes.push(graph.loops);
    totals.push(parse + build);
    const figures = [parse, build, cells, metric].map((ms) => ms.toFixed(1).padStart(7)).join(' ');
    console.log(
      `${String(graph.loops).padEnd(8)}${figures}   ${baseline.toFixed(1).padStart(24)}   ${((parse + build) / baseline).toFixed(1).padStart(8)}`,
    );
  }
  const last = sizes.length - 1;
  const exponent = Math.log(totals[last] / totals[1]) / Math.log(sizes[last] / sizes[1]);
  console.log(`growth of parse + graph from 5k to 100k: loops^${exponent.toFixed(2)}`);
}

function countWords(words: string): number {
  const counts = new Map<string, number>();
  for (const line of words.split('\n')) {
    for (const word of line.split(', ')) counts.set(word, (counts.get(word) ?? 0) + 1);
  }
  return counts.size;
}

function median(run: () => unknown): number {
  const times: number[] = [];
  for (let k = 0; k < REPEATS; k++) {
    const before = performance.now();
    run();
    times.push(performance.now() - before);
  }
  return times.sort((a, b) => a - b)[REPEATS >> 1];
}
