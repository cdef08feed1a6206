/** The chart on the page, and its drawings for files and print. */
import { useMemo, useState } from 'react';
import {
  type ChartOptions,
  chartReading,
  drawChart,
  drawChartPages,
} from '../../paper/chart/chart.ts';
import { layOutChart } from '../../paper/chart/chart-layout.ts';
import { chartText } from '../../paper/chart/chart-text.ts';
import { choosePattern, type PatternChoices, usePattern } from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';
import { SvgPicture } from './svg-picture.tsx';

/** More squares than this are not drawn on the page, which would stand still. Chosen. */
const MOST_SQUARES = 40_000;

type ChartChoices = Pick<PatternChoices, 'part' | 'trueShape' | 'paper'>;

type Sized = PatternFacts['sizes'][number];

function squares({ plan }: Sized): number {
  return plan.rounds.length * Math.max(plan.castOn, ...plan.rounds.map((round) => round.after));
}

function tooManySquares(size: Sized): boolean {
  return squares(size) > MOST_SQUARES;
}

function options(
  facts: PatternFacts,
  { name }: Sized,
  { part, trueShape, paper }: ChartChoices,
): ChartOptions {
  const { terms, hand, largePrint, shades } = facts;
  const proportion = trueShape ? (facts.proportion ?? 1) : 1;
  return { part, paper, proportion, terms, hand, largePrint, shades, ...(name && { size: name }) };
}

export function chartOf(facts: PatternFacts, size: Sized, choices: ChartChoices): string {
  return drawChart(size.plan, options(facts, size, choices));
}

/** Sheets of paper of every size, one after the other. */
export function chartSheets(facts: PatternFacts, choices: ChartChoices): string[] {
  return facts.sizes.flatMap((size) =>
    tooManySquares(size) ? [] : drawChartPages(size.plan, options(facts, size, choices)),
  );
}

function chartWords(facts: PatternFacts, choices: ChartChoices): string {
  return facts.sizes.map((size) => chartText(size.plan, options(facts, size, choices))).join('\n');
}

/** Room for the numbers beside a chart, px. */
const NUMBERS_PX = 48;

/** Charts are read from the right, mirrored ones from the left: what is wider than its place begins with its first stitch. */
function startAtTheRight(element: HTMLElement | null): void {
  if (!element) return;
  requestAnimationFrame(() => {
    // Words over a narrow chart may reach further than its squares.
    const squares = element.querySelector('svg > g')?.getBoundingClientRect();
    const beyond = (squares?.right ?? 0) + NUMBERS_PX - element.getBoundingClientRect().right;
    if (beyond > 0) element.scrollBy(beyond, 0);
  });
}

export function ChartView({ facts }: { readonly facts: PatternFacts }) {
  const part = usePattern((choices) => choices.part);
  const trueShape = usePattern((choices) => choices.trueShape);
  const fitted = usePattern((choices) => choices.fitted);
  const { sizes } = facts;
  const [chosen, choose] = useState<string | null>(null);
  // The size that the plan follows, until another is looked at.
  const size =
    sizes.find(({ name }) => name === chosen) ??
    sizes.find(({ plan }) => plan === facts.plan) ??
    sizes[0];
  const tooMany = tooManySquares(size);
  const repeated = useMemo(
    () => !tooMany && layOutChart(size.plan, 'side').repeats > 1,
    [size, tooMany],
  );
  // Its heading stands above what scrolls: in the picture most of it would lie out of sight.
  const chart = useMemo(() => {
    if (tooMany) return null;
    const chosen = options(facts, size, { part, trueShape, paper: 'A4' });
    return {
      reading: chartReading(size.plan, chosen),
      svg: drawChart(size.plan, { ...chosen, headed: false }),
    };
  }, [facts, size, part, trueShape, tooMany]);
  return (
    <>
      <div className="sheet-tools">
        {sizes.length > 1 && (
          <span className="with-unit">
            <label htmlFor="chart-size">Size</label>
            <select
              id="chart-size"
              className="button button-small"
              value={size.name}
              onChange={(event) => choose(event.target.value)}
            >
              {sizes.map(({ name }) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </span>
        )}
        {repeated && (
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
        )}
        <label className="with-unit">
          <input
            type="checkbox"
            checked={trueShape}
            disabled={facts.proportion === null}
            onChange={(event) => choosePattern({ trueShape: event.target.checked })}
          />
          <span>
            Squares shaped like the stitches
            {facts.proportion === null && (
              <small className="soft"> (the plan states no gauge to take the shape from)</small>
            )}
          </span>
        </label>
        <label className="with-unit">
          <input
            type="checkbox"
            checked={fitted}
            onChange={(event) => choosePattern({ fitted: event.target.checked })}
          />
          <span>All of it at a glance</span>
        </label>
      </div>
      {chart === null ? (
        <p className="wait">
          This chart has {squares(size).toLocaleString('en')} squares, too many to show here. Save
          it as SVG instead.
        </p>
      ) : (
        <>
          <p className="chart-reading">{chart.reading}</p>
          <section
            className="chart-reach"
            ref={facts.hand === 'right' ? startAtTheRight : undefined}
            aria-label="Chart"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region takes the keys that scroll it
            tabIndex={0}
          >
            <div className="paper chart-picture" data-fitted={fitted}>
              <SvgPicture svg={chart.svg} />
            </div>
          </section>
        </>
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
      {lines.map((line, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two sizes may have lines alike
        <p className="written-line" key={i}>
          {line}
        </p>
      ))}
    </div>
  );
}
