/**
 * Yarn in words, for every surface: metres or yards and grams or ounces, rounded up, since it must suffice.
 * In: m and g. Out: `66 m`, `73 yd`, `29 g`, `1.1 oz`.
 */
import { fixed, type LengthUnit } from './length.ts';

/** Exact by definition. */
const METRES_PER_YARD = 0.9144;
/** Exact by definition (international avoirdupois ounce). */
const GRAMS_PER_OUNCE = 28.349523125;
/** Rounding noise that must not add a metre. */
const NOISE = 1e-9;

export function yarnLengthWords(lengthM: number, unit: LengthUnit): string {
  if (!Number.isFinite(lengthM)) return '–';
  const length = unit === 'cm' ? lengthM : lengthM / METRES_PER_YARD;
  // From the tenths that its parts are told in: 58.0 m is 58 m, not 59 m.
  return `${up(Math.round(10 * length) / 10)} ${unit === 'cm' ? 'm' : 'yd'}`;
}

export function massWords(massG: number, unit: LengthUnit): string {
  if (!Number.isFinite(massG)) return '–';
  return unit === 'cm' ? `${up(massG)} g` : `${up((massG / GRAMS_PER_OUNCE) * 10) / 10} oz`;
}

interface Yarn {
  readonly lengthM: number;
  readonly massG: number;
}

/**
 * `66 m` and `29 g` for a piece; where it has several colours each is rounded up, and the whole is their sum:
 * what is bought of each must suffice.
 */
export function yarnNeeded(
  use: Yarn & { readonly colours: readonly (Yarn & { readonly colour: string })[] },
  unit: LengthUnit,
): { length: string; mass: string; colours: { colour: string; length: string; mass: string }[] } {
  const colours = use.colours.map(({ colour, lengthM, massG }) => ({
    colour,
    length: yarnLengthWords(lengthM, unit),
    mass: massWords(massG, unit),
  }));
  if (colours.length === 0)
    return {
      length: yarnLengthWords(use.lengthM, unit),
      mass: massWords(use.massG, unit),
      colours,
    };
  const sum = (words: readonly string[]) => {
    const all = words.reduce((total, word) => total + Number.parseFloat(word), 0);
    return `${Number(all.toFixed(1))} ${words[0].split(' ')[1]}`;
  };
  return {
    length: sum(colours.map(({ length }) => length)),
    mass: sum(colours.map(({ mass }) => mass)),
    colours,
  };
}

/** Parts of a sum, to a tenth, so that they add up. */
export function yarnPartWords(lengthM: number, unit: LengthUnit): string {
  return unit === 'cm' ? `${fixed(lengthM, 1)} m` : `${fixed(lengthM / METRES_PER_YARD, 1)} yd`;
}

function up(value: number): number {
  return Math.ceil(value - NOISE);
}
