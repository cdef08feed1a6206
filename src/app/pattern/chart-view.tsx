/** The chart on the page, and its drawings for files and print. */
import { useMemo } from 'react';
import { type ChartOptions, drawChart, drawChartPages } from '../../paper/chart/chart.ts';
import { chartText } from '../../paper/chart/chart-text.ts';
import { choosePattern, type PatternChoices, usePattern } from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';
import { SvgPicture } from './svg-picture.tsx';

/** More squares than this are not drawn on the page, which would stand still. Chosen. */
const MOST_SQUARES = 40_000;

type ChartChoices = Pick<PatternChoices, 'part' | 'trueShape' | 'paper'>;

function squares({ plan }: PatternFacts): number {
  return plan.rounds.length * Math.max(plan.castOn, ...plan.rounds.map((round) => round.after));
}

function tooManySquares(facts: PatternFacts): boolean {
  return squares(facts) > MOST_SQUARES;
}

function options(facts: PatternFacts, { part, trueShape, paper }: ChartChoices): ChartOptions {
  const { terms, hand, largePrint } = facts;
  const proportion = trueShape ? (facts.proportion ?? 1) : 1;
  return { part, paper, proportion, terms, hand, largePrint };
}

export function chartOf(facts: PatternFacts, choices: ChartChoices): string {
  return drawChart(facts.plan, options(facts, choices));
}

export function chartSheets(facts: PatternFacts, choices: ChartChoices): string[] {
  return tooManySquares(facts) ? [] : drawChartPages(facts.plan, options(facts, choices));
}

function chartWords(facts: PatternFacts, choices: ChartChoices): string {
  return chartText(facts.plan, options(facts, choices));
}

/** Charts are read from the right, mirrored ones from the left. */
function startAtTheRight(element: HTMLElement | null): void {
  if (element) requestAnimationFrame(() => element.scrollTo(element.scrollWidth, 0));
}

export function ChartView({ facts }: { readonly facts: PatternFacts }) {
  const part = usePattern((choices) => choices.part);
  const trueShape = usePattern((choices) => choices.trueShape);
  const tooMany = tooManySquares(facts);
  const svg = useMemo(
    () => (tooMany ? null : chartOf(facts, { part, trueShape, paper: 'A4' })),
    [facts, part, trueShape, tooMany],
  );
  return (
    <>
      <div className="sheet-tools">
        <span className="with-unit">
          <label htmlFor="chart-part">Show</label>
          <select
            id="chart-part"
            className="button button-small"
            value={part}
            onChange={(event) => choosePattern({ part: event.target.value as 'side' | 'whole' })}
          >
            <option value="side">one side</option>
            <option value="whole">
              the whole {facts.plan.worked === 'round' ? 'round' : 'row'}
            </option>
          </select>
        </span>
        <label
          className="with-unit"
          title={
            facts.proportion === null
              ? 'The plan states no gauge to take the shape from'
              : undefined
          }
        >
          <input
            type="checkbox"
            checked={trueShape}
            disabled={facts.proportion === null}
            onChange={(event) => choosePattern({ trueShape: event.target.checked })}
          />
          Squares shaped like the stitches
        </label>
      </div>
      {svg === null ? (
        <p className="wait">
          This chart has {squares(facts).toLocaleString('en')} squares, too many to show here. Save
          it as SVG instead.
        </p>
      ) : (
        <section
          className="chart-reach"
          ref={facts.hand === 'right' ? startAtTheRight : undefined}
          aria-label="Chart"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region takes the keys that scroll it
          tabIndex={0}
        >
          <SvgPicture svg={svg} name="paper chart-picture" />
        </section>
      )}
      <details className="chart-words">
        <summary>The chart in words, row by row</summary>
        <ChartWords facts={facts} />
      </details>
    </>
  );
}

/** Every row a paragraph, so that a screen reader steps from row to row. */
export function ChartWords({ facts }: { readonly facts: PatternFacts }) {
  const part = usePattern((choices) => choices.part);
  const lines = useMemo(
    () => chartWords(facts, { part, trueShape: false, paper: 'A4' }).split('\n').filter(Boolean),
    [facts, part],
  );
  return (
    <div className="paper written">
      {lines.map((line) => (
        <p className="written-line" key={line}>
          {line}
        </p>
      ))}
    </div>
  );
}
