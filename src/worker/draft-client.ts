/**
 * The page's way to a draft: asks the worker, drops answers to wishes that have changed since, and
 * starts a fresh worker where the old one is still busy with them.
 */
import type { Draft } from '../draft/draft.ts';
import type { WishesAsked } from '../draft/wishes.ts';
import { startKnitWorker, type WorkerLike } from './client.ts';

export interface DraftListener {
  readonly onDone: (draft: Draft) => void;
  /** Words for the user: which wish cannot be met, and its limits. */
  readonly onFailed: (message: string) => void;
}

export class DraftClient {
  private worker: WorkerLike | null = null;
  private job = 0;
  private listener: DraftListener | null = null;

  constructor(private readonly startWorker: () => WorkerLike = startKnitWorker) {}

  draft(wishes: WishesAsked, listener: DraftListener): void {
    // A draft cannot be stopped half-way; nobody waits for the old one any more.
    if (this.listener) this.close();
    this.listener = listener;
    this.job++;
    this.worker ??= this.start();
    this.worker.postMessage({ type: 'draft', job: this.job, wishes });
  }

  close(): void {
    this.listener = null;
    this.worker?.terminate();
    this.worker = null;
  }

  private start(): WorkerLike {
    const worker = this.startWorker();
    worker.onmessage = ({ data }) => {
      const { listener } = this;
      if (data.job !== this.job || !listener) return;
      this.listener = null;
      if (data.type === 'drafted') listener.onDone(data.draft);
      else if (data.type === 'failed') listener.onFailed(data.message);
    };
    worker.onerror = (event) => {
      event.preventDefault?.();
      const { listener } = this;
      this.close();
      listener?.onFailed('The draft stopped unexpectedly. Your plan is untouched.');
    };
    return worker;
  }
}
