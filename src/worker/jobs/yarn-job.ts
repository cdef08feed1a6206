/**
 * One yarn job: lays yarn on a sheet, brings it or a place of it to rest and measures it, told through `post`.
 * Runs in the worker, and in tests without one.
 */
import { layYarn } from '../../yarn/lay/lay-yarn.ts';
import { movedYarn, relaxYarn } from '../../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import type {
  CloseUp,
  CloseUpAsked,
  FromYarnWorker,
  RestRequest,
  ToYarnWorker,
} from '../yarn-messages.ts';
import { showCable } from './close-up-cable.ts';
import { type Beginning, type Watch, YarnTrouble } from './close-up-frame.ts';
import { showJoin } from './close-up-join.ts';
import { showNeedles } from './close-up-needles.ts';
import { showStitch } from './close-up-stitch.ts';

export interface YarnSurroundings {
  readonly post: (message: FromYarnWorker, transfer?: Transferable[]) => void;
  /** Milliseconds from any origin. */
  readonly clock: () => number;
}

/** Ten times a second: the yarn moves, and numbers that change faster cannot be read. Chosen. */
const TELL_EVERY_MS = 100;
/** The whole piece takes longer to draw, and its yarn moves less. Chosen. */
const TELL_WHOLE_EVERY_MS = 300;
/** The first steps move the yarn most, and a small piece is at rest before the first third of a second. Chosen. */
const TELL_EACH_STEP_UNTIL = 4;

export function runYarnJob(request: ToYarnWorker, { post, clock }: YarnSurroundings): void {
  const { job } = request;
  try {
    if (request.type === 'lay') {
      const { graph, cells, positions } = request.sheet;
      const { segmentsPerStitch } = request;
      const curves = layYarn(graph, cells, positions, { segmentsPerStitch });
      post({ type: 'laid', job, curves }, buffersOfYarn(curves));
      return;
    }
    if (request.type === 'rest') {
      bringToRest(request, { post, clock });
      return;
    }
    if (request.type === 'look') {
      const curves = movedYarn(request.curves, request.graph, request.points);
      post({ type: 'looked-at', job, curves }, buffersOfYarn(curves));
      return;
    }
    let step = 0;
    let toldAt = Number.NEGATIVE_INFINITY;
    const start: Beginning = {
      base: request.base,
      keep: (base) => post({ type: 'base', job, base }),
    };
    const watch: Watch = (residual, picture) => {
      step++;
      const now = clock();
      if (now - toldAt >= TELL_EVERY_MS) {
        toldAt = now;
        const moving = picture();
        post({ type: 'settling', job, step, residual, moving }, buffersOf(moving));
      }
      return undefined;
    };
    const closeUp = show(request.asked, watch, start);
    post({ type: 'shown', job, closeUp }, buffersOf(closeUp));
  } catch (error) {
    post({ type: 'yarn-failed', job, message: troubleWords(error) });
  }
}

function bringToRest({ job, graph, curves: laid }: RestRequest, { post, clock }: YarnSurroundings) {
  let toldAt = Number.NEGATIVE_INFINITY;
  let tellAtStep = 0;
  const { curves, relaxation } = relaxYarn(laid, graph, {
    onProgress: (residual, step, pointsNow) => {
      const now = clock();
      if (step >= tellAtStep || now - toldAt >= TELL_WHOLE_EVERY_MS) {
        toldAt = now;
        tellAtStep = step < TELL_EACH_STEP_UNTIL ? step + 1 : 2 * step;
        const points = pointsNow();
        post({ type: 'coming', job, step, residual, points }, [points.buffer as ArrayBuffer]);
      }
      return undefined;
    },
  });
  post({ type: 'rested', job, curves, relaxation }, buffersOfYarn(curves));
}

function buffersOfYarn({ points, loop }: YarnCurves): Transferable[] {
  return [points.buffer, loop.buffer] as ArrayBuffer[];
}

function show(asked: CloseUpAsked, onProgress: Watch, start: Beginning): CloseUp {
  switch (asked.place) {
    case 'join':
      return showJoin(asked, onProgress, start);
    case 'needles':
      return showNeedles(asked, onProgress);
    case 'cable':
      return showCable(asked, onProgress, start);
    case 'stitch':
      return showStitch(asked.sheet, asked.loop, onProgress);
  }
}

function buffersOf({ points, strandStart, told }: CloseUp): Transferable[] {
  return [points.buffer, strandStart.buffer, told.buffer] as ArrayBuffer[];
}

function troubleWords(error: unknown): string {
  const reason = error instanceof Error ? error.message : String(error);
  if (error instanceof YarnTrouble) return reason;
  if (error instanceof RangeError && !/memory|allocation|array length/i.test(reason)) {
    return `That cannot be knitted: ${reason}.`;
  }
  return `The yarn could not be worked out: ${reason}`;
}
