/**
 * The page's side of a worker: one job at a time, the newest wins; answers to older jobs are dropped.
 * A worker that cannot start or dies is started once more with the same job; if that fails too, the listener is told.
 * In: requests with a job number; out: the worker's messages about the running job.
 */

/** The part of `Worker` that a client needs; tests bring their own. */
export interface WorkerPort<To, From> {
  onmessage: ((event: MessageEvent<From>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: To): void;
  terminate(): void;
  /** Resolves when the worker is gone without a word, where the browser can tell; see `watchWorker`. */
  readonly gone?: Promise<string>;
}

export interface JobListener<From> {
  receive(message: From): void;
  /** Words for the user. The page's own state stays as it was. */
  fail(message: string): void;
}

interface Job<To, From> {
  readonly request: To;
  readonly listener: JobListener<From>;
  /** Times that a worker was lost over it. */
  losses: number;
}

/** A worker is started so often for one job. Chosen: a second start mends a chance failure; a third would hide a fault. */
const MOST_LOSSES = 2;

export class JobClient<To extends { readonly job: number }, From extends { readonly job: number }> {
  private worker: WorkerPort<To, From> | null = null;
  private running: Job<To, From> | null = null;
  private number = 0;

  /** `what`: the work in the words of the message to the user, e.g. `Relaxing the fabric`. */
  constructor(
    private readonly startWorker: () => WorkerPort<To, From>,
    private readonly what: string,
  ) {}

  /** The number of the job that was started last. */
  get job(): number {
    return this.number;
  }

  get busy(): boolean {
    return this.running !== null;
  }

  /** Starts the worker before there is a job: loading its program takes a while. */
  getReady(): void {
    try {
      this.worker ??= this.begin();
    } catch {
      // The first job says why there is none.
    }
  }

  /** Starts a job; whoever waits for an older one hears nothing more. */
  start(request: (job: number) => To, listener: JobListener<From>): void {
    this.number++;
    this.running = { request: request(this.number), listener, losses: 0 };
    this.send();
  }

  /** The running job is done, or nobody waits for it any more; its worker stays. */
  end(): void {
    this.running = null;
  }

  /** Ends the worker, and with it whatever it is at. */
  close(): void {
    this.running = null;
    this.endWorker();
  }

  private endWorker(): void {
    const { worker } = this;
    this.worker = null;
    if (!worker) return;
    worker.onmessage = null;
    worker.onerror = null;
    worker.terminate();
  }

  private send(): void {
    const { running } = this;
    if (!running) return;
    try {
      this.worker ??= this.begin();
      this.worker.postMessage(running.request);
    } catch (error) {
      this.lose(error instanceof Error ? error.message : String(error));
    }
  }

  private begin(): WorkerPort<To, From> {
    const worker = this.startWorker();
    worker.onmessage = ({ data }) => {
      // A worker also says things of its own that belong to no job.
      const { running } = this;
      if (running && data.job === running.request.job) running.listener.receive(data);
    };
    worker.onerror = (event) => {
      event.preventDefault?.();
      if (worker === this.worker) this.lose(event.message ?? '');
    };
    void worker.gone?.then((reason) => {
      if (worker === this.worker) this.lose(reason);
    });
    return worker;
  }

  private lose(reason: string): void {
    const { running } = this;
    this.endWorker();
    if (!running) return;
    running.losses++;
    if (running.losses < MOST_LOSSES) {
      this.send();
      return;
    }
    this.running = null;
    const short = reason.length > 120 ? `${reason.slice(0, 119)}…` : reason;
    running.listener.fail(
      `${this.what} stopped unexpectedly, twice${short ? ` (${short})` : ''}. Your plan is untouched.`,
    );
  }
}
