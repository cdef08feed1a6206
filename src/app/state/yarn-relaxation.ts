/**
 * Brings the yarn of the fabric on the table to rest: in a worker of its own, seen moving, stopped where it is
 * when asked, dropped when the fabric changes. Goes on while another tab of the page is looked at.
 */
import { type RestRecord, restInShort } from '../../paper/pattern/yarn-rest-words.ts';
import { lineUp, moveLines } from '../../view/yarn/yarn-lines.ts';
import { YarnClient } from '../../worker/yarn-client.ts';
import { REST_FORCE } from '../../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import { PictureGate } from './frame-throttle.ts';
import { page } from './page-store.ts';
import { RelaxProgress } from './relax-progress.ts';
import { type SheetStrands, useStrands } from './yarn-store.ts';

const client = new YarnClient();

/** Pictures of moving yarn follow each other no faster for who wants little motion. Chosen. */
const STILL_PAUSE_MS = 1000;
let shownAt = Number.NEGATIVE_INFINITY;
/** The newest that was told, shown or not: what a stop keeps. */
let newest: { points: Float32Array; residual: number; step: number } | null = null;

const pictures = new PictureGate<Float32Array>((points) => {
  const { yarn, rest } = useStrands.getState();
  if (!yarn || rest.state !== 'coming') return;
  shownAt = performance.now();
  const curves = { ...yarn.laid, points };
  useStrands.setState({ yarn: { ...yarn, curves, lines: moveLines(yarn.lines, curves) } });
});

/** From where it was laid, also after a stop. */
export function bringToRest(): void {
  const { yarn } = useStrands.getState();
  const { laid } = page.get();
  if (!yarn || !laid || !lies(yarn)) return;
  abandon();
  const progress = new RelaxProgress(REST_FORCE);
  useStrands.setState({ rest: { state: 'coming', step: 0, residual: Number.NaN, share: 0 } });
  page.set({ announcement: 'The yarn is coming to rest.' });
  client.rest(laid.graph, yarn.laid, {
    onProgress: (step, residual, points) => {
      const { share } = progress.next(residual);
      newest = { points, residual, step };
      useStrands.setState({ rest: { state: 'coming', step, residual, share } });
      const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
      if (!still || performance.now() - shownAt >= STILL_PAUSE_MS) pictures.offer(points);
    },
    onDone: finish,
    onFailed: fail,
  });
}

/** Stops where it is: the yarn stays as it was last told, measured and checked. */
export function stopComing(): void {
  const { yarn, rest } = useStrands.getState();
  const { laid } = page.get();
  if (!yarn || !laid || rest.state !== 'coming') return;
  const kept = newest;
  abandon();
  if (!kept) {
    layBack();
    return;
  }
  useStrands.setState({ rest: { state: 'looking' } });
  const { residual, step } = kept;
  client.lookAt(laid.graph, yarn.laid, kept.points, {
    onDone: (curves) =>
      finish(curves, { converged: false, reason: 'cancelled', residual, iterations: step }),
    onFailed: fail,
  });
}

/** Shows the yarn as it was laid again. */
export function layBack(): void {
  abandon();
  const { yarn } = useStrands.getState();
  if (!yarn) return;
  show(yarn, yarn.laid);
  useStrands.setState({ rest: { state: 'laid' } });
}

/** Yarn at rest, or stopped on its way there, of the fabric on the table; null where it is as it was laid. */
export function restedCurves(): YarnCurves | null {
  const { yarn, rest } = useStrands.getState();
  return yarn && rest.state === 'done' && lies(yarn) ? yarn.curves : null;
}

function finish(curves: YarnCurves, record: RestRecord): void {
  const { yarn } = useStrands.getState();
  pictures.clear();
  newest = null;
  if (!yarn) return;
  show(yarn, curves);
  useStrands.setState({ rest: { state: 'done', record } });
  page.set({ announcement: restInShort(record, curves) });
}

function fail(message: string): void {
  layBack();
  useStrands.setState({ rest: { state: 'trouble', message } });
  page.set({ announcement: message });
}

function show(yarn: SheetStrands, curves: YarnCurves): void {
  useStrands.setState({ yarn: { ...yarn, curves, lines: lineUp(curves) } });
}

function abandon(): void {
  client.stop();
  pictures.clear();
  newest = null;
  shownAt = Number.NEGATIVE_INFINITY;
}

function lies({ on }: SheetStrands): boolean {
  return on === page.get().positions;
}

// Another plan, or the same one relaxing anew: its yarn is of no use any more.
page.subscribe(({ positions }, before) => {
  if (positions === before.positions) return;
  const { yarn, rest } = useStrands.getState();
  if (!yarn || yarn.on === positions || rest.state === 'laid') return;
  abandon();
  useStrands.setState({ rest: { state: 'laid' }, yarn: null });
});
