/**
 * Colours of the fabric: plain yarn, or a measure through a map that stays readable with any of
 * the common kinds of colour blindness (viridis, purple–orange).
 *
 * Input: values a vertex. Output: linear RGB a vertex and what the legend says.
 */
import { interpolatePuOr, interpolateViridis } from 'd3-scale-chromatic';
import { niceCeiling } from './nice-ceiling.ts';

export type ColourMode = 'fabric' | 'rounds' | 'strain' | 'bend';

export interface Legend {
  readonly title: string;
  /** CSS colours from low to high, evenly spaced. */
  readonly stops: readonly string[];
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
  readonly low: string;
  readonly high: string;
}

export interface FabricColours {
  /** [3·vertices] linear RGB 0 … 1. */
  readonly rgb: Float32Array;
  readonly legend: Legend | null;
}

type Interpolator = (t: number) => string;

export const MAPS: Record<Exclude<ColourMode, 'fabric'>, Interpolator> = {
  rounds: (t) => interpolateViridis(0.12 + 0.85 * t),
  strain: (t) => interpolatePuOr(0.06 + 0.88 * t),
  bend: (t) => interpolateBend(t),
};

/** A sequential map would hide the sign, so bend uses purple–orange reversed. */
function interpolateBend(t: number): string {
  return interpolatePuOr(0.94 - 0.88 * t);
}

/** sRGB bytes of `#rgb…` or `rgb(r, g, b)`. */
export function parseColour(text: string): [number, number, number] {
  if (text.startsWith('#')) {
    const full = text.length === 4 ? text.replace(/[0-9a-f]/gi, '$&$&') : text;
    const value = Number.parseInt(full.slice(1), 16);
    return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
  }
  const parts = text.match(/[\d.]+/g) ?? [];
  return [Number(parts[0] ?? 0), Number(parts[1] ?? 0), Number(parts[2] ?? 0)];
}

/** sRGB byte to linear light, IEC 61966-2-1. */
export function toLinear(byte: number): number {
  const s = byte / 255;
  return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
}

const TABLE_SIZE = 256;

function linearTable(map: Interpolator): Float32Array {
  const table = new Float32Array(3 * TABLE_SIZE);
  for (let k = 0; k < TABLE_SIZE; k++) {
    const [r, g, b] = parseColour(map(k / (TABLE_SIZE - 1)));
    table[3 * k] = toLinear(r);
    table[3 * k + 1] = toLinear(g);
    table[3 * k + 2] = toLinear(b);
  }
  return table;
}

function paint(values: ArrayLike<number>, low: number, high: number, map: Interpolator) {
  const table = linearTable(map);
  const rgb = new Float32Array(3 * values.length);
  const span = high - low || 1;
  for (let v = 0; v < values.length; v++) {
    const t = Math.max(0, Math.min(1, (values[v] - low) / span));
    const k = 3 * Math.round(t * (TABLE_SIZE - 1));
    rgb[3 * v] = table[k];
    rgb[3 * v + 1] = table[k + 1];
    rgb[3 * v + 2] = table[k + 2];
  }
  return rgb;
}

const STOPS = 9;
function stopsOf(map: Interpolator): string[] {
  return Array.from({ length: STOPS }, (_, k) => map(k / (STOPS - 1)));
}

type Values = ArrayLike<number>;

/** Size that all but 5 % of the values stay below: the tip of a cup must not bleach the rest. */
function robustReach(values: Values): number {
  const sizes = Float32Array.from(values, Math.abs).sort();
  return sizes.length ? sizes[Math.floor(0.95 * (sizes.length - 1))] : 0;
}

/** The same of several pieces that are seen beside each other. */
function commonReach(among: readonly Values[]): number {
  return Math.max(...among.map(robustReach));
}

/** One yarn, or two in stripes of `stripeRounds` rounds. */
export function colourByYarn(
  course: ArrayLike<number>,
  vertices: number,
  mainColour: string,
  stripeColour: string,
  stripeRounds: number,
): FabricColours {
  const main = parseColour(mainColour).map(toLinear);
  const stripe = parseColour(stripeColour).map(toLinear);
  const rgb = new Float32Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    const of = v < course.length ? course[v] : 0;
    const second = stripeRounds > 0 && Math.floor(of / stripeRounds) % 2 === 1;
    rgb.set(second ? stripe : main, 3 * v);
  }
  return { rgb, legend: null };
}

/** The yarn of every course in its own shade, `#rrggbb`; what belongs to no course wears the last one's. */
export function colourByCourse(
  course: ArrayLike<number>,
  vertices: number,
  shades: readonly string[],
): FabricColours {
  const known = new Map<string, number[]>();
  const linear = shades.map((shade) => {
    const rgb = known.get(shade) ?? parseColour(shade).map(toLinear);
    known.set(shade, rgb);
    return rgb;
  });
  const rgb = new Float32Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    const at = v < course.length ? course[v] : shades.length - 1;
    rgb.set(linear[Math.min(at, linear.length - 1)], 3 * v);
  }
  return { rgb, legend: null };
}

/** `courses`: of the piece, or of the longest of those that one legend stands for. */
export function colourByRounds(
  course: ArrayLike<number>,
  vertices: number,
  courses: number,
  worked: 'round' | 'flat' = 'round',
): FabricColours {
  const values = new Float32Array(vertices);
  let own = 0;
  for (let v = 0; v < Math.min(course.length, vertices); v++) own = Math.max(own, course[v]);
  for (let v = 0; v < vertices; v++) values[v] = v < course.length ? course[v] : own;
  const last = Math.max(1, courses - 1);
  const step = Math.max(1, niceCeiling(last / 5));
  const ticks = [];
  for (let n = 0; n <= last; n += step) ticks.push({ at: n / last, text: String(n) });
  return {
    rgb: paint(values, 0, last, MAPS.rounds),
    legend: {
      title: worked === 'flat' ? 'Row' : 'Round',
      stops: stopsOf(MAPS.rounds),
      ticks,
      low: 'cast-on',
      high: worked === 'flat' ? 'last row' : 'last round',
    },
  };
}

/** Five ticks; the outer ones say so where values go beyond them. */
function symmetricTicks(among: readonly Values[], reach: number, text: (value: number) => string) {
  let low = 0;
  let high = 0;
  for (const values of among) {
    for (let k = 0; k < values.length; k++) {
      low = Math.min(low, values[k]);
      high = Math.max(high, values[k]);
    }
  }
  return [-1, -0.5, 0, 0.5, 1].map((s) => {
    const beyond = (s === -1 && low < -reach) || (s === 1 && high > reach);
    const sign = s < 0 ? '≤ ' : '≥ ';
    return { at: (s + 1) / 2, text: (beyond ? sign : '') + text(s * reach) };
  });
}

function signed(value: number, digits: number): string {
  if (Math.abs(value) < 10 ** -digits / 2) return '0';
  return (value > 0 ? '+' : '−') + Math.abs(value).toFixed(digits).replace(/\.0+$/, '');
}

/** `strain` as a fraction; the legend says per cent. `among`: all pieces that one legend stands for. */
export function colourByStrain(strain: Values, among: readonly Values[] = [strain]): FabricColours {
  const reach = Math.max(0.005, niceCeiling(commonReach(among)));
  return {
    rgb: paint(strain, -reach, reach, MAPS.strain),
    legend: {
      title: 'Stretch, %',
      stops: stopsOf(MAPS.strain),
      ticks: symmetricTicks(among, reach, (v) => signed(100 * v, 100 * reach < 2 ? 2 : 1)),
      low: 'squeezed',
      high: 'stretched',
    },
  };
}

/**
 * `bend` in 1/mm; the legend says on how large a ball fabric would be bent so: its radius, cm or in.
 * `among`: all pieces that one legend stands for.
 */
export function colourByBend(
  bend: Values,
  units: { readonly mm: number; readonly name: string },
  among: readonly Values[] = [bend],
): FabricColours {
  const reach = Math.max(0.02, niceCeiling(commonReach(among) * units.mm)) / units.mm;
  const radius = (v: number) => Number((1 / Math.abs(v * units.mm)).toPrecision(3)).toString();
  return {
    rgb: paint(bend, -reach, reach, MAPS.bend),
    legend: {
      title: `Bend: radius, ${units.name}`,
      stops: stopsOf(MAPS.bend),
      ticks: symmetricTicks(among, reach, (v) => (v === 0 ? 'flat' : radius(v))).map((tick) => ({
        ...tick,
        // What is bent more lies on a smaller ball.
        text: tick.text.replace('≥', '≤'),
      })),
      low: 'hollow',
      high: 'bulging',
    },
  };
}
