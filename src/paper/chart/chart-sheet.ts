/**
 * One sheet of a chart as SVG text: title, how to read it, squares, the outline of what is repeated, round
 * numbers, stitches left by every round, key. In: a layout and the window of it that the sheet shows; mm on
 * paper, inside the picture one unit is one square. Out: SVG with its words for those who cannot see it.
 */
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { inTerms, type Terms } from '../../report/words/terms.ts';
import { escapeXml } from '../svg.ts';
import { isLight } from '../yarn-shades.ts';
import { type Hand, keyWords, NO_STITCH_WORDS, NOT_WORKED_WORDS, wrapped } from './chart-key.ts';
import type { ChartLayout, ChartRow, ChartSymbol } from './chart-layout.ts';
import { howToRead } from './chart-reading.ts';
import { drawSymbol } from './chart-symbols.ts';
import type { ColourStrip, StripColour } from './colour-strip.ts';

/** Part of the layout that one sheet shows; ends exclusive. */
export interface ChartWindow {
  readonly firstColumn: number;
  readonly endColumn: number;
  readonly firstRow: number;
  readonly endRow: number;
}

export interface ChartStyle {
  readonly title: string;
  readonly squareMm: number;
  readonly textMm: number;
  /** Room left and right of the squares together. */
  readonly marginsMm: number;
  /** Widest line of words. */
  readonly widthMm: number;
  readonly proportion: number;
  readonly terms: Terms;
  readonly hand: Hand;
  /** Title and reading stand above the squares; else they are told beside the picture. */
  readonly headed: boolean;
  /** In which colour rounds are worked: a strip outside the squares, where the first row's number stands. */
  readonly strip: ColourStrip;
}

/** Every fifth line of the grid is heavier. */
const HEAVY = 5;
/** Mean advance of a sans-serif letter, as a share of its size (measured on the key's words). */
const LETTER_WIDTH = 0.5;
const NO_STITCH = '#cfcfcf';
/** Side of a square of the key, letters' heights. Chosen. */
const KEY_BOX = 1.15;

interface KeyEntry {
  readonly name: string | null;
  /** Of a colour of rounds. */
  readonly colour?: StripColour;
  readonly width: number;
  readonly lines: readonly string[];
}

export class ChartSheet {
  private readonly columns: number;
  private readonly rows: readonly ChartRow[];
  private readonly height: number;
  /** Letter height, squares. */
  private readonly text: number;
  /** Room left of the squares. */
  private readonly left: number;
  /** Room for the strip of colours, on the side where right-side rows begin. */
  private readonly strip: number;
  private readonly lines: readonly string[];
  private readonly top: number;
  private readonly entries: readonly KeyEntry[];

  constructor(
    private readonly plan: Plan,
    private readonly layout: ChartLayout,
    private readonly window: ChartWindow,
    private readonly style: ChartStyle,
    private readonly sheet: string,
  ) {
    this.columns = window.endColumn - window.firstColumn;
    this.rows = layout.rows.slice(window.firstRow, window.endRow);
    this.height = style.proportion;
    this.text = style.textMm / style.squareMm;
    this.strip = style.strip.width * this.text;
    this.left =
      (0.55 * style.marginsMm) / style.squareMm + (style.hand === 'left' ? this.strip : 0);
    this.lines = style.headed ? wrapped(this.reading(), this.letters(0)) : [];
    this.top = ((style.headed ? 3.4 : 2.2) + 1.4 * this.lines.length) * this.text;
    this.entries = this.keyEntries();
  }

  /** Without any rows and with the whole key, so that what is left holds squares. */
  leastHeightMm(): number {
    const whole = new ChartSheet(
      this.plan,
      this.layout,
      {
        firstColumn: 0,
        endColumn: this.layout.columns,
        firstRow: 0,
        endRow: this.layout.rows.length,
      },
      this.style,
      this.sheet,
    );
    return (this.top + 3.6 * this.text + whole.keyHeight() + this.text) * this.style.squareMm;
  }

  draw(): string {
    const gridHeight = this.rows.length * this.height;
    const keyTop = this.top + gridHeight + 3.6 * this.text;
    const words = [...this.lines, ...this.entries.flatMap((e) => e.lines)];
    const longest = Math.max(...words.map((line) => line.length)) * LETTER_WIDTH * this.text;
    const keyIndent = Math.max(...this.entries.map((e) => e.width)) * 1.2 * this.text + this.text;
    const right =
      (0.45 * this.style.marginsMm) / this.style.squareMm +
      (this.style.hand === 'right' ? this.strip : 0);
    const width = Math.max(
      this.left + this.columns + right,
      Math.min(keyIndent + longest + this.text, this.style.widthMm / this.style.squareMm),
    );
    const height = keyTop + this.keyHeight() + this.text;
    const mm = (squares: number) => round(squares * this.style.squareMm);
    const { title, headed } = this.style;
    return (
      `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}mm" height="${mm(height)}mm" ` +
      `viewBox="0 0 ${round(width)} ${round(height)}" role="img" font-family="sans-serif">` +
      `<title>${escapeXml(title)}: chart</title><desc>${escapeXml(this.description())}</desc>` +
      `<rect width="100%" height="100%" fill="#fff"/>` +
      (headed ? this.label(0.4 * this.text, 1.6 * this.text, title, 'start', 1.25, true) : '') +
      this.lines
        .map((line, i) => this.label(0.4 * this.text, (3.1 + 1.4 * i) * this.text, line, 'start'))
        .join('') +
      `<g transform="translate(${round(this.left)} ${round(this.top)})">${this.squares()}${this.grid()}${this.outline()}</g>` +
      this.colours() +
      this.numbers() +
      this.key(keyTop) +
      '</svg>\n'
    );
  }

  reading(): string {
    return howToRead(this.plan, this.style, {
      repeats: this.layout.repeats,
      turned: this.rows.some((row) => row.wrongSide),
      seam: this.seamStitches() > 0,
      sheet: this.sheet,
    });
  }

  private seamStitches(): number {
    const { outline, columns } = this.layout;
    return outline.first + columns - outline.end;
  }

  private description(): string {
    const names = this.entries.map((e) => e.name).filter((name) => name !== null);
    const colours = this.entries.flatMap((e) =>
      e.colour ? [`${e.colour.mark}: ${e.colour.words}`] : [],
    );
    return (
      `${this.columns} stitches wide, ${this.rows.length} ${this.plan.worked === 'round' ? 'rounds' : 'rows'} high, ` +
      `as the right side shows it. ${this.reading()} Stitches used: ${names.join(', ')}.` +
      (colours.length > 0 ? ` ${colours.join('; ')}.` : '')
    );
  }

  private inside(symbol: ChartSymbol): boolean {
    const { firstColumn, endColumn } = this.window;
    return symbol.column >= firstColumn && symbol.column + symbol.width <= endColumn;
  }

  /** x of the left edge of something; column 0 lies rightmost, leftmost in a mirrored chart. */
  private x(column: number, width: number): number {
    const from = column - this.window.firstColumn;
    return this.style.hand === 'right' ? this.columns - from - width : from;
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
        const x = this.x(this.window.firstColumn + from, end - from);
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
      const line = `M${this.x(this.window.firstColumn + c, 0)} 0V${h}`;
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
        const drawn = drawSymbol(symbol.name, symbol.width, this.height, this.style.hand);
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

  /** Bold lines where the repeat begins and ends; open where it goes on on another sheet. */
  private outline(): string {
    const { repeats, outline } = this.layout;
    if (repeats < 2 && this.seamStitches() === 0) return '';
    const { firstColumn, endColumn, firstRow, endRow } = this.window;
    const first = Math.max(outline.first, firstColumn);
    const end = Math.min(outline.end, endColumn);
    if (end <= first) return '';
    const h = round(this.rows.length * this.height);
    const [a, b] = [this.x(first, 0), this.x(end, 0)];
    let d = '';
    if (first === outline.first) d += `M${a} 0V${h}`;
    if (end === outline.end) d += `M${b} 0V${h}`;
    if (firstRow === 0) d += `M${a} ${h}H${b}`;
    if (endRow === this.layout.rows.length) d += `M${a} 0H${b}`;
    return `<path d="${d}" stroke="#000" stroke-width="0.18" stroke-linecap="square" fill="none" data-part="repeat"/>`;
  }

  /** A box a row, with the colour's letters in it. */
  private colours(): string {
    if (this.strip === 0) return '';
    const x =
      this.style.hand === 'right' ? this.left + this.columns + 0.15 : this.left - this.strip + 0.05;
    const width = this.strip - 0.2;
    const boxes = this.rows.map((row, i) => {
      const colour = this.style.strip.of(row.round);
      return colour
        ? this.colourBox(colour, { x, y: this.top + this.y(i), width, height: this.height })
        : '';
    });
    return `<g data-part="colours">${boxes.join('')}</g>`;
  }

  private colourBox(
    { mark, shade }: StripColour,
    { x, y, width, height }: { x: number; y: number; width: number; height: number },
  ): string {
    const at = `x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}"`;
    const size = round(Math.min(0.95 * this.text, 0.8 * height));
    const middle = round(y + height / 2 + 0.35 * size);
    return (
      `<rect ${at} fill="${shade}" stroke="#333" stroke-width="0.03"/>` +
      `<text x="${round(x + width / 2)}" y="${middle}" font-size="${size}" text-anchor="middle" font-weight="bold" fill="${isLight(shade) ? '#111' : '#fff'}">${escapeXml(mark)}</text>`
    );
  }

  private numbers(): string {
    const right = this.style.hand === 'right';
    const gap = 0.4 * this.text;
    const [beforeLeft, beforeRight] = right ? [0, this.strip] : [this.strip, 0];
    const heading = this.top - 0.5 * this.text;
    const counts = 0.9 * (this.left - beforeLeft) - 2.4 * this.text;
    let svg = this.label(counts, heading, 'sts', 'end', 0.9);
    this.rows.forEach((row, i) => {
      const y = this.top + this.y(i) + this.height / 2 + 0.35 * this.text;
      // RS rows begin, and are numbered, where the knitter does.
      const atLeft = row.wrongSide === right;
      svg += atLeft
        ? this.label(this.left - beforeLeft - gap, y, String(row.round), 'end')
        : this.label(this.left + this.columns + beforeRight + gap, y, String(row.round), 'start');
      svg += this.label(counts, y, String(row.after), 'end', 0.9);
    });
    const below = this.top + this.rows.length * this.height + 1.2 * this.text;
    for (let c = this.window.firstColumn; c < this.window.endColumn; c++) {
      const n = c + 1;
      const last = c === this.layout.columns - 1;
      if (n !== 1 && n % HEAVY !== 0 && !last) continue;
      if (last && n % HEAVY !== 0 && n % HEAVY < 2 * this.text) continue;
      svg += this.label(this.left + this.x(c, 1) + 0.5, below, String(n), 'middle');
    }
    return svg;
  }

  /** What the sheet shows and no more. */
  private keyEntries(): KeyEntry[] {
    const short = hasShortRows(this.plan);
    // Turned rows in the round show their wrong side, as rows do.
    const worked = short ? 'flat' : this.plan.worked;
    const { terms, hand } = this.style;
    const used = new Map<string, { rightSide: boolean; wrongSide: boolean }>();
    for (const row of this.rows)
      for (const symbol of row.symbols) {
        if (!this.inside(symbol)) continue;
        const use = used.get(symbol.name) ?? { rightSide: false, wrongSide: false };
        if (row.wrongSide) use.wrongSide = true;
        else use.rightSide = true;
        used.set(symbol.name, use);
      }
    const gaps = this.rows.some((row) =>
      row.stitches.subarray(this.window.firstColumn, this.window.endColumn).includes(0),
    );
    const names = this.layout.names.filter((name) => used.has(name));
    const entries = names.map((name) => {
      const width = keyWidth(name);
      const words = keyWords(name, used.get(name) as never, { worked, terms, hand });
      return { name, width, lines: wrapped(words, this.letters(width)) };
    });
    const words = short ? NOT_WORKED_WORDS : NO_STITCH_WORDS;
    const { strip } = this.style;
    const wide = Math.max(1, strip.width / KEY_BOX);
    const colours = strip.among(this.rows.map((row) => row.round)).map((colour): KeyEntry => {
      const lines = wrapped(inTerms(colour.words, terms, strip.own), this.letters(wide));
      return { name: null, colour, width: wide, lines };
    });
    const gap = gaps ? [{ name: null, width: 1, lines: [words] }] : [];
    return [...entries, ...gap, ...colours];
  }

  /** Letters that a line beside a symbol of the key takes. */
  private letters(symbolWidth: number): number {
    const room = this.style.widthMm / this.style.squareMm - (symbolWidth + 2) * 1.2 * this.text;
    return Math.floor(room / (LETTER_WIDTH * this.text));
  }

  private keyHeight(): number {
    return this.entries.reduce(
      (sum, e) => sum + (0.4 + 1.35 * e.lines.length) * this.text,
      1.2 * this.text,
    );
  }

  private key(top: number): string {
    const x = 0.4 * this.text;
    const box = KEY_BOX * this.text;
    let svg = this.label(x, top, 'Key', 'start', 1.1, true);
    let y = top + 0.8 * this.text;
    for (const { name, colour, width, lines } of this.entries) {
      const inner =
        name === null
          ? `<rect width="1" height="1" fill="${NO_STITCH}"/>`
          : drawSymbol(name, width, 1, this.style.hand);
      svg += colour
        ? this.colourBox(colour, { x, y, width: box * width, height: box })
        : `<g transform="translate(${round(x)} ${round(y)}) scale(${round(box)})">${inner}${frame(width, 1)}</g>`;
      lines.forEach((line, i) => {
        const at = y + (0.85 + 1.35 * i) * this.text;
        svg += this.label(x + box * width + 0.6 * this.text, at, line, 'start');
      });
      y += (0.4 + 1.35 * lines.length) * this.text;
    }
    return svg;
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

function frame(width: number, height: number): string {
  return `<rect width="${width}" height="${round(height)}" fill="none" stroke="#777" stroke-width="0.03"/>`;
}

function keyWidth(name: string): number {
  const kind = stitchKind(name.replace(/^~/, ''));
  return kind?.crossing ? kind.consumes : 1;
}

function round(x: number): number {
  return Math.round(x * 1000) / 1000;
}
