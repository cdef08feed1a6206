/**
 * Runs checks in a thread that may hang, crash or eat memory without taking the sweep with it.
 * In: the name of a rule in `rules.ts` and a case (structured-cloneable). Out: processor milliseconds, or an error.
 */
import { Worker } from 'node:worker_threads';
import type { RuleName } from './rules.ts';

/** Issue of the product: no input may take more. */
const MEMORY_MB = 1000;

interface Answer {
  readonly ms: number;
  readonly trouble: string | null;
}

export class CheckThread {
  private worker: Worker | null = null;

  /** `hangMs`: the thread is ended after so long, and the case counts as failed. */
  constructor(private readonly hangMs: number) {}

  async check(rule: RuleName, one: unknown): Promise<number> {
    this.worker ??= new Worker(new URL('./rule-thread-start.js', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: MEMORY_MB },
    });
    const { worker } = this;
    const answer = await new Promise<Answer>((resolve) => {
      const end = (trouble: string) => {
        this.worker = null;
        void worker.terminate();
        resolve({ ms: this.hangMs, trouble });
      };
      const late = setTimeout(() => end(`no answer within ${this.hangMs} ms`), this.hangMs);
      worker.removeAllListeners();
      worker.once('message', (message: Answer) => {
        clearTimeout(late);
        resolve(message);
      });
      worker.once('error', (error) => {
        clearTimeout(late);
        end(`the thread ended: ${error.message}`);
      });
      worker.postMessage({ rule, one });
    });
    if (answer.trouble !== null) throw new Error(answer.trouble);
    return answer.ms;
  }

  async close(): Promise<void> {
    await this.worker?.terminate();
    this.worker = null;
  }
}
