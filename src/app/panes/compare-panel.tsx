/** The plan at three rates, side by side under one camera. Each is relaxed in the worker in turn. */
import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Report } from '../../report/report.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { riseWords, standWords } from '../../report/words/table-words.ts';
import { turnsRound } from '../../report/words/verdict-words.ts';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { DARK_ROOM, LIGHT_ROOM } from '../../view/fabric/surface.ts';
import { CompareView } from '../../view/scene/compare-view.tsx';
import type { KnittedSheet } from '../../worker/messages.ts';
import { PrintSheet, StagePicture } from '../print/print-sheet.tsx';
import { piecesColours, spunYarn } from '../state/fabric-colours.ts';
import { useDark, useStillMotion } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { applyAdvice } from '../state/plan-actions.ts';
import type { Preferences } from '../state/preferences.ts';
import { canRetime, firstChoices, presentRate, rateChoices } from '../state/retiming.ts';
import { fixed, MM_PER_INCH, type Units, unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { BusyNote } from './busy-note.tsx';
import { useMargins } from './compare-margins.ts';
import { type Candidate, type Outcome, useCompareWork } from './compare-work.ts';
import { LegendBox } from './legend-box.tsx';
import { StageTools } from './stage-tools.tsx';
import { TurnedPicture } from './turned-picture.tsx';

/** Keys of the three places. */
const PLACES = ['first', 'second', 'third'];

/** Below this width of the stage the pieces lie above each other. */
const STACK_BELOW_PX = 620;

export default function ComparePanel() {
  const knitted = usePage((state) => state.knitted);
  const plan = knitted?.plan;
  const stale = usePage((state) => state.text !== plan?.text);
  const advised = knitted?.report.advice.find(({ planText }) => planText !== null) ?? null;
  const [keys, setKeys] = useState<readonly string[] | null>(null);
  const choices = useMemo(
    () => (plan && canRetime(plan) ? rateChoices(plan, advised) : []),
    [plan, advised],
  );
  const candidates = useMemo<readonly Candidate[]>(() => {
    if (!plan || choices.length === 0) return [];
    const first = firstChoices(presentRate(plan), advised);
    // A choice that another plan does not have gives way.
    const known = (key: string | undefined) => choices.find((one) => one.key === key);
    return first.map((key, k) => {
      const { text, ...one } = known(keys?.[k]) ?? known(key) ?? choices[0];
      return { ...one, text: text() };
    });
  }, [plan, advised, choices, keys]);

  if (!plan || !knitted)
    return <p className="wait">The comparison needs a plan with rounds to knit and no mistakes.</p>;
  if (candidates.length === 0) {
    return (
      <p className="wait">
        This plan neither decreases nor increases, so there is no rate to compare.
      </p>
    );
  }
  return (
    <>
      <Pieces candidates={candidates} knitted={knitted} stale={stale} />
      <div className="stage-bar compare-rates">
        <span className="stage-bar-name">Shape on</span>
        {candidates.map(({ key }, k) => (
          <select
            key={PLACES[k]}
            className="button button-small"
            aria-label={`Rate of piece ${k + 1}`}
            value={key}
            onChange={(event) => {
              const next = candidates.map((one) => one.key);
              next[k] = event.target.value;
              setKeys(next);
            }}
          >
            {choices.map((one) => (
              <option key={one.key} value={one.key}>
                {one.words}
              </option>
            ))}
          </select>
        ))}
      </div>
    </>
  );
}

function Pieces(props: {
  readonly candidates: readonly Candidate[];
  /** The plan's own fabric: it lies there at once. */
  readonly knitted: KnittedSheet;
  /** The plan in the editor is another one. */
  readonly stale: boolean;
}) {
  const { candidates, knitted, stale } = props;
  const camera = useRef<CameraHandle>(null);
  const stage = useRef<HTMLDivElement>(null);
  const [stacked, setStacked] = useState(false);
  const { outcomes, share, stop, goOn } = useCompareWork(candidates, knitted);
  const preferences = usePage((state) => state.preferences);
  const title = usePage((state) => state.plan?.title ?? '');
  const own = usePage((state) => state.text);
  const dark = useDark();
  const still = useStillMotion();
  const { units } = preferences;

  useLayoutEffect(() => {
    const element = stage.current;
    if (!element) return;
    const watcher = new ResizeObserver(([entry]) =>
      setStacked(entry.contentRect.width < STACK_BELOW_PX),
    );
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);

  const { pieces, legend } = useMemo(
    () => comparedPieces(outcomes, candidates, preferences),
    [outcomes, candidates, preferences],
  );
  const margins = useMargins(stage, stacked, pieces);
  const spun = spunYarn(preferences);
  const ready = pieces.some((piece) => piece !== null);

  return (
    <div className="stage stage-compare" ref={stage}>
      {ready && (
        <>
          <TurnedPicture
            camera={camera}
            label={`The plan at three rates, turned together with the arrow keys. ${toldOf(candidates, outcomes, units)}`}
          >
            <CompareView
              ref={camera}
              pieces={pieces}
              stacked={stacked}
              margins={margins}
              gridMm={units === 'cm' ? 10 : MM_PER_INCH}
              spun={spun}
              relief={preferences.colourMode === 'fabric' ? 1 : 0.45}
              room={dark ? DARK_ROOM : LIGHT_ROOM}
              stillMotion={still}
            />
          </TurnedPicture>
          <StageTools camera={camera} film={title} />
          {legend && <LegendBox legend={legend} />}
        </>
      )}
      <ul className="compare-names" data-stacked={stacked}>
        {candidates.map((candidate, k) => {
          const outcome = outcomes[k] ?? { state: 'waiting' };
          return (
            <li
              key={PLACES[k]}
              className="compare-place"
              data-verdict={outcome.state === 'rest' ? outcome.knitted.report.verdict : ''}
            >
              <span className="compare-name">
                <b>{candidate.words}</b>
                {outcome.state !== 'busy' && outcome.state !== 'rest' && (
                  <span className="soft">{notThere(outcome)}</span>
                )}
                {outcome.state === 'rest' && (
                  <>
                    <span className="compare-verdict">
                      {outcome.knitted.report.verdict}
                      {outcome.knitted.report.relaxation.converged ? '' : ' (did not come to rest)'}
                    </span>
                    <span className="soft">{sizeOrRise(outcome.knitted.report, units)}</span>
                  </>
                )}
              </span>
              {outcome.state === 'busy' && (
                <BusyNote
                  words={share === null ? 'Laying out…' : 'Coming to rest…'}
                  name="How far this piece has come"
                  share={share}
                  onStop={stop}
                />
              )}
              {outcome.state === 'stopped' && (
                <button type="button" className="button button-small" onClick={goOn}>
                  Go on
                </button>
              )}
              {outcome.state === 'rest' && candidate.text !== null && candidate.text !== own && (
                <ActionButton
                  className="button button-small"
                  why={stale ? 'These are rates of the plan before the last change' : ''}
                  onClick={() => void applyAdvice(candidate.text ?? '')}
                >
                  Take this one
                </ActionButton>
              )}
            </li>
          );
        })}
      </ul>
      <PrintSheet name="compare">
        <h1 className="written-title">{title || 'Compared'}: shaping at three rates</h1>
        {ready && <StagePicture camera={camera} words="The plan at three rates, side by side" />}
        <table className="rounds-table">
          <caption>From {stacked ? 'top to bottom' : 'left to right'}</caption>
          <thead>
            <tr>
              {['Shape on', 'Rounds', 'Verdict', 'Size', 'Rises', 'Round the centre'].map(
                (name) => (
                  <th scope="col" key={name}>
                    {name}
                  </th>
                ),
              )}
            </tr>
          </thead>
          <tbody>
            {candidates.map((candidate, k) => (
              <tr key={PLACES[k]}>
                <td>{candidate.words}</td>
                <ComparedCells outcome={outcomes[k]} units={units} />
              </tr>
            ))}
          </tbody>
        </table>
        <p className="soft">
          360° round the centre lies flat; less cups, more ruffles. Where some rounds turn too much
          and others too little, the verdict says both.
        </p>
      </PrintSheet>
    </div>
  );
}

/** The pieces as they lie, coloured by one scale, so that the same colour means the same on each. */
function comparedPieces(
  outcomes: readonly Outcome[],
  candidates: readonly Candidate[],
  preferences: Preferences,
) {
  const lying = outcomes.map((outcome) =>
    outcome.state === 'rest'
      ? {
          surface: outcome.knitted,
          positions: outcome.knitted.sheet.lying?.positions ?? outcome.knitted.sheet.positions,
        }
      : null,
  );
  const there = lying.filter((piece) => piece !== null);
  const colours = piecesColours(there, preferences);
  const pieces = lying.map(
    (piece, k) =>
      piece && {
        ...piece,
        key: `${k}:${candidates[k]?.key}`,
        rgb: colours[there.indexOf(piece)].rgb,
      },
  );
  return { pieces, legend: colours[0]?.legend ?? null };
}

/** The pieces in words, for those who don't see them. */
function toldOf(
  candidates: readonly Candidate[],
  outcomes: readonly Outcome[],
  units: Units,
): string {
  return candidates
    .map(({ words }, k) => {
      const outcome = outcomes[k];
      if (outcome?.state !== 'rest') return `${words}: not known yet.`;
      const { report } = outcome.knitted;
      return `${words}: ${report.verdict}, ${sizeOrRise(report, units)}.`;
    })
    .join(' ');
}

/** Why a piece has no verdict. */
function notThere(outcome: Outcome | undefined): string {
  if (outcome?.state === 'failed') return outcome.message;
  if (outcome?.state === 'stopped') return 'stopped before it came to rest';
  return outcome?.state === 'busy' ? 'not at rest yet' : 'waits its turn';
}

/** How high it lies; of a tube its size, which has that in it. */
function sizeOrRise(report: Report, units: Units): string {
  return report.tube ? sizeFact(report, unitOf(units)).words : standWords(report, unitOf(units));
}

function ComparedCells({
  outcome,
  units,
}: {
  readonly outcome: Outcome | undefined;
  readonly units: Units;
}) {
  if (outcome?.state !== 'rest') {
    return <td colSpan={5}>{notThere(outcome)}</td>;
  }
  const { report } = outcome.knitted;
  return (
    <>
      <td>{report.rounds.length}</td>
      <td>
        {report.verdict}
        {report.relaxation.converged ? '' : ' (did not come to rest)'}
      </td>
      <td>{sizeFact(report, unitOf(units)).words}</td>
      <td>{report.tube ? '–' : riseWords(report, unitOf(units))}</td>
      <td>{turnsRound(report) ? `${fixed(report.coneAngleDeg, 0)}°` : '–'}</td>
    </>
  );
}
