/**
 * What colours of rounds look like in charts and pictures. In: a colour by its name, the word for it where the text has
 * one. Out: `#rrggbb`. The shades are chosen: of neighbours in the order one is light and one dark, so that they part
 * for every kind of colour vision; what is told never hangs on them alone.
 */
import type { Plan } from '../plan/plan.ts';
import { coloursOf } from '../plan/write/colours.ts';

/** The first colour, the second, and so on. */
export const SHADES: readonly string[] = [
  '#5787a3',
  '#e4dccb',
  '#9a3f3a',
  '#d9b25a',
  '#4d5a3c',
  '#c9b3cf',
  '#5b463a',
  '#a9bfa0',
];

/** Wools of these words. */
const WORDS: Readonly<Record<string, string>> = {
  beige: '#cdb694',
  aqua: '#6fb7bd',
  black: '#2b2b2d',
  blue: '#3f6fa5',
  brown: '#6b4a35',
  burgundy: '#6a2738',
  camel: '#b98f5f',
  charcoal: '#45484d',
  coral: '#e2806b',
  cream: '#efe6d2',
  denim: '#4a6283',
  ecru: '#e6dcc3',
  gold: '#c99a2e',
  gray: '#8b8f93',
  green: '#4f8056',
  grey: '#8b8f93',
  ivory: '#f1ead9',
  lavender: '#b9aed6',
  lilac: '#b7a2cc',
  maroon: '#6d2a33',
  mustard: '#c39a32',
  natural: '#eae0cb',
  navy: '#28375a',
  oatmeal: '#d8c8aa',
  olive: '#76773f',
  orange: '#d57a33',
  pink: '#d992a5',
  plum: '#6a3d5c',
  purple: '#6d4f8e',
  red: '#b23a3a',
  rust: '#a5502f',
  sage: '#9aa98a',
  sand: '#d9c7a0',
  silver: '#c3c6c9',
  stone: '#b7ada0',
  teal: '#2f7a7c',
  turquoise: '#4fa7a8',
  violet: '#7b5ea7',
  white: '#f4f2ec',
  wine: '#6f2a3c',
  yellow: '#e3c14a',
};
/** How far towards black (negative) or white a word such as "dark" goes. Chosen. */
const TOWARDS: Readonly<Record<string, number>> = {
  dark: -0.35,
  deep: -0.25,
  light: 0.35,
  pale: 0.5,
  bright: 0,
};

/** `dark red`, `oatmeal heather`; null where no word of it is known. */
export function shadeOfWord(word: string): string | null {
  const parts = word.split(' ');
  const known = parts.findLast((part) => WORDS[part] !== undefined);
  if (known === undefined) return null;
  const hex = WORDS[known];
  const towards = parts[0] === known ? 0 : (TOWARDS[parts[0]] ?? 0);
  const shade = [1, 3, 5].map((at) => {
    const byte = Number.parseInt(hex.slice(at, at + 2), 16);
    return Math.round(byte + Math.abs(towards) * ((towards < 0 ? 0 : 255) - byte));
  });
  return `#${shade.map((byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}

/** The main colour and the first beside it, by the names that they go by. */
const MAIN = ['MC', 'colour A', 'colour 1'];
const SECOND = ['CC', 'colour B', 'colour 2'];

export interface ShadeChoice {
  /** By the name of the colour; before what the text says. */
  readonly named?: Readonly<Record<string, string>>;
  /** What the main colour and the first beside it look like where nothing says. */
  readonly main?: string;
  readonly second?: string;
}

/** Shades of a plan's colours by name: chosen ones first, then what the text says, then ours, no two alike. */
export function planShades(
  plan: Pick<Plan, 'colours' | 'rounds' | 'ending'>,
  { named = {}, main = SHADES[0], second = SHADES[1] }: ShadeChoice = {},
): ReadonlyMap<string, string> {
  const names = coloursOf(plan);
  const shades = new Map<string, string>();
  const wear = (name: string, shade: string | null | undefined) => {
    if (shade && !shades.has(name)) shades.set(name, shade);
  };
  for (const name of names)
    wear(name, named[name] ?? shadeOfWord(plan.colours?.words[name] ?? name));
  const isFree = (shade: string) => ![...shades.values()].includes(shade);
  for (const [group, shade] of [
    [MAIN, main],
    [SECOND, second],
  ] as const)
    wear(names.find((name) => group.includes(name)) ?? '', isFree(shade) ? shade : null);
  for (const name of names) wear(name, [main, second, ...SHADES].find(isFree));
  for (const [i, name] of names.entries()) wear(name, SHADES[i % SHADES.length]);
  return new Map(names.map((name) => [name, shades.get(name) ?? main]));
}

/** Whether letters on a shade are read better in black than in white (WCAG 2.2, relative luminance). */
export function isLight(hex: string): boolean {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const s = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b > 0.179;
}
