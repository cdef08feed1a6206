/**
 * The flattest draft of given wishes: drafted, measured, and timed anew until it lies flat; then relaxed,
 * and drafted again where its size came out wrong.
 *
 * Input: wishes and two ways of measuring, handed in by `knit.ts`: a draft calls no other stage. Output:
 * the draft, and how far from flat it is.
 */
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { SHIFTS, type Timing } from './decrease-schedule.ts';
import { type Draft, type Made, makeMotif } from './draft-motif.ts';
import {
  type ColumnWidths,
  columnWidths,
  type MeasuredFabric,
  type MeasureFabric,
} from './measured-columns.ts';
import { evenPace, nextPace, wavedPace } from './pace.ts';
import type { SideLayout } from './side-layout.ts';
import { type DraftWishes, SEGMENTS } from './wishes.ts';

/** The relaxed piece: length of its rim, mm, and how far from flat it is, share of a full turn. */
export interface RestingFabric {
  readonly rimMm: number;
  readonly misfit: number;
}

export interface Measures {
  readonly measure: MeasureFabric;
  /** Null where the piece is too big to be relaxed on the way. */
  readonly relax: (planText: string) => RestingFabric | null;
}

export interface Flattest {
  readonly draft: Draft;
  /** Share of a full turn; infinite where nothing could be measured. */
  readonly misfit: number;
}

export function draftFlattest(wishes: DraftWishes, { measure, relax }: Measures): Flattest {
  const known = measureColumns(wishes, measure);
  if (known === 'unmeasured') {
    const { draft } = makeMotif(wishes, null, null, null);
    return { draft, misfit: Number.POSITIVE_INFINITY };
  }
  let lack = known?.rimLack ?? 0;
  let best: Flattest | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (let k = 0; k < MOST_SIZES; k++) {
    const drafted = flattest(wishes, known, lack, measure);
    const resting = drafted.misfit <= DEFAULT_BANDS.blocking ? relax(drafted.draft.text) : null;
    if (!resting) return best ?? drafted;
    const off = stitchesOff(resting.rimMm, wishes);
    const misfit = resting.misfit;
    // Of drafts that lie flat the nearest in size, else the flattest.
    const flat = misfit <= DEFAULT_BANDS.blocking;
    const better =
      best === null ||
      (flat && best.misfit <= DEFAULT_BANDS.blocking
        ? Math.abs(off) < nearest
        : misfit < best.misfit);
    if (better) {
      best = { draft: drafted.draft, misfit };
      nearest = Math.abs(off);
    }
    if (Math.abs(off) <= 0.5 || Math.abs(off) > MOST_OFF) break;
    lack -= off;
  }
  return best as Flattest;
}

/** Times that the size is mended. Chosen: the second time only whole stitches are left. */
const MOST_SIZES = 3;
/** Stitches a side beyond which the rim was not understood, or has folded, and is not followed. Chosen. */
const MOST_OFF = 6;

/** Stitches of a segment that the rim is too long (+) or short (−). */
function stitchesOff(rimMm: number, wishes: DraftWishes): number {
  const segments = SEGMENTS[wishes.shape];
  const asked = (wishes.shape === 'disc' ? Math.PI : segments) * wishes.sizeMm;
  return (rimMm - asked) / (segments * wishes.stitchMm);
}

/** Widths of the columns beside and in the panels; null without panels. */
function measureColumns(
  wishes: DraftWishes,
  measure: MeasureFabric,
): ColumnWidths | null | 'unmeasured' {
  const blind = makeMotif(wishes, null, null, null);
  if (!hasPanels(blind.layout)) return null;
  const fabric = measure(blind.draft.text);
  return (fabric && widthsOf(blind, wishes, fabric)) ?? 'unmeasured';
}

function hasPanels(layout: SideLayout): boolean {
  return layout.panels.length > 0 || layout.corner.columns.length > 2;
}

function widthsOf(
  { layout, blocks }: Made,
  wishes: DraftWishes,
  fabric: MeasuredFabric,
): ColumnWidths | null {
  return columnWidths(
    fabric,
    blocks.columns,
    SEGMENTS[wishes.shape],
    { side: layout.side.columns.length, corner: layout.corner.columns.length },
    wishes.stitchMm,
    wishes.direction === 'in',
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
  wishes: DraftWishes,
  widths: ColumnWidths | null,
  lack: number,
  measure: MeasureFabric,
): Flattest {
  const first = makeMotif(wishes, widths, lack, null);
  const fabric = measure(first.draft.text);
  if (!fabric) return { draft: first.draft, misfit: Number.POSITIVE_INFINITY };
  let best: Trial = { made: first, timing: null, fabric };
  const tried = new Set([first.draft.text]);
  let work = stitchesOf(first);
  for (let k = 0; k < MOST_TRIALS && work < MOST_WORK; k++) {
    if (best.fabric.misfit <= DEFAULT_BANDS.flat) break;
    const timing = propose(k, best, wishes);
    const made = makeMotif(wishes, widths, lack, timing);
    if (tried.has(made.draft.text)) continue;
    tried.add(made.draft.text);
    const fabric = measure(made.draft.text);
    work += stitchesOf(made);
    if (fabric && fabric.misfit < best.fabric.misfit) best = { made, timing, fabric };
  }
  return { draft: best.made.draft, misfit: best.fabric.misfit };
}

/**
 * Trial k from the best so far: first what is off is answered course by course and as a whole, then the
 * decreases are shifted, then the pace is waved a little, the longest waves first.
 */
function propose(k: number, { made, timing, fabric }: Trial, wishes: DraftWishes): Timing {
  const corners = wishes.shape === 'disc' ? 0 : SEGMENTS[wishes.shape];
  const { counts } = made.blocks;
  const most = Math.max(...counts);
  const pace = timing?.pace ?? Float64Array.from({ length: most + 1 }, () => 1);
  const shift = timing?.shift ?? 0;
  if (k < 2 * GAINS.length) {
    const gain = GAINS[k >> 1];
    return k % 2 === 0
      ? { pace: nextPace(pace, counts, fabric, corners, gain), shift }
      : { pace: evenPace(pace, most, fabric, corners), shift: k > 1 ? SHIFTS[k >> 1] : shift };
  }
  const rest = k - 2 * GAINS.length;
  if (rest % 3 === 0) return { pace, shift: SHIFTS[(1 + rest / 3) % SHIFTS.length] };
  const wave = WAVES[(rest - 1 - Math.floor(rest / 3)) % WAVES.length];
  return { pace: wavedPace(pace, most, wave.crests, wave.height), shift };
}

function stitchesOf({ draft, blocks }: Made): number {
  return SEGMENTS[draft.wishes.shape] * blocks.counts.reduce((sum, n) => sum + n, 0);
}

/** Share of what is off that a trial answers: the courses answer together, so less is often more. */
const GAINS = [1, 0.5, 0.75, 0.3];
/** Waves of the pace from centre to rim that are tried. Chosen. */
const WAVES = [0.1, -0.1, 0.05, -0.05, 0.2, -0.2].flatMap((height) =>
  [0, 1, 2, 3, 4].map((crests) => ({ crests, height })),
);
/** Trials, and stitches measured in all of them, before the best is taken. Chosen: about a second. */
const MOST_TRIALS = 60;
const MOST_WORK = 80_000;
