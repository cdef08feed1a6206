/** The worker that writes yarn as a file. */
import { makeShape } from './jobs/shape-job.ts';
import type { ShapeRequest } from './shape-messages.ts';
import { holdLife } from './watched-worker.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data }: MessageEvent<ShapeRequest>) => {
  const answer = makeShape(data);
  scope.postMessage(answer, answer.type === 'shape' ? [answer.file.buffer] : []);
};

holdLife(scope);
