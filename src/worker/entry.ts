/** The worker itself: hands each request to `runJob`. Runs one job at a time. */
import type { FromWorker, KnitRequest } from './messages.ts';
import { runJob } from './run-job.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data }: MessageEvent<KnitRequest>) => {
  runJob(data, {
    post: (message: FromWorker, transfer: Transferable[] = []) =>
      scope.postMessage(message, transfer),
    clock: () => performance.now(),
  });
};
