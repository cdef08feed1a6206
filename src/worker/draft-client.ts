/**
 * The page's way to a draft, or to a plan at another size: asks the worker, drops answers to wishes that
 * have changed since, and starts a fresh worker where the old one is still busy with them.
 */
import type { Draft } from '../draft/draft.ts';
import type { GradeSpec } from '../draft/rework/grade.ts';
import type { SpecInput } from '../draft/spec/draft-spec.ts';
import type { DraftTrial, MeasuredGrade } from '../knit.ts';
import { startKnitWorker, type WorkerLike } from './client.ts';
import type { FromWorker, ToWorker } from './messages.ts';

export interface DraftListener<Product> {
  readonly onDone: (product: Product) => void;
  /** What is being tried, a few times a second. */
  readonly onTrial?: (trial: DraftTrial) => void;
  /** Words for the user: which wish cannot be met, and its limits. */
  readonly onFailed: (message: string) => void;
}

interface Waiting {
  receive(message: FromWorker): void;
  fail(message: string): void;
}

export class DraftClient {
  private worker: WorkerLike | null = null;
  private job = 0;
  private waiting: Waiting | null = null;

  constructor(private readonly startWorker: () => WorkerLike = startKnitWorker) {}

  draft(spec: SpecInput, listener: DraftListener<Draft>): void {
    this.ask((job) => ({ type: 'draft', job, spec }), {
      receive: (message) => {
        if (message.type === 'drafting') listener.onTrial?.(message.trial);
        else if (message.type === 'drafted') listener.onDone(message.draft);
      },
      fail: listener.onFailed,
    });
  }

  grade(text: string, spec: GradeSpec, listener: DraftListener<MeasuredGrade>): void {
    this.ask((job) => ({ type: 'grade', job, text, spec }), {
      receive: (message) => {
        if (message.type === 'graded') listener.onDone(message.graded);
      },
      fail: listener.onFailed,
    });
  }

  /** Nobody waits for the running job any more; its listener hears nothing. */
  stop(): void {
    if (this.waiting) this.close();
  }

  close(): void {
    this.waiting = null;
    this.worker?.terminate();
    this.worker = null;
  }

  private ask(request: (job: number) => ToWorker, waiting: Waiting): void {
    // A draft cannot be stopped half-way: its worker is ended.
    this.stop();
    this.waiting = waiting;
    this.job++;
    this.worker ??= this.start();
    this.worker.postMessage(request(this.job));
  }

  private start(): WorkerLike {
    const worker = this.startWorker();
    worker.onmessage = ({ data }) => {
      const { waiting } = this;
      if (data.job !== this.job || !waiting) return;
      if (data.type !== 'drafting') this.waiting = null;
      if (data.type === 'failed') waiting.fail(data.message);
      else waiting.receive(data);
    };
    worker.onerror = (event) => {
      event.preventDefault?.();
      const { waiting } = this;
      this.close();
      waiting?.fail('The draft stopped unexpectedly. Your plan is untouched.');
    };
    return worker;
  }
}
