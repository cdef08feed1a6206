/** A draft through the worker: what is tried is told on the way, and what nobody waits for is never heard. */
import { describe, expect, it } from 'vitest';
import { draftMeasured } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { WorkerLike } from '../../src/worker/client.ts';
import { DraftClient } from '../../src/worker/draft-client.ts';
import { runDraft, runGrade } from '../../src/worker/jobs/knit-job.ts';
import type { FromWorker, ToWorker } from '../../src/worker/messages.ts';
import { TINY_COASTER } from '../coaster.ts';

const WISHES = { sizeMm: 90, stitchMm: 5, roundMm: 3.7 };

describe('drafting', () => {
  it('tells what it tries, and drafts the same as without being watched or laid down', () => {
    const heard: FromWorker[] = [];
    let now = 0;
    runDraft(
      { type: 'draft', job: 4, spec: WISHES },
      { post: (message) => heard.push(message), clock: () => (now += 150) },
    );
    const last = heard[heard.length - 1];
    if (last.type !== 'drafted') throw new Error(JSON.stringify(last));
    // All but how high it rises: here it is not laid on a table for it.
    expect(last.draft).toEqual({ ...draftMeasured(WISHES), riseMm: expect.any(Number) });
    const trials = heard.flatMap((m) => (m.type === 'drafting' ? [m.trial] : []));
    expect(trials.length).toBe(heard.length - 1);
    expect(trials[0].doing).toBe('timing');
    expect(trials.some(({ doing }) => doing === 'relaxing')).toBe(true);
    // The draft is one of what was tried.
    expect(trials.map(({ castOn }) => castOn)).toContain(parsePlan(last.draft.text).castOn);
    for (let k = 1; k < trials.length; k++) {
      const more = [
        trials[k].timings - trials[k - 1].timings,
        trials[k].relaxed - trials[k - 1].relaxed,
      ];
      expect(Math.min(...more)).toBeGreaterThanOrEqual(0);
    }
  });

  it('names a wish that cannot be met and tells of no trial', () => {
    const heard: FromWorker[] = [];
    runDraft(
      { type: 'draft', job: 4, spec: { ...WISHES, sizeMm: 5 } },
      { post: (message) => heard.push(message), clock: () => 0 },
    );
    expect(heard.map(({ type }) => type)).toEqual(['failed']);
  });
});

describe('another size', () => {
  const text = `Title: Coaster\n${TINY_COASTER}`;
  const asked = (sizes: readonly number[]) => {
    const heard: FromWorker[] = [];
    const specs = sizes.map((sizeMm) => ({ sizeMm, stitchMm: 5, roundMm: 3.7, corners: 4 }));
    runGrade(
      { type: 'grade', job: 4, text, specs },
      { post: (message) => heard.push(message), clock: () => heard.length },
    );
    return heard;
  };

  it('tells what it tries, and names the size that cannot be had where there are several', () => {
    const heard = asked([50]);
    expect(heard[0]).toMatchObject({ type: 'drafting', trial: { castOn: expect.any(Number) } });
    expect(heard.at(-1)).toMatchObject({ type: 'graded', done: true });
    const [alone, beside] = [[2], [2, 50]].map((sizes) => asked(sizes).at(-1));
    if (alone?.type !== 'failed' || beside?.type !== 'failed') throw new Error('2 mm is no size');
    expect(beside.message).toBe(`2 mm: ${alone.message}`);
  });
});

describe('the page’s way to a draft', () => {
  class Bench implements WorkerLike {
    onmessage: WorkerLike['onmessage'] = null;
    onerror: WorkerLike['onerror'] = null;
    readonly asked: ToWorker[] = [];
    ended = false;
    postMessage(message: ToWorker) {
      this.asked.push(message);
    }
    terminate() {
      this.ended = true;
    }
    say(message: FromWorker) {
      this.onmessage?.({ data: message } as MessageEvent<FromWorker>);
    }
  }

  it('passes trials on until the draft is there, and ends the worker of a draft that is stopped', () => {
    const made: Bench[] = [];
    const client = new DraftClient(() => {
      made.push(new Bench());
      return made[made.length - 1];
    });
    const heard: string[] = [];
    const listener = (name: string) => ({
      onTrial: ({ timings }: { timings: number }) => heard.push(`${name} ${timings}`),
      onDone: () => heard.push(`${name} done`),
      onFailed: (message: string) => heard.push(`${name} ${message}`),
    });
    const trial = (job: number, timings: number): FromWorker => ({
      type: 'drafting',
      job,
      trial: { panels: [], castOn: 96, timings, relaxed: 0, doing: 'timing' },
    });
    client.draft(WISHES, listener('first'));
    made[0].say(trial(1, 1));
    made[0].say(trial(1, 2));
    made[0].say({ type: 'drafted', job: 1, draft: draftMeasured(WISHES) });
    expect(heard).toEqual(['first 1', 'first 2', 'first done']);
    client.draft(WISHES, listener('second'));
    expect(made.length).toBe(1);
    client.stop();
    expect(made[0].ended).toBe(true);
    made[0].say(trial(2, 1));
    made[0].say({ type: 'failed', job: 2, message: 'late' });
    expect(heard.length).toBe(3);
    client.draft(WISHES, listener('third'));
    expect(made.length).toBe(2);
  });
});
