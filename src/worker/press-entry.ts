/** The worker that pins a piece out flat. */
import { pressSheet } from '../relax/flatness/press-sheet.ts';
import type { PressAnswer, PressRequest } from './press-messages.ts';
import { holdLife } from './watched-worker.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.onmessage = ({ data: { job, metric } }: MessageEvent<PressRequest>) => {
  const answer = press(job, metric);
  scope.postMessage(answer, answer.type === 'pressed' ? [answer.positions.buffer] : []);
};

function press(job: number, metric: PressRequest['metric']): PressAnswer {
  const { positions, converged } = pressSheet(metric, undefined, true);
  if (!converged || !positions.every(Number.isFinite)) {
    return {
      type: 'press-failed',
      job,
      message: 'Pinned out flat, the piece did not come to rest.',
    };
  }
  return { type: 'pressed', job, positions: Float64Array.from(positions) };
}

holdLife(scope);
