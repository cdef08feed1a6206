/**
 * The page's side of the worker: one job at a time, the newest wins.
 *
 * A new job stops the running one: through a shared flag where the page is isolated, otherwise by
 * ending the worker and starting another. Answers to older jobs are dropped here, so listeners only
 * ever hear of the job they started.
 */
import type {
  FromWorker,
  KnittedSheet,
  LaidSheet,
  Previous,
  Progress,
  ToWorker,
} from './messages.ts';

export interface KnitListener {
  readonly onLaidOut?: (laid: LaidSheet) => void;
  readonly onProgress?: (message: Progress) => void;
  readonly onDone: (knitted: KnittedSheet) => void;
  /** Words for the user. The page's own state stays as it was. */
  readonly onFailed: (message: string) => void;
}

/** The part of `Worker` that the client needs; tests bring their own. */
export interface WorkerLike {
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: ToWorker): void;
  terminate(): void;
}

export class KnitClient {
  private worker: WorkerLike | null = null;
  private job = 0;
  private running = false;
  private listener: KnitListener | null = null;
  private readonly stopFlag: Int32Array | null;

  constructor(private readonly startWorker: () => WorkerLike = startKnitWorker) {
    this.stopFlag =
      typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated
        ? new Int32Array(new SharedArrayBuffer(4))
        : null;
  }

  /** Starts a job and stops the one before it. */
  knit(text: string, previous: Previous | null, listener: KnitListener): void {
    this.stop();
    this.listener = listener;
    this.running = true;
    this.job++;
    this.workerAtHand().postMessage({
      type: 'knit',
      job: this.job,
      text,
      previous,
      stopFlag: this.stopFlag,
    });
  }

  /** Stops the running job; its listener hears nothing more. */
  stop(): void {
    this.listener = null;
    if (!this.running) return;
    this.running = false;
    if (this.stopFlag) Atomics.store(this.stopFlag, 0, this.job);
    else this.endWorker();
  }

  /** Lets the running job finish where it is: its listener gets the state so far, if it can be had. */
  finishEarly(): boolean {
    if (!this.running || !this.stopFlag) return false;
    Atomics.store(this.stopFlag, 0, this.job);
    return true;
  }

  close(): void {
    this.stop();
    this.endWorker();
  }

  private endWorker(): void {
    this.worker?.terminate();
    this.worker = null;
  }

  private workerAtHand(): WorkerLike {
    if (this.worker) return this.worker;
    const worker = this.startWorker();
    worker.onmessage = ({ data }) => this.receive(data);
    worker.onerror = (event) => {
      event.preventDefault?.();
      const { listener } = this;
      this.running = false;
      this.listener = null;
      this.endWorker();
      listener?.onFailed(
        `The calculation stopped unexpectedly${event.message ? ` (${event.message})` : ''}. Your plan is untouched.`,
      );
    };
    this.worker = worker;
    return worker;
  }

  private receive(message: FromWorker): void {
    if (message.job !== this.job || !this.listener) return;
    const { listener } = this;
    switch (message.type) {
      case 'laid-out':
        listener.onLaidOut?.(message.laid);
        return;
      case 'progress':
        listener.onProgress?.(message);
        return;
      case 'done':
        this.running = false;
        this.listener = null;
        listener.onDone(message.knitted);
        return;
      case 'failed':
        this.running = false;
        this.listener = null;
        listener.onFailed(message.message);
        return;
    }
  }
}

export function startKnitWorker(): WorkerLike {
  return new Worker(new URL('./entry.ts', import.meta.url), {
    type: 'module',
    name: 'relaxing',
  }) as WorkerLike;
}
