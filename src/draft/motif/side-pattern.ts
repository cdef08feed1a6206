/**
 * What each wale of a side (or corner strip) is worked as, round by round: ground fabric and panels.
 *
 * Wales are fixed columns: a decrease at an end takes a column away and leaves the others as they
 * were, so every round follows from wale and round number alone.
 */
import type { GroundName, PanelSpec } from '../spec/draft-spec.ts';
import { MAX_CABLE, type PanelFabric, readPanelWords } from '../spec/panel-words.ts';
import { orphansOf } from './orphan-stitches.ts';

export type ColumnFabric = 'ground' | PanelFabric;

export interface CableColumns {
  /** First wale and number of wales. */
  readonly first: number;
  readonly width: number;
  readonly every: number;
  /** Stitches that lie in front. */
  readonly over: number;
  readonly lean: 'LC' | 'RC';
}

export interface SidePattern {
  readonly ground: GroundName;
  /** See `beginsWithRidge`. */
  readonly ridgeFirst: boolean;
  readonly columns: readonly ColumnFabric[];
  readonly cables: readonly CableColumns[];
  /** Parts of each panel, each its wales: see `orphansOf`. */
  readonly panels: readonly (readonly (readonly number[])[])[];
}

export interface PanelColumns {
  readonly columns: readonly ColumnFabric[];
  /** Cables, `first` counted within the panel. */
  readonly cables: readonly CableColumns[];
}

/** Reads a panel such as `p1 k4 p1`. Throws a RangeError that says which part is not understood. */
export function readPanel(panel: PanelSpec): PanelColumns {
  const { stitches, crossEvery } = panel;
  const parts = readPanelWords(stitches);
  const named = parts.some((part) => part.cable !== null);
  const columns: ColumnFabric[] = [];
  const cables: CableColumns[] = [];
  for (const { fabric, width, cable } of parts) {
    // Where no cable is told by name, every run of knit stitches is one.
    const unnamed = !named && fabric === 'k' && width >= 2 && width <= MAX_CABLE;
    if (crossEvery !== null && (cable || unnamed))
      cables.push({
        first: columns.length,
        width,
        every: crossEvery,
        over: cable?.over ?? width >> 1,
        // Neighbouring cables of one panel lean away from each other.
        lean: cable?.lean ?? (cables.length % 2 === 0 ? 'LC' : 'RC'),
      });
    for (let i = 0; i < width; i++) columns.push(fabric);
  }
  if (crossEvery !== null) {
    if (!(Number.isInteger(crossEvery) && crossEvery >= 2))
      throw new RangeError(
        `Panel "${stitches}": crossings every ${crossEvery} rounds cannot be worked; ` +
          'give a whole number of 2 or more.',
      );
    if (cables.length === 0)
      throw new RangeError(
        `Panel "${stitches}" has no run of 2 to ${MAX_CABLE} knit stitches to cross.`,
      );
  }
  return panel.mirrored ? mirrorImage({ columns, cables }) : { columns, cables };
}

function mirrorImage({ columns, cables }: PanelColumns): PanelColumns {
  return {
    columns: columns.toReversed(),
    cables: cables
      .map(
        (cable): CableColumns => ({
          ...cable,
          first: columns.length - cable.first - cable.width,
          lean: cable.lean === 'LC' ? 'RC' : 'LC',
        }),
      )
      .toReversed(),
  };
}

/** Wales of a panel by its parts, an edge, a cable, an edge; `first` is its first wale on the side. */
export function panelParts(columns: readonly ColumnFabric[], first: number): number[][] {
  const parts: number[][] = [];
  columns.forEach((fabric, i) => {
    if (i > 0 && columns[i - 1] === fabric) parts[parts.length - 1].push(first + i);
    else parts.push([first + i]);
  });
  return parts;
}

/** Stitch worked on a wale that no crossing or decrease takes, as seen from the right side. */
export function stitchOn(
  pattern: SidePattern,
  wale: number,
  round: number,
  orphans: ReadonlySet<number> = NONE,
): string {
  const fabric = orphans.has(wale) ? 'ground' : (pattern.columns[wale] ?? 'ground');
  const named = fabric === 'ground' ? pattern.ground : fabric;
  const ahead = named === 'garter' && pattern.ridgeFirst ? 1 : 0;
  return fabricStitch(named, wale, round + ahead);
}

/** Whether all of the ground shows purl in this round, so that its shaping is purled. */
export function groundPurls({ ground, ridgeFirst }: SidePattern, round: number): boolean {
  return ground !== 'seed' && fabricStitch(ground, 0, ridgeFirst ? round + 1 : round) === 'p';
}

const NONE: ReadonlySet<number> = new Set();

/** Wales of the panels that are worked as the ground while only these are live. */
export function orphanWales(
  { panels }: SidePattern,
  isLive: (wale: number) => boolean,
): ReadonlySet<number> {
  return new Set(panels.flatMap((parts) => orphansOf(parts, isLive)));
}

export function fabricStitch(
  fabric: GroundName | ColumnFabric,
  wale: number,
  round: number,
): string {
  switch (fabric) {
    case 'p':
    case 'reverse':
      return 'p';
    case 'ktbl':
      return 'ktbl';
    case 'garter':
      return round % 2 === 1 ? 'k' : 'p';
    case 'seed':
      return (((wale + round) % 2) + 2) % 2 === 1 ? 'k' : 'p';
    default:
      return 'k';
  }
}

/** When cables cross: on right-side rows alone, where they are odd or even, and whether the first time after half an interval. */
export interface CrossingRounds {
  readonly rightSide: 'odd' | 'even' | 'all';
  readonly early: boolean;
}

/** Whether this cable crosses in this round: every so many rounds, the first time after as many or half as many. */
export function crossesIn(
  cable: CableColumns,
  round: number,
  { rightSide, early }: CrossingRounds,
): boolean {
  const half = cable.every >> 1;
  const ahead = early ? half - (rightSide === 'all' ? 0 : half % 2) : 0;
  // Where right-side rows are odd an even interval is kept by starting one row early.
  return (round + ahead + (rightSide === 'odd' ? 1 : 0)) % cable.every === 0;
}

/** The rounds of a motif, and how often each cable that is crossed is so. */
export interface CrossedRounds {
  readonly rounds: string[][];
  readonly crossed: ReadonlyMap<CableColumns, number>;
}

/** A cable that the shaping soon reaches is crossed after half an interval where that crosses it twice instead of once, or at all. */
export function crossedOften(
  cables: readonly CableColumns[],
  work: (early: boolean) => CrossedRounds,
): CrossedRounds {
  const usual = work(false);
  const often = ({ crossed }: CrossedRounds) =>
    cables.reduce((sum, cable) => sum + Math.min(2, crossed.get(cable) ?? 0), 0);
  if (often(usual) === 2 * cables.length) return usual;
  const early = work(true);
  return often(early) > often(usual) ? early : usual;
}

/** `2/2 LC`. */
export function cableName({ over, width, lean }: CableColumns): string {
  return `${over}/${width - over} ${lean}`;
}
