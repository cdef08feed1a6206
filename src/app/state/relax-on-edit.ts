/**
 * Plan → worker → page: asks for a new relaxation when the plan changed and puts what comes back
 * on the table. The worker does all the work; this only decides when.
 */
import type { Plan } from '../../plan/plan.ts';
import { hasErrors } from '../../plan/plan.ts';
import { KnitClient } from '../../worker/client.ts';
import type { KnittedSheet, LaidSheet, Previous } from '../../worker/messages.ts';
import { PictureGate } from './frame-throttle.ts';
import { keepFabric } from './kept-fabric.ts';
import { oncePage } from './once-settled.ts';
import type { PageState } from './page-store.ts';
import { page } from './page-store.ts';
import { posed } from './pose.ts';
import { RelaxProgress, type RelaxShare } from './relax-progress.ts';

/** How long the editor waits for the worker's reading of a first text before it reads that itself. Chosen. */
const FIRST_READING_MS = 4000;

/** Typing goes on within this pause; then the fabric follows. Chosen. */
const KNITTING_PAUSE_MS = 260;

const client = new KnitClient();
let pause: ReturnType<typeof setTimeout> | undefined;
let asked: string | null = null;
/** The text whose advice was cut off. */
let unadvised: string | null = null;
/** The text that was told to stop before it was read. */
let stopped: string | null = null;

function stopClient(): void {
  client.stop();
  if (page.get().advising) {
    unadvised = page.get().knittedText;
    page.set({ advising: false });
  }
  pictures.clear();
}

/** Without a word of a plan nothing on the table is of it. */
const BARE_TABLE = { laid: null, positions: null, knitted: null, knittedText: '', judged: null };

/** What lay on the table until a text was taken away, and that text: it lies there again when the text comes back. */
let putAside: { readonly text: string; readonly table: Partial<PageState> } | null = null;

function clearTable(): void {
  const { plan, laid, positions, knitted, knittedText } = page.get();
  if (knitted && plan) {
    putAside = { text: plan.text, table: { laid, positions, knitted, knittedText } };
  }
  page.set(BARE_TABLE);
}

/** A plan was read from the text in the editor; `typed`: the next keystroke may follow at once. */
export function planRead(plan: Plan, typed = true): void {
  if (plan.text.trim() === '') clearTable();
  page.set({ plan });
  if (plan.text === putAside?.text) {
    if (!page.get().knitted) page.set(putAside.table);
    putAside = null;
  }
  clearTimeout(pause);
  if (hasErrors(plan)) {
    stopClient();
    asked = null;
    const count = plan.diagnostics.filter((mistake) => mistake.severity === 'error').length;
    page.set({ work: { state: 'mistakes', count } });
    return;
  }
  if (plan.castOn === 0 || plan.rounds.length === 0) {
    stopClient();
    asked = null;
    page.set({ work: { state: 'idle' } });
    return;
  }
  if (plan.text === asked || plan.text === stopped) return;
  stopped = null;
  const { knitted, knittedText, work } = page.get();
  if (knitted && plan.text === knittedText) {
    // Back at the text whose fabric lies on the table.
    stopClient();
    asked = null;
    if (plan.text === unadvised) {
      knitText(plan.text);
      return;
    }
    if (work.state !== 'rest') {
      page.set({
        work: { state: 'rest' },
        laid: knitted,
        positions: posed(knitted),
      });
    }
    return;
  }
  // The first piece is not kept waiting.
  const wait = typed && (knitted || asked !== null) ? KNITTING_PAUSE_MS : 0;
  pause = setTimeout(() => knitText(plan.text), wait);
}

/** Stops where it is and keeps that state, said to be unfinished. */
export function stopRelaxing(): void {
  if (client.finishEarly()) return;
  // Also what is not asked for yet: a change that is still to be read.
  clearTimeout(pause);
  stopped = page.get().text;
  stopClient();
  asked = null;
  page.set({ work: { state: 'failed', message: 'Stopped before the fabric came to rest.' } });
}

/** Enough of looking for advice; the verdict stays. */
export function stopAdvising(): void {
  stopClient();
  asked = null;
}

/** Tries once more, from the start. */
export function relaxAgain(): void {
  const { plan, text } = page.get();
  // A text that is not read yet is read by the worker.
  if (plan?.text !== text || !hasErrors(plan)) knitText(text, true);
}

/** A first text is being looked for: what will relax it is loaded meanwhile. */
export function expectText(): void {
  client.getReady();
}

/** The first text of a visit: its fabric is not kept waiting for the editor. */
export function relaxFirst(text: string): void {
  if (asked === null && text.trim() !== '') knitText(text);
}

/**
 * The plan of a text that the last visit kept or the worker is about to read, so that it is not read twice at the start, on
 * two cores at the cost of the first picture; null where it is to be read here.
 */
export function planReadElsewhere(text: string): Promise<Plan | null> {
  const known = () => {
    const { plan } = page.get();
    return plan?.text === text ? plan : null;
  };
  if (known() || asked !== text) return Promise.resolve(known());
  return new Promise((resolve) => {
    const isOver = ({ work }: PageState) => known() !== null || work.state === 'failed';
    oncePage(isOver, FIRST_READING_MS, () => resolve(known()));
  });
}

interface Picture {
  readonly laid: LaidSheet;
  readonly positions: Float32Array;
  readonly residual: number;
  readonly iteration: number;
  readonly share: RelaxShare;
}

const pictures = new PictureGate<Picture>(({ laid, positions, residual, iteration, share }) => {
  page.set({
    work: { state: 'relaxing', residual, iteration, ...share },
    laid,
    positions,
    ...anotherPiece(laid),
  });
});

function restOf({ graph, sheet: { positions, lying } }: KnittedSheet): Previous {
  // What tumbled on the table has no `lying`; what was still settling goes on from there.
  return { graph, positions, lying: lying?.positions ?? null };
}

function knitText(text: string, afresh = false): void {
  asked = text;
  unadvised = null;
  stopped = null;
  pictures.clear();
  const before = page.get().knitted;
  // A state that never came to rest is no better start than the profile of the rings.
  const usable = before?.sheet.relaxation.converged && !afresh;
  const previous: Previous | null = before && usable ? restOf(before) : null;
  page.set({ work: { state: 'laying-out' }, advising: false, judged: null });
  let laidOut: LaidSheet | null = null;
  const progress = new RelaxProgress();
  client.knit(text, previous, {
    onRead: (plan) => {
      const { plan: known, text: shown } = page.get();
      if (shown === text && known?.text !== text) page.set({ plan });
    },
    onLaidOut: (laid) => {
      // Shown with the first positions.
      laidOut = laid;
    },
    onProgress: ({ positions, residual, iteration }) => {
      const share = progress.next(residual);
      if (laidOut) pictures.offer({ laid: laidOut, positions, residual, iteration, share });
    },
    onJudged: ({ plan, report }) => page.set({ judged: { plan, report } }),
    onRested: (knitted) => {
      pictures.clear();
      page.set({
        work: { state: 'rest' },
        judged: null,
        knitted,
        knittedText: text,
        advising: true,
        keptSince: null,
        laid: knitted,
        positions: posed(knitted),
        ...anotherPiece(knitted),
      });
      void keepFabric(text, knitted, false);
    },
    onDone: (advised) => {
      asked = null;
      const { knitted } = page.get();
      page.set({
        advising: false,
        // The sheet itself stays the same object: nothing is drawn anew.
        ...(knitted && knitted.sheet === advised.sheet ? { knitted: advised } : {}),
      });
      void keepFabric(text, advised, true);
    },
    onFailed: (message) => {
      asked = null;
      pictures.clear();
      page.set({
        work: { state: 'failed', message },
        advising: false,
        judged: null,
        announcement: message,
      });
    },
  });
}

/** Looking starts afresh only for a piece of clearly another size; small edits keep the view. */
function anotherPiece(next: LaidSheet): Partial<PageState> {
  const { laid, pieceNumber } = page.get();
  const change = laid ? Math.abs(next.graph.loops / laid.graph.loops - 1) : 1;
  const sameCourses = laid?.graph.courses === next.graph.courses;
  return {
    ...(change > 0.35 ? { pieceNumber: pieceNumber + 1 } : {}),
    ...(sameCourses ? {} : { throughCourse: null, focus: null }),
  };
}
