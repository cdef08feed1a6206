/** What comes of the wishes: what is being tried, then cast-on, size, rate, and what was traded for what. */
import type { SpecInput } from '../../draft/spec/draft-spec.ts';
import type { DraftTrial, MeasuredDraft } from '../../knit.ts';
import { sizeTold } from '../../report/words/size-told.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { type Units, unitOf } from '../state/units.ts';
import { trialWords, withoutWords } from './trial-words.ts';
import { TryingNote } from './trying-note.tsx';

export type Outcome =
  /** Both null until the first trial. */
  | {
      readonly state: 'drafting';
      readonly spec: SpecInput | null;
      readonly trial: DraftTrial | null;
    }
  | { readonly state: 'stopped' }
  | { readonly state: 'done'; readonly draft: MeasuredDraft }
  | { readonly state: 'mistake'; readonly message: string };

export function DraftOutcome(props: {
  readonly outcome: Outcome;
  readonly units: Units;
  readonly onStop: () => void;
  readonly onAgain: () => void;
}) {
  const { outcome, units } = props;
  return (
    <div className="outcome" data-state={outcome.state} aria-busy={outcome.state === 'drafting'}>
      <h3>What comes of it</h3>
      {outcome.state === 'drafting' && <Drafting outcome={outcome} onStop={props.onStop} />}
      {outcome.state === 'mistake' && (
        <p className="outcome-mistake" role="alert">
          {outcome.message}
        </p>
      )}
      {/* Trials change too fast to be read out: only what they end in is. */}
      <div aria-live="polite">
        {outcome.state === 'stopped' && (
          <>
            <p className="soft outcome-note">Stopped: there is no draft of these wishes.</p>
            <button type="button" className="button button-small" onClick={props.onAgain}>
              Draft again
            </button>
          </>
        )}
        {outcome.state === 'done' && <DraftFacts draft={outcome.draft} units={units} />}
      </div>
    </div>
  );
}

function Drafting(props: {
  readonly outcome: Extract<Outcome, { state: 'drafting' }>;
  readonly onStop: () => void;
}) {
  const { spec, trial } = props.outcome;
  const without = spec && trial ? withoutWords(spec, trial) : '';
  return (
    <TryingNote now="Drafting…" since={spec} stop="Stop drafting" onStop={props.onStop}>
      <p className="soft drafting-trial">{trial ? trialWords(trial) : 'Counting stitches.'}</p>
      {without && <p className="soft">{without}</p>}
    </TryingNote>
  );
}

function DraftFacts({ draft, units }: { readonly draft: MeasuredDraft; readonly units: Units }) {
  const { spec } = draft;
  const out = spec.direction === 'out';
  const rate = draft.ratePerRound;
  const told = sizeTold(draft, unitOf(units));
  return (
    <>
      {draft.compromises.length > 0 && (
        <>
          <h4>Not quite as asked</h4>
          <ul className="traded">
            {draft.compromises.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </>
      )}
      <dl className="facts">
        <div>
          <dt>{out ? 'Cast on at the centre' : 'Cast on'}</dt>
          <dd>{draft.castOn} sts</dd>
        </div>
        <div>
          <dt>{spec.shape === 'disc' ? 'To each sector' : 'To each side'}</dt>
          <dd>{draft.sideStitches} sts</dd>
        </div>
        <div>
          <dt>{spec.shape === 'disc' ? 'Diameter' : 'Side'}</dt>
          <dd>
            {told.words} {draft.riseMm === null && <small>{told.how}</small>}
          </dd>
        </div>
        <div>
          <dt>{out ? 'Gained each round' : 'Lost each round'}</dt>
          <dd>
            {rate.toFixed(1)} <small>sts on average</small>
          </dd>
        </div>
        <div className="facts-wide">
          <dt>Verdict</dt>
          <dd>
            {draft.verdict === null
              ? 'Too big to come to rest here'
              : VERDICT_HEADLINES[draft.verdict]}
          </dd>
        </div>
      </dl>
      {draft.compromises.length === 0 && <p className="soft outcome-note">Every wish is met.</p>}
    </>
  );
}
