/**
 * The chart's symbols, drawn here as SVG in a unit square (x to the right, y down, 0 … 1).
 *
 * Plain convention of published knitting charts, as the right side shows the stitch: knit is an empty
 * square, purl a dot, a slash leans as the decrease leans, a ring is a yarn over, grey is no stitch,
 * cables are strands that pass over each other. Stitches without such a convention are written out.
 */
import { escapeXml } from '../svg.ts';

const STROKE =
  'fill="none" stroke="#111" stroke-width="0.08" stroke-linecap="round" stroke-linejoin="round"';

function path(d: string): string {
  return `<path d="${d}" ${STROKE}/>`;
}
function dot(x: number, y: number, r = 0.13): string {
  return `<circle cx="${x}" cy="${y}" r="${r}" fill="#111"/>`;
}

const RIGHT = 'M0.2 0.85L0.8 0.15';
const LEFT = 'M0.8 0.85L0.2 0.15';
const LOOP = 'M0.3 0.85C0.7 0.6 0.75 0.2 0.5 0.18C0.25 0.2 0.3 0.6 0.7 0.85';

const SYMBOLS: Readonly<Record<string, string>> = {
  k: '',
  p: dot(0.5, 0.5),
  ktbl: path(LOOP),
  ptbl: path(LOOP) + dot(0.5, 0.9, 0.08),
  k2tog: path(RIGHT),
  ssk: path(LEFT),
  skp: path(`${LEFT}M0.5 0.5L0.5 0.85`),
  p2tog: path(RIGHT) + dot(0.3, 0.3, 0.09),
  ssp: path(LEFT) + dot(0.7, 0.3, 0.09),
  'k2tog tbl': path(`${LEFT}M0.62 0.85C0.9 0.8 0.9 0.6 0.62 0.62`),
  k3tog: path(`${RIGHT}M0.5 0.5L0.5 0.85M0.65 0.33L0.8 0.85`),
  sssk: path(`${LEFT}M0.5 0.5L0.5 0.85M0.35 0.33L0.2 0.85`),
  p3tog: path(`${RIGHT}M0.5 0.5L0.5 0.85M0.65 0.33L0.8 0.85`) + dot(0.25, 0.3, 0.09),
  sssp: path(`${LEFT}M0.5 0.5L0.5 0.85M0.35 0.33L0.2 0.85`) + dot(0.75, 0.3, 0.09),
  sk2p: path('M0.8 0.85L0.5 0.2L0.2 0.85M0.5 0.2L0.35 0.85'),
  s2kp: path('M0.2 0.85L0.5 0.3L0.8 0.85M0.5 0.12L0.5 0.85'),
  s2pp: path('M0.2 0.85L0.5 0.3L0.8 0.85M0.5 0.12L0.5 0.85') + dot(0.2, 0.25, 0.09),
  yo: `<circle cx="0.5" cy="0.5" r="0.28" ${STROKE}/>`,
  kfb: path('M0.25 0.2L0.25 0.85M0.75 0.2L0.25 0.55L0.75 0.85'),
  pfb: path('M0.25 0.2L0.25 0.85M0.75 0.2L0.25 0.55L0.75 0.85') + dot(0.75, 0.52, 0.08),
  kfbf: path('M0.2 0.2L0.5 0.85L0.8 0.2M0.5 0.2L0.5 0.85'),
  m1: path('M0.2 0.82L0.2 0.2L0.5 0.55L0.8 0.2L0.8 0.82'),
  m1l: path('M0.5 0.85L0.5 0.5L0.2 0.15M0.5 0.5L0.5 0.15M0.3 0.85L0.7 0.85'),
  m1r: path('M0.5 0.85L0.5 0.5L0.8 0.15M0.5 0.5L0.5 0.15M0.3 0.85L0.7 0.85'),
  m1p: path('M0.2 0.82L0.2 0.2L0.5 0.55L0.8 0.2L0.8 0.82') + dot(0.5, 0.8, 0.08),
  m1lp:
    path('M0.5 0.85L0.5 0.5L0.2 0.15M0.5 0.5L0.5 0.15M0.3 0.85L0.7 0.85') + dot(0.75, 0.35, 0.09),
  m1rp:
    path('M0.5 0.85L0.5 0.5L0.8 0.15M0.5 0.5L0.5 0.15M0.3 0.85L0.7 0.85') + dot(0.25, 0.35, 0.09),
  lli: path('M0.75 0.85L0.75 0.5L0.25 0.15'),
  rli: path('M0.25 0.85L0.25 0.5L0.75 0.15'),
  co1: path('M0.2 0.75L0.8 0.75M0.5 0.75L0.5 0.2M0.3 0.4L0.5 0.2L0.7 0.4'),
  'sl1 wyib': path('M0.2 0.2L0.5 0.8L0.8 0.2'),
  'sl1 wyif': path('M0.2 0.2L0.5 0.8L0.8 0.2M0.2 0.5L0.8 0.5'),
  'sl1k wyib': path('M0.2 0.2L0.5 0.8L0.8 0.2M0.5 0.8L0.5 0.2'),
  'sl1k wyif': path('M0.2 0.2L0.5 0.8L0.8 0.2M0.5 0.8L0.5 0.2M0.2 0.5L0.8 0.5'),
  mb: `<circle cx="0.5" cy="0.5" r="0.3" fill="#111"/>`,
  bo1: path('M0.15 0.65C0.3 0.25 0.7 0.25 0.85 0.65'),
};

const CABLE = /^(\d+)\/(\d+)(?:\/(\d+))? ([LR])(P?)C$/;

/**
 * A symbol over `width` unit squares, its left edge at x = 0. `height` is that of a square; `left` mirrors
 * the drawing for knitting from left to right.
 */
export function drawSymbol(
  name: string,
  width: number,
  height: number,
  hand: 'right' | 'left' = 'right',
): string {
  const cable = CABLE.exec(name);
  const drawn = cable ? drawCable(cable, height) : drawKnown(name, width, height);
  if (drawn === null) return writtenOut(name, width, height);
  if (hand === 'right' || drawn === '') return drawn;
  return `<g transform="translate(${width} 0) scale(-1 1)">${drawn}</g>`;
}

function drawKnown(name: string, width: number, height: number): string | null {
  const known = SYMBOLS[name];
  if (known !== undefined) {
    if (known === '') return '';
    const scale = Math.min(1, height);
    const x = (width - scale) / 2;
    const y = (height - scale) / 2;
    return `<g transform="translate(${r(x)} ${r(y)}) scale(${r(scale)})">${known}</g>`;
  }
  return null;
}

function writtenOut(name: string, width: number, height: number): string {
  const text = name.replace(/^~/, '');
  const size = Math.min(0.6, (1.5 * width) / text.length, 0.8 * height);
  return `<text x="${width / 2}" y="${r(height / 2 + size * 0.35)}" font-size="${r(size)}" text-anchor="middle" fill="#111">${escapeXml(text)}</text>`;
}

/** Strands as bands from the stitches below to the stitches above; the front band covers the back. */
function drawCable(match: RegExpExecArray, height: number): string {
  const over = Number(match[1]);
  const middle = match[3] ? Number(match[2]) : 0;
  const under = Number(match[3] ?? match[2]);
  const left = match[4] === 'L';
  const purl = match[5] === 'P';
  const width = over + middle + under;
  // Seen with x to the right: a strand that leans left starts at the right edge below.
  const front = left
    ? band(under + middle, 0, over, height)
    : band(0, under + middle, over, height);
  const back = left ? band(0, over + middle, under, height) : band(over + middle, 0, under, height);
  const dots =
    purl && middle === 0 ? purlDots(left ? 0 : over, under, left ? over : 0, height) : '';
  const centre =
    middle > 0
      ? band(left ? under : over, left ? over : under, middle, height) +
        (purl ? purlDots(left ? under : over, middle, left ? over : under, height) : '')
      : '';
  return `<rect width="${width}" height="${r(height)}" fill="#fff"/>${back}${dots}${centre}${front}`;
}

function band(below: number, above: number, count: number, height: number): string {
  const inset = 0.12;
  const [b0, b1, a0, a1] = [
    below + inset,
    below + count - inset,
    above + inset,
    above + count - inset,
  ];
  const bottom = r(height);
  return (
    `<path d="M${r(b0)} ${bottom}L${r(b1)} ${bottom}L${r(a1)} 0L${r(a0)} 0Z" fill="#fff" stroke="none"/>` +
    `<path d="M${r(b0)} ${bottom}L${r(a0)} 0M${r(b1)} ${bottom}L${r(a1)} 0" ${STROKE}/>`
  );
}

function purlDots(below: number, count: number, above: number, height: number): string {
  let dots = '';
  for (let i = 0; i < count; i++) {
    // Near the end of the strand that the front band leaves free.
    const x = 0.15 * (below + i + 0.5) + 0.85 * (above + i + 0.5);
    dots += dot(Number(r(x)), Number(r(0.15 * height + 0.08)), 0.09);
  }
  return dots;
}

function r(x: number): string {
  return String(Math.round(x * 1000) / 1000);
}
