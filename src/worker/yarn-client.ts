/**
 * The page's way to yarn: one job at a time, the newest wins. A job that is no longer wanted is ended
 * with its worker; the next one starts another.
 */

import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { YarnRelaxation } from '../rod/yarn-material.ts';
import type { YarnCurves } from '../yarn/yarn-curves.ts';
import { JobClient, type JobListener, type WorkerPort } from './job-client.ts';
import { watchWorker, workerName } from './watched-worker.ts';
import type {
  CloseUp,
  CloseUpAsked,
  CloseUpBase,
  FromYarnWorker,
  SheetAtRest,
  ToYarnWorker,
} from './yarn-messages.ts';

export interface YarnListener<Product> {
  readonly onDone: (product: Product) => void;
  /** `moving`: a close-up as it is at this step. */
  readonly onProgress?: (step: number, residual: number, moving: CloseUp) => void;
  /** Words for the user. */
  readonly onFailed: (message: string) => void;
}

export interface RestListener {
  /** `points`: all the yarn at this step, mm. */
  readonly onProgress: (step: number, residual: number, points: Float32Array) => void;
  readonly onDone: (curves: YarnCurves, relaxation: YarnRelaxation) => void;
  readonly onFailed: (message: string) => void;
}

export type YarnWorkerLike = WorkerPort<ToYarnWorker, FromYarnWorker>;

export class YarnClient {
  private readonly client: JobClient<ToYarnWorker, FromYarnWorker>;
  /** Outlives its worker, which ends when another setting is asked for before the first is at rest. */
  private base: CloseUpBase | null = null;

  constructor(startWorker: () => YarnWorkerLike = startYarnWorker) {
    this.client = new JobClient(startWorker, 'Working out the yarn');
  }

  lay(sheet: SheetAtRest, segmentsPerStitch: number, listener: YarnListener<YarnCurves>): void {
    this.ask((job) => ({ type: 'lay', job, sheet, segmentsPerStitch }), {
      receive: (message) => {
        if (message.type === 'laid') this.end(() => listener.onDone(message.curves));
        else if (message.type === 'yarn-failed') this.end(() => listener.onFailed(message.message));
      },
      fail: listener.onFailed,
    });
  }

  closeUp(asked: CloseUpAsked, listener: YarnListener<CloseUp>): void {
    const { base } = this;
    this.ask((job) => ({ type: 'close-up', job, asked, base }), {
      receive: (message) => {
        if (message.type === 'base') this.base = message.base;
        else if (message.type === 'settling') {
          listener.onProgress?.(message.step, message.residual, message.moving);
        } else if (message.type === 'shown') this.end(() => listener.onDone(message.closeUp));
        else if (message.type === 'yarn-failed') this.end(() => listener.onFailed(message.message));
      },
      fail: listener.onFailed,
    });
  }

  /** Brings all the yarn of a piece to rest, from where it was laid. */
  rest(graph: StitchGraph, curves: YarnCurves, listener: RestListener): void {
    this.ask((job) => ({ type: 'rest', job, graph, curves }), {
      receive: (message) => {
        if (message.type === 'coming') {
          listener.onProgress(message.step, message.residual, message.points);
        } else if (message.type === 'rested') {
          this.end(() => listener.onDone(message.curves, message.relaxation));
        } else if (message.type === 'yarn-failed') {
          this.end(() => listener.onFailed(message.message));
        }
      },
      fail: listener.onFailed,
    });
  }

  /** Measures and checks yarn that was stopped on its way. */
  lookAt(
    graph: StitchGraph,
    curves: YarnCurves,
    points: Float32Array,
    listener: YarnListener<YarnCurves>,
  ): void {
    this.ask((job) => ({ type: 'look', job, graph, curves, points }), {
      receive: (message) => {
        if (message.type === 'looked-at') this.end(() => listener.onDone(message.curves));
        else if (message.type === 'yarn-failed') this.end(() => listener.onFailed(message.message));
      },
      fail: listener.onFailed,
    });
  }

  /** Stops the running job; its listener hears nothing more. */
  stop(): void {
    if (this.client.busy) this.client.close();
  }

  close(): void {
    this.client.close();
  }

  private ask(request: (job: number) => ToYarnWorker, listener: JobListener<FromYarnWorker>): void {
    this.stop();
    this.client.start(request, listener);
  }

  private end(tell: () => void): void {
    this.client.end();
    tell();
  }
}

function startYarnWorker(): YarnWorkerLike {
  const worker = new Worker(new URL('./yarn-entry.ts', import.meta.url), {
    type: 'module',
    name: workerName('yarn'),
  });
  return Object.assign(worker, { gone: watchWorker(worker) });
}
