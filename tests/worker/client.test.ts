import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/plan/plan.ts';
import type { WorkerLike } from '../../src/worker/client.ts';
import { KnitClient } from '../../src/worker/client.ts';
import type {
  FromWorker,
  KnitRequest,
  KnittedSheet,
  LaidSheet,
} from '../../src/worker/messages.ts';

class ScriptedWorker implements WorkerLike {
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  readonly asked: KnitRequest[] = [];
  ended = false;

  postMessage(message: KnitRequest): void {
    this.asked.push(message);
  }

  terminate(): void {
    this.ended = true;
  }

  say(message: FromWorker): void {
    this.onmessage?.({ data: message } as MessageEvent<FromWorker>);
  }
}

function workbench() {
  const workers: ScriptedWorker[] = [];
  const client = new KnitClient(() => {
    const worker = new ScriptedWorker();
    workers.push(worker);
    return worker;
  });
  const heard: string[] = [];
  const listen = (name: string) => ({
    onProgress: ({ iteration }: { iteration: number }) => heard.push(`${name} at ${iteration}`),
    onDone: () => heard.push(`${name} done`),
    onFailed: (message: string) => heard.push(`${name} failed: ${message}`),
  });
  return { client, workers, heard, listen };
}

const progress = (job: number, iteration: number): FromWorker => ({
  type: 'progress',
  job,
  iteration,
  residual: 1,
  energy: 1,
  positions: new Float32Array(0),
});
const PLAN = { text: 'plan' } as Plan;
const read = (job: number): FromWorker => ({ type: 'read', job, plan: PLAN });
const laidOut = (job: number): FromWorker => ({ type: 'laid-out', job, laid: {} as LaidSheet });
const rested = (job: number): FromWorker => ({
  type: 'rested',
  job,
  sheet: {} as KnittedSheet['sheet'],
  report: {} as KnittedSheet['report'],
});
const done = (job: number): FromWorker => ({
  type: 'done',
  job,
  report: {} as KnittedSheet['report'],
});

describe('the worker’s client', () => {
  it('passes on what the worker says about the job at hand', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('plan', null, listen('a'));
    workers[0].say(progress(1, 10));
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    workers[0].say(rested(1));
    workers[0].say(done(1));
    expect(heard).toEqual(['a at 10', 'a done']);
  });

  it('tells the sheet at rest as the one that was laid out, not as another', () => {
    const { client, workers, listen } = workbench();
    const sheets: unknown[] = [];
    client.knit('plan', null, {
      ...listen('a'),
      onLaidOut: ({ graph }) => sheets.push(graph),
      onRested: ({ graph }) => sheets.push(graph),
      onDone: ({ graph }) => sheets.push(graph),
    });
    const graph = {} as LaidSheet['graph'];
    workers[0].say(read(1));
    workers[0].say({ type: 'laid-out', job: 1, laid: { graph } as LaidSheet });
    workers[0].say(rested(1));
    workers[0].say(done(1));
    expect(sheets.map((told) => told === graph)).toEqual([true, true, true]);
  });

  it('tells the plan as it was read before its sheet, and with it', () => {
    const { client, workers, listen } = workbench();
    const told: unknown[] = [];
    client.knit('plan', null, {
      ...listen('a'),
      onRead: (plan) => told.push(plan),
      onLaidOut: ({ plan }) => told.push(plan),
    });
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    expect(told.map((plan) => plan === PLAN)).toEqual([true, true]);
  });

  it('never delivers an answer to an older job, nor anything after the last word', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('first', null, listen('a'));
    client.knit('second', null, listen('b'));
    const worker = workers[workers.length - 1];
    worker.say(read(1));
    worker.say(laidOut(1));
    worker.say(rested(1));
    worker.say(done(1));
    worker.say(progress(1, 99));
    worker.say(read(2));
    worker.say(laidOut(2));
    worker.say(rested(2));
    worker.say(done(2));
    worker.say(progress(2, 100));
    worker.say(read(2));
    worker.say(laidOut(2));
    worker.say(rested(2));
    worker.say(done(2));
    expect(heard).toEqual(['b done']);
  });

  it('without shared memory ends the busy worker and starts another', () => {
    const { client, workers, listen } = workbench();
    client.knit('first', null, listen('a'));
    client.knit('second', null, listen('b'));
    expect(workers.map((worker) => worker.ended)).toEqual([true, false]);
    expect(workers[1].asked.map((request) => request.text)).toEqual(['second']);
  });

  it('hands on a verdict with the sheet that it is of, and none of a job before', () => {
    const { client, workers } = workbench();
    const heard: unknown[] = [];
    const judged = (job: number, verdict: string): FromWorker => ({
      type: 'judged',
      job,
      report: { verdict } as KnittedSheet['report'],
    });
    client.knit('first', null, { onJudged: (j) => heard.push(j), onDone() {}, onFailed() {} });
    workers[0].say(judged(1, 'cups'));
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    workers[0].say(judged(0, 'ruffles'));
    workers[0].say(judged(1, 'cups'));
    expect(heard).toEqual([{ plan: PLAN, report: { verdict: 'cups' } }]);
  });

  it('takes a word that belongs to no job for what it is, also while idle', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('first', null, listen('a'));
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    workers[0].say(rested(1));
    workers[0].say(done(1));
    workers[0].say({ type: 'worker-ready', name: 'lock' } as unknown as FromWorker);
    expect(heard).toEqual(['a done']);
  });

  it('keeps an idle worker for the next job', () => {
    const { client, workers, listen } = workbench();
    client.knit('first', null, listen('a'));
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    workers[0].say(rested(1));
    workers[0].say(done(1));
    client.knit('second', null, listen('b'));
    expect(workers.length).toBe(1);
    expect(workers[0].asked.map((request) => request.job)).toEqual([1, 2]);
  });

  it('says nothing more after it was stopped', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('first', null, listen('a'));
    client.stop();
    workers[0].say(read(1));
    workers[0].say(laidOut(1));
    workers[0].say(rested(1));
    workers[0].say(done(1));
    expect(heard).toEqual([]);
    expect(workers[0].ended).toBe(true);
  });

  it('starts a worker that breaks once more with the same job, and nobody hears of it', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('first', null, listen('a'));
    workers[0].onerror?.({ message: 'out of memory' } as ErrorEvent);
    expect(workers.map((worker) => worker.ended)).toEqual([true, false]);
    expect(workers[1].asked).toEqual(workers[0].asked);
    workers[1].say(read(1));
    workers[1].say(laidOut(1));
    workers[1].say(rested(1));
    workers[1].say(done(1));
    expect(heard).toEqual(['a done']);
  });

  it('notices a worker that is gone without a word', async () => {
    const workers: ScriptedWorker[] = [];
    const ends: ((reason: string) => void)[] = [];
    const client = new KnitClient(() => {
      const gone = new Promise<string>((resolve) => ends.push(resolve));
      workers.push(Object.assign(new ScriptedWorker(), { gone }));
      return workers[workers.length - 1];
    });
    const heard: string[] = [];
    client.knit('plan', null, {
      onDone: () => heard.push('done'),
      onFailed: (message) => heard.push(message),
    });
    ends[0]('it was ended');
    await expect.poll(() => workers.length).toBe(2);
    ends[1]('it was ended');
    await expect.poll(() => heard.join()).toMatch(/stopped unexpectedly, twice \(it was ended\)/);
  });

  it('tells of a job that breaks two workers, and starts a new one for the next job', () => {
    const { client, workers, heard, listen } = workbench();
    client.knit('first', null, listen('a'));
    workers[0].onerror?.({ message: 'out of memory' } as ErrorEvent);
    workers[1].onerror?.({ message: 'out of memory' } as ErrorEvent);
    expect(heard[0]).toMatch(/a failed: .*out of memory.*plan is untouched/);
    client.knit('second', null, listen('b'));
    workers[2].say(read(2));
    workers[2].say(laidOut(2));
    workers[2].say(rested(2));
    workers[2].say(done(2));
    expect(heard[1]).toBe('b done');
  });
});
