/**
 * Where the panels stand on a side: spec → columns of side and corner, and how many stitches.
 *
 * The stitch count comes nearest to the size asked after the cables have pulled in. What could not
 * be had is said in `compromises`, in a knitter's words.
 */
import { cableWidthFactor } from '../../gauge/texture/cable-width.ts';
import { beginsWithRidge, type DraftSpec, type PanelSpec, segmentsOf } from '../spec/draft-spec.ts';
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
  readonly panels: readonly {
    readonly stitches: string;
    readonly first: number;
    readonly width: number;
  }[];
  /** What the panels' cables are told by. */
  readonly cabled: readonly {
    readonly stitches: string;
    readonly cables: readonly CableColumns[];
  }[];
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
    .map((panel) => ({ spec: panel, columns: read(panel, spec, compromises) }));
  const given = (panel: PanelColumns | null) =>
    (panel?.cables ?? []).reduce((sum, cable) => sum + givenUp(cable, spec.cablePullIn), 0);
  const pulled = (kept: typeof others) =>
    stitchDeficit ??
    given(cornerPanel) + kept.reduce((sum, panel) => sum + given(panel.columns), 0);

  let kept = others;
  let width = 0;
  for (;;) {
    const room = spanMm / spec.stitchMm + pulled(kept) - cornerColumns.length;
    // Seed runs on from one sector of a disc to the next, which has no corner between them.
    width = Math.max(
      3,
      disc && spec.ground === 'seed' ? 2 * Math.round(room / 2) : Math.round(room),
    );
    const placed = place(kept, width, compromises);
    if (placed.length === kept.length) return finish(placed, width);
    kept = kept.filter((panel) => placed.some((p) => p.panel === panel));
  }

  function finish(placed: readonly PlacedPanel[], sideWidth: number): SideLayout {
    const columns: ColumnFabric[] = Array.from({ length: sideWidth }, () => 'ground' as const);
    const cables: CableColumns[] = [];
    const cabled = cornerPanel
      ? [{ stitches: cornerPanels[0].stitches, cables: cornerPanel.cables }]
      : [];
    for (const { panel, first } of placed) {
      panel.columns.columns.forEach((column, i) => {
        columns[first + i] = column;
      });
      const own = panel.columns.cables.map((cable) => ({ ...cable, first: first + cable.first }));
      cables.push(...own);
      cabled.push({ stitches: panel.spec.stitches, cables: own });
    }
    const centred = spec.corner === 'centred' && !cornerPanel && !disc;
    let centredFrom = sideWidth >> 1;
    for (const { panel, first } of placed)
      if (centredFrom > first && centredFrom < first + panel.columns.columns.length)
        centredFrom = first;
    return {
      side: {
        ground: spec.ground,
        ridgeFirst: beginsWithRidge(spec),
        columns,
        cables,
        panels: placed.map(({ panel, first }) => panelParts(panel.columns.columns, first)),
      },
      corner: {
        ground: spec.ground,
        ridgeFirst: beginsWithRidge(spec),
        columns: cornerColumns,
        cables: cornerPanel ? cornerPanel.cables : [],
        panels: cornerPanel ? [panelParts(cornerPanel.columns, 0)] : [],
      },
      centredFrom: centred ? centredFrom : null,
      pullInMm: pulled(kept) * spec.stitchMm,
      cabled,
      panels: placed.map(({ panel, first }) => ({
        stitches: panel.spec.stitches,
        first,
        width: panel.columns.columns.length,
      })),
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
  readonly spec: PanelSpec;
  readonly columns: PanelColumns;
}
interface PlacedPanel {
  readonly panel: NamedPanel;
  readonly first: number;
}

/** Places the panels that fit; says which don't. Panels in the middle stand spaced evenly. */
function place(panels: readonly NamedPanel[], width: number, compromises: string[]): PlacedPanel[] {
  const taken = new Uint8Array(width + 2);
  const placed: PlacedPanel[] = [];
  const starts = middleStarts(panels, width, compromises);
  for (const panel of panels) {
    const span = panel.columns.columns.length;
    const first = starts.get(panel) ?? startOf(panel, width);
    const fits =
      Number.isInteger(first) &&
      // A stitch of ground stays between two panels, and between a panel and the corner.
      first >= 1 &&
      first + span < width &&
      taken.subarray(first, first + span + 2).every((t) => t === 0);
    if (!fits) {
      note(
        compromises,
        `The panel "${panel.spec.stitches}" (${span} sts) does not fit at its place on a side of ${width} sts with a stitch beside it: it was left out.`,
      );
      continue;
    }
    taken.fill(1, first + 1, first + span + 1);
    placed.push({ panel, first });
  }
  return placed;
}

/** Stitches to the right of a panel that is told by its place. */
function startOf({ spec, columns }: NamedPanel, width: number): number {
  const span = columns.columns.length;
  if (typeof spec.place === 'number') return spec.place;
  const share = typeof spec.place === 'object' ? spec.place.share : 1 / 2;
  // A mirror image stands as far from the left end as its twin from the right one.
  return share > 1 / 2
    ? width - span - Math.round((1 - share) * width - span / 2)
    : Math.round(share * width - span / 2);
}

/** Stitches to the right of the panels in the middle: equal ground beside and between them. */
function middleStarts(
  panels: readonly NamedPanel[],
  width: number,
  compromises: string[],
): Map<NamedPanel, number> {
  const middles = panels.filter((p) => p.spec.place === 'middle' || p.spec.place === 'corner');
  const together = middles.reduce((sum, p) => sum + p.columns.columns.length, 0);
  const ground = width - together;
  if (middles.length === 1 && ground >= 0 && ground % 2 === 1)
    note(
      compromises,
      'The panel stands half a stitch off the middle of the side, so that the size comes nearest to the one asked.',
    );
  const starts = new Map<NamedPanel, number>();
  let before = 0;
  middles.forEach((panel, i) => {
    starts.set(panel, Math.floor((ground * (i + 1)) / (middles.length + 1)) + before);
    before += panel.columns.columns.length;
  });
  return starts;
}

function note(compromises: string[], text: string): void {
  if (!compromises.includes(text)) compromises.push(text);
}
