/**
 * One yarn job: lays yarn on a sheet, or brings a place to rest and measures it, told through `post`.
 * Runs in the worker, and in tests without one.
 */
import { layYarn } from '../yarn/lay-yarn.ts';
import { showCable, showJoin, showNeedles, YarnTrouble } from './close-up-patch.ts';
import { showStitch } from './close-up-stitch.ts';
import type { CloseUp, CloseUpAsked, FromYarnWorker, ToYarnWorker } from './yarn-messages.ts';

export interface YarnSurroundings {
  readonly post: (message: FromYarnWorker, transfer?: Transferable[]) => void;
  /** Milliseconds from any origin. */
  readonly clock: () => number;
}

/** Ten times a second: numbers that change faster cannot be read. Chosen. */
const TELL_EVERY_MS = 100;

export function runYarnJob(request: ToYarnWorker, { post, clock }: YarnSurroundings): void {
  const { job } = request;
  try {
    if (request.type === 'lay') {
      const { graph, cells, positions } = request.sheet;
      const { segmentsPerStitch } = request;
      const curves = layYarn(graph, cells, positions, { segmentsPerStitch });
      post({ type: 'laid', job, curves }, [
        curves.points.buffer as ArrayBuffer,
        curves.loop.buffer as ArrayBuffer,
      ]);
      return;
    }
    let step = 0;
    let toldAt = Number.NEGATIVE_INFINITY;
    const closeUp = show(request.asked, (residual) => {
      step++;
      const now = clock();
      if (now - toldAt >= TELL_EVERY_MS) {
        toldAt = now;
        post({ type: 'settling', job, step, residual });
      }
      return undefined;
    });
    post({ type: 'shown', job, closeUp }, [closeUp.points.buffer as ArrayBuffer]);
  } catch (error) {
    post({ type: 'yarn-failed', job, message: troubleWords(error) });
  }
}

function show(asked: CloseUpAsked, onProgress: (residual: number) => boolean | undefined): CloseUp {
  switch (asked.place) {
    case 'join':
      return showJoin(asked, onProgress);
    case 'needles':
      return showNeedles(asked, onProgress);
    case 'cable':
      return showCable(asked, onProgress);
    case 'stitch':
      return showStitch(asked.sheet, asked.loop, onProgress);
  }
}

function troubleWords(error: unknown): string {
  const reason = error instanceof Error ? error.message : String(error);
  if (error instanceof YarnTrouble) return reason;
  if (error instanceof RangeError && !/memory|allocation|array length/i.test(reason)) {
    return `That cannot be knitted: ${reason}.`;
  }
  return `The yarn could not be worked out: ${reason}`;
}
