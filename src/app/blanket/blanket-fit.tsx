/** How the squares fit: sizes against the side wished for, seams, border, yarn. */
import { useState } from 'react';
import { blanketBorder } from '../../draft/motif/border-plan.ts';
import { type BlanketReport, type SquareFit, seamLines } from '../../report/blanket.ts';
import {
  BLANKET_CAUTION,
  BLANKET_YARN_NOTE,
  borderedSizeWords,
  borderYarnWords,
} from '../../report/words/blanket-words.ts';
import { inTerms, termsOfAll } from '../../report/words/terms.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { gradeOnce } from '../state/grading.ts';
import { page, usePage } from '../state/page-store.ts';
import { changeText } from '../state/plan-actions.ts';
import { changeProject, projects, useProject } from '../state/project-store.ts';
import { writePlan } from '../state/undo.ts';
import { fixed, lengthText, type Units, unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import type { BlanketFacts, SquareEntry } from './blanket-facts.ts';
import { Shade } from './square-list.tsx';

/** Exact by definition. */
const MM_PER_YARD = 914.4;

export function BlanketFit(props: {
  readonly facts: BlanketFacts;
  readonly report: BlanketReport;
}) {
  const { facts, report } = props;
  const units = usePage((state) => state.preferences.units);
  const title = useProject((state) => state.project.title);
  const border = borderOf(report, title);
  return (
    <div className="blanket-fit">
      {facts.waiting > 0 && (
        <p className="soft" role="status">
          {facts.waiting === 1 ? 'One square is' : `${facts.waiting} squares are`} still coming to
          rest; the figures are without {facts.waiting === 1 ? 'it' : 'them'}.
        </p>
      )}
      <dl className="facts facts-three">
        <div>
          <dt>Finished, without a border</dt>
          <dd>
            {lengthText(report.widthMm, units)} <small>by</small>{' '}
            {lengthText(report.heightMm, units)}
          </dd>
        </div>
        <div>
          <dt>Side to meet</dt>
          <dd>{lengthText(report.targetMm, units)}</dd>
        </div>
        <div>
          <dt>Seams in all</dt>
          <dd>
            {units === 'cm'
              ? `${fixed(report.seamLengthMm / 1000, 1)} m`
              : `${fixed(report.seamLengthMm / MM_PER_YARD, 1)} yd`}
          </dd>
        </div>
      </dl>

      <h3>Squares side by side</h3>
      <ul className="fits">
        {report.squares.map((fit) => (
          <Fit
            key={fit.id}
            fit={fit}
            entry={facts.entries.find(({ id }) => id === fit.id)}
            targetMm={report.targetMm}
            units={units}
          />
        ))}
      </ul>

      <BlanketLists report={report} units={units} />
      {border.plan && (
        <button
          type="button"
          className="button button-small"
          onClick={() =>
            void changeText(
              border.plan.text,
              'before opening the border',
              'The border is in the editor. Undo brings your plan back.',
            )
          }
        >
          Open the border as a plan
        </button>
      )}
    </div>
  );
}

function Fit(props: {
  readonly fit: SquareFit;
  readonly entry: SquareEntry | undefined;
  readonly targetMm: number;
  readonly units: Units;
}) {
  const { fit, entry, targetMm, units } = props;
  const [trouble, setTrouble] = useState('');
  const [busy, setBusy] = useState(false);
  const adjust = async () => {
    if (entry?.measured.state !== 'rest') return;
    const { plan, report } = entry.measured.knitted;
    const { stitchMm, roundMm } = report.metric;
    setBusy(true);
    const { graded, trouble: why } = await gradeOnce(plan, report, {
      sizeMm: targetMm,
      stitchMm,
      roundMm,
    });
    setBusy(false);
    setTrouble(why ?? '');
    if (!graded) return;
    const { text } = graded;
    if (projects.get().project.plans.find(({ id }) => id === fit.id)?.text !== entry.text) {
      setTrouble('The square was changed meanwhile, and stays as it is.');
      return;
    }
    // The one in the editor changes there too.
    if (entry.text === page.get().text) await writePlan(text, `adjusting ${fit.name}`);
    const { plans } = projects.get().project;
    changeProject(`adjusted ${fit.name}`, {
      plans: plans.map((square) => (square.id === fit.id ? { ...square, text } : square)),
    });
  };
  return (
    <li className="fit" data-fit={fit.fit}>
      <span className="fit-sign" aria-hidden="true">
        {fit.fit === 'meets' ? '✓' : fit.fit === 'eased in' ? '~' : '!'}
      </span>
      <span>
        {fit.words}
        {fit.fit === 'meets' && (
          <span className="soft"> {lengthText(Math.abs(fit.differenceMm), units)} off</span>
        )}
        {trouble && <span className="outcome-mistake"> {trouble}</span>}
      </span>
      {fit.fit === 'adjust' && (
        <ActionButton
          className="button button-small"
          aria-label={`Adjust ${fit.name}`}
          why={busy ? 'Its stitches are being counted' : ''}
          onClick={() => void adjust()}
        >
          {busy ? 'Counting…' : 'Adjust'}
        </ActionButton>
      )}
    </li>
  );
}

/** Seams, border and yarn, on the page and in print. */
export function BlanketLists({
  report,
  units,
}: {
  readonly report: BlanketReport;
  readonly units: Units;
}) {
  const project = useProject((state) => state.project);
  const terms = project.terms ?? termsOfAll(project.plans);
  const seams = seamLines(report.seams);
  return (
    <>
      <h3>Seaming</h3>
      <ul className="dotted">
        {seams.map(({ words, times }) => (
          <li key={words}>
            {words} {times > 1 && <span className="soft">{times} times</span>}
          </li>
        ))}
        {seams.length === 0 && <li>No two squares lie side by side yet.</li>}
      </ul>
      <h3>Border</h3>
      <BorderFacts report={report} units={units} />
      <h3>Yarn</h3>
      <table className="rounds-table">
        <thead>
          <tr>
            <th scope="col">{inTerms('Yarn and colour', terms)}</th>
            <th scope="col">Length</th>
            <th scope="col">Weight</th>
            <th scope="col">Balls</th>
          </tr>
        </thead>
        <tbody>
          {report.yarn.map((yarn) => (
            <tr key={yarn.colour}>
              <td>
                {yarn.hex && <Shade shade={yarn.hex} />}
                {yarn.colour}
              </td>
              <td>{yarnLengthWords(yarn.lengthM, unitOf(units))}</td>
              <td>{massWords(yarn.massG, unitOf(units))}</td>
              <td>{yarn.balls ?? '–'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">{BLANKET_YARN_NOTE}</p>
      <p className="soft">{BLANKET_CAUTION}</p>
    </>
  );
}

/** Depth of the border that is offered as a plan, mm. Chosen. */
const BORDER_MM = 30;

function borderOf({ border }: BlanketReport, title: string) {
  return blanketBorder(border, { title: `${title || 'Blanket'}: border`, depthMm: BORDER_MM });
}

function BorderFacts({ report, units }: { readonly report: BlanketReport; readonly units: Units }) {
  const { border } = report;
  const project = useProject((state) => state.project);
  const terms = project.terms ?? termsOfAll(project.plans);
  const { plan, trouble } = borderOf(report, project.title);
  if (!plan) return <p>{trouble}</p>;
  return (
    <>
      <p>
        Once the squares meet, pick up {border.top} along the top, {border.right} at the right,{' '}
        {border.bottom} along the bottom, {border.left} at the left, and one at each corner:{' '}
        {border.eachSide} for every side of a square.
      </p>
      <ul className="dotted">
        {border.pickUps.map(({ id, words }) => (
          <li key={id}>{words}</li>
        ))}
      </ul>
      <p>
        A mitred garter border of {lengthText(plan.depthMm, units)}: {plan.castOn} sts,{' '}
        {plan.rounds} rounds, an increase on both sides of each corner stitch every second round,{' '}
        {plan.boundOff} sts {inTerms('bound off', terms)} loosely.{' '}
        {borderedSizeWords(plan, report, unitOf(units))}{' '}
        {borderYarnWords(plan, report, unitOf(units))}
      </p>
    </>
  );
}
