/** Yarn as figures on the page. */
import { fixed, type Units } from '../state/units.ts';

/** 1 yd = 0.9144 m, 1 oz = 28.349523125 g, exact by definition. */
const METRES_PER_YARD = 0.9144;
const GRAMS_PER_OUNCE = 28.349523125;

/** Rounded up where it is said without decimals: yarn must suffice. */
export function yarnText(metres: number, units: Units, digits = 0): string {
  const length = units === 'cm' ? metres : metres / METRES_PER_YARD;
  const shown = digits === 0 ? String(Math.ceil(length)) : fixed(length, digits);
  return `${shown} ${units === 'cm' ? 'm' : 'yd'}`;
}

export function massText(grams: number, units: Units): string {
  return units === 'cm' ? `${Math.ceil(grams)} g` : `${fixed(grams / GRAMS_PER_OUNCE, 1)} oz`;
}
