/**
 * The project around the plan at hand: squares kept, the blanket they make, test knits, terms.
 *
 * Every change keeps the project from before, so that it can be undone. The plan in the editor is not
 * part of it until it is kept as a square; see `project-actions.ts`.
 */

import { create } from 'zustand';
import type { Project } from '../../paper/project-file.ts';
import { EASE_SHARE } from '../../report/blanket.ts';

export interface PastStep {
  readonly id: number;
  readonly project: Project;
  readonly done: string;
}

export interface ProjectState {
  readonly project: Project;
  /** Earlier states, the newest last, with the words for what was done since. */
  readonly past: readonly PastStep[];
  /** What was undone, the newest last, with the project that doing it again leads to. */
  readonly future: readonly PastStep[];
  /** Square whose text was last put in the editor, or that the plan at hand was kept as. */
  readonly squareAtHand: string | null;
}

/** Steps that can be undone. Chosen. */
const STEPS = 100;

export const EMPTY_PROJECT: Project = {
  format: 'lieflat-project',
  version: 3,
  title: '',
  units: 'cm',
  plans: [],
  open: null,
  blanket: { rows: emptyRows(3, 3), targetMm: null, easeShare: EASE_SHARE },
  testKnits: [],
};

function emptyRows(rows: number, columns: number): (string | null)[][] {
  return Array.from({ length: rows }, () => Array.from({ length: columns }, () => null));
}

export const useProject = create<ProjectState>(() => ({
  project: EMPTY_PROJECT,
  past: [],
  future: [],
  squareAtHand: null,
}));

let steps = 0;

export const projects = {
  get: useProject.getState,
  set: useProject.setState,
  subscribe: useProject.subscribe,
};

/**
 * `done` says what the change does, e.g. `laid a square`. A change that goes `on` with the one before,
 * as a colour that is being dragged, is undone together with it.
 */
export function changeProject(done: string, change: Partial<Project>, on = false): void {
  const { project, past } = projects.get();
  projects.set({
    project: { ...project, ...change },
    past:
      on && past.at(-1)?.done === done
        ? past
        : [...past.slice(1 - STEPS), { id: ++steps, project, done }],
    future: [],
  });
}

export function undoProject(): void {
  const { project, past, future } = projects.get();
  const last = past.at(-1);
  if (!last) return;
  projects.set({
    project: last.project,
    past: past.slice(0, -1),
    future: [...future, { ...last, project }],
  });
}

export function redoProject(): void {
  const { project, past, future } = projects.get();
  const next = future.at(-1);
  if (!next) return;
  projects.set({
    project: next.project,
    past: [...past, { ...next, project }],
    future: future.slice(0, -1),
  });
}

/** The smallest free `stem-n`. */
export function freeId(stem: string, taken: readonly { readonly id: string }[]): string {
  const ids = new Set(taken.map((entry) => entry.id));
  let n = 1;
  while (ids.has(`${stem}-${n}`)) n++;
  return `${stem}-${n}`;
}
