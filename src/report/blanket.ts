/**
 * The blanket: finished squares side by side in a grid. Which of them meet, which seaming can ease,
 * which to adjust and by how many stitches; stitches to seam or pick up; yarn in all.
 *
 * Pure: squares and layout in, numbers and words out. Lengths mm; words in the unit asked for.
 */
import { type BorderCounts, countBorder } from './border.ts';
import { seamRecipe } from './seam-recipe.ts';
import type { Verdict } from './verdict.ts';
import { type LengthUnit, lengthWords } from './words/length.ts';
import { liesFlat, POSTURE_WORDS } from './words/verdict-words.ts';

export interface BlanketSquare {
  readonly id: string;
  readonly name: string;
  /** Left out where it is not known. */
  readonly verdict?: Verdict;
  /** Shades that it wears from the rim to the centre, `#rrggbb` with its share of the depth; left out or none: one. */
  readonly bands?: readonly { readonly hex: string; readonly share: number }[];
  /** Finished side, mm, and stitches along it at the rim. */
  readonly sideMm: number;
  readonly sideStitches: number;
  readonly sides: number;
  readonly yarn: readonly {
    /** Yarn and colour in words; the same words share their balls. */
    readonly colour: string;
    /** `#rrggbb` as chosen for the square; null for none. */
    readonly hex: string | null;
    readonly lengthM: number;
    readonly massG: number;
    readonly ballGrams: number | null;
    readonly ballMetres: number | null;
  }[];
}

export interface BlanketLayout {
  /** Square ids by row from the top, from left to right; null for an empty place. */
  readonly rows: readonly (readonly (string | null)[])[];
  /** Side that every square should have, mm; null takes the median of the squares laid. */
  readonly targetMm: number | null;
  /**
   * Largest difference that a seam eases in, as a share of the side. No published figure was found:
   * 0.03 (6 mm on 20 cm) is chosen, adjustable.
   */
  readonly easeShare: number;
}

export const EASE_SHARE = 0.03;

export interface SquareFit {
  readonly id: string;
  readonly name: string;
  readonly differenceMm: number;
  readonly fit: 'meets' | 'eased in' | 'adjust';
  readonly verdict?: Verdict;
  readonly bands?: BlanketSquare['bands'];
  /** Stitches to add to each side (negative: take away), and to the whole cast-on rim. */
  readonly sideStitchesChange: number;
  readonly rimStitchesChange: number;
  readonly words: string;
}

export interface SeamFit {
  readonly first: string;
  readonly second: string;
  /** Place of the first square, 0-based; the second lies right of it or below it. */
  readonly row: number;
  readonly column: number;
  readonly direction: 'across' | 'down';
  readonly differenceMm: number;
  readonly eased: boolean;
  readonly stitches: readonly [number, number];
  readonly words: string;
}

export interface ColourTotal {
  readonly colour: string;
  readonly hex: string | null;
  readonly lengthM: number;
  readonly massG: number;
  readonly balls: number | null;
}

export interface BlanketReport {
  readonly targetMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly squares: readonly SquareFit[];
  readonly seams: readonly SeamFit[];
  readonly seamLengthMm: number;
  /** Stitches to pick up for a border, once every square has its side. */
  readonly border: BorderCounts;
  readonly yarn: readonly ColourTotal[];
  /** Ids that the layout names and no square has. */
  readonly unknown: readonly string[];
}

export function layOutBlanket(
  squares: readonly BlanketSquare[],
  layout: BlanketLayout,
  units: LengthUnit = 'cm',
): BlanketReport {
  if (!(layout.easeShare >= 0 && layout.easeShare <= 0.2))
    throw new RangeError(
      `Seams ease ${layout.easeShare * 100} % of a side; give between 0 and 20 %.`,
    );
  const byId = new Map(squares.map((square) => [square.id, square]));
  const unknown = new Set<string>();
  const grid = layout.rows.map((row) =>
    row.map((id) => {
      const square = id === null ? null : (byId.get(id) ?? null);
      if (id !== null && square === null) unknown.add(id);
      return square;
    }),
  );
  const laid = grid.flat().filter((square) => square !== null);
  const targetMm = layout.targetMm ?? median(laid.map((square) => square.sideMm));
  const used = [...new Map(laid.map((square) => [square.id, square])).values()];
  const fits = new Map(
    used.map((square) => [square.id, fitSquare(square, targetMm, layout.easeShare, units)]),
  );
  const laidSeams = seamsOf(grid, layout.easeShare, units);
  // Each alone near enough, and apart by more than their seam eases: the one farther off gives way.
  for (const { eased, first, second } of laidSeams) {
    const pair = [first, second].flatMap((id) => fits.get(id) ?? []);
    if (eased || pair.some(({ fit }) => fit === 'adjust')) continue;
    pair.sort((a, b) => Math.abs(b.differenceMm) - Math.abs(a.differenceMm));
    for (const { id } of pair) {
      const exact = fitSquare(byId.get(id) as BlanketSquare, targetMm, 0, units);
      if (exact.fit !== 'adjust') continue;
      fits.set(id, exact);
      break;
    }
  }
  const seams = laidSeams.map((seam) => toldFirst(seam, fits));
  const columns = Math.max(0, ...grid.map((row) => row.length));
  return {
    targetMm,
    widthMm: columns * targetMm,
    heightMm: grid.length * targetMm,
    squares: [...fits.values()],
    seams,
    seamLengthMm: seams.length * targetMm,
    border: borderOf(grid, targetMm, [...fits.values()]),
    yarn: totals(laid),
    unknown: [...unknown],
  };
}

function fitSquare(
  square: BlanketSquare,
  targetMm: number,
  ease: number,
  units: LengthUnit,
): SquareFit {
  const differenceMm = square.sideMm - targetMm;
  const perStitch = square.sideMm / square.sideStitches;
  const change = Math.round(-differenceMm / perStitch) || 0;
  const fit =
    Math.abs(differenceMm) <= perStitch / 2
      ? 'meets'
      : Math.abs(differenceMm) <= ease * targetMm
        ? 'eased in'
        : 'adjust';
  const by = `${lengthWords(Math.abs(differenceMm), units)} ${differenceMm > 0 ? 'too wide' : 'too narrow'}`;
  const rim = change * square.sides;
  // Nothing would be left to cast on.
  const tooSmall = fit === 'adjust' && square.sideStitches + change < 1;
  const words =
    fit === 'meets'
      ? `${square.name} meets its neighbours.`
      : fit === 'eased in'
        ? `${square.name} is ${by}: the seam eases it in.`
        : tooSmall
          ? `${square.name} is ${by}: it cannot be made so small with fewer stitches alone.`
          : `${square.name} is ${by}: cast on ${Math.abs(rim)} ${rim > 0 ? 'more' : 'fewer'} (${Math.abs(change)} a side).`;
  return {
    id: square.id,
    name: square.name,
    differenceMm,
    fit,
    verdict: square.verdict,
    bands: square.bands,
    sideStitchesChange: fit === 'adjust' && !tooSmall ? change : 0,
    rimStitchesChange: fit === 'adjust' && !tooSmall ? rim : 0,
    words: words + postureWords(square),
  };
}

/** ` It does not lie flat …`, where that is known. */
function postureWords({ verdict }: BlanketSquare): string {
  if (verdict === undefined || liesFlat(verdict)) return '';
  return ` It does not lie flat as it is written. ${POSTURE_WORDS[verdict]}`;
}

type Grid = readonly (readonly (BlanketSquare | null)[])[];

function seamsOf(grid: Grid, ease: number, units: LengthUnit): SeamFit[] {
  const seams: SeamFit[] = [];
  grid.forEach((row, r) => {
    row.forEach((square, c) => {
      if (!square) return;
      const right = row[c + 1];
      const below = grid[r + 1]?.[c];
      if (right) seams.push(seam(square, right, r, c, 'across', ease, units));
      if (below) seams.push(seam(square, below, r, c, 'down', ease, units));
    });
  });
  return seams;
}

function seam(
  a: BlanketSquare,
  b: BlanketSquare,
  row: number,
  column: number,
  direction: 'across' | 'down',
  ease: number,
  units: LengthUnit,
): SeamFit {
  const differenceMm = a.sideMm - b.sideMm;
  const eased = Math.abs(differenceMm) <= ease * Math.min(a.sideMm, b.sideMm);
  const stitches = [a.sideStitches, b.sideStitches] as const;
  const recipe = seamRecipe(
    { name: a.name, stitches: a.sideStitches },
    { name: b.name, stitches: b.sideStitches },
  );
  return {
    first: a.id,
    second: b.id,
    row,
    column,
    direction,
    differenceMm,
    eased,
    stitches,
    words: eased
      ? `${a.name} to ${b.name}, ${recipe}.`
      : `${a.name} to ${b.name} differ by ${lengthWords(Math.abs(differenceMm), units)}, more than the seam eases:`,
  };
}

export interface SeamLine {
  readonly words: string;
  readonly times: number;
}

/** Every seam that is told, once: the same two squares make one, whichever of them lies first. */
export function seamLines(seams: readonly SeamFit[]): SeamLine[] {
  const lines = new Map<string, SeamLine>();
  for (const { first, second, words } of seams) {
    const pair = JSON.stringify([first, second].sort());
    lines.set(pair, {
      words: lines.get(pair)?.words ?? words,
      times: (lines.get(pair)?.times ?? 0) + 1,
    });
  }
  return [...lines.values()];
}

/** A seam that does not ease, with the square that gives way. */
function toldFirst(seam: SeamFit, fits: ReadonlyMap<string, SquareFit>): SeamFit {
  if (seam.eased) return seam;
  const names = [seam.first, seam.second].flatMap((id) => {
    const fit = fits.get(id);
    return fit?.fit === 'adjust' ? [fit.name] : [];
  });
  const what =
    names.length > 0
      ? `adjust ${[...new Set(names)].join(' and ')} first`
      : 'no whole stitch a side brings them nearer, so ease it along the whole seam';
  return { ...seam, words: `${seam.words} ${what}.` };
}

/** With every square as it is once adjusted. */
function borderOf(grid: Grid, targetMm: number, fits: readonly SquareFit[]): BorderCounts {
  const more = new Map(fits.map((fit) => [fit.id, fit.sideStitchesChange]));
  const adjusted = (square: BlanketSquare | null | undefined) => {
    const change = square ? (more.get(square.id) ?? 0) : 0;
    if (!square || change === 0) return square;
    const sideStitches = square.sideStitches + change;
    return { ...square, sideStitches, sideMm: targetMm, adjusted: true };
  };
  const columns = Math.max(0, ...grid.map((row) => row.length));
  const edges = {
    top: (grid[0] ?? []).map(adjusted),
    // At the far right of the blanket: a shorter row leaves the edge empty there.
    right: grid.map((row) => adjusted(row[columns - 1])),
    bottom: (grid[grid.length - 1] ?? []).map(adjusted),
    left: grid.map((row) => adjusted(row[0])),
  };
  return countBorder(edges, targetMm);
}

function totals(laid: readonly BlanketSquare[]): ColourTotal[] {
  const colours = new Map<string, ColourTotal & { ballM: number | null; ballG: number | null }>();
  for (const square of laid)
    for (const part of square.yarn) {
      const had = colours.get(part.colour);
      colours.set(part.colour, {
        colour: part.colour,
        hex: had?.hex ?? part.hex,
        lengthM: (had?.lengthM ?? 0) + part.lengthM,
        massG: (had?.massG ?? 0) + part.massG,
        balls: null,
        ballM: had?.ballM ?? part.ballMetres,
        ballG: had?.ballG ?? part.ballGrams,
      });
    }
  return [...colours.values()].map(({ colour, hex, lengthM, massG, ballM, ballG }) => ({
    colour,
    hex,
    lengthM,
    massG,
    balls: ballM
      ? Math.ceil(lengthM / ballM - 1e-9)
      : ballG
        ? Math.ceil(massG / ballG - 1e-9)
        : null,
  }));
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
