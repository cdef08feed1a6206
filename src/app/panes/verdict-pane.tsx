/** The verdict: the word, the figures behind it, what to do, and where the rounds go wrong. */

import { closingLengths, closingName } from '../../report/closing.ts';
import type { Advice, Report } from '../../report/report.ts';
import { courseWords } from '../../report/words/course-words.ts';
import { nothingAdvised } from '../../report/words/nothing-advised.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { STOP_WORDS } from '../../report/words/stop-words.ts';
import { PINNED_FLAT, pinnedWords, riseWords } from '../../report/words/table-words.ts';
import { turnsRound, VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { type Judged, page, usePage } from '../state/page-store.ts';
import { applyAdvice } from '../state/plan-actions.ts';
import { stopAdvising } from '../state/relax-on-edit.ts';
import { fixed, lengthText, type Units, unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { VerdictGlyph } from '../ui/icons.tsx';
import { whenWords } from '../ui/piece-words.ts';
import { verdictTitle } from './desk.tsx';
import { RoundByRound } from './round-by-round.tsx';
import { SizeVerdicts } from './size-verdicts.tsx';

export function VerdictPane() {
  const knitted = usePage((state) => state.knitted);
  const work = usePage((state) => state.work);
  const units = usePage((state) => state.preferences.units);
  const text = usePage((state) => state.text);
  const judged = usePage((state) => state.judged);
  const title = usePage((state) => verdictTitle(state.area));
  const stale = work.state !== 'rest' || knitted?.plan.text !== text;
  const busy = work.state === 'relaxing' || work.state === 'laying-out';
  return (
    <>
      <div className="pane-head">
        <h2 id="verdict">{title}</h2>
      </div>
      {busy && judged?.plan.text === text ? (
        <Beforehand {...judged} units={units} />
      ) : knitted ? (
        <>
          <div className="verdict" data-verdict={knitted.report.verdict}>
            {stale && (
              <p className="verdict-stale">
                {knitted.plan.text === text ? ANEW : staleWords(work.state)}
              </p>
            )}
            <VerdictHead report={knitted.report} />
            {!stale && <KeptSince />}
            <Facts report={knitted.report} units={units} />
          </div>
          <SizeVerdicts plan={knitted.plan} report={knitted.report} />
          <WhatToDo report={knitted.report} text={knitted.plan.text} stale={stale} />
          <RoundByRound plan={knitted.plan} report={knitted.report} />
        </>
      ) : (
        <FirstWords />
      )}
    </>
  );
}

/** The verdict that stands already, while the fabric is being laid on its table. */
function Beforehand({ plan, report, units }: Judged & { readonly units: Units }) {
  return (
    <>
      <div className="verdict" data-verdict={report.verdict}>
        <p className="verdict-stale">
          This much is sure; how it lies on the table is being worked out.
        </p>
        <VerdictHead report={report} />
        <Facts report={report} units={units} inAir />
      </div>
      <RoundByRound plan={plan} report={report} />
    </>
  );
}

/** Before the first verdict: what the counts and the gauge say by themselves. */
function FirstWords() {
  const work = usePage((state) => state.work);
  const laid = usePage((state) => state.laid);
  const angle = laid ? (laid.metric.ring.coneAngleRad * 180) / Math.PI : Number.NaN;
  return (
    <div className="wait">
      {work.state !== 'failed' && Number.isFinite(angle) && (
        <p>
          From the counts alone: the {laid?.plan.worked === 'flat' ? 'rows' : 'rounds'} make{' '}
          {fixed(angle, 0)}° round the centre. 360° lies flat, less cups, more ruffles.
        </p>
      )}
      <p>
        {work.state === 'failed'
          ? work.message
          : work.state === 'mistakes'
            ? 'The verdict, the size and the rise follow once the mistakes in the plan are put right.'
            : work.state === 'idle'
              ? 'The verdict, the size and the rise follow once the plan has a round to knit.'
              : 'The verdict, the size and the rise follow once the fabric is at rest.'}
      </p>
    </div>
  );
}

function KeptSince() {
  const keptSince = usePage((state) => state.keptSince);
  if (keptSince === null) return null;
  return <p className="verdict-kept">As worked out {whenWords(keptSince)}.</p>;
}

const ANEW = 'It is being worked out once more.';

function staleWords(state: string): string {
  if (state === 'mistakes') return 'This was before the mistakes that are in the plan now.';
  if (state === 'failed') return 'This was before the last change, which could not be worked out.';
  return 'Below is the verdict from before the change; the new fabric is on its way.';
}

export function VerdictHead({ report }: { readonly report: Report }) {
  return (
    <div aria-live="polite">
      <p className="verdict-word">
        <VerdictGlyph word={report.verdict} />
        <strong>{VERDICT_HEADLINES[report.verdict]}</strong>
      </p>
      {!report.relaxation.converged && (
        <p className="verdict-reason">
          <strong>Provisional:</strong> the fabric did not come to rest (
          {STOP_WORDS[report.relaxation.reason]}).
        </p>
      )}
      {report.reasons.map((reason) => (
        <p className="verdict-reason" key={reason}>
          {reason}
        </p>
      ))}
    </div>
  );
}

interface FactsProps {
  readonly report: Report;
  readonly units: Units;
  /** How it lies is not known yet. */
  readonly inAir?: boolean;
}

export function Facts({ report, units, inAir = false }: FactsProps) {
  const surplus = report.surplusRimMm;
  const rimFits = lengthText(Math.abs(surplus), units) === lengthText(0, units);
  const pinned = pinnedWords(report, unitOf(units));
  const size = sizeFact(report, unitOf(units));
  return (
    <dl className="facts">
      <div className={report.tube ? 'facts-wide' : undefined}>
        <dt>{`Finished ${size.name}`}</dt>
        <dd>{size.words}</dd>
      </div>
      {!report.tube && !inAir && (
        <div>
          <dt>{report.lying ? 'Rise as it lies' : 'Rise from the table'}</dt>
          <dd>{riseWords(report, unitOf(units))}</dd>
        </div>
      )}
      {(report.lying || inAir) && (
        <div className={turnsRound(report) ? undefined : 'facts-wide'}>
          <dt>Rise picked up</dt>
          <dd>{lengthText(report.weightlessRiseMm, units)}</dd>
        </div>
      )}
      {turnsRound(report) && (
        <>
          <div>
            <dt>{rimFits ? 'Rim' : surplus < 0 ? 'Rim too short by' : 'Rim too long by'}</dt>
            <dd>{rimFits ? 'as long as it should be' : lengthText(Math.abs(surplus), units)}</dd>
          </div>
          <div className={report.lying ? 'facts-wide' : undefined}>
            <dt>Angle round the centre</dt>
            <dd>
              {fixed(report.coneAngleDeg, 0)}° <small>of 360°</small>
            </dd>
          </div>
        </>
      )}
      {report.closing?.puckers && (
        <div className="facts-wide">
          <dt>{closingName(report)}</dt>
          <dd>{closingLengths(report.closing, unitOf(units))}</dd>
        </div>
      )}
      {pinned && (
        <div className="facts-wide">
          <dt>{PINNED_FLAT}</dt>
          <dd>{pinned}</dd>
        </div>
      )}
      <div className="facts-wide">
        <dt>Yarn</dt>
        <dd>
          {yarnText(report, units)} <small>{report.yarn.origin}</small>
        </dd>
      </div>
    </dl>
  );
}

function yarnText(report: Report, units: Units): string {
  const { lengthM, massG } = report.yarn;
  return `${yarnLengthWords(lengthM, unitOf(units))}, ${massWords(massG, unitOf(units))}`;
}

interface WhatToDoProps {
  readonly report: Report;
  readonly text: string;
  readonly stale: boolean;
}

function WhatToDo({ report, text, stale }: WhatToDoProps) {
  const advising = usePage((state) => state.advising);
  if (advising && report.advice.length === 0) {
    return (
      <section className="verdict-part" aria-labelledby="advice-name">
        <h3 id="advice-name">What to do</h3>
        <p role="status">Trying other timings of the {courseWords(report).shape}s…</p>
        <progress aria-label="Other timings are being tried" />
        <button type="button" className="button button-small" onClick={stopAdvising}>
          Stop
        </button>
      </section>
    );
  }
  if (report.advice.length === 0) {
    return (
      <section className="verdict-part" aria-labelledby="advice-name">
        <h3 id="advice-name">What to do</h3>
        <p>{nothingAdvised(report)}</p>
      </section>
    );
  }
  return (
    <section className="verdict-part" aria-labelledby="advice-name">
      <h3 id="advice-name">What to do</h3>
      <ul className="advice">
        {report.advice.map((advice) => (
          <AdviceItem key={advice.text} advice={advice} text={text} stale={stale} />
        ))}
      </ul>
    </section>
  );
}

function AdviceItem(props: {
  readonly advice: Advice;
  readonly text: string;
  readonly stale: boolean;
}) {
  const { advice, text, stale } = props;
  const { planText } = advice;
  const showRounds = () => page.set({ focus: { from: advice.fromRound, to: advice.toRound } });
  return (
    <li className="advice-item">
      <p>{advice.text}</p>
      {planText !== null && planText !== text ? (
        <ActionButton
          className="button button-primary button-small"
          why={stale ? 'This advice is for the plan before the last change' : ''}
          onClick={() => void applyAdvice(planText)}
        >
          Apply to the plan
        </ActionButton>
      ) : (
        advice.every === null && (
          <button type="button" className="button button-small" onClick={showRounds}>
            Show these rounds
          </button>
        )
      )}
    </li>
  );
}
