/** The yarn worker itself: hands each request to `runYarnJob`. Runs one job at a time. */
import { runYarnJob } from './jobs/yarn-job.ts';
import { holdLife } from './watched-worker.ts';
import type { FromYarnWorker, ToYarnWorker } from './yarn-messages.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data }: MessageEvent<ToYarnWorker>) => {
  runYarnJob(data, {
    post: (message: FromYarnWorker, transfer: Transferable[] = []) =>
      scope.postMessage(message, transfer),
    clock: () => performance.now(),
  });
};

holdLife(scope);
