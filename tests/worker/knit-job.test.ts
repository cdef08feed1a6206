import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { runJob } from '../../src/worker/jobs/knit-job.ts';
import { sameTopology, warmStart } from '../../src/worker/jobs/warm-start.ts';
import type { FromWorker, KnitRequest } from '../../src/worker/messages.ts';
import { runs } from '../runs.ts';

const SQUARE = `Gauge: 20 sts and 40 rounds = 10 cm in garter
Cast on 48 sts. Join in the round.
Round 1: *k1, ssk, k7, k2tog; rep from * to end. (40 sts)
Round 2: purl.
Round 3: *k1, ssk, k5, k2tog; rep from * to end. (32 sts)
Round 4: purl.
Round 5: *k1, ssk, k3, k2tog; rep from * to end. (24 sts)
Round 6: purl.
Round 7: *k1, ssk, k1, k2tog; rep from * to end. (16 sts)
Round 8: purl.
Draw yarn through remaining sts.
`;

const CUP = SQUARE.replace('20 sts and 40', '20 sts and 34');

function run(request: Partial<KnitRequest>): FromWorker[] {
  const said: FromWorker[] = [];
  let now = 0;
  runJob(
    {
      type: 'knit',
      job: 1,
      text: SQUARE,
      previous: null,
      advise: true,
      stopFlag: null,
      ...request,
    },
    {
      // Every call is a new picture: the clock jumps.
      clock: () => {
        now += 100;
        return now;
      },
      post: (message) => said.push(structuredClone(message)),
    },
  );
  return said;
}

const last = (said: FromWorker[]) => said[said.length - 1];

function doneOf(said: FromWorker[]) {
  const message = last(said);
  if (message.type !== 'done') throw new Error(`expected done, got ${message.type}`);
  const rested = said[said.length - 2];
  if (rested.type !== 'rested') throw new Error(`expected rested, got ${rested.type}`);
  const [read, laidOut] = said;
  if (read.type !== 'read') throw new Error(`expected read, got ${read.type}`);
  if (laidOut.type !== 'laid-out') throw new Error(`expected laid-out, got ${laidOut.type}`);
  return { ...laidOut.laid, plan: read.plan, sheet: rested.sheet, report: message.report };
}

describe('a job of the worker', () => {
  it('says read and laid-out, then progress, then rested and done exactly once each', () => {
    const types = run({}).map((message) => message.type);
    expect(types.slice(0, 2)).toEqual(['read', 'laid-out']);
    expect(types.filter((type) => type === 'done')).toEqual(['done']);
    expect(types[types.length - 1]).toBe('done');
    expect(types[types.length - 2]).toBe('rested');
    expect(new Set(types.slice(2, -2))).toEqual(new Set(['progress', 'judged']));
  });

  it('tells a verdict before the piece has come to lie only where it is the one told then', () => {
    let told = 0;
    for (const rows of [24, 28, 32]) {
      for (const rate of ['d.', 'ddd.']) {
        const said = run({ text: squareOf(12, rate, rows), advise: false });
        const early = said.filter((message) => message.type === 'judged');
        if (early.length === 0) continue;
        told++;
        expect(early).toHaveLength(1);
        const { report } = early[0];
        const { report: found } = doneOf(said);
        expect(report.verdict).toBe(found.verdict);
        expect([report.lying, report.advice]).toEqual([null, []]);
        expect(report.weightlessRiseMm).toBe(found.weightlessRiseMm);
        for (const reason of report.reasons) expect(found.reasons).toContain(reason);
        const at = said.indexOf(early[0]);
        expect(said.slice(at + 1).some(({ type }) => type === 'rested')).toBe(true);
      }
    }
    expect(told).toBeGreaterThan(4);
  });

  it('gives to the last bit what a direct call gives', () => {
    const there = doneOf(run({}));
    const here = knit(SQUARE).knitted;
    if (!here) throw new Error('the plan has mistakes');
    expect(there.sheet.positions).toEqual(here.sheet.positions);
    expect(there.report.verdict).toBe(here.report.verdict);
    expect({ ...there.report, relaxation: null }).toEqual({ ...here.report, relaxation: null });
  });

  it('answers a plan with mistakes in words, with line and column', () => {
    const said = run({ text: SQUARE.replace('ssk, k5', 'ssk, frogs') });
    expect(said.map(({ type }) => type)).toEqual(['read', 'failed']);
    const message = last(said);
    expect(message.type).toBe('failed');
    expect(message.type === 'failed' && message.message).toMatch(/line 5, column \d+/);
  });

  it('answers a bare cast-on in words', () => {
    const message = last(run({ text: 'Cast on 12 sts.\n' }));
    expect(message.type === 'failed' && message.message).toMatch(/first round|cast-on/);
  });

  it('stops at the flag and says so', () => {
    const stopFlag = new Int32Array(new SharedArrayBuffer(4));
    stopFlag[0] = 1;
    const knitted = doneOf(run({ stopFlag }));
    expect(knitted.sheet.relaxation.converged).toBe(false);
    expect(knitted.sheet.relaxation.reason).toBe('cancelled');
  });

  it('starts from the last state when only the gauge changed, and needs fewer steps', () => {
    const first = doneOf(run({ text: CUP }));
    const previous = { graph: first.graph, positions: first.sheet.positions, lying: null };
    const text = CUP.replace('20 sts and 34', '20 sts and 35');
    const cold = doneOf(run({ text })).sheet.relaxation;
    const warm = doneOf(run({ text, previous })).sheet.relaxation;
    expect(warm.start).toBe('given');
    expect(warm.converged).toBe(true);
    expect(warm.iterations).toBeLessThanOrEqual(cold.iterations);
  });
});

describe('an edit that leaves the fabric as it is', () => {
  const note = SQUARE.replace('Draw yarn', '(A note.)\nDraw yarn');

  it('takes the sheet from before, to the last bit', () => {
    const first = doneOf(run({}));
    const { positions, lying } = first.sheet;
    const previous = { graph: first.graph, positions, lying: lying?.positions ?? null };
    const again = doneOf(run({ text: note, previous }));
    expect(again.sheet).toEqual(first.sheet);
    expect(again.report.verdict).toBe(first.report.verdict);
    expect(again.report.riseMm).toBe(first.report.riseMm);
  });

  it('relaxes anew where no sheet is given, or another gauge is', () => {
    const first = doneOf(run({}));
    const { positions } = first.sheet;
    const previous = { graph: first.graph, positions, lying: null };
    expect(doneOf(run({ text: note })).sheet.relaxation.start).not.toBe('given');
    const finer = SQUARE.replace('20 sts and 40', '20 sts and 41');
    expect(doneOf(run({ text: finer, previous })).sheet.positions).not.toEqual(positions);
  });
});

describe('a warm start', () => {
  const piece = doneOf(run({}));

  it('is refused where the loops hang together in another way', () => {
    const other = doneOf(run({ text: SQUARE.replace('Round 8: purl.\n', '') }));
    expect(sameTopology(piece.graph, other.graph)).toBe(false);
    const previous = { graph: other.graph, positions: other.sheet.positions, lying: null };
    expect(warmStart(previous, piece.graph, piece.metric).from).toBeNull();
  });

  it('is refused where the last state is no shape', () => {
    const positions = piece.sheet.positions.slice();
    positions[7] = Number.NaN;
    const previous = { graph: piece.graph, positions, lying: null };
    expect(warmStart(previous, piece.graph, piece.metric).from).toBeNull();
  });
});

/** A square of so many a side, two fewer a side on the rounds that `rate` marks with d; `rows` to 10 cm. */
function squareOf(side: number, rate: string, rows = 28): string {
  const lines = [
    `Gauge: 20 sts and ${rows} rounds = 10 cm`,
    `Cast on ${4 * side} sts. Join in the round.`,
  ];
  let left = side;
  for (let round = 1; left > 4; round++) {
    if (rate[round % rate.length] === 'd') {
      lines.push(`Round ${round}: *ssk, k${left - 4}, k2tog; rep from * to end.`);
      left -= 2;
    } else lines.push(`Round ${round}: knit.`);
  }
  return `${lines.join('\n')}\nDraw yarn through remaining sts.\n`;
}

const restOf = ({ graph, sheet: { positions, lying } }: ReturnType<typeof doneOf>) => ({
  graph,
  positions,
  lying: lying?.positions ?? null,
});

describe('an edit of the gauge', () => {
  it('gives the verdict and the heights of one begun afresh, whether flat pieces cup by it or cups fall flat', () => {
    const rows = fc.integer({ min: 22, max: 32 });
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 18 }),
        fc.constantFrom('d.', 'ddd.', 'dddd.'),
        rows,
        rows,
        (side, rate, was, is) => {
          const job = { advise: false };
          const previous = restOf(doneOf(run({ ...job, text: squareOf(side, rate, was) })));
          const text = squareOf(side, rate, is);
          const cold = doneOf(run({ ...job, text })).report;
          const warm = doneOf(run({ ...job, text, previous })).report;
          expect(warm.verdict).toBe(cold.verdict);
          const near = (a: number, b: number) =>
            expect(Math.abs(a - b)).toBeLessThan(0.5 + 0.05 * Math.abs(b));
          near(warm.weightlessRiseMm, cold.weightlessRiseMm);
          // Waves come to lie in more ways than one.
          if (cold.verdict !== 'ruffles') near(warm.riseMm, cold.riseMm);
        },
      ),
      { seed: 12, numRuns: runs(6) },
    );
  });
});

describe('an edit of the counts', () => {
  it('hangs to the last bit as one begun afresh, and lies as high', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 18 }),
        fc.constantFrom(-1, 1, 2),
        fc.constantFrom('d.', 'dd.', 'dddd.', 'd'),
        fc.constantFrom('d.', 'dd.', null),
        (side, more, rate, other) => {
          const before = doneOf(run({ text: squareOf(side, rate), advise: false }));
          const { positions, lying } = before.sheet;
          const previous = { graph: before.graph, positions, lying: lying?.positions ?? null };
          const text = squareOf(side + more, other ?? rate);
          const cold = doneOf(run({ text, advise: false }));
          const warm = doneOf(run({ text, advise: false, previous }));
          expect(warm.sheet.positions).toEqual(cold.sheet.positions);
          expect(warm.report.verdict).toBe(cold.report.verdict);
          // Let down from the air, a cup ends within a twentieth of its last height.
          const apart = Math.abs(warm.report.riseMm - cold.report.riseMm);
          expect(apart).toBeLessThan(0.5 + 0.05 * cold.report.riseMm);
        },
      ),
      { seed: 7, numRuns: runs(15) },
    );
  });

  it('takes fewer steps to lie', () => {
    const before = doneOf(run({ text: squareOf(20, 'dd.'), advise: false }));
    const { positions, lying } = before.sheet;
    const previous = { graph: before.graph, positions, lying: lying?.positions ?? null };
    const text = squareOf(21, 'dd.');
    const cold = doneOf(run({ text, advise: false })).sheet.lying?.iterations ?? 0;
    const warm = doneOf(run({ text, advise: false, previous })).sheet.lying?.iterations ?? 0;
    expect(warm).toBeLessThan(cold);
  });
});
