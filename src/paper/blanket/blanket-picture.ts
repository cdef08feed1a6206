/**
 * The blanket's layout as SVG text: squares in their places with name, size and how they fit, and the
 * seams that want easing or do not meet. Told by pattern and words, not by colour alone.
 */
import type { BlanketLayout, BlanketReport, SquareFit } from '../../report/blanket.ts';
import { bothUnits, type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { liesFlat } from '../../report/words/verdict-words.ts';
import { escapeXml } from '../svg.ts';

/** Drawing width of one square, mm; the picture is scaled down to the page where it is wider. */
const CELL = 34;
const MARGIN = 8;
/** Widest picture, mm: A4 less its margins. */
const PAGE_MM = 186;

const FILL = { meets: '#e4f1ea', 'eased in': '#fdf1d3', adjust: '#f8dcd8' } as const;
const SIGN = { meets: '✓', 'eased in': '~', adjust: '!' } as const;

export function drawBlanket(
  layout: BlanketLayout,
  report: BlanketReport,
  units: LengthUnit = 'cm',
): string {
  const columns = Math.max(1, ...layout.rows.map((row) => row.length));
  const width = columns * CELL + 2 * MARGIN;
  const height = layout.rows.length * CELL + 2 * MARGIN + 16;
  const scale = Math.min(1, PAGE_MM / width);
  const fits = new Map(report.squares.map((square) => [square.id, square]));
  let svg = '';
  layout.rows.forEach((row, r) => {
    row.forEach((id, c) => {
      const [x, y] = [MARGIN + c * CELL, MARGIN + r * CELL];
      const fit = id === null ? undefined : fits.get(id);
      if (!fit) {
        svg += `<rect x="${x}" y="${y}" width="${CELL}" height="${CELL}" fill="none" stroke="#999" stroke-dasharray="2 2" stroke-width="0.4"/>`;
        return;
      }
      const size = lengthWords(report.targetMm + fit.differenceMm, units);
      svg +=
        `<g><title>${escapeXml(fit.words)}</title>` +
        `<rect x="${x}" y="${y}" width="${CELL}" height="${CELL}" fill="${FILL[fit.fit]}" stroke="#333" stroke-width="0.4"/>` +
        frameOf(fit, x, y) +
        label(x + CELL / 2, y + 13, shorten(fit.name), 4.2, true) +
        label(x + CELL / 2, y + 20, size, 3.6) +
        label(x + CELL / 2, y + 26, signOf(fit), 3.6) +
        '</g>';
    });
  });
  for (const seam of report.seams) {
    if (seam.eased) continue;
    const [x, y] = [MARGIN + seam.column * CELL, MARGIN + seam.row * CELL];
    const d =
      seam.direction === 'across'
        ? `M${x + CELL} ${y + 2}V${y + CELL - 2}`
        : `M${x + 2} ${y + CELL}H${x + CELL - 2}`;
    svg += `<g><title>${escapeXml(seam.words)}</title><path d="${d}" stroke="#b00020" stroke-width="1.4" stroke-dasharray="3 1.5"/></g>`;
  }
  const total = `${bothUnits(report.widthMm, units)} × ${bothUnits(report.heightMm, units)}`;
  const loose = report.seams.filter((seam) => !seam.eased).length;
  const seams = `${report.seams.length} seams${loose > 0 ? `, ${loose} that do not ease (dashed)` : ''}`;
  const words = `${total}; ${seams}.`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${round(width * scale)}mm" height="${round(height * scale)}mm" ` +
    `viewBox="0 0 ${width} ${height}" role="img" font-family="sans-serif"><title>Blanket layout</title>` +
    `<desc>${escapeXml([words, ...report.squares.map((square) => square.words)].join(' '))}</desc>` +
    `<rect width="${width}" height="${height}" fill="#fff"/>${svg}` +
    line(height - 14, total) +
    line(height - 8, seams) +
    '</svg>\n'
  );
}

/** `✓ meets`; of a square that stands up that it does. */
function signOf({ fit, verdict }: SquareFit): string {
  const stands = verdict !== undefined && !liesFlat(verdict);
  return stands ? `! ${verdict}` : `${SIGN[fit]} ${fit}`;
}

/** The colours of its rounds, from the rim inwards, as a frame round its words. */
function frameOf({ bands = [] }: SquareFit, x: number, y: number): string {
  let svg = '';
  let at = 0;
  for (const { hex, share } of bands) {
    const wide = FRAME * share;
    const inset = FRAME * at + wide / 2;
    const side = round(CELL - 2 * inset);
    svg += `<rect x="${round(x + inset)}" y="${round(y + inset)}" width="${side}" height="${side}" fill="none" stroke="${hex}" stroke-width="${round(wide)}"/>`;
    at += share;
  }
  return svg;
}

/** Width of the frame of colours, mm. */
const FRAME = 5;

function line(y: number, words: string): string {
  return `<text x="${MARGIN}" y="${y}" font-size="4" fill="#111">${escapeXml(words)}</text>`;
}

function label(x: number, y: number, words: string, size: number, bold = false): string {
  return `<text x="${x}" y="${y}" font-size="${size}" text-anchor="middle"${bold ? ' font-weight="bold"' : ''} fill="#111">${escapeXml(words)}</text>`;
}

/** Names longer than the square is wide are cut; the whole stands in the title. */
function shorten(name: string): string {
  return name.length > 14 ? `${name.slice(0, 13)}…` : name;
}

function round(x: number): number {
  return Math.round(x * 100) / 100;
}
