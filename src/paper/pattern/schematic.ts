/**
 * The schematic: the outline of the relaxed piece to scale with the measures to block it to, which way it is
 * worked, where rounds begin or the seam runs. In: a Plan, its report and outline. Out: SVG text, mm on paper.
 * A piece that does not lie flat is drawn from above without any measure to block to.
 */
import { type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import type { Outline } from '../../report/outline.ts';
import type { Report } from '../../report/report.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';
import { inTerms, type Terms } from '../../report/words/terms.ts';
import { liesFlat, POSTURE_WORDS, turnsRound } from '../../report/words/verdict-words.ts';
import { wrapped } from '../chart/chart-key.ts';
import { escapeXml, label, round2 } from '../svg.ts';
import { shapeName } from './size-words.ts';

export interface SchematicOptions {
  readonly units?: LengthUnit;
  readonly terms?: Terms;
  /** What the size is called, where the plan is for several. */
  readonly size?: string;
  readonly largePrint?: boolean;
}

/** Longer than so many times its height a four-sided piece is no square. Chosen. */
const OBLONG = 1.05;
/** Widest drawing of the piece on paper, mm. */
const DRAWN_MM = 110;
const TEXT_MM = 3.6;
const LARGE_TEXT_MM = 5.6;

/** What to block to, in words; empty where the piece does not lie flat or did not come to rest. */
export function blockingMeasures(
  report: Report,
  outline: Outline,
  units: LengthUnit,
): { readonly name: string; readonly mm: number; readonly words: string }[] {
  const { extents } = report;
  if (!report.relaxation.converged || !liesFlat(report.verdict)) return [];
  if (!extents && !turnsRound(report)) return [];
  const measure = (name: string, mm: number) => ({
    name,
    mm,
    words: `${name} ${bothUnits(mm, units)}`,
  });
  if (extents)
    return [
      measure('width', extents.widthMm),
      measure('length', extents.lengthMm),
      measure('corner to corner', extents.cornersMm),
    ];
  if (report.shape === 'disc') return [measure('across', report.sideMm)];
  // Four corners with unequal sides: a border, a scarf.
  if (report.corners === 4 && outline.widthMm > OBLONG * outline.heightMm)
    return [
      measure('width', outline.widthMm),
      measure('height', outline.heightMm),
      measure('corner to corner', outline.cornersMm),
    ];
  const even = report.corners % 2 === 0;
  const along = [
    measure(
      report.cutStitches > 0 ? 'along each side and the panel at its corner' : 'along each side',
      report.sideMm,
    ),
    // Sides that bow in or out show here: a triangle or pentagon has a corner opposite each.
    even
      ? measure('side to side through the middle', outline.throughMm)
      : measure('from a side to the corner opposite', outline.acrossMm),
  ];
  // The corners of a triangle are a side apart.
  return report.corners === 3 ? along : [...along, measure('corner to corner', outline.cornersMm)];
}

export function drawSchematic(
  plan: Plan,
  report: Report,
  outline: Outline,
  options: SchematicOptions = {},
): string {
  const { units = 'cm', terms = 'american' } = options;
  const text = options.largePrint ? LARGE_TEXT_MM : TEXT_MM;
  const box = boxOf(outline.points);
  const scale = DRAWN_MM / Math.max(box.width, box.height, 1);
  const measures = blockingMeasures(report, outline, units);
  const width = DRAWN_MM + 17 * text;
  const left = 3 * text + (DRAWN_MM - box.width * scale) / 2;
  const top = 5 * text;
  const at = (points: Float64Array, i: number): [number, number] => [
    left + (points[2 * i] - box.x) * scale,
    top + (box.y + box.height - points[2 * i + 1]) * scale,
  ];
  const path = (points: Float64Array, closed: boolean) => {
    let d = '';
    for (let i = 0; 2 * i < points.length; i++) {
      const [x, y] = at(points, i);
      d += `${i === 0 ? 'M' : 'L'}${round2(x)} ${round2(y)}`;
    }
    return closed ? `${d}Z` : d;
  };
  const bottom = top + box.height * scale;
  const right = left + box.width * scale;
  const name = plan.title || shapeName(report.shape, report.corners);
  const title = options.size ? `${name}, ${options.size}` : name;
  const lines = inWords(
    plan,
    report,
    measures.map((m) => m.words),
  ).map((line) => inTerms(line, terms));
  const [startX, startY] = at(outline.points, 0);
  let svg = label(text, 1.8 * text, `${title}: schematic`, text * 1.25, 'start', true);
  svg += `<path d="${path(outline.points, true)}" fill="#f2efe9" stroke="#111" stroke-width="0.5" stroke-linejoin="round"/>`;
  svg += `<path d="${path(outline.starts, false)}" fill="none" stroke="#111" stroke-width="0.4" stroke-dasharray="1.6 1.2"/>`;
  svg += `<circle cx="${round2(startX)}" cy="${round2(startY)}" r="1.3" fill="#fff" stroke="#111" stroke-width="0.5"/>`;
  svg += direction(plan, left + (box.width * scale) / 2, top + (box.height * scale) / 2, text);
  if (measures.length > 0) {
    const [side, across] = measures;
    const shown = measures.length > 1 ? across : side;
    // As long as what it says: a side is shorter than the widest place, of a hexagon by half.
    const [middle, half] = [(left + right) / 2, (side.mm * scale) / 2];
    svg += arrow(middle - half, bottom + 1.4 * text, middle + half, bottom + 1.4 * text);
    svg += label(
      (left + right) / 2,
      bottom + 2.8 * text,
      bothUnits(side.mm, units),
      text,
      'middle',
    );
    const [centre, up] = [(top + bottom) / 2, (shown.mm * scale) / 2];
    svg += arrow(right + 1.4 * text, centre - up, right + 1.4 * text, centre + up);
    svg += label(right + 2 * text, (top + bottom) / 2, bothUnits(shown.mm, units), text, 'start');
  }
  let y = bottom + 5 * text;
  for (const line of lines) {
    for (const part of wrapped(line, Math.floor((width - 2 * text) / (0.5 * text)))) {
      svg += label(text, y, part, text, 'start');
      y += 1.4 * text;
    }
  }
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${round2(width)}mm" height="${round2(y)}mm" viewBox="0 0 ${round2(width)} ${round2(y)}" ` +
    `role="img" font-family="sans-serif"><title>${escapeXml(title)}: schematic</title><desc>${escapeXml(lines.join(' '))}</desc>` +
    `<rect width="100%" height="100%" fill="#fff"/>${svg}</svg>\n`
  );
}

function inWords(plan: Plan, report: Report, measures: readonly string[]): string[] {
  const word =
    plan.worked === 'round' ? 'rounds begin' : plan.seam ? 'the seam runs' : 'rows begin';
  const lines: string[] = [];
  if (measures.length > 0) lines.push(`Block to these measures: ${measures.join('; ')}.`);
  else if (!report.relaxation.converged)
    lines.push('The fabric did not come to rest: no measures to block to.');
  else
    lines.push(
      `${POSTURE_WORDS[report.verdict]} There are no measures to block to; this is how it looks from above.`,
    );
  lines.push(`Ring: the first stitch. Dashed: where ${word}. Arrow: which way the work grows.`);
  return lines;
}

/** From the edge to the middle, or the other way. */
function direction(plan: Plan, x: number, y: number, text: number): string {
  const last = stitchesAtEnd(plan);
  const inwards = last <= plan.castOn && (plan.worked === 'round' || plan.seam !== null);
  const [from, to] = inwards ? [y - 9 * text, y - 3 * text] : [y - 3 * text, y - 9 * text];
  return arrow(x, from, x, to, false);
}

function arrow(x0: number, y0: number, x1: number, y1: number, both = true): string {
  const length = Math.hypot(x1 - x0, y1 - y0) || 1;
  const [ux, uy] = [(x1 - x0) / length, (y1 - y0) / length];
  const head = (x: number, y: number, s: 1 | -1) =>
    `M${round2(x - s * (2 * ux + uy))} ${round2(y - s * (2 * uy - ux))}L${round2(x)} ${round2(y)}L${round2(x - s * (2 * ux - uy))} ${round2(y - s * (2 * uy + ux))}`;
  const d = `M${round2(x0)} ${round2(y0)}L${round2(x1)} ${round2(y1)}${head(x1, y1, 1)}${both ? head(x0, y0, -1) : ''}`;
  return `<path d="${d}" fill="none" stroke="#111" stroke-width="0.4"/>`;
}

function boxOf(points: Float64Array): { x: number; y: number; width: number; height: number } {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    x0 = Math.min(x0, points[i]);
    x1 = Math.max(x1, points[i]);
    y0 = Math.min(y0, points[i + 1]);
    y1 = Math.max(y1, points[i + 1]);
  }
  return { x: x0, y: y0, width: x1 - x0, height: y1 - y0 };
}
