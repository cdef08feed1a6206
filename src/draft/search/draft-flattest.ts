/**
 * The flattest draft of a given spec: drafted, measured, and timed anew until it lies flat; then relaxed,
 * and drafted again where its size came out wrong.
 *
 * Input: a spec and two ways of measuring, handed in by `knit.ts`: a draft calls no other stage. Output:
 * the draft, and how far from flat it is.
 */
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { cornersWith, SHIFTS, type Timing } from '../motif/decrease-schedule.ts';
import { type Draft, type Made, makeMotif, withFinalSize } from '../motif/draft-motif.ts';
import type { SideLayout } from '../motif/side-layout.ts';
import { type DraftSpec, segmentsOf } from '../spec/draft-spec.ts';
import {
  type ColumnWidths,
  columnWidths,
  type MeasuredFabric,
  type MeasureFabric,
} from './measured-columns.ts';
import { correctRate, perturbRate, scaleRate } from './rate-profile.ts';

/** The relaxed piece: length of its rim, mm, and how far from flat it is, share of a full turn. */
export interface RestingFabric {
  readonly rimMm: number;
  readonly flatnessError: number;
}

export interface Measures {
  readonly measure: MeasureFabric;
  /** Null where the piece is too big to be relaxed on the way. */
  readonly relax: (planText: string) => RestingFabric | null;
}

export interface Flattest {
  readonly draft: Draft;
  /** Share of a full turn; infinite where nothing could be measured. */
  readonly flatnessError: number;
}

export function draftFlattest(spec: DraftSpec, measures: Measures): Flattest {
  const known = measureColumns(spec, measures.measure);
  if (known === 'unmeasured') {
    const { draft } = makeMotif(spec, null, null, null);
    return { draft: withFinalSize(draft, draft.sizeMm), flatnessError: Number.POSITIVE_INFINITY };
  }
  const search = new SizeSearch(spec, known, measures);
  let stitchDeficit = known?.stitchDeficit ?? 0;
  let tooSmall = Number.NEGATIVE_INFINITY;
  let tooBig = Number.POSITIVE_INFINITY;
  for (let k = 0; k < MOST_SIZES; k++) {
    const off = search.trySize(stitchDeficit);
    if (off === null || Math.abs(off) <= 0.5 || Math.abs(off) > MOST_OFF) break;
    if (off < 0) tooSmall = stitchDeficit;
    else tooBig = stitchDeficit;
    // A panel may take more room than one stitch: between two sizes try the middle.
    stitchDeficit = Number.isFinite(tooBig - tooSmall)
      ? (tooSmall + tooBig) / 2
      : stitchDeficit - off;
  }
  // A short piece may lie flat with a stitch more or less a side.
  for (const step of [1, -1]) if (!search.liesFlat()) search.trySize(stitchDeficit + step);
  return search.best;
}

/** Drafts one size after another and keeps the best: of those that lie flat the nearest, else the flattest. */
class SizeSearch {
  private found: Flattest | null = null;
  private nearest = Number.POSITIVE_INFINITY;
  private readonly tried = new Set<number>();
  private readonly spec: DraftSpec;
  private readonly known: ColumnWidths | null;
  private readonly measures: Measures;

  constructor(spec: DraftSpec, known: ColumnWidths | null, measures: Measures) {
    this.spec = spec;
    this.known = known;
    this.measures = measures;
  }

  /** Stitches a side that the draft is too big; null where that size was tried or cannot be relaxed. */
  trySize(stitchDeficit: number): number | null {
    const { spec, measures } = this;
    const { sideStitches } = makeMotif(spec, this.known, stitchDeficit, null).draft;
    if (this.tried.has(sideStitches)) return null;
    this.tried.add(sideStitches);
    const { draft, flatnessError: onRings } = flattest(
      spec,
      this.known,
      stitchDeficit,
      measures.measure,
    );
    const resting = measures.relax(draft.text);
    if (!resting) {
      this.found ??= { draft: withFinalSize(draft, draft.sizeMm), flatnessError: onRings };
      return null;
    }
    const off = stitchesOff(resting.rimMm, spec);
    if (this.isBetter(resting.flatnessError, Math.abs(off))) {
      const sized = withFinalSize(draft, sizeOf(resting.rimMm, spec));
      this.found = { draft: sized, flatnessError: resting.flatnessError };
      this.nearest = Math.abs(off);
    }
    return off;
  }

  private isBetter(flatnessError: number, off: number): boolean {
    if (this.found === null) return true;
    const bothFlat = Math.max(flatnessError, this.found.flatnessError) <= DEFAULT_BANDS.blocking;
    return bothFlat ? off < this.nearest : flatnessError < this.found.flatnessError;
  }

  liesFlat(): boolean {
    return this.best.flatnessError <= DEFAULT_BANDS.blocking;
  }

  get best(): Flattest {
    if (this.found === null) throw new Error('no size was tried');
    return this.found;
  }
}

/** Sizes tried. Chosen: by then only whole stitches are left. */
const MOST_SIZES = 4;
/** Stitches a side beyond which the rim was not understood, or has folded, and is not followed. Chosen. */
const MOST_OFF = 6;

/** Stitches of a segment that the rim is too long (+) or short (−). */
function stitchesOff(rimMm: number, spec: DraftSpec): number {
  const stitches = segmentsOf(spec) * spec.stitchMm;
  return (rimMm - sidesOf(spec) * spec.sizeMm) / stitches;
}

/** Side, or diameter of a disc, of a motif with this rim. */
function sizeOf(rimMm: number, spec: DraftSpec): number {
  return rimMm / sidesOf(spec);
}

function sidesOf(spec: DraftSpec): number {
  return spec.shape === 'disc' ? Math.PI : segmentsOf(spec);
}

/** Widths of the columns beside and in the panels; null without panels. */
function measureColumns(
  spec: DraftSpec,
  measure: MeasureFabric,
): ColumnWidths | null | 'unmeasured' {
  const blind = makeMotif(spec, null, null, null);
  if (!hasPanels(blind.layout)) return null;
  const fabric = measure(blind.draft.text);
  return (fabric && widthsOf(blind, spec, fabric)) ?? 'unmeasured';
}

function hasPanels(layout: SideLayout): boolean {
  return layout.panels.length > 0 || layout.corner.columns.length > 2;
}

function widthsOf(
  { layout, blocks }: Made,
  spec: DraftSpec,
  fabric: MeasuredFabric,
): ColumnWidths | null {
  return columnWidths(
    fabric,
    blocks.columns,
    segmentsOf(spec),
    { side: layout.side.columns.length, corner: layout.corner.columns.length },
    spec.stitchMm,
    spec.direction === 'in',
    layout.panels,
  );
}

interface Trial {
  readonly made: Made;
  readonly timing: Timing | null;
  readonly fabric: MeasuredFabric;
}

/** Times the decreases this way and that, from the best so far, until the measured piece lies flat. */
function flattest(
  spec: DraftSpec,
  widths: ColumnWidths | null,
  stitchDeficit: number,
  measure: MeasureFabric,
): Flattest {
  const first = makeMotif(spec, widths, stitchDeficit, null);
  const fabric = measure(first.draft.text);
  if (!fabric) return { draft: first.draft, flatnessError: Number.POSITIVE_INFINITY };
  let best: Trial = { made: first, timing: null, fabric };
  const tried = new Set([first.draft.text]);
  let work = stitchesOf(first);
  for (let k = 0; k < MOST_TRIALS && work < MOST_WORK; k++) {
    if (best.fabric.flatnessError <= wantedAfter(k)) break;
    const timing = propose(k, best, spec);
    const made = makeMotif(spec, widths, stitchDeficit, timing);
    if (tried.has(made.draft.text)) continue;
    tried.add(made.draft.text);
    const fabric = measure(made.draft.text);
    work += stitchesOf(made);
    if (fabric && fabric.flatnessError < best.fabric.flatnessError) best = { made, timing, fabric };
  }
  return { draft: best.made.draft, flatnessError: best.fabric.flatnessError };
}

/**
 * Trial k from the best so far: first what is off is answered course by course and as a whole, then even
 * paces are tried with every shift, then the pace is waved a little, the longest waves first.
 */
function propose(k: number, { made, timing, fabric }: Trial, spec: DraftSpec): Timing {
  const strip = made.layout.corner.columns.length;
  const corners = spec.shape === 'disc' ? 0 : cornersWith(strip, segmentsOf(spec));
  const { counts } = made.blocks;
  const most = Math.max(...counts);
  const rateProfile = timing?.rateProfile ?? Float64Array.from({ length: most + 1 }, () => 1);
  const shift = timing?.shift ?? 0;
  if (k < 2 * GAINS.length) {
    const gain = GAINS[k >> 1];
    return k % 2 === 0
      ? { rateProfile: correctRate(rateProfile, counts, fabric, corners, gain), shift }
      : {
          rateProfile: scaleRate(rateProfile, most, fabric, corners),
          shift: k > 1 ? SHIFTS[k >> 1] : shift,
        };
  }
  const grid = GRID[k - 2 * GAINS.length];
  if (grid)
    return {
      rateProfile: Float64Array.from({ length: most + 1 }, () => grid.rateProfile),
      shift: grid.shift,
    };
  const wave = WAVES[(k - 2 * GAINS.length - GRID.length) % WAVES.length];
  return { rateProfile: perturbRate(rateProfile, most, wave.crests, wave.height), shift };
}

function stitchesOf({ draft, blocks }: Made): number {
  return segmentsOf(draft.spec) * blocks.counts.reduce((sum, n) => sum + n, 0);
}

/** Misfit that is good enough after so many trials: flat at first, then what blocking evens out. */
function wantedAfter(trials: number): number {
  const { flat, blocking } = DEFAULT_BANDS;
  return Math.min(blocking, flat + ((blocking - flat) * trials) / PATIENCE);
}

/** Trials after which no more than blocking is asked for. Chosen. */
const PATIENCE = 60;
/** Share of what is off that a trial answers: the courses answer together, so less is often more. */
const GAINS = [1, 0.5, 0.75, 0.3];
/** Even paces and shifts that are tried: a short piece hangs on where its few decreases fall. Chosen. */
const GRID = [1, 0.95, 1.05, 0.9, 1.1].flatMap((rateProfile) =>
  SHIFTS.map((shift) => ({ rateProfile, shift })),
);
/** Waves of the pace from centre to rim that are tried. Chosen. */
const WAVES = [0.1, -0.1, 0.05, -0.05, 0.2, -0.2].flatMap((height) =>
  [0, 1, 2, 3, 4].map((crests) => ({ crests, height })),
);
/** Trials, and stitches measured in all of them, before the best is taken. Chosen: about a second. */
const MOST_TRIALS = 120;
const MOST_WORK = 80_000;
