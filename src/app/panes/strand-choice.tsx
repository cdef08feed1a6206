/**
 * Whether the fabric is drawn as stitches on the sheet or as strands of yarn, how that stands, and the way to
 * bring the yarn to rest.
 */
import { useId } from 'react';
import {
  forceText,
  restInShort,
  restTimeWords,
  restWords,
} from '../../paper/pattern/yarn-rest-words.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import { REST_FORCE } from '../../yarn/rest/relax-yarn.ts';
import { bringToRest, layBack, stopComing } from '../state/yarn-relaxation.ts';
import { type DrawnAs, drawAs, useStrands } from '../state/yarn-store.ts';
import { Strip, StripItem } from '../ui/strip.tsx';
import { NoteDetails } from './note-details.tsx';

export function StrandChoice({ laid, atRest }: { laid: LaidSheet; atRest: boolean }) {
  const drawnAs = useStrands((state) => state.drawnAs);
  const laying = useStrands((state) => state.laying);
  const trouble = useStrands((state) => state.trouble);
  const rest = useStrands((state) => state.rest.state);
  const there = useStrands((state) => state.yarn !== null);
  const wrong = useStrands((state) => state.yarn?.laid.check.linksWrong ?? 0);
  let note = '';
  if (drawnAs === 'strands') {
    if (trouble) note = trouble;
    else if (laying) note = `Laying ${laid.graph.loops.toLocaleString('en')} loops of yarn…`;
    else if (!atRest) note = 'Yarn is laid once the fabric is at rest.';
    else if (wrong > 0 && rest === 'laid') {
      const loops = laid.graph.loops.toLocaleString('en');
      note = `${wrong} of ${loops} stitches crowd too much to be drawn rightly.`;
    }
  }
  const drawn = drawnAs === 'strands' && atRest && there && !laying;
  return (
    <div className="strand-choice" data-drawn={drawn ? 'strands' : 'stitches'}>
      <Strip
        aria-label="Drawn as"
        value={drawnAs}
        onValueChange={(value) => value && drawAs(value as DrawnAs)}
      >
        <StripItem value="stitches" title="Stitches as a pattern on the fabric">
          Stitches
        </StripItem>
        <StripItem value="strands" title="Every loop as a strand, with its plies">
          Strands
        </StripItem>
      </Strip>
      <span className="strand-note" role="status">
        {note}
      </span>
      {(drawn || rest === 'coming') && <YarnRest stitches={laid.graph.loops} />}
    </div>
  );
}

/** Laid yarn overlaps where stitches crowd; at rest it lies as it would. */
function YarnRest({ stitches }: { stitches: number }) {
  const rest = useStrands((state) => state.rest);
  const curves = useStrands((state) => state.yarn?.curves ?? null);
  const name = useId();
  switch (rest.state) {
    case 'laid':
      return (
        <div className="strand-rest">
          <p>
            Laid on the fabric, not yet at rest. Bringing it there takes {restTimeWords(stitches)}{' '}
            for {stitches.toLocaleString('en')} stitches.
          </p>
          <RestButton name="Bring the yarn to rest" onClick={bringToRest} />
        </div>
      );
    case 'coming':
      return (
        <div className="strand-rest" data-state="coming">
          <p id={name}>The yarn is coming to rest…</p>
          <progress aria-labelledby={name} max={1} value={rest.share} />
          {rest.step > 0 && (
            <NoteDetails>
              step {rest.step}, force left {forceText(rest.residual)}; at rest{' '}
              {forceText(REST_FORCE)}
            </NoteDetails>
          )}
          <RestButton name="Stop" onClick={stopComing} />
        </div>
      );
    case 'looking':
      return (
        <div className="strand-rest">
          <p>Stopped. Looking how the yarn lies…</p>
        </div>
      );
    case 'trouble':
      return (
        <div className="strand-rest" data-state="trouble">
          <p>{rest.message}</p>
          <RestButton name="Bring the yarn to rest" onClick={bringToRest} />
        </div>
      );
    case 'done':
      return (
        <div className="strand-rest" data-state={rest.record.converged ? 'rest' : 'trouble'}>
          <p>{curves && restInShort(rest.record, curves)}</p>
          {curves && <NoteDetails>{restWords(rest.record, curves)}</NoteDetails>}
          {!rest.record.converged && <RestButton name="Start again" onClick={bringToRest} />}
          <RestButton name="Show it as laid" onClick={layBack} />
        </div>
      );
  }
}

function RestButton({ name, onClick }: { name: string; onClick: () => void }) {
  return (
    <button type="button" className="button button-small" onClick={onClick}>
      {name}
    </button>
  );
}
