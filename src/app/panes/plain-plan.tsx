/** The plan as plain text, where the editor cannot be had: read, written, kept and saved all the same. */
import { useEffect } from 'react';
import { page, usePage } from '../state/page-store.ts';
import { saveFile } from '../state/plan-actions.ts';
import { planRead } from '../state/relax-on-edit.ts';
import { planHistoryGone } from '../state/undo.ts';

/** Reading waits for a pause in the typing. Chosen. */
const READ_PAUSE_MS = 400;

export function PlainPlan() {
  const text = usePage((state) => state.text);

  useEffect(() => {
    const editor = {
      replaceText: (next: string) => page.set({ text: next }),
      goTo: () => {},
      undo: () => {},
      redo: () => {},
      focus: () => {},
    };
    page.set({ editor });
    planHistoryGone();
    return () => {
      if (page.get().editor === editor) page.set({ editor: null });
    };
  }, []);

  useEffect(() => {
    const pause = setTimeout(() => {
      // The reader may be out of reach too; the text is kept without it.
      import('../../plan/parse.ts').then(
        ({ parsePlan }) => planRead(parsePlan(text)),
        () => {},
      );
    }, READ_PAUSE_MS);
    return () => clearTimeout(pause);
  }, [text]);

  return (
    <div className="plain-plan">
      <textarea
        aria-label="Plan text"
        spellCheck={false}
        value={text}
        onChange={({ target }) => page.set({ text: target.value })}
      />
      <button type="button" className="button button-small" onClick={() => void saveFile()}>
        Save the plan as text
      </button>
    </div>
  );
}
