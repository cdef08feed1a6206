/**
 * The flattest draft of a spec at the size asked: drafted, its columns measured, and searched for by size and
 * timing as every plan is (`size-search.ts`).
 *
 * Input: a spec and two ways of measuring, handed in by `knit.ts`. Output: the draft, and how far from flat
 * it is.
 */
import { cornersWith } from '../motif/decrease-schedule.ts';
import { type Draft, draftOf, type Made, makeMotif, withFinalSize } from '../motif/draft-motif.ts';
import { layOutSide, type SideLayout } from '../motif/side-layout.ts';
import { type DraftSpec, segmentsOf } from '../spec/draft-spec.ts';
import { type ColumnWidths, columnWidths, type MeasuredFabric } from './measured-columns.ts';
import type { Measures } from './measures.ts';
import { type SizedDesign, searchSize } from './size-search.ts';

export interface Flattest {
  readonly draft: Draft;
  /** Share of a full turn; infinite where nothing could be measured. */
  readonly flatnessError: number;
}

export function draftFlattest(spec: DraftSpec, measures: Measures): Flattest {
  const known = measureColumns(spec, measures.measure);
  if (known === 'unmeasured') return asCounted(spec);
  const segments = segmentsOf(spec);
  const designFor = (deficit: number): SizedDesign<Made> => ({
    ...stitchesAt(spec, deficit),
    work: (timing) => makeMotif(spec, known, deficit, timing),
  });
  const goal = {
    rimMm: (spec.shape === 'disc' ? Math.PI : segments) * spec.sizeMm,
    segments,
    stitchMm: spec.stitchMm,
  };
  const found = searchSize(designFor, known?.stitchDeficit ?? 0, goal, measures);
  if (!found) return asCounted(spec);
  const draft = draftOf(spec, found.candidate);
  const sizeMm =
    found.rimMm === null
      ? draft.sizeMm
      : found.rimMm / (spec.shape === 'disc' ? Math.PI : segments);
  return { draft: withFinalSize(draft, sizeMm), flatnessError: found.flatnessError };
}

function asCounted(spec: DraftSpec): Flattest {
  const draft = draftOf(spec, makeMotif(spec, null, null, null));
  return {
    draft: withFinalSize(draft, draft.sizeMm),
    flatnessError: Number.POSITIVE_INFINITY,
  };
}

function stitchesAt(
  spec: DraftSpec,
  deficit: number,
): Pick<SizedDesign<Made>, 'sideStitches' | 'corners'> {
  const { side, corner } = layOutSide(spec, [], deficit);
  const strip = corner.columns.length;
  return {
    sideStitches: side.columns.length + strip,
    corners: spec.shape === 'disc' ? 0 : cornersWith(strip, segmentsOf(spec)),
  };
}

/** Widths of the columns of a first draft; null where it has no panels, so that all are alike. */
function measureColumns(
  spec: DraftSpec,
  measure: Measures['measure'],
): ColumnWidths | null | 'unmeasured' {
  const blind = makeMotif(spec, null, null, null);
  if (!hasPanels(blind.layout)) return null;
  const fabric = measure(blind.plan);
  return (fabric && widthsOf(blind, spec, fabric)) ?? 'unmeasured';
}

function hasPanels(layout: SideLayout): boolean {
  return layout.panels.length > 0 || layout.corner.columns.length > 2;
}

function widthsOf(
  { layout, blocks }: Made,
  spec: DraftSpec,
  fabric: MeasuredFabric,
): ColumnWidths | null {
  return columnWidths(
    fabric,
    blocks.columns,
    segmentsOf(spec),
    { side: layout.side.columns.length, corner: layout.corner.columns.length },
    spec.stitchMm,
    spec.direction === 'in',
    layout.panels,
  );
}
