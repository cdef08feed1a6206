/** Keeps the line that is being written in view when the editor becomes lower, as by the list of mistakes under it. */
import { EditorView, ViewPlugin } from '@codemirror/view';

export const caretInView = ViewPlugin.define((view) => {
  let height = view.scrollDOM.clientHeight;
  const watcher = new ResizeObserver(() => {
    const before = height;
    height = view.scrollDOM.clientHeight;
    if (height >= before || !view.hasFocus) return;
    const caret = view.state.selection.main.head;
    const at = view.coordsAtPos(caret);
    if (!at) return;
    // Only where it was to be seen before: who looks elsewhere goes on looking there.
    const below = at.bottom - view.scrollDOM.getBoundingClientRect().top;
    if (below > height && below <= before + at.bottom - at.top) {
      view.dispatch({ effects: EditorView.scrollIntoView(caret) });
    }
  });
  watcher.observe(view.scrollDOM);
  return { destroy: () => watcher.disconnect() };
});
