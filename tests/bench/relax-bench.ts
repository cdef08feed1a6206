/**
 * Relaxation bench: squares knitted outside in at 22 × 30 stitches and rounds to 10 cm. Decreased every
 * second round they cup: about 5,000, 20,000 and 100,000 vertices; decreased every round they
 * ruffle: about 5,000. Prints the time to 1 % of the final depth and to
 * a residual of 1e-5 for each contender on the same graph, energy and start, the ratios to this
 * solver, and how the time grows with the size. Times are processor seconds. Each contender has a time cap, said in the table.
 * `--small` runs the first size only.
 */

import type { Metric } from '../../src/gauge/metric.ts';
import { canRelax, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { planSheet, relaxSheet } from '../../src/relax/relax-sheet.ts';
import { evaluate } from '../../src/relax/solver/sheet-solver.ts';
import { riseAlong, sheetAxis } from '../../src/relax/starts/alignment.ts';
import { startShapes } from '../../src/relax/starts/starts.ts';
import { contenders, type Look } from './relax-contenders.ts';

interface Size {
  readonly stitchesPerSide: number;
  /** Decreases on every n-th round. */
  readonly every: number;
  readonly capSeconds: number;
}

const sizes: readonly Size[] = [
  { stitchesPerSide: 50, every: 2, capSeconds: 15 },
  { stitchesPerSide: 100, every: 2, capSeconds: 30 },
  { stitchesPerSide: 220, every: 2, capSeconds: 60 },
];
const ruffle: Size = { stitchesPerSide: 70, every: 1, capSeconds: 15 };

/** Times in seconds; null: not there within the cap. */
interface Timing {
  depth: number | null;
  rest: number | null;
}

export function benchRelaxation(): void {
  const small = process.argv.includes('--small');
  const vertices: number[] = [];
  const ours: Timing[] = [];
  for (const size of small ? sizes.slice(0, 1) : sizes) {
    const metric = squareMetric(size);
    vertices.push(metric.vertices);
    ours.push(race(metric, size.capSeconds));
  }
  console.log('\na ruffle:');
  race(squareMetric(ruffle), ruffle.capSeconds);
  if (ours.length > 1) {
    const span = Math.log(vertices[vertices.length - 1] / vertices[0]);
    const exponent = (pick: (t: Timing) => number | null) => {
      const [a, b] = [pick(ours[0]), pick(ours[ours.length - 1])];
      return a === null || b === null ? 'not known' : (Math.log(b / a) / span).toFixed(2);
    };
    console.log(
      `\nthis solver's time on cups grows as vertices^${exponent((t) => t.depth)} to 1 % of depth,` +
        ` ^${exponent((t) => t.rest)} to 1e-5`,
    );
  }
}

function squareMetric({ stitchesPerSide, every }: Size): Metric {
  const lines = [
    'Gauge: 22 sts and 30 rounds = 10 cm',
    'Worked: in the round',
    `CO ${4 * stitchesPerSide} sts. Join in the round.`,
  ];
  let side = stitchesPerSide;
  for (let round = 1; side > 2; round++) {
    if (round % every !== 0) lines.push(`Rnd ${round}: k`);
    else {
      side -= 2;
      lines.push(`Rnd ${round}: [ssk, k to last 2 sts, k2tog] 4 times (${4 * side} sts)`);
    }
  }
  lines.push('Break yarn, draw through remaining sts.');
  const plan = parsePlan(lines.join('\n'));
  if (!canRelax(plan)) throw new Error('the bench plan has errors');
  return prepare(plan).measured.metric;
}

function race(metric: Metric, capSeconds: number): Timing {
  const finalRise = rise(metric, relaxSheet(metric, { tolerance: 1e-7 }).positions);
  console.log(
    `\n${metric.vertices} vertices, ${metric.restMm.length} springs, ` +
      `${metric.hinges.length / 4} hinges, final depth ${finalRise.toFixed(1)} mm`,
  );
  // Of two waves the last has its crests on the corners, where the lower state is.
  const start = startShapes(metric).at(-1)!.positions;
  let first: Timing | null = null;
  for (const contender of contenders) {
    const stopwatch = new Stopwatch(metric, finalRise, capSeconds);
    contender.run(metric, start, stopwatch.look);
    const timing = stopwatch.timing;
    first ??= timing;
    console.log(
      `  ${contender.name.padEnd(34)}` +
        `1 % of depth ${told(timing.depth, first.depth, capSeconds)}` +
        `1e-5 ${told(timing.rest, first.rest, capSeconds)}${stopwatch.last}`,
    );
  }
  const topology = planSheet(metric);
  const whole = timed(() => relaxSheet(metric));
  const warm = timed(() =>
    relaxSheet(
      { ...metric, restMm: metric.restMm.map((r) => 1.01 * r) },
      { from: whole.result.positions },
      topology,
    ),
  );
  const { iterations } = whole.result.relaxation;
  console.log(
    `  relaxSheet as called: ${whole.seconds.toFixed(2)} s cold (${iterations} iterations, the look ` +
      `for a saddle included), ${warm.seconds.toFixed(2)} s warm after 1 % wider gauge ` +
      `(${warm.result.relaxation.iterations} iterations)`,
  );
  return first!;
}

function told(seconds: number | null, ours: number | null, cap: number): string {
  if (seconds === null) return `not in ${cap} s`.padEnd(20);
  const ratio = ours !== null && ours > 0 ? ` (×${(seconds / ours).toFixed(1)})` : '';
  return `${seconds.toFixed(2)} s${ratio}`.padEnd(20);
}

/** Measures a contender's positions outside its time. */
class Stopwatch {
  readonly timing: Timing = { depth: null, rest: null };
  /** Where the contender stood at its end, for those that did not arrive. */
  last = '';
  private readonly metric: Metric;
  private readonly finalRise: number;
  private readonly capSeconds: number;
  private readonly gradient: Float64Array;
  private readonly unitForce: number;
  private spent = 0;
  private since = cpuMs();
  private measured = -1;

  constructor(metric: Metric, finalRise: number, capSeconds: number) {
    this.metric = metric;
    this.finalRise = finalRise;
    this.capSeconds = capSeconds;
    this.gradient = new Float64Array(3 * metric.vertices);
    const mean = (a: Float64Array) => a.reduce((s, v) => s + v, 0) / a.length;
    this.unitForce = mean(metric.stiffness) * mean(metric.restMm);
  }

  readonly look: Look = (x) => {
    const now = cpuMs();
    this.spent += (now - this.since) / 1000;
    const stop = this.measure(x);
    this.since = cpuMs();
    return stop;
  };

  private measure(x: Float64Array): boolean {
    // Looking after every step of a slow contender would take longer than the steps.
    if (this.spent < 1.02 * this.measured && this.spent < this.capSeconds) return false;
    this.measured = this.spent;
    const energy = evaluate(this.metric, x, this.gradient);
    const most = this.gradient.reduce((m, g) => Math.max(m, Math.abs(g)), 0);
    const residual = most / this.unitForce;
    const off = rise(this.metric, x) / this.finalRise - 1;
    // Passing through the right depth on the way is no arrival: a later miss takes it back.
    if (Math.abs(off) > 0.01) this.timing.depth = null;
    else this.timing.depth ??= this.spent;
    if (residual < 1e-5) this.timing.rest ??= this.spent;
    this.last =
      this.timing.rest === null
        ? `depth ${(100 * off).toFixed(1)} % off, residual ${residual.toExponential(1)}, ` +
          `energy ${energy.toPrecision(3)}`
        : '';
    return this.spent >= this.capSeconds || this.timing.rest !== null;
  }
}

function rise(metric: Metric, x: Float64Array): number {
  const axis = new Float64Array(3);
  sheetAxis(metric, x, axis);
  return riseAlong(x, axis);
}

/** Processor time: the figures then hold on a machine with other work. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

function timed<T>(run: () => T): { result: T; seconds: number } {
  const before = cpuMs();
  const result = run();
  return { result, seconds: (cpuMs() - before) / 1000 };
}
