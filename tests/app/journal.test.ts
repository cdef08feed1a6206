/** What the page asks of the worker that writes ahead, with a worker that answers when told. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { JournalRequest } from '../../src/worker/journal-entry.ts';

class FakeWorker {
  static all: FakeWorker[] = [];
  readonly asked: JournalRequest[] = [];
  ended = false;
  onmessage: ((event: { data: unknown }) => void) | null = null;
  onerror: (() => void) | null = null;

  constructor() {
    FakeWorker.all.push(this);
  }

  postMessage(request: JournalRequest): void {
    this.asked.push(request);
  }

  terminate(): void {
    this.ended = true;
  }

  get texts(): string[] {
    return this.asked.flatMap((request) => (request.type === 'write' ? [request.record.text] : []));
  }

  get files(): readonly string[] {
    return this.asked.flatMap((request) => (request.type === 'open' ? request.files : []));
  }

  answer(type: 'written' | 'failed'): void {
    this.onmessage?.({ data: { type, number: 1, message: '' } });
  }
}

const plan = (text: string) => ({ text, fileName: '', savedAt: 0, project: null });
let journal: typeof import('../../src/app/state/journal.ts');

beforeEach(async () => {
  vi.resetModules();
  vi.useFakeTimers();
  vi.stubGlobal('Worker', FakeWorker);
  FakeWorker.all = [];
  journal = await import('../../src/app/state/journal.ts');
  journal.openJournal('tab');
});

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

it('writes a change at once, and of those that come meanwhile the newest', () => {
  const [worker] = FakeWorker.all;
  for (const text of ['a', 'ab', 'abc']) journal.journal(plan(text));
  expect(worker.texts).toEqual(['a']);
  worker.answer('written');
  expect(worker.texts).toEqual(['a', 'abc']);
  worker.answer('written');
  journal.journal(plan('abcd'));
  expect(worker.texts).toEqual(['a', 'abc', 'abcd']);
});

it('starts anew, with files of other names, where a write fails, and writes the newest', () => {
  const [first] = FakeWorker.all;
  journal.journal(plan('a'));
  journal.journal(plan('ab'));
  first.answer('failed');
  const [, second] = FakeWorker.all;
  expect(first.ended).toBe(true);
  expect(second.texts).toEqual(['ab']);
  expect(second.files.some((name) => first.files.includes(name))).toBe(false);
});

it('writes what was being written again where the worker broke', () => {
  journal.journal(plan('a'));
  FakeWorker.all[0].onerror?.();
  expect(FakeWorker.all[1].texts).toEqual(['a']);
});

it('does not wait for a worker that says nothing more', () => {
  journal.journal(plan('a'));
  vi.advanceTimersByTime(6000);
  journal.journal(plan('ab'));
  expect(FakeWorker.all[1].texts).toEqual(['ab']);
});

it('gives up where no files can be had, and lets the page be', () => {
  journal.journal(plan('a'));
  for (let n = 0; n < 9; n++) FakeWorker.all.at(-1)?.answer('failed');
  expect(FakeWorker.all.length).toBeLessThan(6);
  expect(() => journal.journal(plan('ab'))).not.toThrow();
});
