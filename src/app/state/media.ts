/** The browser's media queries as React state: size of the window, theme, motion. */
import { useSyncExternalStore } from 'react';
import { create } from 'zustand';
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

/** While a film is made the camera jumps from picture to picture. */
export const useFilming = create<{ readonly filming: boolean }>(() => ({ filming: false }));

const STILL = '(prefers-reduced-motion: reduce)';

/** As it is asked for now. */
export const wantsStill = () => window.matchMedia(STILL).matches;

export function useStillMotion(): boolean {
  const wanted = useMedia(STILL);
  const filming = useFilming((state) => state.filming);
  return wanted || filming;
}
/** One pane at a time; the same width as in layout.css. */
export const useNarrow = () => useMedia('(max-width: 820px)');

/** A phone held upright; the same width as in touch.css. */
export const useSmall = () => useMedia('(max-width: 480px)');
