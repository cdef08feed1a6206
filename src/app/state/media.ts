/** The browser's media queries as React state: size of the window, theme, motion. */
import { useSyncExternalStore } from 'react';
import { usePage } from './page-store.ts';

export function useMedia(query: string): boolean {
  return useSyncExternalStore(
    (changed) => {
      const list = window.matchMedia(query);
      list.addEventListener('change', changed);
      return () => list.removeEventListener('change', changed);
    },
    () => window.matchMedia(query).matches,
  );
}

export function useDark(): boolean {
  const theme = usePage((state) => state.preferences.theme);
  const systemDark = useMedia('(prefers-color-scheme: dark)');
  return theme === 'dark' || (theme === 'system' && systemDark);
}

export const useStillMotion = () => useMedia('(prefers-reduced-motion: reduce)');
/** One pane at a time; the same width as in layout.css. */
export const useNarrow = () => useMedia('(max-width: 820px)');
