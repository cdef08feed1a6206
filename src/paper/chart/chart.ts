/**
 * The chart of a plan as SVG text, right side facing: one picture, or sheets of A4 or Letter.
 * In: a Plan and how to show it. Out: SVG whose squares are 5 mm or more both ways on paper, however many
 * sheets that takes (common practice; large print: 9 mm, letters of 16 points).
 */
import type { Plan } from '../../plan/plan.ts';
import type { Terms } from '../../report/words/terms.ts';
import type { ShadeChoice } from '../yarn-shades.ts';
import type { Hand } from './chart-key.ts';
import { type ChartLayout, layOutChart } from './chart-layout.ts';
import { ChartSheet, type ChartStyle, type ChartWindow } from './chart-sheet.ts';
import { ColourStrip } from './colour-strip.ts';

export type Paper = 'A4' | 'Letter';

export interface ChartOptions {
  /** One side (worked several times a round) or the whole round. */
  readonly part?: 'side' | 'whole';
  /** Height of a square as a multiple of its width; 1 is square, h/w shows the true proportion. */
  readonly proportion?: number;
  readonly paper?: Paper;
  readonly terms?: Terms;
  /** `left`: mirrored, for those who knit from left to right. */
  readonly hand?: Hand;
  readonly largePrint?: boolean;
  /** What the size is called, where the plan is for several. */
  readonly size?: string;
  /** False: title and `chartReading` stand beside the picture. */
  readonly headed?: boolean;
  /** Shades of the colours of rounds, where the user has chosen them. */
  readonly shades?: ShadeChoice;
}

/** `Gale, 15 cm`: a chart's heading. */
export function chartTitle({ title }: Pick<Plan, 'title'>, { size }: ChartOptions): string {
  return [title || 'Chart', ...(size ? [size] : [])].join(', ');
}

/** Printable area, mm: A4 (210 × 297) and Letter (215.9 × 279.4) less 12 mm margins. */
export const AREAS: Readonly<Record<Paper, { widthMm: number; heightMm: number }>> = {
  A4: { widthMm: 186, heightMm: 273 },
  Letter: { widthMm: 191.9, heightMm: 255.4 },
};
type Area = (typeof AREAS)[Paper];

/** The same sheet turned: its long side lies across. */
function turned({ widthMm, heightMm }: Area): Area {
  return { widthMm: heightMm, heightMm: widthMm };
}

/** Whether a sheet of `drawChartPages` is for paper that is turned. */
export function liesAcross(svg: string, paper: Paper): boolean {
  const wide = Number(/^<svg [^>]*?width="([\d.]+)mm"/.exec(svg)?.[1] ?? 0);
  return wide > AREAS[paper].widthMm + 1;
}

/** Squares, least and largest, and letters, mm. Chosen: 5 mm to tick with a pencil, letters of 7 points. */
const PRINT = { leastMm: 5, mostMm: 6, textMm: 2.5 };
/** Large print: 16 points or more (Royal National Institute of Blind People, Clear Print guidelines; from memory). */
const LARGE_PRINT = { leastMm: 9, mostMm: 10, textMm: 5.6 };

export function drawChart(plan: Plan, options: ChartOptions = {}): string {
  return wholeChart(plan, options).draw();
}

/** How such a chart is read, in sentences. */
export function chartReading(plan: Plan, options: ChartOptions = {}): string {
  return wholeChart(plan, options).reading();
}

function wholeChart(plan: Plan, options: ChartOptions): ChartSheet {
  const layout = layOutChart(plan, options.part ?? 'side');
  const window = {
    firstColumn: 0,
    endColumn: layout.columns,
    firstRow: 0,
    endRow: layout.rows.length,
  };
  return new ChartSheet(plan, layout, window, styleOf(plan, options, layout.columns), '');
}

/**
 * The chart on as many sheets as it takes, turned where that takes fewer; sheets run from where the knitter begins, then
 * upwards.
 */
export function drawChartPages(plan: Plan, options: ChartOptions = {}): string[] {
  const layout = layOutChart(plan, options.part ?? 'side');
  const area = AREAS[options.paper ?? 'A4'];
  const upright = sheetsOn(area, plan, layout, options);
  if (upright.length === 1) return upright;
  const across = sheetsOn(turned(area), plan, layout, options);
  return across.length < upright.length ? across : upright;
}

function sheetsOn(area: Area, plan: Plan, layout: ChartLayout, options: ChartOptions): string[] {
  const style = styleOf(plan, options, Number.POSITIVE_INFINITY, area);
  const across = Math.max(
    4,
    Math.floor((area.widthMm - style.marginsMm - stripMm(style)) / style.squareMm),
  );
  const columnCuts = cuts(layout.columns, across, (at) => clearCut(layout, at));
  const window = { firstColumn: 0, endColumn: Math.min(across, layout.columns) };
  const rowsOf = (place: SheetPlace): number => {
    const words = sheetWords(plan, style.hand, place);
    const probe = new ChartSheet(plan, layout, { ...window, firstRow: 0, endRow: 0 }, style, words);
    const left = area.heightMm - probe.leastHeightMm();
    return Math.max(4, Math.floor(left / (style.squareMm * style.proportion)));
  };
  // Sheets side by side alone have less to say of how they are laid.
  const inOneBand = rowsOf({ ...LONGEST, rows: null, below: null, above: null });
  const up = inOneBand < layout.rows.length ? rowsOf(LONGEST) : inOneBand;
  const rowCuts = cuts(layout.rows.length, up, () => true);
  const sheets: PlacedSheet[] = [];
  for (let r = 0; r + 1 < rowCuts.length; r++)
    for (let c = 0; c + 1 < columnCuts.length; c++)
      sheets.push({
        firstColumn: columnCuts[c],
        endColumn: columnCuts[c + 1],
        firstRow: rowCuts[r],
        endRow: rowCuts[r + 1],
        across: c,
        up: r,
      });
  const shown = sheets.filter((window) => !empty(layout, window));
  const numberAt = (across: number, up: number): number | null =>
    shown.findIndex((other) => other.across === across && other.up === up) + 1 || null;
  return shown.map((sheet, i) => {
    const { across: c, up: r, ...window } = sheet;
    const words = sheetWords(plan, style.hand, {
      number: i + 1,
      of: shown.length,
      rows: rowCuts.length > 2 ? [window.firstRow + 1, window.endRow] : null,
      stitches: columnCuts.length > 2 ? [window.firstColumn + 1, window.endColumn] : null,
      before: numberAt(c - 1, r),
      behind: numberAt(c + 1, r),
      below: numberAt(c, r - 1),
      above: numberAt(c, r + 1),
    });
    const sized = styleOf(plan, options, across, area);
    return new ChartSheet(plan, layout, window, sized, shown.length > 1 ? words : '').draw();
  });
}

interface PlacedSheet extends ChartWindow {
  /** Sheets before it in a round, and below it. */
  readonly across: number;
  readonly up: number;
}

/** What a sheet shows, both ends counted, and the numbers of those that it is laid against. */
interface SheetPlace {
  readonly number: number;
  readonly of: number;
  readonly rows: readonly [number, number] | null;
  readonly stitches: readonly [number, number] | null;
  readonly before: number | null;
  readonly behind: number | null;
  readonly below: number | null;
  readonly above: number | null;
}

/** As long as such words become, for the room that they take. */
const LONGEST: SheetPlace = {
  ...{ number: 10, of: 10, rows: [100, 200], stitches: [100, 200] },
  ...{ before: 10, behind: 10, below: 10, above: 10 },
};

/** `Sheet 3 of 8: rounds 1–34, stitches 29–56; beside it 2 on the right, 7 above`. */
function sheetWords(
  { worked }: Plan,
  hand: ChartStyle['hand'],
  { number, of, rows, stitches, before, behind, below, above }: SheetPlace,
): string {
  const [right, left] = hand === 'right' ? [before, behind] : [behind, before];
  const span = (name: string, ends: readonly [number, number] | null) =>
    ends ? [`${name} ${ends[0]}–${ends[1]}`] : [];
  const what = [
    ...span(worked === 'round' ? 'rounds' : 'rows', rows),
    ...span('stitches', stitches),
  ];
  const beside = [
    ...(right ? [`${right} on the right`] : []),
    ...(left ? [`${left} on the left`] : []),
    ...(below ? [`${below} below`] : []),
    ...(above ? [`${above} above`] : []),
  ];
  const told = [`Sheet ${number} of ${of}`, ...(what.length > 0 ? [what.join(', ')] : [])].join(
    ': ',
  );
  return beside.length > 0 ? `${told}; beside it ${beside.join(', ')}` : told;
}

/** `columns`: stitches side by side, so that few of them may be drawn larger. */
function styleOf(
  plan: Plan,
  options: ChartOptions,
  columns: number,
  area = AREAS[options.paper ?? 'A4'],
): ChartStyle {
  const proportion = options.proportion ?? 1;
  const size = options.largePrint ? LARGE_PRINT : PRINT;
  const leastMm = size.leastMm / Math.min(1, proportion);
  const marginsMm = 10 * size.textMm;
  const strip = new ColourStrip(plan, options.shades);
  const fitMm = (area.widthMm - marginsMm - strip.width * size.textMm) / columns;
  return {
    title: chartTitle(plan, options),
    squareMm: Math.max(leastMm, Math.min(Math.max(size.mostMm, leastMm), fitMm)),
    textMm: size.textMm,
    marginsMm,
    widthMm: area.widthMm,
    proportion,
    terms: options.terms ?? 'american',
    hand: options.hand ?? 'right',
    headed: options.headed ?? true,
    strip,
  };
}

function stripMm({ strip, textMm }: ChartStyle): number {
  return strip.width * textMm;
}

/** Even cuts of at most `most`, moved back to where nothing is cut through. */
function cuts(total: number, most: number, clear: (at: number) => boolean): number[] {
  const pieces = Math.max(1, Math.ceil(total / most));
  const at = [0];
  for (let i = 1; i < pieces; i++) {
    let cut = Math.round((i * total) / pieces);
    while (cut > at[at.length - 1] + 1 && !clear(cut)) cut--;
    at.push(cut);
  }
  at.push(total);
  return at;
}

function clearCut(layout: ChartLayout, at: number): boolean {
  return layout.rows.every((row) =>
    row.symbols.every((s) => s.column >= at || s.column + s.width <= at),
  );
}

/** Sheets without a stitch on them are not printed. */
function empty(layout: ChartLayout, w: ChartWindow): boolean {
  return layout.rows
    .slice(w.firstRow, w.endRow)
    .every((row) => row.stitches.subarray(w.firstColumn, w.endColumn).every((s) => s === 0));
}
