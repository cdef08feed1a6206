/** What comes of the wishes: cast-on, size, rate, and what was traded for what. */
import type { Draft } from '../../draft/draft.ts';
import type { Units } from '../units.ts';
import { lengthText } from '../units.ts';

export type Outcome =
  | { readonly state: 'drafting'; readonly before: Draft | null }
  | { readonly state: 'done'; readonly draft: Draft }
  | { readonly state: 'mistake'; readonly message: string };

export function DraftOutcome(props: {
  readonly outcome: Outcome;
  readonly units: Units;
  readonly spanWords: string;
}) {
  const { outcome, units } = props;
  if (outcome.state === 'mistake') {
    return (
      <div className="outcome" role="alert">
        <h3>What comes of it</h3>
        <p className="outcome-mistake">{outcome.message}</p>
      </div>
    );
  }
  const draft = outcome.state === 'done' ? outcome.draft : outcome.before;
  return (
    <div className="outcome" aria-live="polite" aria-busy={outcome.state === 'drafting'}>
      <h3>What comes of it</h3>
      {draft ? (
        <DraftFacts draft={draft} units={units} />
      ) : (
        <p className="soft">Counting stitches…</p>
      )}
    </div>
  );
}

function DraftFacts({ draft, units }: { readonly draft: Draft; readonly units: Units }) {
  const { wishes } = draft;
  const out = wishes.direction === 'out';
  const rate = draft.ratePerRound;
  return (
    <>
      <dl className="facts">
        <div>
          <dt>{out ? 'Cast on at the centre' : 'Cast on'}</dt>
          <dd>{draft.castOn} sts</dd>
        </div>
        <div>
          <dt>{wishes.shape === 'disc' ? 'To each sector' : 'To each side'}</dt>
          <dd>{draft.sideStitches} sts</dd>
        </div>
        <div>
          <dt>{wishes.shape === 'disc' ? 'Diameter' : 'Side'}</dt>
          <dd>{lengthText(draft.sizeMm, units)}</dd>
        </div>
        <div>
          <dt>{out ? 'Gained a round' : 'Lost a round'}</dt>
          <dd>
            {rate.toFixed(1)} <small>sts on average</small>
          </dd>
        </div>
      </dl>
      <h4>What was traded</h4>
      {draft.traded.length === 0 ? (
        <p className="soft">Nothing: every wish is met.</p>
      ) : (
        <ul className="traded">
          {draft.traded.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </>
  );
}
