/** The page's way to a piece pinned out flat: one at a time, in a worker that ends with it. */
import type { Metric } from '../gauge/metric.ts';
import { JobClient, type WorkerPort } from './job-client.ts';
import type { PressAnswer, PressRequest } from './press-messages.ts';
import { watchWorker, workerName } from './watched-worker.ts';

export interface PressListener {
  readonly onDone: (positions: Float64Array) => void;
  /** Words for the user. */
  readonly onFailed: (message: string) => void;
}

export class PressClient {
  private readonly client = new JobClient<PressRequest, PressAnswer>(
    startPressWorker,
    'Pinning the piece out',
  );

  press(metric: Metric, listener: PressListener): void {
    this.client.start((job) => ({ job, metric }), {
      receive: (answer) => {
        this.client.close();
        if (answer.type === 'pressed') listener.onDone(answer.positions);
        else listener.onFailed(answer.message);
      },
      fail: listener.onFailed,
    });
  }

  stop(): void {
    this.client.close();
  }
}

function startPressWorker(): WorkerPort<PressRequest, PressAnswer> {
  const worker = new Worker(new URL('./press-entry.ts', import.meta.url), {
    type: 'module',
    name: workerName('pinning'),
  });
  return Object.assign(worker, { gone: watchWorker(worker) });
}
