/** The blanket on paper: layout picture, how the squares fit, seams, border, yarn. */
import { useMemo } from 'react';
import { createPortal } from 'react-dom';
import { drawBlanket } from '../../paper/blanket/blanket-picture.ts';
import type { BlanketReport } from '../../report/blanket.ts';
import { usePattern } from '../pattern/pattern-choices.ts';
import { SvgPicture } from '../pattern/svg-picture.tsx';
import { usePage } from '../state/page-store.ts';
import { useProject } from '../state/project-store.ts';
import { unitOf } from '../state/units.ts';
import type { BlanketFacts } from './blanket-facts.ts';
import { BlanketLists } from './blanket-fit.tsx';

export function BlanketPrint(props: {
  readonly facts: BlanketFacts;
  readonly report: BlanketReport;
}) {
  const { report } = props;
  const units = usePage((state) => state.preferences.units);
  const paper = usePattern((choices) => choices.paper);
  const title = useProject((state) => state.project.title);
  const blanket = useProject((state) => state.project.blanket);
  const svg = useMemo(() => drawBlanket(blanket, report, unitOf(units)), [blanket, report, units]);
  return createPortal(
    <div className="print-sheet print-blanket" data-paper={paper}>
      <h1 className="written-title">{title || 'Blanket'}</h1>
      <SvgPicture svg={svg} />
      <h3>Squares side by side</h3>
      <ul className="dotted">
        {report.squares.map((fit) => (
          <li key={fit.id}>{fit.words}</li>
        ))}
      </ul>
      <BlanketLists report={report} units={units} />
    </div>,
    document.body,
  );
}
