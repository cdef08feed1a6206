/**
 * Works out what a lesson shows, one piece after the other, and keeps it. In: the pictures wanted now, the most
 * wanted first. Out: what was found for each, the piece that is moving, and how far it is.
 */
import { create } from 'zustand';
import { KnitClient } from '../../worker/client.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import { YarnClient } from '../../worker/yarn-client.ts';
import { RelaxProgress } from '../state/relax-progress.ts';
import { edgesLinked } from './edges-linked.ts';
import { type Band, type Found, type Shown, sceneKey } from './lesson.ts';

interface LessonWork {
  readonly found: ReadonlyMap<string, Found>;
  readonly failed: ReadonlyMap<string, string>;
  /** The picture that is being worked out, and the last it looked like. */
  readonly working: string | null;
  readonly moving: Found | null;
  /** Of the way, 0 … 1; null where it is not known. */
  readonly share: number | null;
  readonly stopped: boolean;
}

export const useLessonWork = create<LessonWork>(() => ({
  found: new Map(),
  failed: new Map(),
  working: null,
  moving: null,
  share: null,
  stopped: false,
}));

const get = useLessonWork.getState;
const set = useLessonWork.setState;

/** Pictures kept: some megabytes each. Chosen. */
const MOST_KEPT = 40;
/** A slider moves on within this pause. Chosen. */
const PAUSE_MS = 300;

const knitClient = new KnitClient();
const yarnClient = new YarnClient();
let wanted: readonly Shown[] = [];
let pause: ReturnType<typeof setTimeout> | undefined;

export function showScenes(scenes: readonly Shown[]): void {
  wanted = scenes;
  set({ stopped: false });
  const { working } = get();
  if (working !== null && !scenes.some((shown) => sceneKey(shown) === working)) stopWork();
  clearTimeout(pause);
  pause = setTimeout(next, PAUSE_MS);
}

export function stopLesson(): void {
  clearTimeout(pause);
  stopWork();
  set({ stopped: true });
}

export function leaveLessons(): void {
  wanted = [];
  clearTimeout(pause);
  stopWork();
  knitClient.close();
}

function stopWork(): void {
  knitClient.stop();
  yarnClient.stop();
  set({ working: null, moving: null, share: null });
}

function next(): void {
  const { found, failed, working } = get();
  if (working !== null) return;
  const shown = wanted.find((one) => !found.has(sceneKey(one)) && !failed.has(sceneKey(one)));
  if (!shown) return;
  set({ working: sceneKey(shown), moving: null, share: null });
  if (shown.kind === 'yarn') settle(shown);
  else relax(shown);
}

function finish(key: string, result: Found): void {
  const found = new Map(get().found).set(key, result);
  const oldest = found.keys().next().value;
  if (found.size > MOST_KEPT && oldest !== undefined) found.delete(oldest);
  set({ found, working: null, moving: null, share: null });
  next();
}

function fail(key: string, message: string): void {
  const failed = new Map(get().failed).set(key, message);
  set({ failed, working: null, moving: null, share: null });
  next();
}

function settle(shown: Extract<Shown, { kind: 'yarn' }>): void {
  const key = sceneKey(shown);
  yarnClient.closeUp(shown.asked, {
    onProgress: (_step, _residual, closeUp) => set({ moving: { kind: 'yarn', closeUp } }),
    onDone: (closeUp) => finish(key, { kind: 'yarn', closeUp }),
    onFailed: (message) => fail(key, message),
  });
}

/** A linking number this far from its whole value belongs to edges that are just passing through each other. */
const PASSING = 0.05;

function relax(shown: Extract<Shown, { kind: 'fabric' }>): void {
  const key = sceneKey(shown);
  const progress = new RelaxProgress();
  let laid: LaidSheet | null = null;
  let last: Band | null = null;
  const found = (knitted: Band): Found => ({ kind: 'fabric', knitted });
  const bandOf = (
    sheet: LaidSheet,
    positions: Band['positions'],
    report: Band['report'],
  ): Band => ({
    plan: sheet.plan,
    graph: sheet.graph,
    cells: sheet.cells,
    gauge: sheet.gauge,
    metric: sheet.metric,
    positions,
    report,
    linked: shown.band ? edgesLinked(sheet.graph, positions) : null,
  });
  /** The sheet knows no touching: from here on it would pass through itself. */
  const passes = (band: Band) =>
    band.linked !== null &&
    Math.abs(Math.abs(band.linked) - Math.abs(band.graph.join.halfTurns) / 2) > PASSING;
  knitClient.knit(
    shown.text,
    null,
    {
      onLaidOut: (sheet) => {
        laid = sheet;
      },
      onProgress: ({ positions, residual }) => {
        if (!laid) return;
        const band = bandOf(laid, positions, null);
        if (last && passes(band)) {
          knitClient.stop();
          finish(key, found(last));
          return;
        }
        last = band;
        const { share } = progress.next(residual);
        set({ moving: found(band), share });
      },
      onDone: (knitted) => {
        const band = bandOf(knitted, knitted.sheet.positions, knitted.report);
        finish(key, found(last && passes(band) ? last : band));
      },
      onFailed: (message) => fail(key, message),
    },
    shown.advise,
  );
}
