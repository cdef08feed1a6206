/** Yarn as figures on the page, and how it divides between two yarns in stripes. */
import type { Plan } from '../../plan/plan.ts';
import { fixed, type Units } from '../units.ts';

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

/** Share of the stitches that the second yarn works, in stripes of so many rounds as on the fabric. */
export function stripeShare(plan: Plan, stripeRounds: number): number {
  if (stripeRounds <= 0) return 0;
  let second = 0;
  let all = 0;
  for (const { n, after } of plan.rounds) {
    all += after;
    if (Math.floor(n / stripeRounds) % 2 === 1) second += after;
  }
  return all > 0 ? second / all : 0;
}
