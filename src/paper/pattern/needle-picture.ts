/**
 * A picture of the needles after one round: stitches on each, where the round begins, which way it is
 * worked, and where a stitch would straddle. SVG text, sizes in mm.
 *
 * Seen from above with the right side outwards: the round runs clockwise, since a right-handed
 * knitter works the near edge from right to left.
 */
import type { NeedleTable } from '../../draft/needles.ts';
import { escapeXml, label, round2 } from '../svg.ts';

const SIZE = 100;
/** Stitches drawn one by one up to this many on a needle; above it the ticks stand for groups. */
const MOST_TICKS = 40;

interface Stretch {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** `round` 0 is the cast-on, else the round in working order. */
export function drawNeedles(table: NeedleTable, round: number): string {
  const counts = round === 0 ? table.castOn : table.rounds[round - 1]?.counts;
  if (!counts)
    throw new RangeError(`Round ${round} is not part of the plan (0 to ${table.rounds.length}).`);
  const straddles = table.straddles.filter((straddle) => straddle.round === round + 1);
  const words =
    `${round === 0 ? 'Cast-on' : `After round ${round}`}: ` +
    counts
      .map((n, i) => `${n} on ${counts.length === 1 ? 'the needle' : nameOf(table, i)}`)
      .join(', ') +
    (straddles.length > 0 ? `. ${straddles.map((s) => s.words).join(' ')}` : '.');
  const body =
    counts.length === 1
      ? circle(counts[0])
      : needles(
          table,
          counts,
          straddles.map((s) => s.needle),
        );
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE}mm" height="${SIZE}mm" viewBox="0 0 ${SIZE} ${SIZE}" ` +
    `role="img" font-family="sans-serif"><title>Needles</title><desc>${escapeXml(words)}</desc>` +
    `<rect width="${SIZE}" height="${SIZE}" fill="#fff"/>${body}</svg>\n`
  );
}

function nameOf(table: NeedleTable, i: number): string {
  if (table.way.kind === 'magic loop') return i === 0 ? 'the first half' : 'the second half';
  return `needle ${i + 1}`;
}

function needles(
  table: NeedleTable,
  counts: readonly number[],
  straddled: readonly number[],
): string {
  const stretches = table.way.kind === 'magic loop' ? LOOP : polygon(counts.length);
  let svg = table.way.kind === 'magic loop' ? cords() : '';
  stretches.forEach((s, i) => {
    const length = Math.hypot(s.x1 - s.x0, s.y1 - s.y0);
    const [ux, uy] = [(s.x1 - s.x0) / length, (s.y1 - s.y0) / length];
    // Tips stand out over the stitches at both ends.
    svg += line(s.x0 - 4 * ux, s.y0 - 4 * uy, s.x1 + 4 * ux, s.y1 + 4 * uy, '#8a5a2b', 1.6);
    svg += ticks(s, counts[i]);
    // The figure stands inside the ring: to the right of the way round.
    const [cx, cy] = [(s.x0 + s.x1) / 2 - 9 * uy, (s.y0 + s.y1) / 2 + 9 * ux];
    svg += label(cx, cy + 2, String(counts[i]), 5.5, 'middle', true);
    if (straddled.includes(i + 1))
      svg += `<circle cx="${round2(s.x1)}" cy="${round2(s.y1)}" r="5" fill="none" stroke="#b00020" stroke-width="0.9" stroke-dasharray="2 1.2"/>`;
  });
  const start = stretches[0];
  svg += marker(start.x0, start.y0);
  const total = counts.reduce((sum, n) => sum + n, 0);
  return svg + label(4, 8, `${total} sts in all`, 4.5, 'start');
}

const LOOP: readonly Stretch[] = [
  { x0: 82, y0: 66, x1: 18, y1: 66 },
  { x0: 18, y0: 34, x1: 82, y1: 34 },
];

/** Cords that stand out in loops where the needle turns. */
function cords(): string {
  const cord = 'fill="none" stroke="#3b6ea5" stroke-width="1"';
  return (
    `<path d="M86 66C100 66 100 34 86 34" ${cord}/>` + `<path d="M14 34C0 34 0 66 14 66" ${cord}/>`
  );
}

/** Sides of a regular polygon, clockwise on paper, beginning at the lower right. */
function polygon(n: number): Stretch[] {
  const radius = 36;
  const point = (i: number) => {
    const angle = Math.PI / 2 - Math.PI / n + (2 * Math.PI * i) / n;
    return { x: SIZE / 2 + radius * Math.cos(angle), y: SIZE / 2 + radius * Math.sin(angle) };
  };
  return Array.from({ length: n }, (_, i) => {
    const [a, b] = [point(i), point(i + 1)];
    // Needles stop short of each other, so that their tips can cross.
    const t = 0.08;
    return {
      x0: a.x + t * (b.x - a.x),
      y0: a.y + t * (b.y - a.y),
      x1: b.x - t * (b.x - a.x),
      y1: b.y - t * (b.y - a.y),
    };
  });
}

function circle(count: number): string {
  const shown = Math.min(count, 3 * MOST_TICKS);
  let svg = `<circle cx="50" cy="50" r="34" fill="none" stroke="#8a5a2b" stroke-width="1.6"/>`;
  for (let i = 0; i < shown; i++) {
    const angle = Math.PI / 2 + (2 * Math.PI * (i + 0.5)) / shown;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    svg += line(50 + 32 * c, 50 + 32 * s, 50 + 37 * c, 50 + 37 * s, '#222', 0.5);
  }
  return svg + marker(50, 84) + label(50, 52, `${count} sts`, 6, 'middle', true);
}

function ticks(s: Stretch, count: number): string {
  const shown = Math.min(count, MOST_TICKS);
  const length = Math.hypot(s.x1 - s.x0, s.y1 - s.y0);
  const [nx, ny] = [(s.y1 - s.y0) / length, -(s.x1 - s.x0) / length];
  let svg = '';
  for (let i = 0; i < shown; i++) {
    const t = (i + 0.5) / shown;
    const [x, y] = [s.x0 + t * (s.x1 - s.x0), s.y0 + t * (s.y1 - s.y0)];
    svg += line(x - 2 * nx, y - 2 * ny, x + 3 * nx, y + 3 * ny, '#222', 0.5);
  }
  return svg;
}

/** Marker at the beginning of the round, with an arrow the way it is worked. */
function marker(x: number, y: number): string {
  return (
    `<circle cx="${round2(x)}" cy="${round2(y)}" r="2.4" fill="#fff" stroke="#0a7d4f" stroke-width="1.2"/>` +
    label(Math.min(x + 12, SIZE - 2), y + 8.5, '← round begins', 3.6, 'end')
  );
}

function line(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  stroke: string,
  width: number,
): string {
  return `<path d="M${round2(x0)} ${round2(y0)}L${round2(x1)} ${round2(y1)}" stroke="${stroke}" stroke-width="${width}" stroke-linecap="round"/>`;
}
