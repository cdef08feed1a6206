/**
 * A plan at another size or gauge: designs of it are searched for by size and timing as every plan is
 * (`size-search.ts`).
 *
 * Input: a shaped Plan, the spec, and two ways of measuring, handed in by `knit.ts`. Output: the plan text and
 * what its fabric measures. Throws a RangeError that tells what would fit where its panels do not.
 */

import { edgesOf } from '../../plan/edge-ways.ts';
import type { Plan } from '../../plan/plan.ts';
import { headerOf } from '../../plan/write/header.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { lengthWords } from '../../report/words/length.ts';
import { type GradeCandidate, PlanGrader } from '../rework/grade.ts';
import type { GradeSpec } from '../rework/grade-spec.ts';
import { isOpen } from '../rework/open-piece.ts';
import { planTextLike } from '../rework/own-terms.ts';
import { recolouredWords } from '../rework/recolour.ts';
import { SHAPED_BORDER } from '../rework/shaped-border.ts';
import type { MeasuredFabric } from './measured-columns.ts';
import { type Measures, remembered } from './measures.ts';
import { type Found, type SizeGoal, searchSize } from './size-search.ts';

export interface Graded {
  readonly text: string;
  /** What could not be kept as it was, in a knitter's words. */
  readonly notes: readonly string[];
  readonly castOn: number;
  /** Side (disc: diameter), mm: relaxed, or by its stitches where it is too big to relax on the way. */
  readonly sizeMm: number;
  /** Where that is half a stitch or more off the size asked: the next on the other side of it, mm. */
  readonly otherMm: number | null;
  /** Shaping rounds added (negative: left out). */
  readonly eventsAdded: number;
  /** Rounds from each shaping round to the next. */
  readonly spacing: readonly number[];
  /** Share of a full turn; NaN where nothing could be measured. */
  readonly flatnessError: number;
}

const OFF_MIDDLE =
  'Panels that stood even about the middle of a side now stand half a stitch off it.';

export function gradePlan(plan: Plan, spec: GradeSpec, measures: Measures): Graded {
  const grader = new PlanGrader(plan, spec);
  const segments = spec.corners >= 3 ? spec.corners : 1;
  const around = spec.corners >= 3 ? segments : Math.PI;
  const deficit = spec.sideDeficit ?? 0;
  const goal = { rimMm: around * spec.sizeMm, segments, stitchMm: spec.stitchMm };
  const memory = remembered(measures);
  const own = leftAsItIs(grader, spec, goal, memory);
  const told = ({ rimMm }: Found<GradeCandidate>) =>
    lengthWords((rimMm ?? 0) / around, spec.units ?? 'cm');
  const isAsked = own && told(own) === lengthWords(spec.sizeMm, spec.units ?? 'cm');
  const other =
    !isAsked && grader.designFor(deficit)
      ? searchSize((lack) => grader.designFor(lack), deficit, goal, memory)
      : null;
  const found = own && !isNearer(other, own, goal) ? own : other;
  if (!found?.candidate.whole) throw new RangeError(whatFits(grader, spec, deficit, plan));
  const { candidate, rimMm, otherRimMm, flatnessError } = found;
  const { outline, kept, added, atCentre, offMiddle } = candidate;
  const coloured = recolouredWords(plan, outline.rounds.length);
  const notes = [...candidate.notes, ...(coloured ? [coloured] : []), ...gaugeNotes(plan, spec)];
  if (kept > 0)
    notes.push(
      `Every side has ${kept === 1 ? 'one stitch' : `${kept} stitches`} more ${atCentre ? 'but for a round of its own at the centre' : 'all the way to the centre'}, so that the size comes nearer to the one asked.`,
    );
  if (offMiddle) notes.push(OFF_MIDDLE);
  const rim = Math.max(...candidate.counts) * segments;
  return {
    text: gradedText(plan, grader, outline),
    notes,
    castOn: outline.castOn,
    sizeMm: rimMm === null ? grader.sizeOf(rim, deficit) : rimMm / around,
    otherMm: otherRimMm ? otherRimMm / around : null,
    eventsAdded: added,
    spacing: candidate.spacing,
    flatnessError: Number.isFinite(flatnessError) ? flatnessError : Number.NaN,
  };
}

function gradedText(
  plan: Plan,
  { gauges, spec }: PlanGrader,
  outline: GradeCandidate['outline'],
): string {
  const header = headerOf({ ...plan, gauges }, spec.units === 'inch');
  return planTextLike(plan, { header, edges: edgesOf(plan), ...outline });
}

/** Stitches a side off the size asked at which a plan is still looked at as it is. Chosen: one that no grading comes nearer than. */
const OWN_WITHIN = 1;

/** The plan as it is, where it lies flat within a stitch a side of the size asked; else null. */
function leftAsItIs(
  grader: PlanGrader,
  spec: GradeSpec,
  { rimMm: asked, segments, stitchMm }: SizeGoal,
  { measure, relax }: Measures,
): Found<GradeCandidate> | null {
  const roughly = Math.abs(grader.rim * stitchMm - asked) <= MOST_PULLED * asked;
  const candidate = roughly && !spec.like ? grader.asItIs() : null;
  const fabric = candidate && measure(candidate.plan);
  if (!fabric) return null;
  const far = OWN_WITHIN * segments * stitchMm + MOST_GIVEN * asked;
  if (Math.abs(widestMm(fabric) - asked) > far) return null;
  const resting = relax(candidate.plan);
  if (!resting || resting.flatnessError > DEFAULT_BANDS.blocking) return null;
  const { rimMm, flatnessError } = resting;
  const off = Math.abs(rimMm - asked) / (segments * stitchMm);
  return off <= OWN_WITHIN ? { candidate, rimMm, flatnessError } : null;
}

/** Share of its rim by which a piece that lies flat is wider or narrower at rest than by its metric. Chosen: of 208 tried in drafts 3.6 % at most. */
const MOST_GIVEN = 0.06;

/** Length of the widest course by the metric, mm. */
function widestMm({ stitchMm }: MeasuredFabric): number {
  return stitchMm.reduce((most, widths) => {
    let sum = 0;
    for (let k = 0; k < widths.length; k++) sum += widths[k];
    return Math.max(most, sum);
  }, 0);
}

/** Stitches a side that another timing must come nearer by: for less no plan is changed. Chosen. */
const WORTH_CHANGING = 0.1;

/** Whether another timing lies flat as well, and comes nearer to the rim asked. */
function isNearer(
  other: Found<GradeCandidate> | null,
  own: Found<GradeCandidate>,
  { rimMm: asked, segments, stitchMm }: SizeGoal,
): boolean {
  const off = ({ rimMm }: Found<GradeCandidate>) => Math.abs((rimMm ?? 0) - asked);
  const flat = other !== null && other.flatnessError <= DEFAULT_BANDS.blocking;
  return flat && off(other) < off(own) - WORTH_CHANGING * segments * stitchMm;
}

/** Share of a rim that its panels may pull in, or spread: farther off a plan is not looked at for the size asked. Chosen. */
const MOST_PULLED = 0.4;

/** A piece left open keeps the rows between its shaping, and so its angles: nothing is timed. */
export function gradeOpen(plan: Plan, spec: GradeSpec): Graded {
  const grader = new PlanGrader(plan, spec);
  const design = grader.designFor(0);
  if (!design) throw new RangeError(whatFits(grader, spec, 0, plan));
  const { outline, notes, added, spacing } = design.work(null);
  const coloured = recolouredWords(plan, outline.rounds.length);
  return {
    text: gradedText(plan, grader, outline),
    notes: [...notes, ...(coloured ? [coloured] : []), ...gaugeNotes(plan, spec)],
    castOn: outline.castOn,
    sizeMm: grader.sizeOf(design.rim, 0),
    otherMm: null,
    eventsAdded: added,
    spacing,
    flatnessError: Number.NaN,
  };
}

/** Stitches that much wider or narrower are another yarn's, or another needle's, share. Chosen: half a stitch in 22. */
const OTHER_GAUGE = 0.025;

/** Yarn and needles stay as the plan has them, which another gauge may not. */
function gaugeNotes({ gauges, yarn, needles }: Plan, { stitchMm }: GradeSpec): string[] {
  const own = gauges[0]?.stitchMm;
  if (!own || Math.abs(stitchMm / own - 1) <= OTHER_GAUGE) return [];
  const lines = [...(yarn ? ['Yarn:'] : []), ...(needles ? ['Needles:'] : [])];
  if (lines.length === 0) return [];
  const [line, are] = lines.length > 1 ? ['lines', 'are'] : ['line', 'is'];
  return [
    `The ${line} ${lines.join(' and ')} ${are} kept from the other gauge: put there what gives this one.`,
  ];
}

function whatFits(grader: PlanGrader, spec: GradeSpec, deficit: number, plan: Plan): string {
  const { around } = grader;
  if (grader.tornBorder) return SHAPED_BORDER;
  const asked = (around * spec.sizeMm) / spec.stitchMm;
  const rim = grader.smallestRim(asked);
  const what = around === Math.PI ? 'diameter' : 'side';
  if (rim === null && asked >= grader.rim)
    return 'This plan cannot be graded to this size: not all of its panels would stay whole, or not all of its cables be crossed. Draft a new plan instead.';
  if (rim === null)
    return 'This size is too small for the plan: no shaping would be left, and no larger one was found that keeps it as it is.';
  const size = lengthWords(grader.sizeOf(rim, deficit), spec.units ?? 'cm');
  return `This size is too small for the plan: its panels with their edges, and its shaping, fit from a ${what} of about ${size} on (${rim} sts ${isOpen(plan) ? 'in its longest row' : 'round the rim'}).`;
}
