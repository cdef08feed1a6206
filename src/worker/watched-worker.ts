/**
 * Starting a worker so that its end is noticed: a killed worker sends no event, but lets go of the Web Lock it holds.
 * In: the worker and its name; out: the same with `gone`. In the worker: `holdLife`, called by every entry.
 */

const LOCK = 'lieflat-worker-';
/** A worker whose program cannot be had says so by an error; one that says nothing for so long is not there. Chosen. */
const START_LIMIT_MS = 60_000;

/** Told by a worker once its program runs; `name` is that of the lock it holds from then on. */
export interface WorkerReady {
  readonly type: 'worker-ready';
  readonly name: string;
}

let started = 0;

/** A name for one worker alone, for `new Worker(…, { name })`. */
export function workerName(what: string): string {
  started++;
  return `${what}-${started}-${Math.trunc(performance.timeOrigin + performance.now())}`;
}

/** Resolves, with words, when the worker is gone or never came. */
export function watchWorker(worker: Worker): Promise<string> {
  return new Promise((resolve) => {
    const late = setTimeout(() => resolve('it did not start'), START_LIMIT_MS);
    worker.addEventListener('message', function hear({ data }: MessageEvent<Partial<WorkerReady>>) {
      if (data?.type !== 'worker-ready' || !data.name) return;
      worker.removeEventListener('message', hear);
      clearTimeout(late);
      // Granted as soon as the worker no longer holds it.
      void navigator.locks?.request(data.name, () => resolve('it was ended'));
    });
  });
}

/** In the worker: holds its lock for life and says that it is there. */
export function holdLife(scope: DedicatedWorkerGlobalScope): void {
  const name = LOCK + scope.name;
  const tell = () => scope.postMessage({ type: 'worker-ready', name } satisfies WorkerReady);
  if (!navigator.locks) {
    tell();
    return;
  }
  void navigator.locks.request(name, () => {
    tell();
    return new Promise<never>(() => {});
  });
}
