/**
 * Opens what the page's address carries: a plan, once the editor is there (see `plan-link.ts`), or a lesson at
 * one of its steps (see `lessons/lesson-state.ts`).
 */
import { writeKept } from '../state/autosave.ts';
import { partFor } from '../state/awaited.ts';
import { notify, page } from '../state/page-store.ts';
import { planOfFragment } from './plan-link.ts';

export function watchLinks(): () => void {
  const open = () => void openLink();
  void openLink();
  window.addEventListener('hashchange', open);
  return () => window.removeEventListener('hashchange', open);
}

async function openLink(): Promise<void> {
  const fragment = location.hash;
  if (fragment.startsWith('#lesson=')) {
    const part = await partFor('Opening the lesson', () => import('../lessons/lesson-state.ts'));
    if (part && !part.openLessonLink(fragment))
      notify('file', 'There is no such lesson as this link names.');
    return;
  }
  if (!fragment.startsWith('#plan=')) return;
  // The address goes back to plain: a reload must not undo later work.
  history.replaceState(null, '', location.pathname + location.search);
  try {
    const text = await planOfFragment(fragment);
    if (text === null) return;
    await writeKept(text, 'before opening a link');
    page.set({ fileName: '', area: 'fabric', announcement: 'The plan of the link is open.' });
  } catch (error) {
    notify('file', error instanceof Error ? error.message : String(error));
  }
}
