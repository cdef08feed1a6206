/**
 * The page's way to a draft, or to a plan at another size: asks the worker, drops answers to wishes that
 * have changed since, and starts a fresh worker where the old one is still busy with them.
 */
import type { GradeSpec } from '../draft/rework/grade-spec.ts';
import type { SpecInput } from '../draft/spec/draft-spec.ts';
import type { DraftTrial, MeasuredDraft, MeasuredGrade } from '../knit.ts';
import { startKnitWorker, type WorkerLike } from './client.ts';
import { JobClient, type JobListener } from './job-client.ts';
import type { FromWorker, ToWorker } from './messages.ts';

export interface DraftListener<Product> {
  readonly onDone: (product: Product) => void;
  /** What is being tried, a few times a second. */
  readonly onTrial?: (trial: DraftTrial) => void;
  /** Words for the user: which wish cannot be met, and its limits. */
  readonly onFailed: (message: string) => void;
}

export interface GradeListener extends DraftListener<readonly MeasuredGrade[]> {
  /** The first of them, while the others are made. */
  readonly onSome?: (graded: readonly MeasuredGrade[]) => void;
}

export class DraftClient {
  private readonly client: JobClient<ToWorker, FromWorker>;

  constructor(startWorker: () => WorkerLike = startKnitWorker) {
    this.client = new JobClient(startWorker, 'The draft');
  }

  draft(spec: SpecInput, listener: DraftListener<MeasuredDraft>): void {
    this.ask((job) => ({ type: 'draft', job, spec }), {
      receive: (message) => {
        if (message.type === 'drafting') listener.onTrial?.(message.trial);
        else if (message.type === 'drafted') listener.onDone(message.draft);
      },
      fail: listener.onFailed,
    });
  }

  /** One plan at every size of one text. */
  grade(text: string, specs: readonly GradeSpec[], listener: GradeListener): void {
    this.ask((job) => ({ type: 'grade', job, text, specs }), {
      receive: (message) => {
        if (message.type === 'drafting') listener.onTrial?.(message.trial);
        if (message.type !== 'graded') return;
        if (message.done) listener.onDone(message.graded);
        else listener.onSome?.(message.graded);
      },
      fail: listener.onFailed,
    });
  }

  /** Nobody waits for the running job any more; its listener hears nothing. */
  stop(): void {
    if (this.client.busy) this.client.close();
  }

  close(): void {
    this.client.close();
  }

  private ask(request: (job: number) => ToWorker, listener: JobListener<FromWorker>): void {
    // A draft cannot be stopped half-way: its worker is ended.
    this.stop();
    this.client.start(request, {
      receive: (message) => {
        if (isLast(message)) this.client.end();
        if (message.type === 'failed') listener.fail(message.message);
        else listener.receive(message);
      },
      fail: listener.fail,
    });
  }
}

function isLast(message: FromWorker): boolean {
  return message.type !== 'drafting' && (message.type !== 'graded' || message.done);
}
