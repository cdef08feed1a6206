/**
 * What the printer gets: the written pattern, the chart on sheets of its own, needles and yarn. It lies
 * beside the page, hidden on screen; `styles/print.css` shows it on paper and nothing else.
 */
import { useMemo } from 'react';
import { createPortal } from 'react-dom';
import { liesAcross } from '../../paper/chart/chart.ts';
import { drawNeedles } from '../../paper/pattern/needle-picture.ts';
import { usePage } from '../state/page-store.ts';
import { ChartWords, chartSheets } from './chart-view.tsx';
import { NeedleFigures, NeedleWords, needleLines } from './needle-view.tsx';
import { usePattern } from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';
import { SvgPicture } from './svg-picture.tsx';
import { WrittenView } from './written-view.tsx';
import { YarnParts } from './yarn-view.tsx';

/** Rounds in the printed table of needles; more would only waste paper. Chosen: one column of a page. */
const MOST_FIGURES = 60;

export function PatternPrint({ facts }: { readonly facts: PatternFacts }) {
  const { part, trueShape, paper, printed } = usePattern();
  const units = usePage((state) => state.preferences.units);
  const sheets = useMemo(
    () => (printed.chart ? chartSheets(facts, { part, trueShape, paper }) : []),
    [facts, part, trueShape, paper, printed.chart],
  );
  const { needles, use, followed } = facts;
  const ofSize = followed && ` for ${followed}`;
  return createPortal(
    <div
      className="print-sheet"
      data-paper={paper}
      data-print={facts.largePrint ? 'large' : undefined}
    >
      <WrittenView written={facts.written} notes={facts.notes} level={1} />
      {use && (
        <section className="print-yarn">
          <h2>Yarn{ofSize}</h2>
          <YarnParts facts={facts} use={use} units={units} />
        </section>
      )}
      {sheets.map((svg) => (
        <div className="print-page" key={svg} data-across={liesAcross(svg, paper) || undefined}>
          <SvgPicture svg={svg} />
        </div>
      ))}
      {printed.chartText && (
        <section className="print-page">
          <ChartWords facts={facts} />
        </section>
      )}
      {printed.schematic && facts.schematic && (
        <div className="print-page">
          <SvgPicture svg={facts.schematic} />
        </div>
      )}
      {printed.needles && needles && (
        <section className="print-page">
          <h2>Needles{ofSize}</h2>
          <div className="print-needles">
            <SvgPicture svg={drawNeedles(needles, 0)} />
            <NeedleWords table={needles} lines={needleLines(facts)} />
          </div>
          {needles.rounds.length <= MOST_FIGURES && <NeedleFigures table={needles} />}
        </section>
      )}
    </div>,
    document.body,
  );
}
