/** Yarn jobs without a worker: what is measured, and that nothing is shown that cannot be believed. */
import { describe, expect, it } from 'vitest';
import { type JoinBase, joinOpening } from '../../src/cell/join-opening.ts';
import { ladderOpening } from '../../src/cell/ladder-opening.ts';
import { canRelax, prepare, relax } from '../../src/knit.ts';
import { restInShort, restWords } from '../../src/paper/pattern/yarn-rest-words.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { mustRest } from '../../src/worker/jobs/close-up-frame.ts';
import { makeShape } from '../../src/worker/jobs/shape-job.ts';
import { runYarnJob } from '../../src/worker/jobs/yarn-job.ts';
import { YarnClient, type YarnWorkerLike } from '../../src/worker/yarn-client.ts';
import type {
  CloseUp,
  CloseUpAsked,
  CloseUpBase,
  FromYarnWorker,
  ToYarnWorker,
} from '../../src/worker/yarn-messages.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { REST_FORCE } from '../../src/yarn/rest/relax-yarn.ts';
import { SMALL_COASTER, TINY_COASTER } from '../coaster.ts';
import { whole } from '../runs.ts';

const KNITTING = { stitchMm: 100 / 22, loopMm: null };
/** Loosely knitted, which comes to rest sooner. */
const LOOSE = whole ? KNITTING : { ...KNITTING, loopMm: 24 };

function run(asked: CloseUpAsked, base: CloseUpBase | null = null): FromYarnWorker[] {
  const heard: FromYarnWorker[] = [];
  let now = 0;
  runYarnJob(
    { type: 'close-up', job: 3, asked, base },
    { post: (message) => heard.push(message), clock: () => (now += 20) },
  );
  return heard;
}

function shown(asked: CloseUpAsked): CloseUp {
  const last = run(asked).at(-1);
  if (last?.type !== 'shown') throw new Error(JSON.stringify(last));
  return last.closeUp;
}

function trouble(asked: CloseUpAsked): string {
  const heard = run(asked);
  expect(heard.filter(({ type }) => type === 'shown')).toEqual([]);
  const last = heard.at(-1);
  if (last?.type !== 'yarn-failed') throw new Error('something was shown');
  return last.message;
}

const SQUARE = `Gauge: 20 sts and 28 rounds = 10 cm
Worked: in the round

Cast on 48 sts. Join in the round.
Round 1: knit.
Round 2: *ssk, k8, k2tog; rep from * to end. (40 sts)
Round 3: knit.
Round 4: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 5: knit.
Round 6: knit.
`;

function sheetOf(text: string) {
  const plan = parsePlan(text);
  if (!canRelax(plan)) throw new Error('the plan has mistakes');
  const prepared = prepare(plan);
  const { graph, cells } = prepared;
  return { graph, cells, positions: relax(prepared).sheet.positions };
}

describe('the close-up of a join', () => {
  it('tells how it goes, then shows the opening that the yarn model measures, where it is', () => {
    const heard = run({ place: 'join', method: 'plain', slackMm: 2, ...LOOSE });
    expect(heard.slice(0, -1).every(({ type }) => type !== 'yarn-failed')).toBe(true);
    expect(heard.length).toBeGreaterThan(5);
    // Ten pictures in a second of the (pretended) clock, each of the yarn somewhere else.
    const frames = heard.flatMap((m) => (m.type === 'settling' ? [m] : []));
    for (let k = 1; k < frames.length; k++) {
      expect(frames[k].step - frames[k - 1].step).toBe(5);
      expect(frames[k].moving.points).not.toEqual(frames[k - 1].moving.points);
      expect(frames[k].moving.points.length).toBe(frames[0].moving.points.length);
      expect(frames[k].moving.opening).toBeNull();
    }
    expect(heard.every(({ job }) => job === 3)).toBe(true);
    const last = heard[heard.length - 1];
    if (last.type !== 'shown') throw new Error('nothing was shown');
    const { closeUp } = last;
    const { loopMm, yarnMm } = closeUp;
    // Watched from its beginning, and from the join that came to rest on the way: it makes no difference.
    const reached = heard.find((message) => message.type === 'base');
    if (reached?.type !== 'base') throw new Error('no base was told');
    const from = reached.base.from as JoinBase;
    const direct = joinOpening({ method: 'plain', slackMm: 2, loopMm, yarnMm }, from);
    expect(closeUp.opening?.diameterMm).toBe(direct.openingMm);
    expect(closeUp.ordinary?.diameterMm).toBe(direct.ordinaryGapMm);
    expect(closeUp.opening?.diameterMm).toBeGreaterThan(closeUp.ordinary?.diameterMm ?? 0);
    // No yarn lies within the drawn circles.
    for (const mark of [closeUp.opening, closeUp.ordinary]) {
      if (!mark) throw new Error('no mark');
      let nearest = Number.POSITIVE_INFINITY;
      for (let i = 0; i < closeUp.points.length; i += 3) {
        nearest = Math.min(
          nearest,
          Math.hypot(closeUp.points[i] - mark.x, closeUp.points[i + 1] - mark.y),
        );
      }
      expect(nearest - closeUp.radiusMm).toBeGreaterThan(mark.diameterMm / 2 - 0.02);
      expect(nearest - closeUp.radiusMm).toBeLessThan(mark.diameterMm / 2 + 0.15);
    }
  });

  it.runIf(whole)(
    'starts another slack from the join that came to rest before, with the same result',
    () => {
      const join = { place: 'join', method: 'extra', slackMm: 1, ...KNITTING } as const;
      const first = run(join);
      const reached = first.find((message) => message.type === 'base');
      if (reached?.type !== 'base') throw new Error('no base was told');
      const [afresh, again] = [null, structuredClone(reached.base)].map((base) =>
        run({ ...join, slackMm: 3 }, base),
      );
      expect(again.length).toBeLessThan(0.7 * afresh.length);
      expect(again.some(({ type }) => type === 'base')).toBe(false);
      const [a, b] = [afresh, again].map((heard) => heard[heard.length - 1]);
      if (a.type !== 'shown' || b.type !== 'shown') throw new Error('nothing was shown');
      expect(b.closeUp.opening).toEqual(a.closeUp.opening);
      // A base of another method is not used.
      const crossed = run({ ...join, method: 'crossed' }, reached.base);
      expect(crossed.some(({ type }) => type === 'base')).toBe(true);
    },
  );

  it('refuses what cannot be knitted, with the limits', () => {
    const join = { place: 'join', method: 'plain', slackMm: 2 } as const;
    expect(trouble({ ...join, ...KNITTING, loopMm: 9 })).toMatch(/cannot be knitted/);
    expect(trouble({ ...join, ...KNITTING, loopMm: 0 })).toMatch(/more than 0 mm/);
    expect(trouble({ ...join, ...KNITTING, slackMm: 400 })).toMatch(/from 0 to \d/);
    const cable = { place: 'cable', over: 2, under: 2, lean: 1, besides: [1, 1] } as const;
    expect(trouble({ ...cable, ...KNITTING, everyRounds: 1 })).toMatch(/every 2 to 12 rounds/);
  });

  it('shows nothing that did not come to rest', () => {
    const { relaxation } = ladderOpening({
      slackMm: 2,
      loopMm: 19,
      yarnMm: 1.03,
      onProgress: () => true,
    });
    expect(relaxation.converged).toBe(false);
    expect(() => mustRest(relaxation)).toThrow(/did not come to rest/);
  });
});

describe('the close-up of a needle gap', () => {
  it('repeats the row without a seam at its ends', () => {
    const closeUp = shown({
      place: 'needles',
      slackMm: 2,
      tugged: 0,
      tugMm: 0,
      ...KNITTING,
    });
    // Along every strand the steps are those of the model: none longer where the period closes.
    const steps: number[] = [];
    for (let s = 0; s + 1 < closeUp.strandStart.length; s++) {
      for (let i = closeUp.strandStart[s] + 1; i < closeUp.strandStart[s + 1]; i++) {
        const [a, b] = [3 * i - 3, 3 * i];
        steps.push(
          Math.hypot(
            closeUp.points[b] - closeUp.points[a],
            closeUp.points[b + 1] - closeUp.points[a + 1],
            closeUp.points[b + 2] - closeUp.points[a + 2],
          ),
        );
      }
    }
    steps.sort((a, b) => a - b);
    expect(steps[steps.length - 1]).toBeLessThan(1.6 * steps[steps.length >> 1]);
    expect(closeUp.opening?.diameterMm).toBeGreaterThan(closeUp.ordinary?.diameterMm ?? 9);
    // Both are marked within the picture.
    for (const mark of [closeUp.opening, closeUp.ordinary]) {
      expect(Math.abs(mark?.x ?? 99)).toBeLessThan(0.95 * closeUp.view[0]);
    }
  });
});

describe('the close-up of a cable', () => {
  it('shows the panel first without, then with its crossings drawing it in', () => {
    const heard = run({
      place: 'cable',
      over: 1,
      under: 1,
      lean: 1,
      everyRounds: 4,
      besides: [1, 1],
      ...KNITTING,
    });
    const frames = heard.flatMap((m) => (m.type === 'settling' ? [m.moving] : []));
    expect(frames[0].width?.percent).toBe(0);
    expect(frames[0].told).not.toContain(1);
    const late = frames[frames.length - 1];
    expect(late.told).toContain(1);
    const last = heard[heard.length - 1];
    if (last.type !== 'shown') throw new Error('nothing was shown');
    expect(late.width?.uncrossedMm).toBe(last.closeUp.width?.uncrossedMm);
    expect(late.width?.crossedMm).toBeCloseTo(last.closeUp.width?.crossedMm ?? 0, 1);
    // Neighbours along the yarn stay near: no strand jumps to another copy of the repeat.
    const { points, strandStart, stitchMm } = last.closeUp;
    for (let s = 0; s + 1 < strandStart.length; s++) {
      for (let i = strandStart[s] + 1; i < strandStart[s + 1]; i++) {
        const [a, b] = [3 * i - 3, 3 * i];
        expect(Math.hypot(points[b] - points[a], points[b + 1] - points[a + 1])).toBeLessThan(
          stitchMm,
        );
      }
    }
  });
});

describe('the close-up of a stitch', () => {
  it('turns the stitch to the eye, upright, and marks its loop', () => {
    const sheet = sheetOf(SQUARE);
    const loop = sheet.graph.start[3] + 4;
    const closeUp = shown({ place: 'stitch', sheet, loop });
    const points = [...closeUp.told.keys()].filter((i) => closeUp.told[i]);
    expect(points.length).toBe(16);
    const mean = [0, 1, 2].map(
      (c) => points.reduce((sum, i) => sum + closeUp.points[3 * i + c], 0) / points.length,
    );
    expect(Math.hypot(...mean)).toBeLessThan(closeUp.stitchMm);
    // A knit stitch has its legs in front of its head and feet.
    const legs = points.filter((_, k) => k % 8 === 4);
    const ends = points.filter((_, k) => k % 8 === 0);
    const depth = (of: number[]) =>
      of.reduce((sum, i) => sum + closeUp.points[3 * i + 2], 0) / of.length;
    expect(depth(legs)).toBeGreaterThan(depth(ends));
    expect(closeUp.stitchMm).toBeGreaterThan(3);
    expect(closeUp.stitchMm).toBeLessThan(7);
  });

  it('refuses a stitch that is not there', () => {
    expect(trouble({ place: 'stitch', sheet: sheetOf(SQUARE), loop: 9999 })).toMatch(
      /the piece has \d+ stitches/,
    );
  });
});

describe('the yarn of a whole piece', () => {
  const { graph, cells, positions } = sheetOf(whole ? SMALL_COASTER : TINY_COASTER);
  const laid = layYarn(graph, cells, positions);
  const heard: FromYarnWorker[] = [];
  let now = 0;
  runYarnJob(
    { type: 'rest', job: 5, graph, curves: laid },
    { post: (message) => heard.push(structuredClone(message)), clock: () => (now += 100) },
  );
  const frames = heard.flatMap((m) => (m.type === 'coming' ? [m] : []));
  const last = heard[heard.length - 1];

  it('is told a few times a second where it is and how much force is left, then lies at rest', () => {
    expect(heard.every(({ job }) => job === 5)).toBe(true);
    expect(frames.length).toBe(heard.length - 1);
    expect(frames.length).toBeGreaterThan(10);
    for (let k = 1; k < frames.length; k++) {
      expect(frames[k].step - frames[k - 1].step).toBeGreaterThanOrEqual(0);
      expect(frames[k].points.length).toBe(laid.points.length);
    }
    expect(frames[10].points).not.toEqual(frames[9].points);
    if (last.type !== 'rested') throw new Error(JSON.stringify(last).slice(0, 200));
    expect(last.relaxation.converged).toBe(true);
    expect(last.relaxation.residual).toBeLessThanOrEqual(REST_FORCE);
    expect(last.curves.check.minCentreDistanceMm).toBeGreaterThan(1.5 * laid.radiusMm);
    expect(restWords(last.relaxation, last.curves)).toMatch(
      /^The yarn is at rest: \d+ steps, force left 0\.0\d+, at rest 0\.008 or less\./,
    );
  });

  it('is told on its way however soon it is at rest', () => {
    const told: FromYarnWorker[] = [];
    runYarnJob(
      { type: 'rest', job: 7, graph, curves: laid },
      { post: (message) => told.push(message), clock: () => 0 },
    );
    const steps = told.flatMap((m) => (m.type === 'coming' ? [m.step] : []));
    expect(steps.length).toBeGreaterThan(5);
    expect(steps.length).toBeLessThan(20);
    expect(steps[steps.length - 1]).toBeGreaterThan(16);
  });

  it('is measured and checked where it was stopped', () => {
    const { points } = frames[5];
    const told: FromYarnWorker[] = [];
    runYarnJob(
      { type: 'look', job: 6, graph, curves: laid, points },
      { post: (message) => told.push(message), clock: () => 0 },
    );
    const [found] = told;
    if (found.type !== 'looked-at') throw new Error('not looked at');
    expect(found.curves.points).toEqual(points);
    expect(found.curves.check.minCentreDistanceMm).not.toBe(laid.check.minCentreDistanceMm);
    expect(found.curves.lengthMm).not.toBe(laid.lengthMm);
    const words = restWords(
      { converged: false, reason: 'cancelled', residual: 0.33, iterations: 9 },
      found.curves,
    );
    expect(words).toMatch(/^Stopped before the yarn came to rest: force left 0\.33/);
  });

  it('says so where links are not as in the plan, and where yarn still lies in yarn', () => {
    const check = { minCentreDistanceMm: 0.2, linksChecked: 2800, linksWrong: 10 };
    const record = { converged: false, reason: 'stalled', residual: 13_943.6, iterations: 400 };
    const curves = { ...laid, radiusMm: 0.5, check };
    const words = restWords(record, curves);
    expect(words).toMatch(/did not come to rest: some of it is caught.*force left 14,000/);
    expect(words).toMatch(/still lies in yarn: the closest middles are 0\.20 of its thickness/);
    expect(words).toMatch(/10 of 2,800 links .* do not trust/);
    // In short there is no figure of the calculation, and nothing left out that is wrong.
    expect(restInShort(record, curves)).toBe(
      'The yarn did not come to rest: some of it is caught and moves no further. Somewhere yarn still lies in yarn. 10 of 2,800 links between stitches are not as in the plan: do not trust the picture there.',
    );
    const rested = {
      converged: true,
      reason: 'converged',
      residual: 0.001,
      iterations: 40,
    } as const;
    const right = { minCentreDistanceMm: 0.9, linksChecked: 2800, linksWrong: 0 };
    expect(restInShort(rested, { ...curves, check: right })).toBe('The yarn is at rest.');
  });

  it('is written as it lies at rest, not laid anew', () => {
    if (last.type !== 'rested') throw new Error('not at rest');
    const request = {
      job: 1,
      sheet: { graph, cells, positions },
      title: 'Small square',
      format: 'obj',
      loopColours: new Uint8Array(3 * graph.loops),
    } as const;
    const [fresh, again, rest] = [null, laid, last.curves].map((curves) => {
      const answer = makeShape({ ...request, curves });
      if (answer.type !== 'shape') throw new Error(answer.message);
      return new TextDecoder().decode(answer.file);
    });
    expect(again).toBe(fresh);
    expect(rest).not.toBe(fresh);
    expect(rest.length).toBeGreaterThan(0.9 * fresh.length);
  });
});

describe('the page’s way to yarn', () => {
  class Bench implements YarnWorkerLike {
    onmessage: ((event: MessageEvent<FromYarnWorker>) => void) | null = null;
    onerror: ((event: ErrorEvent) => void) | null = null;
    readonly asked: ToYarnWorker[] = [];
    ended = false;
    postMessage(message: ToYarnWorker) {
      this.asked.push(message);
    }
    terminate() {
      this.ended = true;
    }
    say(message: FromYarnWorker) {
      this.onmessage?.({ data: message } as MessageEvent<FromYarnWorker>);
    }
  }

  it('ends the worker of a job that is no longer wanted and never hears of it again', () => {
    const made: Bench[] = [];
    const client = new YarnClient(() => {
      made.push(new Bench());
      return made[made.length - 1];
    });
    const asked = { place: 'join', method: 'plain', slackMm: 2, ...KNITTING } as const;
    const heard: string[] = [];
    const listener = (name: string) => ({
      onDone: () => heard.push(`${name} done`),
      onFailed: (message: string) => heard.push(`${name} ${message}`),
    });
    client.closeUp(asked, listener('first'));
    client.closeUp({ ...asked, slackMm: 3 }, listener('second'));
    expect(made.length).toBe(2);
    expect(made[0].ended).toBe(true);
    made[1].say({ type: 'yarn-failed', job: made[0].asked[0].job, message: 'old' });
    expect(heard).toEqual([]);
    made[1].say({ type: 'yarn-failed', job: made[1].asked[0].job, message: 'jammed' });
    expect(heard).toEqual(['second jammed']);
    // A worker whose job is done is used again.
    client.closeUp(asked, listener('third'));
    expect(made.length).toBe(2);
    client.stop();
    expect(made[1].ended).toBe(true);
  });
});
