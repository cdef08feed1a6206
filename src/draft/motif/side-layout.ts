/**
 * Where the panels stand on a side: spec → columns of side and corner, and how many stitches.
 *
 * The stitch count comes nearest to the size asked after the cables have pulled in. What could not
 * be had is said in `compromises`, in a knitter's words.
 */
import { cableWidthFactor } from '../../gauge/texture/cable-width.ts';
import { type DraftSpec, type PanelSpec, segmentsOf } from '../spec/draft-spec.ts';
import type { CableColumns, ColumnFabric, PanelColumns, SidePattern } from './side-pattern.ts';
import { panelParts, readPanel } from './side-pattern.ts';

export interface SideLayout {
  readonly side: SidePattern;
  readonly corner: SidePattern;
  /** See `SegmentPatterns.centredFrom`. */
  readonly centredFrom: number | null;
  /** Width that one segment lacks at the rim against plain ground, mm. */
  readonly pullInMm: number;
  /** Panels of the side as placed; columns from the right end. */
  readonly panels: readonly { readonly first: number; readonly width: number }[];
}

/** Largest share of a side that a panel along the corner may take. Chosen. */
const MAX_CORNER = 0.6;

/** `stitchDeficit`: measured width that a segment lacks, in stitches; null takes the published figures. */
export function layOutSide(
  spec: DraftSpec,
  compromises: string[],
  stitchDeficit: number | null,
): SideLayout {
  const disc = spec.shape === 'disc';
  const segments = segmentsOf(spec);
  const cornerPanels = spec.panels.filter((panel) => panel.place === 'corner' && !disc);
  if (spec.panels.some((panel) => panel.place === 'corner') && disc)
    compromises.push(
      'A disc has no corners: the corner panel stands in the middle of each sector.',
    );
  if (cornerPanels.length > 1)
    compromises.push('Only one panel can run along a corner: the first one was taken.');
  const spanMm = ((disc ? Math.PI : segments) * spec.sizeMm) / segments;
  let cornerPanel = cornerPanels.length > 0 ? read(cornerPanels[0], spec, compromises) : null;
  if (cornerPanel && cornerPanel.columns.length > MAX_CORNER * (spanMm / spec.stitchMm)) {
    compromises.push(
      `The panel "${cornerPanels[0].stitches}" is too wide for the corners of this size: it was left out.`,
    );
    cornerPanel = null;
  }
  if (cornerPanel && spec.corner === 'centred')
    compromises.push(
      'A panel along the corner needs paired decreases beside it: the centred double was given up.',
    );
  const cornerColumns: ColumnFabric[] = cornerPanel
    ? [...cornerPanel.columns]
    : Array.from({ length: disc ? 0 : plainCorner(spec) }, () => 'ground' as const);

  const others = spec.panels
    .filter((panel) => !cornerPanels.includes(panel))
    .map((panel) => ({ wish: panel, columns: read(panel, spec, compromises) }));
  const given = (panel: PanelColumns | null) =>
    (panel?.cables ?? []).reduce((sum, cable) => sum + givenUp(cable, spec.cablePullIn), 0);
  const pulled = (kept: typeof others) =>
    stitchDeficit ??
    given(cornerPanel) + kept.reduce((sum, panel) => sum + given(panel.columns), 0);

  let kept = others;
  let width = 0;
  for (;;) {
    width = Math.max(3, Math.round(spanMm / spec.stitchMm + pulled(kept) - cornerColumns.length));
    const placed = place(kept, width, compromises);
    if (placed.length === kept.length) return finish(placed, width);
    kept = kept.filter((panel) => placed.some((p) => p.panel === panel));
  }

  function finish(placed: readonly PlacedPanel[], sideWidth: number): SideLayout {
    const columns: ColumnFabric[] = Array.from({ length: sideWidth }, () => 'ground' as const);
    const cables: CableColumns[] = [];
    for (const { panel, first } of placed) {
      panel.columns.columns.forEach((column, i) => {
        columns[first + i] = column;
      });
      for (const cable of panel.columns.cables)
        cables.push({ ...cable, first: first + cable.first });
    }
    const centred = spec.corner === 'centred' && !cornerPanel && !disc;
    let centredFrom = sideWidth >> 1;
    for (const { panel, first } of placed)
      if (centredFrom > first && centredFrom < first + panel.columns.columns.length)
        centredFrom = first;
    return {
      side: {
        ground: spec.ground,
        columns,
        cables,
        panels: placed.map(({ panel, first }) => panelParts(panel.columns.columns, first)),
      },
      corner: {
        ground: spec.ground,
        columns: cornerColumns,
        cables: cornerPanel ? cornerPanel.cables : [],
        panels: cornerPanel ? [panelParts(cornerPanel.columns, 0)] : [],
      },
      centredFrom: centred ? centredFrom : null,
      pullInMm: pulled(kept) * spec.stitchMm,
      panels: placed.map(({ panel, first }) => ({ first, width: panel.columns.columns.length })),
    };
  }
}

/** Stitch widths that a cable gives up by being crossed. */
function givenUp(cable: CableColumns, share: number | null): number {
  return cable.width * (share ?? 1 - cableWidthFactor(cable.width / 2, cable.every));
}

function plainCorner(spec: DraftSpec): number {
  return spec.corner === 'centred' ? 1 : Number(spec.corner.slice(-1));
}

function read(panel: PanelSpec, spec: DraftSpec, compromises: string[]): PanelColumns {
  let crossEvery = panel.crossEvery;
  if (crossEvery !== null && spec.worked === 'flat' && crossEvery % 2 === 1) {
    crossEvery++;
    compromises.push(
      `Worked flat, crossings fall on right-side rows: every ${crossEvery} rows instead of ${panel.crossEvery}.`,
    );
  }
  return readPanel({ ...panel, crossEvery });
}

interface NamedPanel {
  readonly wish: PanelSpec;
  readonly columns: PanelColumns;
}
interface PlacedPanel {
  readonly panel: NamedPanel;
  readonly first: number;
}

/** Places the panels that fit; says which don't. Panels in the middle stand side by side. */
function place(panels: readonly NamedPanel[], width: number, compromises: string[]): PlacedPanel[] {
  const taken = new Uint8Array(width);
  const placed: PlacedPanel[] = [];
  const middles = panels.filter((p) => typeof p.wish.place !== 'number');
  const together = middles.reduce((sum, p) => sum + p.columns.columns.length, 0);
  let nextMiddle = Math.floor((width - together) / 2);
  if (together > 0 && together <= width && (width - together) % 2 === 1)
    note(
      compromises,
      'The panel stands half a stitch off the middle of the side, so that the size comes nearest to the one asked.',
    );
  for (const panel of panels) {
    const span = panel.columns.columns.length;
    const first = typeof panel.wish.place === 'number' ? panel.wish.place : nextMiddle;
    const fits =
      Number.isInteger(first) &&
      first >= 0 &&
      first + span <= width &&
      taken.subarray(first, first + span).every((t) => t === 0);
    if (!fits) {
      note(
        compromises,
        `The panel "${panel.wish.stitches}" (${span} sts) does not fit at its place on a side of ${width} sts: it was left out.`,
      );
      continue;
    }
    taken.fill(1, first, first + span);
    placed.push({ panel, first });
    if (typeof panel.wish.place !== 'number') nextMiddle += span;
  }
  return placed;
}

function note(compromises: string[], text: string): void {
  if (!compromises.includes(text)) compromises.push(text);
}
