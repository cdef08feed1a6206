/**
 * A plan at another size or gauge, measured: graded, timed until it lies flat, relaxed, and graded again
 * where its size came out wrong, as its panels pull in.
 *
 * Input: a shaped Plan, the spec, and two ways of measuring, handed in by `knit.ts`. Output: the plan
 * text and what its relaxed fabric measures.
 */
import type { Plan } from '../../plan/plan.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { type Graded, type GradeSpec, gradePlan } from '../rework/grade.ts';
import type { Measures } from './draft-flattest.ts';
import { timeFlat } from './flat-timing.ts';

export interface MeasuredGrade extends Graded {
  /** Share of a full turn; NaN where the piece was too big to relax: `sizeMm` is then counted, not measured. */
  readonly flatnessError: number;
}

/** Times that the size is mended. Chosen: the second time only whole rounds of shaping are left. */
const MOST_SIZES = 4;
/** Stitches a side beyond which the rim was not understood, and is not followed. Chosen. */
const MOST_OFF = 8;

export function gradeMeasured(plan: Plan, spec: GradeSpec, measures: Measures): MeasuredGrade {
  const { stitchMm, roundMm, corners } = spec;
  const sides = corners >= 3 ? corners : Math.PI;
  let stitchDeficit = spec.sideDeficit ?? 0;
  let best: MeasuredGrade | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  const tried = new Set<string>();
  for (let k = 0; k < MOST_SIZES; k++) {
    const graded = gradePlan(plan, { ...spec, sideDeficit: stitchDeficit });
    if (tried.has(graded.text)) break;
    tried.add(graded.text);
    const text = timeFlat(graded.text, { stitchMm, roundMm, corners }, measures.measure);
    const resting = measures.relax(text);
    if (!resting) return best ?? { ...graded, text, flatnessError: Number.NaN };
    const sizeMm = resting.rimMm / sides;
    const off = (sizeMm - spec.sizeMm) / stitchMm;
    const { flatnessError } = resting;
    // Of plans that lie flat the nearest in size, else the flattest.
    const better =
      best === null ||
      (flatnessError <= DEFAULT_BANDS.blocking && best.flatnessError <= DEFAULT_BANDS.blocking
        ? Math.abs(off) < nearest
        : flatnessError < best.flatnessError);
    if (better) {
      nearest = Math.abs(off);
      best = { ...graded, text, sizeMm, flatnessError };
    }
    if (!(Math.abs(off) > 0.5) || Math.abs(off) > MOST_OFF) break;
    stitchDeficit -= off;
  }
  return withVerdictNote(best as MeasuredGrade);
}

/** A piece that does not lie flat at its new size must not be taken for one that does. */
function withVerdictNote(graded: MeasuredGrade): MeasuredGrade {
  if (graded.flatnessError <= DEFAULT_BANDS.blocking) return graded;
  const words = 'At this size the piece does not lie flat with all that is in it: see the verdict.';
  return { ...graded, notes: [...graded.notes, words] };
}
