/**
 * State of the page: the plan at hand, the piece on the table, and how it is looked at.
 *
 * The editor owns the text; `text` here is its echo. What the worker made arrives through `flow.ts`.
 */
import { create } from 'zustand';
import type { Plan, TextPosition } from '../../plan/plan.ts';
import type { Report } from '../../report/report.ts';
import type { ColourMode } from '../../view/colour/colour-scale.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import type { Preferences, Theme } from './preferences.ts';
import { loadPreferences, savePreferences } from './preferences.ts';
import type { RelaxShare } from './relax-progress.ts';
import type { Units } from './units.ts';

/** What the calculation is doing, in the words that the page shows. */
export type Work =
  | { readonly state: 'idle' }
  /** Between the request and the first picture. */
  | { readonly state: 'laying-out' }
  | ({
      readonly state: 'relaxing';
      readonly residual: number;
      readonly iteration: number;
    } & RelaxShare)
  | { readonly state: 'rest' }
  /** The plan has mistakes; the last good fabric stays. */
  | { readonly state: 'mistakes'; readonly count: number }
  | { readonly state: 'failed'; readonly message: string };

export type Pane = 'plan' | 'fabric' | 'verdict';

/** What the middle pane shows. */
export type Area =
  | 'fabric'
  | 'close-up'
  | 'compare'
  | 'pattern'
  | 'blanket'
  | 'test-knits'
  | 'lessons';

export interface Focus {
  /** Courses marked on the fabric, inclusive; 0 is the cast-on. */
  readonly from: number;
  readonly to: number;
}

/** What the editor does for the rest of the page. */
export interface EditorCommands {
  replaceText(text: string): void;
  goTo(at: TextPosition, focus: boolean): void;
  undo(): void;
  redo(): void;
  focus(): void;
}

export interface Notice {
  readonly id: string;
  readonly message: string;
  /** What can be done about it, beside putting it away. */
  readonly action?: { readonly name: string; run(): void } | undefined;
}

/** A verdict without how the piece lies, and without advice. */
export interface Judged {
  readonly plan: Plan;
  readonly report: Report;
}

export interface PageState {
  readonly text: string;
  readonly fileName: string;
  readonly plan: Plan | null;
  readonly editor: EditorCommands | null;

  readonly work: Work;
  /** The sheet on the table, perhaps still relaxing. */
  readonly laid: LaidSheet | null;
  readonly positions: Positions | null;
  /** The last finished result, and the text that it belongs to. */
  readonly knitted: KnittedSheet | null;
  readonly knittedText: string;
  /** The verdict of the text that is being worked out, where it stands before its fabric has come to lie. */
  readonly judged: Judged | null;
  /** A timing that lies flat is still being looked for. */
  readonly advising: boolean;
  /** When the result was worked out, if that was in an earlier visit; ms since 1970. */
  readonly keptSince: number | null;
  /** Picture of the fabric from the last visit, until the page has drawn its own; an object address. */
  readonly keptPicture: string | null;
  /** Grows when another piece is laid on the table (not the same one in a new state). */
  readonly pieceNumber: number;

  readonly throughCourse: number | null;
  readonly focus: Focus | null;
  readonly sectionShown: boolean;
  readonly sectionAngleDeg: number;
  readonly area: Area;
  readonly pane: Pane;
  readonly preferences: Preferences;
  /** Things that went wrong beside the calculation, e.g. storage; shown until put away. */
  readonly notices: readonly Notice[];
  /** Spoken politely by screen readers. */
  readonly announcement: string;
}

const initial: PageState = {
  text: '',
  fileName: '',
  plan: null,
  editor: null,
  work: { state: 'idle' },
  laid: null,
  positions: null,
  knitted: null,
  knittedText: '',
  judged: null,
  advising: false,
  keptSince: null,
  keptPicture: null,
  pieceNumber: 0,
  throughCourse: null,
  focus: null,
  sectionShown: false,
  sectionAngleDeg: 0,
  area: 'fabric',
  pane: 'fabric',
  preferences: loadPreferences(),
  notices: [],
  announcement: '',
};

export const usePage = create<PageState>(() => initial);

export const page = {
  get: usePage.getState,
  set: usePage.setState,
  subscribe: usePage.subscribe,
};

export function setPreference(change: Partial<Preferences>): void {
  const preferences = { ...page.get().preferences, ...change };
  savePreferences(preferences);
  page.set({ preferences });
}

export const setUnits = (units: Units) => setPreference({ units });
export const setTheme = (theme: Theme) => setPreference({ theme });
export const setColourMode = (colourMode: ColourMode) => setPreference({ colourMode });

/** Shows a notice; a later one of the same kind takes its place. */
export function notify(id: string, message: string, action?: Notice['action']): void {
  const others = page.get().notices.filter((notice) => notice.id !== id);
  page.set({ notices: [...others, { id, message, action }] });
}

export function putAway(id: string): void {
  const { notices } = page.get();
  if (notices.some((notice) => notice.id === id)) {
    page.set({ notices: notices.filter((notice) => notice.id !== id) });
  }
}

/** Marks the courses that a line of the plan works; none where the line works no round. */
export function focusLine(line: number): void {
  const { plan } = page.get();
  if (!plan) return;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const round of plan.rounds) {
    if (round.from.line <= line && line <= round.to.line) {
      from = Math.min(from, round.n);
      to = Math.max(to, round.n);
    }
  }
  page.set({ focus: to >= from ? { from, to } : null });
}

/** Marks a course on the fabric and shows its line in the plan. */
export function focusCourse(course: number, focusEditor = false): void {
  const { plan, editor } = page.get();
  page.set({ focus: { from: course, to: course } });
  const at = course === 0 ? plan?.castOnAt : plan?.rounds[course - 1]?.from;
  if (at) editor?.goTo(at, focusEditor);
}
