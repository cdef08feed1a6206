/** The worker itself: hands each request to `runJob` or `runDraft`. Runs one job at a time. */
import type { FromWorker, ToWorker } from './messages.ts';
import { runDraft, runJob } from './run-job.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  const surroundings = {
    post: (message: FromWorker, transfer: Transferable[] = []) =>
      scope.postMessage(message, transfer),
    clock: () => performance.now(),
  };
  if (data.type === 'draft') runDraft(data, surroundings);
  else runJob(data, surroundings);
};
