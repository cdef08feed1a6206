/**
 * An existing plan at another size or gauge ("grading"): its stitches at another count, ready to be timed.
 * In: any shaped Plan, the size and gauge asked. Out: a design for every number of stitches: the same corners, panels
 * whole with their edges, the ground between them in proportion, shaping rounds added or left out at the rim.
 */
import type { GaugeStatement, Plan } from '../../plan/plan.ts';
import { headerOf, readHeader } from '../../plan/write/header.ts';
import type { DraftRound, PlanOutline } from '../../plan/write/plan-text.ts';
import { flatRate, shapedOffSide, type Timing } from '../motif/decrease-schedule.ts';
import { outlinePlan } from '../motif/outline-plan.ts';
import type { Candidate } from '../search/flat-timing.ts';
import type { SizedDesign } from '../search/size-search.ts';
import type { GradeSpec } from './grade-spec.ts';
import { isOpen, ownSpacing } from './open-piece.ts';
import { fromRim, groundIn, type PieceStructure, readPieceStructure } from './piece-structure.ts';
import { PlanRebuilder, shapedSide } from './rebuild-plan.ts';
import { recoloured } from './recolour.ts';
import { eatsPanels, type ResizedShaping, resizeShaping } from './resize-shaping.ts';
import { resizedPattern } from './resized-pattern.ts';
import { borderOf, type RimBorder, rimBorder } from './rim-border.ts';
import { keepsPanels } from './rim-lines.ts';
import { gaugesAt, seamStitches } from './rim-stitches.ts';
import { setApart } from './set-apart.ts';
import { type ShapedBorder, shapedBorder, shapedBorderOver } from './shaped-border.ts';
import { beginsInside } from './side-structure.ts';

/** The plan at one count and timing. */
export interface GradeCandidate extends Candidate {
  readonly outline: Omit<PlanOutline, 'header'>;
  readonly notes: readonly string[];
  /** Rounds from each shaping round to the next. */
  readonly spacing: readonly number[];
  /** Shaping rounds added (negative: left out), and stitches more that every side keeps to the centre. */
  readonly added: number;
  readonly kept: number;
  /** Whether those are taken (made, where it is grown) in a round of their own at the centre. */
  readonly atCentre: boolean;
  /** Whether panels that stood even about the middle of a side stand off it. */
  readonly offMiddle: boolean;
  /** Whether every cable is crossed at least once, and every panel worked whole. */
  readonly whole: boolean;
}

export interface GradeDesign extends SizedDesign<GradeCandidate> {
  /** Stitches of the whole rim, seam stitches left out. */
  readonly rim: number;
}

/** Share by which a gauge may be off and be the same. */
const SAME = 1e-6;

/** Stitches a side off the size asked that no corner is changed for. Chosen: half of one. */
export const NEAR = 0.5;

/** Shaping rounds beyond the size asked that are tried for what would fit. Chosen. */
const MAX_TRIED = 80;

/** Makes designs of one plan at a gauge; see `designFor`. */
export class PlanGrader {
  readonly gauges: readonly GaugeStatement[];
  private readonly piece: PieceStructure;
  private readonly border: RimBorder;
  /** A border that is shaped at its corners. */
  private readonly shaped: ShapedBorder | null;
  /** Without its border. */
  private readonly plan: Plan;
  /** Whether it has a border that is shaped at its corners and is not worked again over other counts. */
  readonly tornBorder: boolean;
  private readonly rate: number;

  constructor(
    private readonly whole: Plan,
    readonly spec: GradeSpec,
  ) {
    const shaped = shapedBorder(whole, spec.corners);
    this.shaped = shaped === 'unlike' ? null : shaped;
    this.border = this.shaped ? { rounds: [], inner: this.shaped.inner } : rimBorder(whole);
    const plan = this.border.inner;
    this.plan = plan;
    this.piece = readPieceStructure(plan, spec.corners);
    const { structure } = this.piece;
    const halved = this.shaped !== null && (structure === null || beginsInside(structure));
    this.tornBorder = shaped === 'unlike' || halved;
    if (!(spec.sizeMm > 0 && spec.stitchMm > 0 && spec.roundMm > 0))
      throw new RangeError('Size and gauge must be more than nothing.');
    this.rate = flatRate(this.piece.sides, spec.corners < 3, spec.stitchMm, spec.roundMm);
    this.gauges = readHeader(headerOf({ ...plan, gauges: gaugesAt(plan, spec) })).gauges;
  }

  /** Equal parts of the rim that a size is told by: sides, or the diameter's π. */
  get around(): number {
    return this.piece.cornered ? this.piece.sides : Math.PI;
  }

  /** Stitches of the plan's own rim, the seam's left out. */
  get rim(): number {
    return this.piece.rim + (this.shaped?.more ?? 0);
  }

  /** Stitches of the rim that a size takes, when a side lacks so many. */
  private wanted(deficit: number): number {
    const { sizeMm, stitchMm } = this.spec;
    const { sides, cornered } = this.piece;
    return ((cornered ? sides : Math.PI) * sizeMm) / stitchMm + sides * deficit;
  }

  /** Size of a rim of so many stitches, mm. */
  sizeOf(rim: number, deficit: number): number {
    const { sides, cornered } = this.piece;
    return ((rim - sides * deficit) * this.spec.stitchMm) / (cornered ? sides : Math.PI);
  }

  /** Null where the panels, or the shaping, do not fit on so few stitches. */
  designFor(deficit: number): GradeDesign | null {
    const { sides, step, cornered } = this.piece;
    const { rim } = this;
    const wanted = this.wanted(deficit);
    const perSide = cornered && !isOpen(this.plan) ? Math.max(1, Math.round(step / sides)) : 1;
    // Stitches more on every side come nearer than a whole round of shaping.
    const ways = Array.from({ length: perSide }, (_, sideChange) => {
      const short = wanted - rim - sideChange * sides;
      const added = Math.round(short / step);
      return { added, sideChange, off: Math.abs(short - added * step) };
    });
    if (this.shaped) return this.nearestRepeat(this.shaped, wanted);
    const [plain] = ways;
    if (plain.off > NEAR * sides) ways.sort((a, b) => a.off - b.off || a.sideChange - b.sideChange);
    for (const { added, sideChange } of ways) {
      const design = this.designWith(added, sideChange);
      if (design || sideChange === 0) return design;
    }
    return null;
  }

  /** A shaped border runs on over whole repeats alone: the nearest size on whose sides they fit. */
  private nearestRepeat({ repeat }: ShapedBorder, wanted: number): GradeDesign | null {
    const { sides, step } = this.piece;
    const more = Math.round((wanted - this.rim) / (sides * repeat));
    for (const growth of [more, more - 1, more + 1]) {
      const added = Math.floor((growth * repeat * sides) / step);
      const design = this.designWith(added, growth * repeat - (added * step) / sides);
      if (design) return design;
    }
    return null;
  }

  /** The plan as it is; null where the gauge asked is another. */
  asItIs(): GradeCandidate | null {
    const { whole: plan, piece, spec } = this;
    const own = plan.gauges[0] ?? spec;
    const isOwn = (mm: number, ownMm: number | null) => Math.abs(mm / (ownMm ?? mm) - 1) < SAME;
    if (!isOwn(spec.stitchMm, own.stitchMm) || !isOwn(spec.roundMm, own.roundMm)) return null;
    const { castOn, worked, ending, colours, kinds } = plan;
    const rounds = plan.rounds.map(({ works, wrongSide, after, colour }): DraftRound => {
      const names = Array.from(works, (id) => kinds[id].name);
      return { names, wrongSide, after, colour };
    });
    return {
      plan: { ...plan, gauges: this.gauges },
      counts: [castOn, ...rounds.map(({ after }) => after)].map((count) => this.segment(count)),
      spacing: ownSpacing(piece.shaping, piece.inwards, 0),
      outline: { castOn, worked, rounds, ending, colours },
      notes: [],
      added: 0,
      kept: 0,
      atCentre: false,
      offMiddle: false,
      whole: true,
    };
  }

  private segment(count: number): number {
    return Math.max(0, Math.round((count - seamStitches(this.plan)) / this.piece.sides));
  }

  /** Stitches of the smallest rim that holds everything; null where none does. */
  smallestRim(from: number): number | null {
    const { step, structure } = this.piece;
    const { rim } = this;
    const most = Math.max(0, Math.round((from - rim) / step)) + MAX_TRIED;
    const filled = structure === null && eatsPanels(this.piece);
    for (let added = Math.round((from - rim) / step); added <= most; added++) {
      if (added > 0 && filled) return null;
      const design = this.designWith(added, 0);
      if (design) return design.rim;
    }
    return null;
  }

  private designWith(added: number, sideChange: number): GradeDesign | null {
    if (this.tornBorder && (added !== 0 || sideChange !== 0)) return null;
    const resized = resizeShaping(this.piece, added, sideChange);
    if (!resized) return null;
    const { step, sides } = this.piece;
    const { rim } = this;
    const design = this.design(resized, rim + added * step + sideChange * sides);
    return design.work(null).whole ? design : null;
  }

  private design(resized: ResizedShaping, rim: number): GradeDesign {
    const { plan, spec, rate, piece } = this;
    const { shaping, added, kept, atCentre, offMiddle } = resized;
    const rebuilder = new PlanRebuilder(shaping, resizedPattern(piece, resized), piece.shown);
    const side = isSided(piece) ? shapedSide(piece.shaping.worked) : null;
    const own = isOpen(plan) ? ownSpacing(piece.shaping, piece.inwards, added) : null;
    const apart = (rounds: readonly DraftRound[]) =>
      piece.cornered ? rounds : setApart(rounds, added, piece.inwards, plan.seam);
    const segment = (count: number) => this.segment(count);
    const work = (timing: Timing | null): GradeCandidate => {
      const profile = timing?.rateProfile;
      const pace = (before: number) =>
        rate * (profile?.[Math.min(profile.length - 1, segment(before))] ?? 1);
      const spacing = timing?.spacing ?? own;
      const { rounds, faces, crossed, shown, notes, ...built } = rebuilder.rebuild(
        (change, before, index) => spacing?.[index] ?? Math.max(1, change / pace(before)),
        spacing ? 0 : ((timing?.shift ?? 0) * piece.step) / rate,
        spacing || timing?.anySide ? null : side,
      );
      const counts = built.counts.map(segment);
      const { worked, ending } = plan;
      const inner = recoloured(plan, apart(rounds));
      const border = this.shaped
        ? shapedBorderOver(this.shaped, (rim - this.rim) / piece.sides)
        : borderOf(this.border, rim + seamStitches(plan));
      const begins = this.shaped && piece.inwards ? rim : shaping.start.length;
      const outline = {
        castOn: begins,
        worked,
        rounds: piece.inwards ? [...(border ?? []), ...inner] : [...inner, ...(border ?? [])],
        ending,
        colours: plan.colours,
      };
      return {
        plan: outlinePlan(outline, { ...plan, gauges: this.gauges }),
        counts: [outline.castOn, ...outline.rounds.map(({ after }) => after)].map(segment),
        spacing: built.spacing,
        offSide: side === null ? 0 : shapedOffSide(counts, side),
        outline,
        notes,
        added,
        kept,
        atCentre,
        offMiddle,
        whole:
          border !== null &&
          piece.cables.every((cable) => crossed.has(cable)) &&
          shown.size === piece.shown.length &&
          (!piece.groundKnown ||
            keepsPanels(
              piece.rimLines,
              fromRim(faces, piece.fabric, piece.inwards, plan.seam),
              piece.sides,
            )),
      };
    };
    const { corners, like } = spec;
    return { corners, sideStitches: rim / piece.sides, rim, work, like, sided: side !== null };
  }
}

/** Whether it matters to the hands which rounds are shaped in: rows of both sides, or rounds of knit and of purl. */
function isSided({ plan, fabric }: PieceStructure): boolean {
  return plan.worked === 'flat' || groundIn(fabric, 1)[0] !== groundIn(fabric, 2)[0];
}
