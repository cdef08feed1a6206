/** What the calculation is doing, said as it is: relaxing with the force left, at rest, or why not. */

import type { StopReason } from '../../relax/relaxed-sheet.ts';
import { page, usePage } from '../state/page-store.ts';
import { relaxAgain, stopRelaxing } from '../state/relax-on-edit.ts';
import { powerText } from '../state/units.ts';

/** The solver's reasons, in words. */
const REASONS: Record<StopReason, string> = {
  converged: 'at rest',
  'iteration-limit': 'the limit of steps was reached',
  cancelled: 'stopped by you',
  stalled: 'no further progress was made',
  'not-a-number': 'the numbers ran away',
};

export function StageNote() {
  const work = usePage((state) => state.work);
  const knitted = usePage((state) => state.knitted);
  switch (work.state) {
    case 'idle':
      return null;
    case 'laying-out':
      return (
        <p className="stage-note" data-state="busy">
          <span className="pulse" /> Laying out the loops…
        </p>
      );
    case 'relaxing':
      return (
        <p className="stage-note" data-state="busy">
          <span className="pulse" />
          <span>
            Relaxing… step {work.iteration}, force left {powerText(work.residual)}
          </span>
          <button type="button" onClick={stopRelaxing}>
            Stop
          </button>
        </p>
      );
    case 'mistakes':
      return (
        <p className="stage-note" data-state="trouble">
          <span>
            {work.count === 1 ? 'One mistake' : `${work.count} mistakes`} in the plan
            {knitted ? ': this is the fabric from before.' : '.'}
          </span>
          <button type="button" onClick={() => page.set({ pane: 'plan' })}>
            Show
          </button>
        </p>
      );
    case 'failed':
      return (
        <p className="stage-note" data-state="trouble">
          <span>{work.message}</span>
          <button type="button" onClick={relaxAgain}>
            Again
          </button>
        </p>
      );
    case 'rest': {
      if (!knitted) return null;
      const { converged, reason, iterations, residual } = knitted.sheet.relaxation;
      if (!converged) {
        return (
          <p className="stage-note" data-state="trouble">
            <span>
              Did not come to rest: {REASONS[reason]}, force left {powerText(residual)}.
            </span>
            <button type="button" onClick={relaxAgain}>
              Again
            </button>
          </p>
        );
      }
      const { ms } = knitted.report.relaxation;
      return (
        <p className="stage-note" data-state="rest">
          At rest · {iterations} {iterations === 1 ? 'step' : 'steps'},{' '}
          {(ms / 1000).toFixed(ms < 950 ? 2 : 1)} s
        </p>
      );
    }
  }
}
