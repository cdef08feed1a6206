/**
 * Runs checks in a thread that may hang, crash or eat memory without taking the sweep with it.
 * In: the name of a rule in `rules.ts` and a case (structured-cloneable). Out: processor milliseconds, or an error.
 */
import { Worker } from 'node:worker_threads';
import type { RuleName } from './rules.ts';

/** No input may take more, all of the process counted. Chosen: what a small build machine has for one of its two threads. */
const MEMORY_MB = 1000;
/** Reading all sources takes seconds, on a busy machine a minute. */
const START_LIMIT_MS = 180_000;

interface Answer {
  readonly ms: number;
  /** Of the whole process after the case. */
  readonly memoryMb?: number;
  readonly trouble: string | null;
}

export class CheckThread {
  private worker: Worker | null = null;
  /** The most that the process has held, MB. */
  mostMb = 0;

  /** `hangMs`: the thread is ended after so long, and the case counts as failed. */
  constructor(private readonly hangMs: number) {}

  async check(rule: RuleName, one: unknown): Promise<number> {
    const worker = await this.start();
    worker.postMessage({ rule, one });
    const { ms, memoryMb = 0, trouble } = await this.next(worker, this.hangMs);
    if (trouble !== null) throw new Error(trouble);
    this.mostMb = Math.max(this.mostMb, memoryMb);
    if (memoryMb > MEMORY_MB) throw new Error(`the process holds ${memoryMb.toFixed(0)} MB`);
    return ms;
  }

  private async start(): Promise<Worker> {
    if (this.worker) return this.worker;
    const worker = new Worker(new URL('./rule-thread-start.js', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: MEMORY_MB },
    });
    this.worker = worker;
    // Its first word says that it is there.
    const { trouble } = await this.next(worker, START_LIMIT_MS);
    if (trouble !== null) throw new Error(trouble);
    return worker;
  }

  private next(worker: Worker, limitMs: number): Promise<Answer> {
    return new Promise((resolve) => {
      const settle = (answer: Answer) => {
        clearTimeout(late);
        // Only its own: without any listener left the thread's port would be closed.
        worker.off('message', settle);
        worker.off('error', fail);
        resolve(answer);
      };
      const end = (trouble: string) => {
        settle({ ms: limitMs, trouble });
        this.worker = null;
        void worker.terminate();
      };
      const late = setTimeout(() => end(`no answer within ${limitMs} ms`), limitMs);
      const fail = (error: Error) => end(`the thread ended: ${error.message}`);
      worker.on('message', settle);
      worker.on('error', fail);
    });
  }

  async close(): Promise<void> {
    await this.worker?.terminate();
    this.worker = null;
  }
}
