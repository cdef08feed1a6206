/**
 * The page's way to the fabric at rest. A new job stops the running one: through a shared flag where the page is
 * isolated, otherwise by ending the worker.
 */
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
  readonly onLaidOut?: (laid: LaidSheet) => void;
  readonly onProgress?: (message: Progress) => void;
  readonly onDone: (knitted: KnittedSheet) => void;
  /** Words for the user. The page's own state stays as it was. */
  readonly onFailed: (message: string) => void;
}

export type WorkerLike = WorkerPort<ToWorker, FromWorker>;

export class KnitClient {
  private readonly client: JobClient<ToWorker, FromWorker>;
  private readonly stopFlag: Int32Array | null;

  constructor(startWorker: () => WorkerLike = startKnitWorker) {
    this.client = new JobClient(startWorker, 'Relaxing the fabric');
    this.stopFlag =
      typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated
        ? new Int32Array(new SharedArrayBuffer(4))
        : null;
  }

  /** Starts a job and stops the one before it. */
  knit(text: string, previous: Previous | null, listener: KnitListener): void {
    this.stop();
    const { stopFlag } = this;
    this.client.start((job) => ({ type: 'knit', job, text, previous, stopFlag }), {
      receive: (message) => this.receive(message, listener),
      fail: listener.onFailed,
    });
  }

  /** Stops the running job; its listener hears nothing more. */
  stop(): void {
    if (!this.client.busy) return;
    if (!this.stopFlag) {
      this.client.close();
      return;
    }
    this.client.end();
    Atomics.store(this.stopFlag, 0, this.client.job);
  }

  /** Lets the running job finish where it is: its listener gets the state so far, if it can be had. */
  finishEarly(): boolean {
    if (!this.client.busy || !this.stopFlag) return false;
    Atomics.store(this.stopFlag, 0, this.client.job);
    return true;
  }

  close(): void {
    this.stop();
    this.client.close();
  }

  private receive(message: FromWorker, listener: KnitListener): void {
    switch (message.type) {
      case 'laid-out':
        listener.onLaidOut?.(message.laid);
        return;
      case 'progress':
        listener.onProgress?.(message);
        return;
      case 'done':
        this.client.end();
        listener.onDone(message.knitted);
        return;
      case 'failed':
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
