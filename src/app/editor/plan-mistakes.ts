/** The parser's diagnostics as the editor's squiggles: message, then what most likely helps. */
import type { Diagnostic as Squiggle } from '@codemirror/lint';
import type { Text } from '@codemirror/state';
import type { Diagnostic, TextPosition } from '../../plan/plan.ts';

const SEVERITY = { error: 'error', warning: 'warning', note: 'info' } as const;

/** 0-based offset of a position; positions outside the text go to its nearest end. */
export function offsetOf(doc: Text, at: TextPosition): number {
  const line = doc.line(Math.max(1, Math.min(doc.lines, at.line)));
  return Math.max(line.from, Math.min(line.to, line.from + at.column - 1));
}

export function squiggleOf(doc: Text, mistake: Diagnostic): Squiggle {
  let from = offsetOf(doc, mistake.from);
  let to = Math.max(from, offsetOf(doc, mistake.to));
  if (from === to) {
    // An empty span is invisible: widen it by one character inside its line.
    const line = doc.lineAt(from);
    if (to < line.to) to++;
    else if (from > line.from) from--;
  }
  return {
    from,
    to,
    severity: SEVERITY[mistake.severity],
    source: mistake.code,
    message: mistake.hint ? `${mistake.message} ${mistake.hint}` : mistake.message,
    renderMessage: () => {
      const box = document.createElement('div');
      const message = document.createElement('div');
      message.textContent = mistake.message;
      box.append(message);
      if (mistake.hint) {
        const hint = document.createElement('div');
        hint.className = 'cm-mistake-hint';
        hint.textContent = mistake.hint;
        box.append(hint);
      }
      return box;
    },
  };
}
