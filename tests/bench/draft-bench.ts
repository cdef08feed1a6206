/**
 * Wishes of all shapes, grounds and gauges, 8 to 20 cm: drafted, graded to a third more, and timed anew where they no
 * longer lie flat by rounds a tenth shorter. As the page's worker does them, one after another in one process. Prints the processor
 * seconds of each of the three, and of every wish that took long.
 */
import fc from 'fast-check';
import { sideDeficitOf } from '../../src/draft/rework/rim-stitches.ts';
import type { SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { judgeFabric } from '../../src/flow/judge-fabric.ts';
import { offerFlat } from '../../src/flow/offer-flat.ts';
import {
  canRelax,
  draftMeasured,
  gradeToSize,
  type MeasuredDraft,
  prepare,
} from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { spec } from '../draft/wishes-arbitrary.ts';

const SEEDS = [1, 2];
const WISHES = 24;
/** Processor seconds that no wish should take. */
const LONG = 2;
const AS_ON_THE_PAGE = { unlaid: true } as const;

interface Timed<T> {
  readonly seconds: number;
  /** Null where it was refused. */
  readonly made: T | null;
}

function timed<T>(work: () => T): Timed<T> {
  const before = process.cpuUsage();
  let made: T | null = null;
  try {
    made = work();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  const { user, system } = process.cpuUsage(before);
  return { seconds: (user + system) / 1e6, made };
}

/** The same plan by rounds a tenth shorter than its gauge says. */
function shorterRounds(text: string): string {
  return text.replace(/^(Gauge: .*?)([\d.]+)(?= (?:rounds|rows))/m, (_, before, rounds) => {
    return `${before}${(Number(rounds) / 0.9).toFixed(2)}`;
  });
}

function timedAnew(text: string): number {
  const plan = parsePlan(shorterRounds(text));
  if (!canRelax(plan)) return 0;
  const prepared = prepare(plan);
  const { verdict } = judgeFabric(prepared);
  return verdict === 'flat' ? 0 : timed(() => offerFlat(prepared, verdict)).seconds;
}

function graded({ text, sizeMm }: MeasuredDraft, { stitchMm, roundMm }: SpecInput): number {
  const plan = parsePlan(text);
  const told = prepare(plan).report.corners;
  const corners = told >= 3 ? told : 0;
  const sideDeficit = sideDeficitOf(plan, { corners, sideMm: sizeMm }, stitchMm);
  const size = { sizeMm: (4 / 3) * sizeMm, stitchMm, roundMm, corners };
  return timed(() => gradeToSize(plan, { ...size, sideDeficit }, AS_ON_THE_PAGE)).seconds;
}

export function benchDrafts(): void {
  const spent: Record<string, number[]> = { drafted: [], graded: [], 'timed anew': [] };
  for (const seed of SEEDS) {
    for (const [k, asked] of fc.sample(spec, { seed, numRuns: WISHES }).entries()) {
      const { seconds, made } = timed(() => draftMeasured(asked, undefined, AS_ON_THE_PAGE));
      const took = [seconds, ...(made ? [graded(made, asked), timedAnew(made.text)] : [])];
      for (const [i, name] of Object.keys(spent).entries()) spent[name].push(took[i] ?? 0);
      if (Math.max(...took) > LONG)
        console.log(
          `wish ${seed}.${k}: ${asked.ground} ${asked.shape}, ${asked.sizeMm} mm at ${asked.stitchMm.toFixed(1)}: ${took.map((s) => s.toFixed(2)).join(', ')} s`,
        );
    }
  }
  console.log(`            median s   worst s   over ${LONG} s   all s`);
  for (const [name, all] of Object.entries(spent)) {
    const sorted = all.toSorted((a, b) => a - b);
    const long = all.filter((s) => s > LONG).length;
    console.log(
      `${name.padEnd(11)}${sorted[sorted.length >> 1].toFixed(2).padStart(9)}${sorted[sorted.length - 1].toFixed(2).padStart(10)}${`${long} of ${all.length}`.padStart(11)}${all
        .reduce((a, b) => a + b, 0)
        .toFixed(1)
        .padStart(8)}`,
    );
  }
}
