/**
 * One undo for the whole page: the last change first, be it of the plan's text or of the project around it (squares,
 * blanket, test knits). The editor and the project keep their own earlier states; this keeps their order and their words.
 */
import { create } from 'zustand';
import { type EditorCommands, page } from './page-store.ts';
import { projects, redoProject, undoProject } from './project-store.ts';

interface Step {
  readonly of: 'plan' | 'project';
  /** What was done, as it is said after “Undo:”. */
  readonly words: string;
}

interface Steps {
  /** The newest last. */
  readonly done: readonly Step[];
  readonly undone: readonly Step[];
}

export const useSteps = create<Steps>(() => ({ done: [], undone: [] }));

const TYPED = 'writing in the plan';

let named = '';
let depth = 0;
let again = 0;

/** Puts a text in the editor as one step with its words: at once where the editor is there, else once it comes. */
export async function writePlan(text: string, words: string): Promise<void> {
  const editor = page.get().editor ?? (await editorThere());
  named = words;
  editor.replaceText(text);
  named = '';
}

function editorThere(): Promise<EditorCommands> {
  return new Promise((resolve) => {
    const stop = page.subscribe(({ editor }) => {
      if (!editor) return;
      stop();
      resolve(editor);
    });
  });
}

/** The editor's history now: how many steps can be undone and redone in it, and whether one has just been redone. */
export function planHistory(undoDepth: number, redoDepth: number, redone: boolean): void {
  const before = { depth, again };
  depth = undoDepth;
  again = redoDepth;
  if (undoDepth < before.depth) takeBack('plan', before.depth - undoDepth);
  else if (undoDepth > before.depth && redone) repeat('plan');
  else if (undoDepth > before.depth) add({ of: 'plan', words: named || TYPED });
  else if (redoDepth < before.again) forgetUndone('plan');
}

/** The editor is a new one, with no history. */
export function planHistoryGone(): void {
  depth = 0;
  again = 0;
  const others = (steps: readonly Step[]) => steps.filter(({ of }) => of !== 'plan');
  useSteps.setState(({ done, undone }) => ({ done: others(done), undone: others(undone) }));
}

projects.subscribe((now, before) => {
  const [last, lastBefore] = [now.past.at(-1)?.id, before.past.at(-1)?.id];
  if (last === lastBefore) return;
  if (now.future.at(-1)?.id === lastBefore && lastBefore !== undefined) takeBack('project', 1);
  else if (last !== undefined && before.future.at(-1)?.id === last) repeat('project');
  else if (last !== undefined) add({ of: 'project', words: now.past.at(-1)?.done ?? '' });
});

export function undo(): void {
  const last = useSteps.getState().done.at(-1);
  if (!last) return;
  if (last.of === 'plan') page.get().editor?.undo();
  else undoProject();
  page.set({ announcement: `Undone: ${last.words}.` });
}

export function redo(): void {
  const next = newestUndone();
  if (!next) return;
  if (next.of === 'plan') page.get().editor?.redo();
  else redoProject();
  page.set({ announcement: `Done again: ${next.words}.` });
}

const newestUndone = () => useSteps.getState().undone.at(-1);

function add(step: Step): void {
  useSteps.setState(({ done }) => ({ done: [...done, step], undone: [] }));
}

/** The last `count` steps of a kind are undone, wherever they stand in the order: Ctrl+Z in the editor knows only its own. */
function takeBack(of: Step['of'], count: number): void {
  for (let k = 0; k < count; k++) {
    useSteps.setState(({ done, undone }) => {
      const at = done.findLastIndex((step) => step.of === of);
      if (at < 0) return {};
      return { done: done.toSpliced(at, 1), undone: [...undone, done[at]] };
    });
  }
}

function repeat(of: Step['of']): void {
  useSteps.setState(({ done, undone }) => {
    const at = undone.findLastIndex((step) => step.of === of);
    if (at < 0) return {};
    return { done: [...done, undone[at]], undone: undone.toSpliced(at, 1) };
  });
}

function forgetUndone(of: Step['of']): void {
  useSteps.setState(({ undone }) => ({ undone: undone.filter((step) => step.of !== of) }));
}
