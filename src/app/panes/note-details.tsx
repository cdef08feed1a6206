/** Figures for those who look after the calculation, behind a word. */
import type { ReactNode } from 'react';

export function NoteDetails({ children }: { readonly children: ReactNode }) {
  return (
    <details className="note-details">
      <summary>Details</summary>
      <p>{children}</p>
    </details>
  );
}
