/**
 * The page's way to the fabric at rest. A new job stops the running one: through a shared flag where the page is
 * isolated, otherwise by ending the worker.
 */
import type { Plan } from '../plan/plan.ts';
import type { Report } from '../report/report.ts';
import { JobClient, type WorkerPort } from './job-client.ts';
import type {
  FromWorker,
  KnittedSheet,
  LaidSheet,
  Previous,
  Progress,
  ToWorker,
} from './messages.ts';
import { watchWorker, workerName } from './watched-worker.ts';

export interface KnitListener {
  /** The text as the worker read it, mistakes and all. */
  readonly onRead?: (plan: Plan) => void;
  readonly onLaidOut?: (laid: LaidSheet) => void;
  readonly onProgress?: (message: Progress) => void;
  /** The verdict, where it stands before the sheet has come to lie on its table. */
  readonly onJudged?: (judged: LaidSheet & { readonly report: Report }) => void;
  /** At rest with its verdict; advice is still looked for. */
  readonly onRested?: (knitted: KnittedSheet) => void;
  /** The same sheet with its advice. */
  readonly onDone: (knitted: KnittedSheet) => void;
  /** Words for the user. The page's own state stays as it was. */
  readonly onFailed: (message: string) => void;
}

export type WorkerLike = WorkerPort<ToWorker, FromWorker>;

export class KnitClient {
  /** The plan of the running job, its sheet, and the same at rest while its advice is being looked for. */
  private plan: Plan | null = null;
  private laid: LaidSheet | null = null;
  private rested: KnittedSheet | null = null;
  private readonly client: JobClient<ToWorker, FromWorker>;
  private readonly stopFlag: Int32Array | null;

  constructor(startWorker: () => WorkerLike = startKnitWorker) {
    this.client = new JobClient(startWorker, 'Relaxing the fabric');
    this.stopFlag =
      typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated
        ? new Int32Array(new SharedArrayBuffer(4))
        : null;
  }

  /** A job is to come. */
  getReady(): void {
    this.client.getReady();
  }

  /** Starts a job and stops the one before it. Without advice it is done as soon as it is at rest. */
  knit(text: string, previous: Previous | null, listener: KnitListener, advise = true): void {
    this.stop();
    const { stopFlag } = this;
    this.plan = null;
    this.laid = null;
    this.client.start((job) => ({ type: 'knit', job, text, previous, advise, stopFlag }), {
      receive: (message) => this.receive(message, listener),
      fail: (words) => {
        this.rested = null;
        listener.onFailed(words);
      },
    });
  }

  /** Stops the running job; its listener hears nothing more. */
  stop(): void {
    if (!this.client.busy) return;
    // The flag is looked at while relaxing only.
    const advising = this.rested !== null;
    this.rested = null;
    if (!this.stopFlag || advising) {
      this.client.close();
      return;
    }
    this.client.end();
    Atomics.store(this.stopFlag, 0, this.client.job);
  }

  /** Lets the running job finish where it is: its listener gets the state so far, if it can be had. */
  finishEarly(): boolean {
    if (!this.client.busy || !this.stopFlag || this.rested) return false;
    Atomics.store(this.stopFlag, 0, this.client.job);
    return true;
  }

  close(): void {
    this.stop();
    this.client.close();
  }

  private receive(message: FromWorker, listener: KnitListener): void {
    switch (message.type) {
      case 'read':
        this.plan = message.plan;
        listener.onRead?.(message.plan);
        return;
      case 'laid-out':
        if (!this.plan) return;
        this.laid = { ...message.laid, plan: this.plan };
        listener.onLaidOut?.(this.laid);
        return;
      case 'progress':
        listener.onProgress?.(message);
        return;
      case 'judged':
        if (this.laid) listener.onJudged?.({ ...this.laid, report: message.report });
        return;
      case 'rested': {
        const { laid } = this;
        if (!laid) return;
        this.rested = { ...laid, sheet: message.sheet, report: message.report };
        listener.onRested?.(this.rested);
        return;
      }
      case 'done': {
        const { rested } = this;
        this.rested = null;
        this.client.end();
        if (rested) listener.onDone({ ...rested, report: message.report });
        return;
      }
      case 'failed':
        this.rested = null;
        this.client.end();
        listener.onFailed(message.message);
        return;
    }
  }
}

export function startKnitWorker(): WorkerLike {
  const worker = new Worker(new URL('./entry.ts', import.meta.url), {
    type: 'module',
    name: workerName('relaxing'),
  });
  return Object.assign(worker, { gone: watchWorker(worker) });
}
