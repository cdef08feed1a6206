/** Undo and redo of the whole page; each says what it would take back or do again. */
import { useEffect } from 'react';
import { redo, undo, useSteps } from '../state/undo.ts';
import { ActionButton } from './action-button.tsx';
import { RedoGlyph, UndoGlyph } from './icons.tsx';

export function UndoButtons() {
  const last = useSteps((state) => state.done.at(-1));
  const next = useSteps((state) => state.undone.at(-1));
  useEffect(() => {
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
  return (
    <div className="undo">
      <ActionButton
        className="button button-quiet button-square"
        aria-label={last ? `Undo: ${last.words}` : 'Undo'}
        title={`Undo: ${last?.words} (Ctrl+Z)`}
        why={last ? '' : 'Nothing has been changed yet'}
        onClick={undo}
      >
        <UndoGlyph />
      </ActionButton>
      <ActionButton
        className="button button-quiet button-square"
        aria-label={next ? `Redo: ${next.words}` : 'Redo'}
        title={`Redo: ${next?.words} (Ctrl+Y)`}
        why={next ? '' : 'Nothing has been undone'}
        onClick={redo}
      >
        <RedoGlyph />
      </ActionButton>
    </div>
  );
}

/** The keys, outside of fields, which have their own undo; the editor's is the plan's. */
function onKey(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
  const at = event.composedPath()[0];
  if (at instanceof Element && at.closest('input, textarea, [contenteditable], dialog')) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey) undo();
  else if (key === 'y' || key === 'z') redo();
  else return;
  event.preventDefault();
}
