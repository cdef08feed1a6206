/**
 * An existing plan at another size or gauge ("grading"): its stitches at another count, ready to be timed.
 *
 * Input: any shaped Plan, the size and gauge asked. Output: a design for every number of stitches: the same
 * corners, panels whole with their edges, the ground between them in proportion, shaping rounds added or left
 * out at the rim. It works on the stitches, whatever their wording.
 */
import type { GaugeStatement, Plan } from '../../plan/plan.ts';
import { headerOf, readHeader } from '../../plan/write/header.ts';
import type { PlanOutline } from '../../plan/write/plan-text.ts';
import type { Verdict } from '../../report/verdict.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { flatRate, type Timing } from '../motif/decrease-schedule.ts';
import { outlinePlan } from '../motif/outline-plan.ts';
import { changeSides } from '../motif/side-stitch.ts';
import type { Candidate } from '../search/flat-timing.ts';
import type { SizedDesign } from '../search/size-search.ts';
import { MAX_DRAWN_UP } from '../spec/draft-spec.ts';
import type { WorkedColumns } from './column-model.ts';
import { mayBeRope, orphanColumns, readSideFabric, type SideFabric } from './panel-columns.ts';
import { patternAsSet, type Strays } from './pattern-period.ts';
import { type PatternSource, PlanRebuilder } from './rebuild-plan.ts';
import { reshape, singlesAtCentre } from './reshape-sides.ts';
import { resizeSides } from './resize-sides.ts';
import { keepsWidths, type RimLine } from './rim-lines.ts';
import { addAtRim } from './rim-shaping.ts';
import { type Shaping, type ShapingEvent, shapingOf } from './shaping.ts';
import { endsAsGround, knowsGround, shownPanels, straysOf } from './shown-panels.ts';
import {
  beginsInside,
  countIn,
  findSides,
  isSewn,
  itemColumns,
  lostNear,
  minorStep,
  placesOn,
  type SideStructure,
} from './side-structure.ts';
import { rightSideRounds } from './turn-flat.ts';

export interface GradeSpec {
  /** Side of the finished motif, diameter of a disc, mm. */
  readonly sizeMm: number;
  /** Ground gauge to work at, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Corner lines; 0 where the shaping is spread (the size is then the diameter). */
  readonly corners: number;
  /** Stitches by which a side is narrower than its count at the rim (panels), from the report. */
  readonly sideDeficit?: number;
  /** What refusals measure in; cm by default. */
  readonly units?: LengthUnit;
}

/** The plan at one count and timing. */
export interface GradeCandidate extends Candidate {
  readonly outline: Omit<PlanOutline, 'header'>;
  readonly notes: readonly string[];
  /** Shaping rounds added (negative: left out), and stitches more that every side keeps to the centre. */
  readonly added: number;
  readonly kept: number;
  /** Whether those are taken (made, where it is grown) in a round of their own at the centre. */
  readonly atCentre: boolean;
  /** Whether every cable is crossed at least once, and every panel worked whole. */
  readonly whole: boolean;
}

export interface GradeDesign extends SizedDesign<GradeCandidate> {
  /** Stitches of the whole rim, seam stitches left out. */
  readonly rim: number;
}

/** Most shaping rounds that are added. Chosen: beyond it a fresh draft is the better way. */
const MAX_ADDED = 400;

/** Stitches a side off the size asked that no corner is changed for. Chosen: half of one. */
const NEAR = 0.5;

/** Stitches of the whole rim, the seam's left out. */
export function rimStitches(plan: Plan): number {
  return Math.max(plan.castOn, ...plan.rounds.map((round) => round.after)) - seamOf(plan);
}

/** The gauge that a plan is graded from: as it states it for its ground, else as its fabric was read. */
export function groundGauge(
  plan: Plan,
  read: { readonly stitchMm: number; readonly roundMm: number },
): { stitchMm: number; roundMm: number } {
  const [stated] = plan.gauges;
  return stated?.roundMm
    ? { stitchMm: stated.stitchMm, roundMm: stated.roundMm }
    : { stitchMm: read.stitchMm, roundMm: read.roundMm };
}

/** Stitches by which a side is narrower than its count at the rim, from the relaxed piece. */
export function sideDeficitOf(
  plan: Plan,
  { corners, sideMm }: { readonly corners: number; readonly sideMm: number },
  stitchMm: number,
): number {
  return corners >= 3 ? rimStitches(plan) / corners - sideMm / stitchMm : 0;
}

function seamOf(plan: Plan): number {
  return plan.seam ? plan.seam.begin + plan.seam.end : 0;
}

/** What a size that is not the one asked trades, in a knitter's words; `otherMm`: the next on the
 * other side of it; `flat`: whether the piece lies flat. */
export function sizeNotes(
  { sizeMm, corners, units = 'cm' }: GradeSpec,
  comesToMm: number,
  otherMm: number | null,
  flat: boolean,
): string[] {
  const [asked, comes] = [sizeMm, comesToMm].map((mm) => lengthWords(mm, units));
  if (asked === comes) return [];
  const what = corners >= 3 ? 'side' : 'diameter';
  const either =
    otherMm === null
      ? ''
      : ` The sizes on either side of it are ${[comesToMm, otherMm]
          .sort((a, b) => a - b)
          .map((mm) => lengthWords(mm, units))
          .join(' and ')}.`;
  return [
    `Whole stitches${flat ? ' that lie flat' : ''}: the ${what} comes to ${comes} instead of ${asked}.${either}`,
  ];
}

/** Why a plan is refused a size: what comes nearest is neither that size nor flat. */
export function cannotGrade(
  { sizeMm, corners, units = 'cm' }: GradeSpec,
  comesToMm: number,
  verdict: Verdict,
): string {
  const [asked, comes] = [sizeMm, comesToMm].map((mm) => lengthWords(mm, units));
  const what = corners >= 3 ? 'side' : 'diameter';
  return `This plan cannot be graded to a ${what} of ${asked}: what comes nearest is ${comes} and does not lie flat (${verdict}). Draft a new plan of that size instead.`;
}

/** Makes designs of one plan at a gauge; see `designFor`. */
export class PlanGrader {
  readonly gauges: readonly GaugeStatement[];
  private readonly shaping: Shaping;
  private readonly structure: SideStructure | null;
  private readonly fabric: SideFabric;
  /** What the plan works orphans as says nothing of their panel. */
  private readonly strays: Strays;
  /** First columns of the cables that every size must cross. */
  private readonly cables: readonly number[];
  /** Panels that the plan works whole in some round, and every size must. */
  private readonly shown: readonly (readonly number[])[];
  private readonly inwards: boolean;
  private readonly rimLines: readonly RimLine[];
  private readonly panelColumns: ReadonlySet<number>;
  private readonly rimColumns: readonly number[];
  /** Stitches of the plan's own rim, the seam's left out. */
  readonly rim: number;
  /** Whether what most columns are worked as is known to be the ground. */
  private readonly groundKnown: boolean;
  private readonly step: number;
  private readonly sides: number;
  private readonly rate: number;

  constructor(
    private readonly plan: Plan,
    private readonly spec: GradeSpec,
  ) {
    this.shaping = shapingOf(plan);
    const { events, worked, start } = this.shaping;
    if (events.length === 0)
      throw new RangeError(
        'This plan has no shaping: its size is that of its cast-on and its rounds.',
      );
    if (!(spec.sizeMm > 0 && spec.stitchMm > 0 && spec.roundMm > 0))
      throw new RangeError('Size and gauge must be more than nothing.');
    // Spread shaping may fall as that of corners does, by chance, through the panels.
    const closed = plan.worked === 'round' || plan.seam !== null;
    this.structure = spec.corners >= 3 ? findSides(this.shaping, closed, plan.seam) : null;
    this.inwards = events.reduce((sum, event) => sum + event.change, 0) < 0;
    const rim = this.inwards ? start : events[events.length - 1].items.flatMap(itemColumns);
    const sides = this.structure?.sides ?? [
      rim.filter((_, i) => !isSewn(i, rim.length, plan.seam)),
    ];
    const places = this.structure
      ? placesOn(this.structure, sides)
      : new Map(rim.map((column, i) => [column, i]));
    const shaped = new Set(goneOrBorn(events[this.inwards ? 0 : events.length - 1]));
    const { inwards, structure } = this;
    const onRim = { rim, sides, place: places, inPhase: structure !== null, inwards, shaped };
    this.fabric = readSideFabric(worked, onRim, plan.gauges[0]?.fabric ?? null);
    this.rim = rimStitches(plan);
    this.rimColumns = rim;
    this.panelColumns = new Set(this.fabric.panels.flatMap((panel) => panel.columns));
    this.step = Math.abs((this.inwards ? events[0] : events[events.length - 1]).change);
    this.sides = spec.corners >= 3 ? spec.corners : 1;
    this.rate = flatRate(this.sides, spec.corners < 3, spec.stitchMm, spec.roundMm);
    this.gauges = readHeader(headerOf({ ...plan, gauges: gaugesAt(plan, spec) })).gauges;
    this.shown = shownPanels(worked, this.fabric);
    this.groundKnown = knowsGround(worked, this.fabric, this.rim, plan.gauges[0]?.fabric ?? null);
    this.strays = straysOf(this.shaping, this.fabric);
    this.rimLines = this.fromRim(
      rightSideRounds(plan).map((names, i) => ({ names, planRound: i + 1 })),
    );
    this.cables = this.fabric.panels.flatMap((panel) => panel.cables);
  }

  /** Whether any side has a panel of its own. */
  get hasPanels(): boolean {
    const onSides = new Set(this.structure?.sides.flat());
    return this.fabric.panels.some(({ columns }) => columns.some((column) => onSides.has(column)));
  }

  /** Stitches of the rim that a size takes, when a side lacks so many. */
  private wanted(deficit: number): number {
    const { corners, sizeMm, stitchMm } = this.spec;
    return ((corners >= 3 ? this.sides : Math.PI) * sizeMm) / stitchMm + this.sides * deficit;
  }

  /** Size of a rim of so many stitches, mm. */
  sizeOf(rim: number, deficit: number): number {
    const { corners, stitchMm } = this.spec;
    return ((rim - this.sides * deficit) * stitchMm) / (corners >= 3 ? this.sides : Math.PI);
  }

  /** Null where the panels, or the shaping, do not fit on so few stitches. */
  designFor(deficit: number): GradeDesign | null {
    const wanted = this.wanted(deficit);
    const perSide = this.spec.corners >= 3 ? Math.max(1, Math.round(this.step / this.sides)) : 1;
    // Stitches more on every side come nearer than a whole round of shaping.
    const ways = Array.from({ length: perSide }, (_, sideChange) => {
      const short = wanted - this.rim - sideChange * this.sides;
      const added = Math.round(short / this.step);
      return { added, sideChange, off: Math.abs(short - added * this.step) };
    });
    const [plain] = ways;
    if (plain.off > NEAR * this.sides)
      ways.sort((a, b) => a.off - b.off || a.sideChange - b.sideChange);
    for (const { added, sideChange } of ways) {
      const design = this.designWith(added, sideChange);
      if (design || sideChange === 0) return design;
    }
    return null;
  }

  /** Stitches of the smallest rim that holds everything; null where none does. */
  smallestRim(from: number): number | null {
    const most = Math.max(0, Math.round((from - this.rim) / this.step)) + MAX_TRIED;
    const filled = this.structure === null && this.eatsPanels();
    for (let added = Math.round((from - this.rim) / this.step); added <= most; added++) {
      if (added > 0 && filled) return null;
      const design = this.designWith(added, 0);
      if (design) return design.rim;
    }
    return null;
  }

  private designWith(added: number, sideChange: number): GradeDesign | null {
    if (added > MAX_ADDED)
      throw new RangeError(
        `This size takes ${added} more shaping rounds: draft a new plan instead.`,
      );
    const { events } = this.shaping;
    if (-added >= events.length) return null;
    // All-over lace and the like: the whole side is one panel, and goes as its rim does.
    const hasGround = this.fabric.ground.size > 0;
    const onSides = this.structure !== null && hasGround;
    const reshaped = onSides
      ? this.reshapedSides(added, sideChange)
      : this.reshapedRim(added, sideChange);
    if (!reshaped) return null;
    const rim = this.rim + added * this.step + sideChange * this.sides;
    const design = this.design(reshaped, rim);
    return design.work(null).whole ? design : null;
  }

  /** Sides with their panels whole; null where there is no room for them, or for a stitch more on each. */
  private reshapedSides(added: number, sideChange: number): Reshaped | null {
    const structure = this.structure as SideStructure;
    const { worked } = this.shaping;
    if (added !== 0 && this.fabric.unclear) throw new RangeError(NO_EDGE);
    const lost =
      added >= 0
        ? structure.lostAtRim.map((lost) => added * lost)
        : lostNear(structure, -added)?.map((lost) => -lost);
    if (!lost) return null;
    const halves = beginsInside(structure);
    if (sideChange > 0 && structure.sides.length !== this.sides + (halves ? 1 : 0)) return null;
    const minor = minorStep(structure, sideChange, this.sides);
    const byMinor = structure.sides.map((side) => (minor ? countIn(side, minor.lost) : 0));
    const more = minor ? sideChange - minor.lost.size / this.sides : sideChange;
    const growth = lost.map(
      (change, k) => change + byMinor[k] + (halves && k === this.sides ? 0 : more),
    );
    const resized = resizeSides(worked, structure.sides, this.fabric, growth, halves);
    if (!resized) return null;
    const atCentre = more > 0 && !this.centreTakes(more);
    if (atCentre && more > 1) return null;
    const work = () => reshape(structure, resized.sides, added, minor);
    const reshaped = sideChange === 0 ? work() : this.orNull(work);
    const shaping =
      reshaped && atCentre
        ? singlesAtCentre(reshaped, resized.sides.slice(0, this.sides), this.inwards)
        : reshaped;
    if (!shaping) return null;
    return {
      shaping: { worked: resized.worked, ...shaping },
      source: resized.sides,
      added: added + (minor ? 1 : 0),
      kept: more,
      atCentre,
    };
  }

  /** What cannot be worked with a stitch more a side is worked without. */
  private orNull<T>(work: () => T): T | null {
    try {
      return work();
    } catch (error) {
      if (error instanceof RangeError) return null;
      throw error;
    }
  }

  /** Whether so many stitches more a side, cast on at a closed centre or drawn up there, leave no hole. */
  private centreTakes(more: number): boolean {
    const { plan } = this;
    const last = plan.rounds[plan.rounds.length - 1].after;
    const centre = (this.inwards ? last : plan.castOn) - seamOf(plan);
    const closes = !this.inwards || plan.ending === 'drawn-up';
    return !closes || centre + more * this.sides <= MAX_DRAWN_UP;
  }

  /** Null where a stitch more beside every corner cannot be worked to the centre. */
  private withOneMore(shaping: Shaping): Shaping | null {
    const closed = this.plan.worked === 'round' || this.plan.seam !== null;
    const may = closed && this.spec.corners >= 3 && this.centreTakes(1);
    return may ? changeSides(shaping, this.sides, 1, this.panelColumns) : null;
  }

  /** Shaping rounds added or left out at the rim; null where that would take a panel's stitches. */
  private reshapedRim(added: number, sideChange: number): Reshaped | null {
    if (added < 0) {
      const panels = this.panelColumns;
      const { events } = this.shaping;
      const left = this.inwards ? events.slice(0, -added) : events.slice(added);
      const gone = left.flatMap(goneOrBorn);
      const touched =
        gone.some((column) => panels.has(column)) ||
        mayBeRope(this.rimColumns, new Set(gone), this.fabric.panels);
      if (touched && this.groundKnown) return null;
    }
    if (added > 0 && this.eatsPanels()) throw new RangeError(NO_GROUND);
    if (added > 0 && this.spec.corners >= 3 && this.groundAlternates())
      throw new RangeError(NO_SIDES);
    const reshaped = addAtRim(this.shaping, added, this.inwards);
    if (sideChange > 1) return null;
    const shaping = sideChange === 0 ? reshaped : this.withOneMore(reshaped);
    return shaping && { shaping, source: null, added, kept: sideChange, atCentre: false };
  }

  /** Whether the shaping at the rim runs through a panel, so that more of it would widen the panel. */
  private eatsPanels(): boolean {
    const { events } = this.shaping;
    const panels = this.panelColumns;
    const atRim = goneOrBorn(events[this.inwards ? 0 : events.length - 1]);
    return (
      this.groundKnown &&
      (atRim.some((column) => panels.has(column)) ||
        mayBeRope(this.rimColumns, new Set(atRim), this.fabric.panels))
    );
  }

  /** Whether neighbours of the ground are worked unlike, as in seed: a new column must know its place. */
  private groundAlternates(): boolean {
    const [first, next] = this.groundOf(1);
    return this.groundKnown && first !== next;
  }

  private design({ shaping, source, added, kept, atCentre }: Reshaped, rim: number): GradeDesign {
    const { plan, spec, rate, step } = this;
    const pattern = source ? this.patternOn(shaping, source) : this.patternInPlace(shaping);
    const rebuilder = new PlanRebuilder(shaping, pattern, this.shown);
    const segments = spec.corners >= 3 ? spec.corners : 1;
    const seam = seamOf(plan);
    const segment = (count: number) => Math.max(0, Math.round((count - seam) / segments));
    const work = (timing: Timing | null): GradeCandidate => {
      const profile = timing?.rateProfile;
      const pace = (before: number) =>
        rate * (profile?.[Math.min(profile.length - 1, segment(before))] ?? 1);
      const { rounds, faces, counts, crossed, shown, notes } = rebuilder.rebuild(
        (change, before) => Math.max(1, change / pace(before)),
        ((timing?.shift ?? 0) * step) / rate,
      );
      const { worked, ending } = plan;
      const outline = { castOn: shaping.start.length, worked, rounds, ending };
      return {
        plan: outlinePlan(outline, { ...plan, gauges: this.gauges }),
        counts: counts.map(segment),
        outline,
        notes,
        added,
        kept,
        atCentre,
        whole:
          this.cables.every((cable) => crossed.has(cable)) &&
          shown.size === this.shown.length &&
          (!this.groundKnown || keepsWidths(this.rimLines, this.fromRim(faces))),
      };
    };
    return { corners: spec.corners, sideStitches: rim / this.sides, rim, work };
  }

  /** Rounds with their ground, from the rim on. */
  private fromRim(
    rounds: readonly { readonly names: readonly string[]; readonly planRound: number }[],
  ): RimLine[] {
    const lines = rounds.map(({ names, planRound }) => ({
      names,
      ground: this.groundOf(planRound),
    }));
    return this.inwards ? lines : lines.reverse();
  }

  private readonly groundOf = (round: number): readonly [string, string] => [
    this.fabric.groundStitch(0, round),
    this.fabric.groundStitch(1, round),
  ];

  /** Ground goes by its place on the side, panels by their own columns; their orphans are ground. */
  private patternOn(shaping: Shaping, sides: readonly (readonly number[])[]): PatternSource {
    const { fabric } = this;
    const own = this.shaping.worked.columns;
    const place = placesOn(this.structure as SideStructure, sides);
    const asSet = patternAsSet(shaping.worked, this.strays);
    const phase = new Map(
      sides.flatMap((side, k) => side.map((column) => [column, fabric.phases[k]] as const)),
    );
    const groundStitch = (column: number, round: number) =>
      fabric.groundStitch((place.get(column) ?? 0) + (phase.get(column) ?? 0), round);
    const last = this.shaping.worked.rounds.length;
    const leftPanel = endsAsGround(this.shaping.worked, this.groundOf);
    return {
      inPlace: false,
      groundStitch,
      ground: this.groundOf,
      orphans: (live) => orphanColumns(fabric.panels, live),
      stitch: (column, round) =>
        (place.has(column) && (column >= own || fabric.ground.has(column))) ||
        (!place.has(column) && round > last && leftPanel(column))
          ? groundStitch(column, round)
          : asSet.stitch(ownColumn(column, own, shaping.worked), round),
    };
  }

  /** Columns as set; those that the rim gains are ground where that is alike in all its columns. */
  private patternInPlace(shaping: Shaping): PatternSource | null {
    const { fabric, groundKnown } = this;
    if (!groundKnown) return null;
    const own = this.shaping.worked.columns;
    const asSet = patternAsSet(shaping.worked, this.strays);
    const groundStitch = (column: number, round: number) => {
      const [first, next] = [0, 1].map((place) => fabric.groundStitch(place, round));
      return first === next ? first : asSet.stitch(ownColumn(column, own, shaping.worked), round);
    };
    return {
      inPlace: true,
      groundStitch,
      ground: this.groundOf,
      orphans: (live) => orphanColumns(fabric.panels, live),
      stitch: (column, round) =>
        column >= own ? groundStitch(column, round) : asSet.stitch(column, round),
    };
  }
}

/** The plan's own column that a new one was copied from: it lies next to it. */
function ownColumn(column: number, own: number, { order }: WorkedColumns): number {
  if (column < own) return column;
  let nearest = 0;
  for (let other = 1; other < own; other++)
    if (Math.abs(order[other] - order[column]) < Math.abs(order[nearest] - order[column]))
      nearest = other;
  return nearest;
}

/** What is said where panels fill the rim. */
const NO_GROUND =
  'This plan cannot be graded larger: its panels fill the rim, so that the shaping runs through them from there on. Draft a new plan instead.';

/** What is said where the last shaping of a piece grown outwards touches a panel. */
const NO_EDGE =
  'This plan cannot be graded: its last shaping stands against a panel, so that it cannot be told where the panel ends. Draft a new plan instead.';

/** What is said where a new column's place in its ground cannot be told. */
const NO_SIDES =
  'This plan cannot be graded larger: its sides are too short beside its corners to tell where its ground goes on. Draft a new plan instead.';

/** Shaping rounds beyond the size asked that are tried for what would fit. Chosen. */
const MAX_TRIED = 80;

/** Columns that a shaping round takes or makes. */
function goneOrBorn({ items }: ShapingEvent): number[] {
  return items.flatMap((item) =>
    item.role === 'shape'
      ? [
          ...item.before.filter((column) => !item.after.includes(column)),
          ...item.after.filter((column) => !item.before.includes(column)),
        ]
      : [],
  );
}

interface Reshaped {
  readonly shaping: Shaping;
  /** New columns of the sides; null where the pattern is the plan's own. */
  readonly source: readonly (readonly number[])[] | null;
  /** Shaping rounds added (negative: left out). */
  readonly added: number;
  /** Stitches that its sides have more to the centre, and whether a round of its own takes them there. */
  readonly kept: number;
  readonly atCentre: boolean;
}

/** The plan's gauges at another one of its ground: other fabrics of the yarn change in proportion. */
function gaugesAt(plan: Plan, { stitchMm, roundMm }: GradeSpec): readonly GaugeStatement[] {
  const [ground, ...others] = plan.gauges;
  if (!ground) return [{ fabric: null, stitchMm, roundMm, at: { line: 1, column: 1 } }];
  const wide = stitchMm / ground.stitchMm;
  const tall = ground.roundMm === null ? wide : roundMm / ground.roundMm;
  return [
    { ...ground, stitchMm, roundMm },
    ...others.map((other) => ({
      ...other,
      stitchMm: other.stitchMm * wide,
      roundMm: other.roundMm === null ? null : other.roundMm * tall,
    })),
  ];
}
