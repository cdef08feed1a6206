/**
 * From an edit to the verdict, as the page's worker does it: a square of about 5,000 stitches, its text changed
 * and changed back. Prints processor seconds up to the metric, to the verdict that stands and until it lies on its table
 * (advice not looked for), warm, and the ratio of the last to the same text begun afresh in the same run. Steps are those in the air and on the table.
 */
import { runJob } from '../../src/worker/jobs/knit-job.ts';
import type { FromWorker, LaidSheet, Previous } from '../../src/worker/messages.ts';

const SIDE = 50;
const GAUGE = '22 sts and 30 rounds';
const ROUNDS_TO_WARM = 3;

function squareText(side: number, gauge = GAUGE, note = ''): string {
  const lines = [`Gauge: ${gauge} = 10 cm`, `CO ${4 * side} sts. Join in the round.${note}`];
  let left = side;
  for (let round = 1; left > 2; round++) {
    if (round % 2 !== 0) lines.push(`Rnd ${round}: k`);
    else {
      left -= 2;
      lines.push(`Rnd ${round}: [ssk, k to last 2 sts, k2tog] 4 times (${4 * left} sts)`);
    }
  }
  lines.push('Break yarn, draw through remaining sts.');
  return lines.join('\n');
}

const EDITS: readonly (readonly [string, string])[] = [
  ['a note', squareText(SIDE, GAUGE, ' (A note.)')],
  ['another gauge', squareText(SIDE, '22.5 sts and 30 rounds')],
  ['two more a side', squareText(SIDE + 2)],
];

interface Verdict {
  readonly metric: number;
  readonly verdict: number;
  readonly lies: number;
  readonly steps: readonly number[];
  readonly previous: Previous;
}

function verdictOf(text: string, previous: Previous | null): Verdict {
  const clock = () => process.cpuUsage().user / 1e6;
  const began = clock();
  let laidAt = began;
  let judgedAt = 0;
  let laid: Omit<LaidSheet, 'plan'> | null = null;
  let verdict: Verdict | null = null;
  const post = (message: FromWorker) => {
    if (message.type === 'failed') throw new Error(message.message);
    if (message.type === 'laid-out') {
      laidAt = clock();
      laid = message.laid;
    }
    if (message.type === 'judged') judgedAt = clock();
    if (message.type !== 'rested' || laid === null) return;
    const { positions, lying, relaxation } = message.sheet;
    verdict = {
      metric: laidAt - began,
      verdict: (judgedAt || clock()) - began,
      lies: clock() - began,
      steps: [relaxation.iterations, lying?.iterations ?? 0],
      previous: { graph: laid.graph, positions, lying: lying?.positions ?? null },
    };
  };
  runJob(
    { type: 'knit', job: 1, text, previous, advise: false, stopFlag: null },
    { post, clock: () => performance.now() },
  );
  if (verdict === null) throw new Error('the bench plan has no verdict');
  return verdict;
}

export function benchEdits(): void {
  const text = squareText(SIDE);
  console.log(
    'edit              to metric s   to verdict s   till it lies s   afresh s   ratio   steps      afresh',
  );
  for (const [name, edited] of EDITS) {
    let previous = verdictOf(text, null).previous;
    let warm: Verdict | null = null;
    for (let k = 0; k < ROUNDS_TO_WARM; k++) {
      warm = verdictOf(edited, previous);
      previous = verdictOf(text, warm.previous).previous;
    }
    const cold = verdictOf(edited, null);
    if (warm === null) continue;
    console.log(
      `${name.padEnd(18)}${warm.metric.toFixed(2).padStart(11)}${warm.verdict.toFixed(2).padStart(15)}${warm.lies.toFixed(2).padStart(17)}` +
        `${cold.lies.toFixed(2).padStart(11)}${(warm.lies / cold.lies).toFixed(2).padStart(8)}   ${warm.steps.join(' + ').padEnd(11)}${cold.steps.join(' + ')}`,
    );
  }
}
