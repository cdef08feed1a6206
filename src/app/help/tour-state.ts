/** Where the first tour stands; it is shown once, on the first visit, and again only when asked for. */
import { create } from 'zustand';
import type { Pane } from '../state/page-store.ts';

export interface TourStop {
  readonly pane: Pane;
  readonly words: string;
  /** On a phone, where that is otherwise. */
  readonly small?: string;
}

export const TOUR: readonly TourStop[] = [
  {
    pane: 'plan',
    words:
      'This is the plan. Write it as you would for knitters, one round a line: the stitches left stand beside every round.',
  },
  {
    pane: 'fabric',
    words:
      'This is the fabric that those rounds make. Turn it with the pointer or the arrow keys; the tabs above hold close-ups, the pattern, your blanket and lessons.',
    small:
      'This is the fabric that those rounds make. Turn it with a finger; the list above leads to close-ups, the pattern, your blanket and lessons.',
  },
  {
    pane: 'verdict',
    words:
      'This says whether it lies flat, cups or ruffles, and by how much. Where there is advice, one button puts it into the plan; Undo at the top takes it back.',
  },
];

const SEEN = 'lieflat tour seen';

/** Null: no tour. */
export const useTour = create<{ readonly stop: number | null }>(() => ({ stop: firstStop() }));

function firstStop(): number | null {
  try {
    return localStorage.getItem(SEEN) === null ? 0 : null;
  } catch {
    // Storage is blocked: it would come back at every visit.
    return null;
  }
}

export function startTour(): void {
  goToStop(0);
}

export function goToStop(stop: number): void {
  if (stop >= TOUR.length) {
    endTour();
    return;
  }
  useTour.setState({ stop });
}

export function endTour(): void {
  useTour.setState({ stop: null });
  try {
    localStorage.setItem(SEEN, 'yes');
  } catch {
    // Then the tour is over for as long as the page is open.
  }
}
