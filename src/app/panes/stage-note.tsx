/** What the calculation is doing, said as it is: one place, one bar and one way to stop; figures behind “Details”. */
import type { ReactNode } from 'react';
import { STOP_WORDS } from '../../report/words/stop-words.ts';
import { page, usePage } from '../state/page-store.ts';
import { relaxAgain, stopRelaxing } from '../state/relax-on-edit.ts';
import { powerText } from '../state/units.ts';
import { whenWords } from '../ui/piece-words.ts';
import { BusyNote } from './busy-note.tsx';
import { NoteDetails } from './note-details.tsx';

/** The plan was changed and the fabric on the table is still the one from before. */
export function useOldFabric(): boolean {
  return usePage(({ laid, text }) => laid !== null && laid.plan.text !== text);
}

export function StageNote() {
  const work = usePage((state) => state.work);
  const knitted = usePage((state) => state.knitted);
  const keptSince = usePage((state) => state.keptSince);
  const old = useOldFabric();
  switch (work.state) {
    case 'idle':
      return null;
    case 'laying-out':
      return <Busy words={`Laying out the stitches…${old ? BEFORE : ''}`} share={null} />;
    case 'relaxing': {
      const { checking, share, iteration, residual } = work;
      return (
        <Busy
          words={
            checking ? 'Nearly there: checking that it stays so…' : 'The fabric is coming to rest…'
          }
          share={share}
        >
          Step {iteration}, force left {powerText(residual)}; at rest it is 1·10⁻⁵.
        </Busy>
      );
    }
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
      return <Trouble words={work.message} />;
    case 'rest': {
      if (!knitted) return null;
      // Between the change and its reading: nothing on the table is of this plan.
      if (old) return <Busy words={`Reading the plan…${BEFORE}`} share={null} />;
      const { converged, reason, iterations, residual } = knitted.sheet.relaxation;
      if (!converged) {
        return (
          <Trouble words={`Did not come to rest: ${STOP_WORDS[reason]}.`} residual={residual} />
        );
      }
      const { ms } = knitted.report.relaxation;
      return (
        <div className="stage-note" data-state="rest">
          <span>At rest{keptSince === null ? '' : `, as worked out ${whenWords(keptSince)}`}</span>
          <NoteDetails>
            {iterations} {iterations === 1 ? 'step' : 'steps'} in{' '}
            {(ms / 1000).toFixed(ms < 950 ? 2 : 1)} s, force left {powerText(residual)}.
          </NoteDetails>
        </div>
      );
    }
  }
}

const BEFORE = ' This is the fabric from before.';

function Busy(props: { words: string; share: number | null; children?: ReactNode }) {
  const { words, share, children } = props;
  return (
    <BusyNote words={words} name="How far the fabric has come" share={share} onStop={stopRelaxing}>
      {children && <NoteDetails>{children}</NoteDetails>}
    </BusyNote>
  );
}

function Trouble({ words, residual }: { words: string; residual?: number }) {
  return (
    <div className="stage-note" data-state="trouble">
      <span>{words}</span>
      <button type="button" onClick={relaxAgain}>
        Try again
      </button>
      {residual !== undefined && <NoteDetails>Force left {powerText(residual)}.</NoteDetails>}
    </div>
  );
}
