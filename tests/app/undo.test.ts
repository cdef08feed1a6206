/** One undo over the editor's history and the project's: the last change first, whichever it was. */
import { beforeEach, expect, it } from 'vitest';
import { page } from '../../src/app/state/page-store.ts';
import { changeProject, EMPTY_PROJECT, projects } from '../../src/app/state/project-store.ts';
import {
  planHistory,
  planHistoryGone,
  redo,
  undo,
  useSteps,
  writePlan,
} from '../../src/app/state/undo.ts';

/** Stands for the editor: a list of texts and how many are undone. */
class Texts {
  private texts = [''];
  private at = 0;

  get text(): string {
    return this.texts[this.at];
  }
  replaceText = (text: string) => {
    this.texts = [...this.texts.slice(0, this.at + 1), text];
    this.move(1, false);
  };
  undo = () => this.move(-1, false);
  redo = () => this.move(1, true);
  goTo() {}
  focus() {}

  private move(by: number, redone: boolean): void {
    this.at = Math.max(0, Math.min(this.texts.length - 1, this.at + by));
    planHistory(this.at, this.texts.length - 1 - this.at, redone);
  }
}

let editor: Texts;
const title = () => projects.get().project.title;
const words = () => useSteps.getState().done.map((step) => step.words);

beforeEach(() => {
  planHistoryGone();
  projects.set({ project: EMPTY_PROJECT, past: [], future: [] });
  useSteps.setState({ done: [], undone: [] });
  editor = new Texts();
  page.set({ editor });
});

it('takes back the last change first, of the plan or of the project, and does them again in order', () => {
  editor.replaceText('Cast on 4');
  changeProject('named it', { title: 'Marsh' });
  writePlan('Cast on 8', 'applied advice');
  expect(words()).toEqual(['writing in the plan', 'named it', 'applied advice']);
  undo();
  expect([editor.text, title()]).toEqual(['Cast on 4', 'Marsh']);
  undo();
  expect([editor.text, title()]).toEqual(['Cast on 4', '']);
  undo();
  expect(editor.text).toBe('');
  undo();
  redo();
  redo();
  expect([editor.text, title()]).toEqual(['Cast on 4', 'Marsh']);
  redo();
  expect(editor.text).toBe('Cast on 8');
  redo();
  expect(words()).toEqual(['writing in the plan', 'named it', 'applied advice']);
});

it('follows the editor when it is undone there, past a later change of the project', () => {
  editor.replaceText('Cast on 4');
  changeProject('named it', { title: 'Marsh' });
  editor.undo();
  expect(words()).toEqual(['named it']);
  undo();
  expect(title()).toBe('');
  redo();
  redo();
  expect([editor.text, title()]).toEqual(['Cast on 4', 'Marsh']);
});

it('names a change after an undo by what it is, not by what was undone', async () => {
  await writePlan('Cast on 4', 'opening letter.txt');
  undo();
  await writePlan('Cast on 8', 'opening marsh.txt');
  expect(words()).toEqual(['opening marsh.txt']);
  undo();
  editor.replaceText('Cast on 6');
  expect(words()).toEqual(['writing in the plan']);
  expect(useSteps.getState().undone).toEqual([]);
});

it('has nothing to do again after a new change', () => {
  changeProject('named it', { title: 'Marsh' });
  undo();
  editor.replaceText('Cast on 4');
  expect(useSteps.getState().undone).toEqual([]);
  redo();
  expect(title()).toBe('');
  // A change that goes on with the one before is no step of its own.
  changeProject('coloured it', { title: 'A' });
  changeProject('coloured it', { title: 'B' }, true);
  undo();
  expect(title()).toBe('');
  expect(words()).toEqual(['writing in the plan']);
});
