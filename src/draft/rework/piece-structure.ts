/**
 * What a piece to be graded is made of, read once from its stitches, whatever their wording.
 * In: a shaped plan and its corner lines (0: spread). Out: its shaping, sides, ground and panels, and the step that its
 * rim goes by. RangeError where it has no shaping.
 */
import type { Plan } from '../../plan/plan.ts';
import { isOpen, openSides } from './open-piece.ts';
import { readSideFabric, type SideFabric } from './panel-columns.ts';
import type { Strays } from './pattern-period.ts';
import type { RimLine } from './rim-lines.ts';
import { rimStitches } from './rim-stitches.ts';
import { type Shaping, type ShapingEvent, shapingOf } from './shaping.ts';
import { knowsGround, shownPanels, straysOf } from './shown-panels.ts';
import { findSides, isSewn, itemColumns, placesOn, type SideStructure } from './side-structure.ts';
import { rightSideRounds } from './turn-flat.ts';

export interface PieceStructure {
  readonly plan: Plan;
  readonly shaping: Shaping;
  /** Worked from the rim to the centre. */
  readonly inwards: boolean;
  /** Null where the shaping is spread or not that of corners. */
  readonly structure: SideStructure | null;
  readonly fabric: SideFabric;
  readonly panelColumns: ReadonlySet<number>;
  /** Columns of the rim, right to left, and stitches of it, the seam's left out. */
  readonly rimColumns: readonly number[];
  readonly rim: number;
  /** The sides asked, or 1; and whether the shaping runs in lines to corners. */
  readonly sides: number;
  readonly cornered: boolean;
  /** Stitches that the shaping round nearest to the rim takes. */
  readonly step: number;
  /** Whether what most columns are worked as is known to be the ground. */
  readonly groundKnown: boolean;
  /** What is worked whole in some round, and every size must: panels, and cables by their first columns. */
  readonly shown: readonly (readonly number[])[];
  readonly cables: readonly number[];
  readonly rimLines: readonly RimLine[];
  /** What the plan works orphans as says nothing of their panel. */
  readonly strays: Strays;
}

export function readPieceStructure(plan: Plan, corners: number): PieceStructure {
  const shaping = shapingOf(plan);
  const { events, worked, start } = shaping;
  if (events.length === 0)
    throw new RangeError(
      'This plan has no shaping: its size is that of its cast-on and its rounds.',
    );
  // Spread shaping may fall as that of corners does, by chance, through the panels.
  const closed = plan.worked === 'round' || plan.seam !== null;
  const open = isOpen(plan);
  const cornered = open || corners >= 3;
  const structure = cornered ? findSides(shaping, closed, plan.seam) : null;
  const ofOpen = open ? openSides(plan) : null;
  const inwards = events.reduce((sum, event) => sum + event.change, 0) < 0;
  const rim = inwards ? start : events[events.length - 1].items.flatMap(itemColumns);
  const sewn = new Set(rim.filter((_, i) => isSewn(i, rim.length, plan.seam)));
  const sides = structure?.sides ?? [rim.filter((column) => !sewn.has(column))];
  const place = structure
    ? placesOn(structure, sides)
    : new Map(rim.map((column, i) => [column, i]));
  const atRim = events[inwards ? 0 : events.length - 1];
  const shaped = new Set(goneOrBorn(atRim));
  const named = plan.gauges[0]?.fabric ?? null;
  const onRim = { rim, sides, place, inPhase: structure !== null, inwards, shaped, sewn };
  const fabric = readSideFabric(worked, onRim, named);
  const rimLines = fromRim(
    rightSideRounds(plan).map((names, i) => ({ names, planRound: i + 1 })),
    fabric,
    inwards,
    plan.seam,
  );
  return {
    plan,
    shaping,
    inwards,
    structure,
    fabric,
    panelColumns: new Set(fabric.panels.flatMap((panel) => panel.columns)),
    rimColumns: rim,
    rim: rimStitches(plan),
    sides: ofOpen ?? (cornered ? corners : 1),
    cornered,
    step: Math.abs(atRim.change),
    groundKnown: knowsGround(worked, fabric, rimStitches(plan), named),
    shown: shownPanels(worked, fabric),
    cables: fabric.panels.flatMap((panel) => panel.cables),
    rimLines,
    strays: straysOf(shaping, fabric),
  };
}

/** Rounds with their ground, without the seam's stitches, from the rim on. */
export function fromRim(
  rounds: readonly { readonly names: readonly string[]; readonly planRound: number }[],
  fabric: SideFabric,
  inwards: boolean,
  seam: Plan['seam'],
): RimLine[] {
  const { begin, end } = seam ?? { begin: 0, end: 0 };
  const lines = rounds.map(({ names, planRound }) => ({
    names: names.slice(begin, names.length - end),
    ground: groundIn(fabric, planRound),
  }));
  return inwards ? lines : lines.reverse();
}

/** The ground of a round of the plan (1-based) at two neighbouring places. */
export function groundIn({ groundStitch }: SideFabric, round: number): readonly [string, string] {
  return [groundStitch(0, round), groundStitch(1, round)];
}

/** Columns that a shaping round takes or makes. */
export function goneOrBorn({ items }: ShapingEvent): number[] {
  return items.flatMap((item) =>
    item.role === 'shape'
      ? [
          ...item.before.filter((column) => !item.after.includes(column)),
          ...item.after.filter((column) => !item.before.includes(column)),
        ]
      : [],
  );
}
