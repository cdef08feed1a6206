/**
 * How many stitches: one size after another is timed flat and relaxed, until the rim is as long as asked.
 * Used by draft and grade alike.
 *
 * In: a design for every number of stitches that a side may lack, the rim asked for, and the measuring.
 * Out: of the designs that lie flat the nearest in size, else the flattest.
 */
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { type Candidate, type Timeable, timeFlat } from './flat-timing.ts';
import type { Measures } from './measures.ts';

export interface SizedDesign<C extends Candidate> extends Timeable<C> {
  /** Stitches of a side at the rim: a size is tried once. */
  readonly sideStitches: number;
}

export interface SizeGoal {
  /** Length of the whole rim, mm, its equal parts, and the width of a ground stitch, mm. */
  readonly rimMm: number;
  readonly segments: number;
  readonly stitchMm: number;
}

export interface Found<C> {
  readonly candidate: C;
  /** Share of a full turn; infinite where nothing could be measured. */
  readonly flatnessError: number;
  /** Length of the relaxed rim, mm; null where it was not relaxed. */
  readonly rimMm: number | null;
  /** Where that is half a stitch a side off: the rim of the next size that lies flat, on the other side of what was asked. */
  readonly otherRimMm?: number | null;
}

/**
 * `designFor` gives the design whose sides have so many stitches more than plain ground would need, or null
 * where there is none; `firstDeficit` is where to begin.
 */
export function searchSize<C extends Candidate>(
  designFor: (deficit: number) => SizedDesign<C> | null,
  firstDeficit: number,
  goal: SizeGoal,
  measures: Measures,
): Found<C> | null {
  const search = new SizeSearch(designFor, goal, measures);
  let deficit = firstDeficit;
  let tooSmall = Number.NEGATIVE_INFINITY;
  let tooBig = Number.POSITIVE_INFINITY;
  for (let k = 0; k < MAX_SIZES; k++) {
    const off = search.trySize(deficit);
    if (off === null || Math.abs(off) <= 0.5 || Math.abs(off) > MAX_OFF) break;
    if (off < 0) tooSmall = deficit;
    else tooBig = deficit;
    // A panel may take more room than one stitch: between two sizes try the middle.
    deficit = Number.isFinite(tooBig - tooSmall) ? (tooSmall + tooBig) / 2 : deficit - off;
  }
  // A short piece that is nearly flat may be so with a stitch or two more or less a side.
  for (const step of [1, -1, 2, -2]) if (search.isMendable()) search.trySize(deficit + step);
  return search.best && { ...search.best, otherRimMm: search.otherRim() };
}

/** Sizes tried. Chosen: by then only whole stitches are left. */
const MAX_SIZES = 4;
/** Stitches a side beyond which the rim was not understood, or has folded, and is not followed. Chosen. */
const MAX_OFF = 8;

/** Stitches a side beyond the size asked within which the next one is looked for. Chosen. */
const MOST_BEYOND = 2;

class SizeSearch<C extends Candidate> {
  best: Found<C> | null = null;
  private nearest = Number.POSITIVE_INFINITY;
  /** Of the best. */
  private mendable = false;
  private readonly tried = new Set<number>();
  /** Rims of those that lie flat, mm, and what their sides lack. */
  private readonly flat: { rimMm: number; deficit: number }[] = [];

  constructor(
    private readonly designFor: (deficit: number) => SizedDesign<C> | null,
    private readonly goal: SizeGoal,
    private readonly measures: Measures,
  ) {}

  /** Stitches a side that the design is too big; null where that size was tried or cannot be relaxed. */
  trySize(deficit: number): number | null {
    const design = this.designFor(deficit);
    if (!design || this.tried.has(design.sideStitches)) return null;
    this.tried.add(design.sideStitches);
    const { candidate, flatnessError: onRings } = timeFlat(design, this.measures.measure);
    const resting = this.measures.relax(candidate.plan);
    if (!resting) {
      this.best ??= { candidate, flatnessError: onRings, rimMm: null };
      return null;
    }
    const { rimMm, flatnessError, mendable } = resting;
    const { goal } = this;
    const off = (rimMm - goal.rimMm) / (goal.segments * goal.stitchMm);
    if (flatnessError <= DEFAULT_BANDS.blocking) this.flat.push({ rimMm, deficit });
    if (this.isBetter(flatnessError, Math.abs(off))) {
      this.best = { candidate, flatnessError, rimMm };
      this.nearest = Math.abs(off);
      this.mendable = mendable;
    }
    return off;
  }

  /** Of those that lie flat the nearest in size, else the flattest. */
  private isBetter(flatnessError: number, off: number): boolean {
    if (this.best === null) return true;
    const bothFlat = Math.max(flatnessError, this.best.flatnessError) <= DEFAULT_BANDS.blocking;
    return bothFlat ? off < this.nearest : flatnessError < this.best.flatnessError;
  }

  /** The next flat rim on the other side of the one asked, where the best is not near it; null where none is found. */
  otherRim(): number | null {
    const asked = this.goal.rimMm;
    const best = this.flat.find(({ rimMm }) => rimMm === this.best?.rimMm);
    if (!best || this.nearest <= 0.5 || this.nearest > MAX_OFF) return null;
    const way = Math.sign(asked - best.rimMm);
    const beyond = () => {
      const rims = this.flat.map(({ rimMm }) => rimMm).filter((rim) => way * (rim - asked) > 0);
      return rims.length > 0 ? way * Math.min(...rims.map((rim) => way * rim)) : null;
    };
    for (let step = 1; step <= MOST_BEYOND && beyond() === null; step++)
      this.trySize(best.deficit + way * (this.nearest + step));
    return beyond();
  }

  /** Whether the best is not flat, and another size may be. */
  isMendable(): boolean {
    const { best, mendable } = this;
    return best !== null && mendable && best.flatnessError > DEFAULT_BANDS.blocking;
  }
}
