/** The squares of the project as the blanket sees them, and what comes of laying them out. */
import { useMemo } from 'react';
import { blanketSquare } from '../../paper/blanket/blanket-square.ts';
import type { Project } from '../../paper/project-file.ts';
import { type BlanketReport, type BlanketSquare, layOutBlanket } from '../../report/blanket.ts';
import { usePage } from '../state/page-store.ts';
import { useProject } from '../state/project-store.ts';
import { unitOf } from '../state/units.ts';
import { type Measured, useMeasured } from './measure-squares.ts';
import { shadeOf } from './square-facts.ts';

export type SquareEntry = Project['plans'][number] & {
  readonly measured: Measured;
  /** Null until measured, or where it is no square. */
  readonly square: BlanketSquare | null;
  /** CSS colour in the layout. */
  readonly shade: string;
};

export interface BlanketFacts {
  readonly entries: readonly SquareEntry[];
  /** Null while nothing that is laid has been measured. */
  readonly report: BlanketReport | null;
  /** Squares laid whose size is not known yet. */
  readonly waiting: number;
}

const YARN_LINE = /^[ \t]*yarn[ \t]*:[ \t]*(.+)$/im;

export function useBlanket(): BlanketFacts {
  const plans = useProject((state) => state.project.plans);
  const blanket = useProject((state) => state.project.blanket);
  const units = usePage((state) => state.preferences.units);
  const texts = useMemo(() => plans.map((plan) => plan.text), [plans]);
  const measuredOf = useMeasured(texts);
  const entries = plans.map((plan, place): SquareEntry => {
    const measured = measuredOf(plan.text);
    return {
      ...plan,
      measured,
      square:
        measured.state === 'rest'
          ? blanketSquare(plan.id, plan.name, measured.knitted, plan.colours)
          : null,
      shade: shadeOf(plan.colours, YARN_LINE.exec(plan.text)?.[1] ?? '', place),
    };
  });
  const laid = new Set(blanket.rows.flat());
  const known = entries.map((entry) => entry.square).filter((square) => square !== null);
  const waiting = entries.filter(
    ({ id, measured }) => laid.has(id) && measured.state === 'waiting',
  ).length;
  const ids = new Set(known.map((square) => square.id));
  const report = blanket.rows.flat().some((id) => id !== null && ids.has(id))
    ? layOutBlanket(known, blanket, unitOf(units))
    : null;
  return { entries, report, waiting };
}
