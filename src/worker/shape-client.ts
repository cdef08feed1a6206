/** The page's way to yarn as a file: one at a time, in a worker that ends with it. */
import { JobClient, type WorkerPort } from './job-client.ts';
import type { ShapeAnswer, ShapeRequest } from './shape-messages.ts';
import { watchWorker, workerName } from './watched-worker.ts';

export interface ShapeListener {
  readonly onDone: (file: Uint8Array<ArrayBuffer>) => void;
  /** Words for the user. */
  readonly onFailed: (message: string) => void;
}

export class ShapeClient {
  private readonly client = new JobClient<ShapeRequest, ShapeAnswer>(
    startShapeWorker,
    'Writing the yarn',
  );

  write(shape: Omit<ShapeRequest, 'job'>, listener: ShapeListener): void {
    this.client.close();
    this.client.start((job) => ({ ...shape, job }), {
      receive: (answer) => {
        this.client.close();
        if (answer.type === 'shape') listener.onDone(answer.file);
        else listener.onFailed(answer.message);
      },
      fail: listener.onFailed,
    });
  }
}

function startShapeWorker(): WorkerPort<ShapeRequest, ShapeAnswer> {
  const worker = new Worker(new URL('./shape-entry.ts', import.meta.url), {
    type: 'module',
    name: workerName('shape'),
  });
  return Object.assign(worker, { gone: watchWorker(worker) });
}
