/** The worker itself: hands each request to `runJob`, `runDraft` or `runGrade`. Runs one job at a time. */

import { runDraft, runGrade, runJob } from './jobs/knit-job.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { holdLife } from './watched-worker.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  const surroundings = {
    post: (message: FromWorker, transfer: Transferable[] = []) =>
      scope.postMessage(message, transfer),
    clock: () => performance.now(),
  };
  if (data.type === 'draft') runDraft(data, surroundings);
  else if (data.type === 'grade') runGrade(data, surroundings);
  else runJob(data, surroundings);
};

holdLife(scope);
