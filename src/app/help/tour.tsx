/** The first tour: a card that says what each pane is for, one after the other; it can be skipped at any point. */
import { useEffect } from 'react';
import { useSmall } from '../state/media.ts';
import { page } from '../state/page-store.ts';
import { endTour, goToStop, TOUR, useTour } from './tour-state.ts';

export function Tour() {
  const stop = useTour((state) => state.stop);
  const isSmall = useSmall();
  // A narrow screen shows the pane that is spoken of, from the first stop on.
  useEffect(() => {
    if (stop !== null) page.set({ pane: TOUR[stop].pane });
  }, [stop]);
  const under = stop !== null;
  useEffect(() => {
    if (!under) return;
    const leave = (event: KeyboardEvent) => {
      // What lies over the card is left first.
      const over = event.defaultPrevented || document.querySelector('dialog[open], [role="menu"]');
      if (event.key === 'Escape' && !over) endTour();
    };
    window.addEventListener('keydown', leave);
    return () => window.removeEventListener('keydown', leave);
  }, [under]);
  if (stop === null) return null;
  const { words, small } = TOUR[stop];
  const last = stop === TOUR.length - 1;
  return (
    <aside className="tour" aria-label="First look round" data-at={TOUR[stop].pane}>
      <p aria-live="polite">{(isSmall && small) || words}</p>
      <div>
        <small>
          {stop + 1} of {TOUR.length}
        </small>
        {!last && (
          <button type="button" className="button button-small" onClick={endTour}>
            Skip
          </button>
        )}
        <button
          type="button"
          className="button button-small button-primary"
          onClick={() => goToStop(stop + 1)}
        >
          {last ? 'Begin' : 'Next'}
        </button>
      </div>
    </aside>
  );
}
