/**
 * The chart of a plan as SVG text: right side facing, read from the bottom right; rounds are numbered
 * at the right, wrong-side rows at the left. Key with only what is used.
 *
 * `drawChart` gives one picture; `drawChartPages` cuts a large chart into sheets of A4 or Letter whose
 * squares stay large enough to read. Sizes in mm on paper; inside the picture one unit is one square.
 */
import type { Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { type ChartLayout, type ChartRow, layOutChart } from './chart-layout.ts';
import { drawSymbol, escapeXml } from './chart-symbols.ts';

export type Paper = 'A4' | 'Letter';

export interface ChartOptions {
  /** One side (worked several times a round) or the whole round. */
  readonly part?: 'side' | 'whole';
  /** Height of a square as a multiple of its width; 1 is square, h/w shows the true proportion. */
  readonly proportion?: number;
  readonly paper?: Paper;
}

/** Printable area, mm: A4 (210 × 297) and Letter (215.9 × 279.4) less 12 mm margins. */
const AREAS: Readonly<Record<Paper, { widthMm: number; heightMm: number }>> = {
  A4: { widthMm: 186, heightMm: 273 },
  Letter: { widthMm: 191.9, heightMm: 255.4 },
};
/** Squares are drawn up to this large, and on pages never smaller than that. Chosen for reading. */
const LARGEST_SQUARE_MM = 6;
const SMALLEST_SQUARE_MM = 2.8;
/** Least height of figures and letters on paper, mm (about 6.5 points). Chosen. */
const TEXT_MM = 2.3;
/** Every fifth line of the grid is heavier. */
const HEAVY = 5;

/** Part of the layout that one picture shows; ends exclusive. */
interface Window {
  readonly firstColumn: number;
  readonly endColumn: number;
  readonly firstRow: number;
  readonly endRow: number;
}

export function drawChart(plan: Plan, options: ChartOptions = {}): string {
  const layout = layOutChart(plan, options.part ?? 'side');
  const window = {
    firstColumn: 0,
    endColumn: layout.columns,
    firstRow: 0,
    endRow: layout.rows.length,
  };
  return new ChartSheet(plan, layout, window, options, '').draw();
}

/** The chart on as many sheets as it takes; sheets run from the bottom right, then upwards. */
export function drawChartPages(plan: Plan, options: ChartOptions = {}): string[] {
  const layout = layOutChart(plan, options.part ?? 'side');
  const area = AREAS[options.paper ?? 'A4'];
  const across = Math.floor(area.widthMm / SMALLEST_SQUARE_MM) - 7;
  const squareHeight = SMALLEST_SQUARE_MM * (options.proportion ?? 1);
  const keyMm = 14 + 6 * Math.ceil((layout.names.length + 1) / 2);
  const up = Math.max(10, Math.floor((area.heightMm - keyMm - 12) / squareHeight));
  const columnCuts = cuts(layout.columns, across, (at) => clearCut(layout, at));
  const rowCuts = cuts(layout.rows.length, up, () => true);
  const sheets: Window[] = [];
  for (let r = 0; r + 1 < rowCuts.length; r++)
    for (let c = 0; c + 1 < columnCuts.length; c++)
      sheets.push({
        firstColumn: columnCuts[c],
        endColumn: columnCuts[c + 1],
        firstRow: rowCuts[r],
        endRow: rowCuts[r + 1],
      });
  const shown = sheets.filter((window) => !empty(layout, window));
  return shown.map((window, i) =>
    new ChartSheet(
      plan,
      layout,
      window,
      options,
      shown.length > 1 ? `Sheet ${i + 1} of ${shown.length}` : '',
    ).draw(),
  );
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
    row.symbols.every((s) => s.column + s.width <= at || s.column >= at),
  );
}

function empty(layout: ChartLayout, window: Window): boolean {
  for (let row = window.firstRow; row < window.endRow; row++)
    for (let column = window.firstColumn; column < window.endColumn; column++)
      if (layout.rows[row].stitches[column]) return false;
  return true;
}

class ChartSheet {
  private readonly columns: number;
  private readonly rows: readonly ChartRow[];
  private readonly height: number;
  private readonly squareMm: number;
  /** Letter height, squares. */
  private readonly text: number;
  private readonly left: number;
  private readonly top: number;
  private readonly names: readonly string[];

  constructor(
    private readonly plan: Plan,
    private readonly layout: ChartLayout,
    private readonly window: Window,
    options: ChartOptions,
    private readonly sheet: string,
  ) {
    this.columns = window.endColumn - window.firstColumn;
    this.rows = layout.rows.slice(window.firstRow, window.endRow);
    this.height = options.proportion ?? 1;
    const area = AREAS[options.paper ?? 'A4'];
    this.squareMm = Math.min(LARGEST_SQUARE_MM, area.widthMm / (this.columns + 7));
    this.text = Math.max(0.55, TEXT_MM / this.squareMm);
    this.left = 3.5 * Math.max(1, this.text);
    this.top = 4.2 * this.text;
    const shown = new Set(
      this.rows.flatMap((row) => row.symbols.filter((s) => this.inside(s)).map((s) => s.name)),
    );
    this.names = layout.names.filter((name) => shown.has(name));
  }

  draw(): string {
    const gridHeight = this.rows.length * this.height;
    const key = this.key(this.top + gridHeight + 3.4 * this.text);
    const longest = Math.max(
      this.reading().length,
      ...this.names.map((name) => keyWords(name).length + 3 * keyWidth(name)),
    );
    const width = Math.max(
      this.columns + 2 * this.left,
      this.left + (longest * LETTER_WIDTH + 2) * this.text,
    );
    const height = key.end + this.text;
    const mm = (squares: number) => round(squares * this.squareMm);
    const title = this.plan.title || 'Chart';
    return (
      `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}mm" height="${mm(height)}mm" ` +
      `viewBox="0 0 ${round(width)} ${round(height)}" role="img" font-family="sans-serif">` +
      `<title>${escapeXml(title)}: chart</title><desc>${escapeXml(this.description())}</desc>` +
      `<rect width="100%" height="100%" fill="#fff"/>` +
      this.label(this.left, 1.8 * this.text, title, 'start', 1.25, true) +
      this.label(this.left, 3.3 * this.text, this.reading(), 'start') +
      `<g transform="translate(${round(this.left)} ${round(this.top)})">${this.squares()}${this.grid()}</g>` +
      this.numbers() +
      key.svg +
      '</svg>\n'
    );
  }

  private reading(): string {
    const { repeats, seam } = this.layout;
    const word = this.plan.worked === 'round' ? 'round' : 'row';
    const parts = [];
    if (repeats > 1) parts.push(`Work these stitches ${repeats} times in each ${word}.`);
    if (seam.begin + seam.end > 0) parts.push('Seam stitches are not shown.');
    if (this.plan.worked === 'round') parts.push('Read every round from right to left.');
    else parts.push('Read RS rows from right to left, WS rows from left to right.');
    if (this.sheet) parts.push(`${this.sheet}.`);
    return parts.join(' ');
  }

  private description(): string {
    return (
      `${this.columns} stitches wide, ${this.rows.length} ${this.plan.worked === 'round' ? 'rounds' : 'rows'} high, ` +
      `as the right side shows it. ${this.reading()} Stitches used: ${this.names.join(', ')}.`
    );
  }

  private inside(symbol: { column: number; width: number }): boolean {
    const { firstColumn, endColumn } = this.window;
    return symbol.column >= firstColumn && symbol.column + symbol.width <= endColumn;
  }

  /** x of the left edge of a symbol; column 0 lies rightmost. */
  private x(column: number, width: number): number {
    return this.columns - (column - this.window.firstColumn) - width;
  }

  private y(row: number): number {
    return (this.rows.length - 1 - row) * this.height;
  }

  private squares(): string {
    let svg = '';
    this.rows.forEach((row, i) => {
      const y = round(this.y(i));
      const stitches = row.stitches.subarray(this.window.firstColumn, this.window.endColumn);
      for (let from = 0; from < this.columns; from++) {
        if (stitches[from]) continue;
        let end = from;
        while (end < this.columns && !stitches[end]) end++;
        const x = this.columns - end;
        svg += `<rect x="${x}" y="${y}" width="${end - from}" height="${round(this.height)}" fill="${NO_STITCH}"/>`;
        from = end;
      }
    });
    return svg;
  }

  private grid(): string {
    const h = round(this.rows.length * this.height);
    let thin = '';
    let heavy = '';
    for (let c = 0; c <= this.columns; c++) {
      const line = `M${this.columns - c} 0V${h}`;
      if ((c + this.window.firstColumn) % HEAVY === 0) heavy += line;
      else thin += line;
    }
    for (let i = 0; i <= this.rows.length; i++) {
      const line = `M0 ${round((this.rows.length - i) * this.height)}H${this.columns}`;
      if ((i + this.window.firstRow) % HEAVY === 0) heavy += line;
      else thin += line;
    }
    let symbols = '';
    this.rows.forEach((row, i) => {
      for (const symbol of row.symbols) {
        if (!this.inside(symbol)) continue;
        const drawn = drawSymbol(symbol.name, symbol.width, this.height);
        if (drawn === '') continue;
        const at = `translate(${this.x(symbol.column, symbol.width)} ${round(this.y(i))})`;
        symbols += `<g transform="${at}">${drawn}${frame(symbol.width, this.height)}</g>`;
      }
    });
    return (
      `<path d="${thin}" stroke="#777" stroke-width="0.03" fill="none"/>` +
      symbols +
      `<path d="${heavy}M0 0H${this.columns}V${h}H0Z" stroke="#333" stroke-width="0.06" fill="none"/>`
    );
  }

  private numbers(): string {
    let svg = '';
    const step = this.text > 0.95 * this.height ? 2 : 1;
    this.rows.forEach((row, i) => {
      if ((row.round - 1) % step !== 0) return;
      const y = this.top + this.y(i) + this.height / 2 + 0.35 * this.text;
      svg += row.wrongSide
        ? this.label(this.left - 0.4, y, String(row.round), 'end')
        : this.label(this.left + this.columns + 0.4, y, String(row.round), 'start');
    });
    const below = this.top + this.rows.length * this.height + 1.2 * this.text;
    for (let c = this.window.firstColumn; c < this.window.endColumn; c++) {
      const n = c + 1;
      const last = c === this.layout.columns - 1;
      if (n !== 1 && n % HEAVY !== 0 && !last) continue;
      if (last && n % HEAVY !== 0 && n % HEAVY < 2 * this.text) continue;
      const x = this.left + this.x(c, 1) + 0.5;
      svg += this.label(x, below, String(n), 'middle');
    }
    return svg;
  }

  private key(top: number): { svg: string; end: number } {
    const box = 1.15 * this.text;
    const line = 1.75 * this.text;
    let svg = this.label(this.left, top, 'Key', 'start', 1.1, true);
    let y = top + 0.8 * this.text;
    const entries = [...this.names, null];
    for (const name of entries) {
      const width = name === null ? 1 : keyWidth(name);
      const scale = `translate(${round(this.left)} ${round(y)}) scale(${round(box)})`;
      const inner =
        name === null
          ? `<rect width="1" height="1" fill="${NO_STITCH}"/>`
          : drawSymbol(name, width, 1);
      svg += `<g transform="${scale}">${inner}${frame(width, 1)}</g>`;
      const words = name === null ? 'no stitch' : keyWords(name);
      svg += this.label(
        this.left + box * width + 0.6 * this.text,
        y + 0.85 * this.text,
        words,
        'start',
      );
      y += line;
    }
    return { svg, end: y };
  }

  private label(
    x: number,
    y: number,
    words: string,
    anchor: 'start' | 'middle' | 'end',
    scale = 1,
    bold = false,
  ): string {
    const weight = bold ? ' font-weight="bold"' : '';
    return `<text x="${round(x)}" y="${round(y)}" font-size="${round(this.text * scale)}" text-anchor="${anchor}"${weight} fill="#111">${escapeXml(words)}</text>`;
  }
}

/** Mean advance of a sans-serif letter, as a share of its size (measured on the key's words). */
const LETTER_WIDTH = 0.5;
const NO_STITCH = '#cfcfcf';

function frame(width: number, height: number): string {
  return `<rect width="${width}" height="${round(height)}" fill="none" stroke="#777" stroke-width="0.03"/>`;
}

function keyWidth(name: string): number {
  const kind = stitchKind(name.replace(/^~/, ''));
  return kind?.crossing ? kind.consumes : 1;
}

function keyWords(name: string): string {
  if (name.startsWith('~')) return `${name.slice(1)}, worked from the wrong side`;
  const kind = stitchKind(name);
  return kind ? `${name}: ${kind.words}` : name;
}

function round(x: number): number {
  return Math.round(x * 1000) / 1000;
}
