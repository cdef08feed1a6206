/**
 * Text to counts, graph, cells and metric, at growing plans: what happens at every keystroke.
 * Baseline in the same run: splitting the same plan, written out stitch by stitch, into words and
 * counting them, which is the least that any reader of stitches does.
 */
import { performance } from 'node:perf_hooks';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { prepare } from '../../src/knit.ts';
import { PlanReader, parsePlan } from '../../src/plan/parse.ts';
import { motifText } from '../gauge/motif-texts.ts';

/** Stitches a side of squares with about 1k, 5k, 20k and 100k loops. */
const SIDES = [22, 49, 99, 222];
const REPEATS = 7;

export function benchParsing(): void {
  const sizes: number[] = [];
  const totals: number[] = [];
  console.log(
    'loops    parse   graph   cells   metric (ms, median of 7)   baseline   parse+graph/baseline   edit   edit/parse',
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
    const edit = median(editing(text));
    const build = median(() => buildStitchGraph(plan));
    const cells = median(() => buildCells(graph));
    const metric = median(() => prepare(plan)) - build - cells;
    const baseline = median(() => countWords(words));
    sizes.push(graph.loops);
    totals.push(parse + build);
    const figures = [parse, build, cells, metric].map((ms) => ms.toFixed(1).padStart(7)).join(' ');
    console.log(
      `${String(graph.loops).padEnd(8)}${figures}   ${baseline.toFixed(1).padStart(24)}   ${((parse + build) / baseline).toFixed(1).padStart(8)}   ${edit.toFixed(1).padStart(16)}   ${(edit / parse).toFixed(2).padStart(8)}`,
    );
  }
  const last = sizes.length - 1;
  const exponent = Math.log(totals[last] / totals[1]) / Math.log(sizes[last] / sizes[1]);
  console.log(`growth of parse + graph from 5k to 100k: loops^${exponent.toFixed(2)}`);
  benchHostile();
}

/** One round changed to and fro, read by a reader that is kept. */
function editing(text: string): () => unknown {
  const reader = new PlanReader();
  const at = text.indexOf('Round 9:');
  let n = 0;
  const next = (): string =>
    `${text.slice(0, at)}Round 9:${' '.repeat(++n % 5)}${text.slice(at + 8)}`;
  reader.read(next());
  return () => reader.read(next());
}

/** Texts of a quarter of the limit and of all of it (1 MB), against splitting them into words. */
function benchHostile(): void {
  const cases: Record<string, (line: number) => string> = {
    rounds: (i) => `Round ${i + 1}: (k${i % 7}, k2tog, yo, p${i % 5}) 2 times, k to last 3 sts.\n`,
    repeats: () => 'Repeat rounds 1 and 2 until 8 sts remain, then knit 3 rounds.\n',
    prose: () =>
      'The sea was calm and we walked along, talking of knitting; then again the wind.\n',
    'one line': () => 'k1, *k2, yo; work 2 rounds and ',
  };
  console.log('hostile texts: 250 kB   1 MB (ms, once)   growth   1 MB/baseline');
  for (const [name, line] of Object.entries(cases)) {
    const [small, whole] = [250_000, 1_000_000].map((length) => {
      const lines = Array.from({ length: Math.floor(length / 60) }, (_, i) => line(i));
      return `Cast on 40 sts.\n${lines.join('')}`.slice(0, length);
    });
    const [a, b] = [small, whole].map((text) => once(() => parsePlan(text)));
    const base = once(() => countWords(whole));
    console.log(
      `${name.padEnd(15)}${a.toFixed(0).padStart(8)}${b.toFixed(0).padStart(7)}${(Math.log(b / a) / Math.log(4)).toFixed(2).padStart(18)}${(b / base).toFixed(0).padStart(12)}`,
    );
  }
}

function countWords(words: string): number {
  const counts = new Map<string, number>();
  for (const line of words.split('\n')) {
    for (const word of line.split(', ')) counts.set(word, (counts.get(word) ?? 0) + 1);
  }
  return counts.size;
}

function once(run: () => unknown): number {
  const before = performance.now();
  run();
  return performance.now() - before;
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
