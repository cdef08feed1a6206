/**
 * An existing plan at another size or gauge ("grading"): its stitches at another count, ready to be timed.
 *
 * Input: any shaped Plan, the size and gauge asked. Output: a design for every number of stitches: the same
 * corners, panels whole with their edges, the ground between them in proportion, shaping rounds added or left
 * out at the rim. It works on the stitches, whatever their wording.
 */
import type { GaugeStatement, Plan } from '../../plan/plan.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { flatRate, type Timing } from '../motif/decrease-schedule.ts';
import { outlinePlan } from '../motif/outline-plan.ts';
import { headerOf, readHeader } from '../motif/plan-header.ts';
import type { PlanOutline } from '../motif/plan-text.ts';
import { changeSides } from '../motif/side-stitch.ts';
import type { Candidate } from '../search/flat-timing.ts';
import type { SizedDesign } from '../search/size-search.ts';
import { MAX_DRAWN_UP } from '../spec/draft-spec.ts';
import { orphanColumns, readSideFabric, type SideFabric } from './panel-columns.ts';
import { patternAsSet, type Strays } from './pattern-period.ts';
import { type PatternSource, PlanRebuilder } from './rebuild-plan.ts';
import { resizeSides } from './resize-sides.ts';
import { addAtRim } from './rim-shaping.ts';
import { type Shaping, shapingOf } from './shaping.ts';
import {
  findSides,
  itemColumns,
  lostNear,
  placesOn,
  reshape,
  type SideStructure,
} from './side-structure.ts';

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
  readonly sideChange: 0 | 1;
  /** Whether every cable is crossed at least once. */
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

/** What a size that is not the one asked trades, in a knitter's words. */
export function sizeNotes(
  { sizeMm, corners, units = 'cm' }: GradeSpec,
  comesToMm: number,
): string[] {
  const [asked, comes] = [sizeMm, comesToMm].map((mm) => lengthWords(mm, units));
  if (asked === comes) return [];
  const what = corners >= 3 ? 'side' : 'diameter';
  return [`Whole stitches that lie flat: the ${what} comes to ${comes} instead of ${asked}.`];
}

/** Makes designs of one plan at a gauge; see `designFor`. */
export class PlanGrader {
  readonly gauges: readonly GaugeStatement[];
  private readonly shaping: Shaping;
  private readonly structure: SideStructure | null;
  private readonly fabric: SideFabric;
  /** What the plan works orphans as says nothing of their panel. */
  private readonly strays: Strays;
  private readonly inwards: boolean;
  private readonly rim: number;
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
    this.structure = findSides(this.shaping, plan.worked === 'round' || plan.seam !== null);
    this.inwards = events.reduce((sum, event) => sum + event.change, 0) < 0;
    const sides = this.structure?.sides ?? [start];
    const places = this.structure
      ? placesOn(this.structure, sides)
      : new Map(start.map((column, i) => [column, i]));
    this.fabric = readSideFabric(worked, sides, places, plan.gauges[0]?.fabric ?? null);
    this.rim = rimStitches(plan);
    this.step = Math.abs((this.inwards ? events[0] : events[events.length - 1]).change);
    this.sides = spec.corners >= 3 ? spec.corners : 1;
    this.rate = flatRate(this.sides, spec.corners < 3, spec.stitchMm, spec.roundMm);
    this.gauges = readHeader(headerOf({ ...plan, gauges: gaugesAt(plan, spec) })).gauges;
    this.strays = straysOf(this.shaping, this.fabric);
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
    const added = Math.round((wanted - this.rim) / this.step);
    const plain = this.designWith(added, 0);
    // A stitch more beside every corner comes nearer than a whole round of shaping.
    const fewer = Math.round((wanted - this.rim - this.sides) / this.step);
    const off = Math.abs(wanted - this.rim - added * this.step);
    const offThen = Math.abs(wanted - this.rim - this.sides - fewer * this.step);
    if (off <= NEAR * this.sides || offThen >= off - 1e-9) return plain;
    return (this.canKeepOneMore() ? this.designWith(fewer, 1) : null) ?? plain;
  }

  /** Stitches of the smallest rim that holds everything; null where none does. */
  smallestRim(from: number): number | null {
    const most = Math.max(0, Math.round((from - this.rim) / this.step)) + MAX_TRIED;
    for (let added = Math.round((from - this.rim) / this.step); added <= most; added++) {
      const design = this.designWith(added, 0);
      if (design) return design.rim;
    }
    return null;
  }

  private canKeepOneMore(): boolean {
    const { plan } = this;
    const last = plan.rounds[plan.rounds.length - 1].after;
    const centre = this.inwards ? last : plan.castOn;
    // Cast on at a closed centre or drawn up there, so many stitches leave no hole.
    const closes = !this.inwards || plan.ending === 'drawn-up';
    const whole = plan.worked === 'round' || plan.seam !== null;
    return whole && this.spec.corners >= 3 && (!closes || centre + this.sides <= MAX_DRAWN_UP);
  }

  private designWith(added: number, sideChange: 0 | 1): GradeDesign | null {
    if (added > MAX_ADDED)
      throw new RangeError(
        `This size takes ${added} more shaping rounds: draft a new plan instead.`,
      );
    const { events } = this.shaping;
    if (-added >= events.length) return null;
    // All-over lace and the like: the whole side is one panel, and goes as its rim does.
    const hasGround = this.fabric.ground.size > 0;
    const reshaped =
      this.structure && hasGround ? this.reshapedSides(added) : this.reshapedRim(added);
    if (!reshaped) return null;
    const shaping =
      sideChange === 0 ? reshaped.shaping : changeSides(reshaped.shaping, this.sides, 1);
    if (!shaping) return null;
    const rim = this.rim + added * this.step + sideChange * this.sides;
    const design = this.design({ ...reshaped, shaping }, rim, added, sideChange);
    return design.work(null).whole ? design : null;
  }

  /** Sides with their panels whole; null where there is no room for them. */
  private reshapedSides(added: number): Reshaped | null {
    const structure = this.structure as SideStructure;
    const { worked } = this.shaping;
    const growth =
      added >= 0
        ? structure.lostAtRim.map((lost) => added * lost)
        : lostNear(structure, -added)?.map((lost) => -lost);
    if (!growth) return null;
    const resized = resizeSides(worked, structure.sides, this.fabric, growth);
    if (!resized) return null;
    const { start, events } = reshape(structure, resized.sides, added);
    const shaping: Shaping = { worked: resized.worked, start, events };
    return { shaping, source: resized.sides };
  }

  /** Shaping rounds added or left out at the rim; null where that would take a panel's stitches. */
  private reshapedRim(added: number): Reshaped | null {
    if (this.inwards && added < 0) {
      const panels = new Set(this.fabric.panels.flatMap((panel) => panel.columns));
      const gone = this.shaping.events
        .slice(0, -added)
        .flatMap(({ items }) =>
          items.flatMap((item) =>
            item.role === 'shape' ? item.before.filter((c) => !item.after.includes(c)) : [],
          ),
        );
      const touched = gone.some((column) => panels.has(column));
      // Where most of the rim is not ground, its ground was not understood.
      if (touched && 2 * panels.size < this.rim) return null;
    }
    return { shaping: addAtRim(this.shaping, added, this.inwards), source: null };
  }

  private design(
    { shaping, source }: Reshaped,
    rim: number,
    added: number,
    sideChange: 0 | 1,
  ): GradeDesign {
    const { plan, spec, rate, step } = this;
    const rebuilder = new PlanRebuilder(shaping, source && this.patternOn(shaping, source));
    const segments = spec.corners >= 3 ? spec.corners : 1;
    const seam = seamOf(plan);
    const segment = (count: number) => Math.max(0, Math.round((count - seam) / segments));
    const cables = this.fabric.panels.flatMap((panel) => panel.cables);
    const work = (timing: Timing | null): GradeCandidate => {
      const profile = timing?.rateProfile;
      const pace = (before: number) =>
        rate * (profile?.[Math.min(profile.length - 1, segment(before))] ?? 1);
      const { rounds, counts, crossed, notes } = rebuilder.rebuild(
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
        sideChange,
        whole: cables.every((cable) => crossed.has(cable)),
      };
    };
    return { corners: spec.corners, sideStitches: rim / this.sides, rim, work };
  }

  /** Ground goes by its place on the side, panels by their own columns; their orphans are ground. */
  private patternOn(shaping: Shaping, sides: readonly (readonly number[])[]): PatternSource {
    const { fabric } = this;
    const own = this.shaping.worked.columns;
    const place = placesOn(this.structure as SideStructure, sides);
    const asSet = patternAsSet(shaping.worked, this.strays);
    const groundStitch = (column: number, round: number) =>
      fabric.groundStitch(place.get(column) ?? 0, round);
    return {
      groundStitch,
      orphans: (live) => orphanColumns(fabric.panels, live),
      stitch: (column, round) =>
        place.has(column) && (column >= own || fabric.ground.has(column))
          ? groundStitch(column, round)
          : asSet.stitch(column, round),
    };
  }
}

/** Shaping rounds beyond the size asked that are tried for what would fit. Chosen. */
const MAX_TRIED = 80;

/** Orphans among the columns live before each round of the plan. */
function straysOf({ start, worked }: Shaping, { panels }: SideFabric): Strays {
  const byRound: ReadonlySet<number>[] = [new Set()];
  let live = start;
  for (const round of worked.rounds) {
    byRound.push(orphanColumns(panels, live));
    live = round.items.flatMap(itemColumns);
  }
  return (column, round) => byRound[round]?.has(column) ?? false;
}

interface Reshaped {
  readonly shaping: Shaping;
  /** New columns of the sides; null where the pattern is the plan's own. */
  readonly source: readonly (readonly number[])[] | null;
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
