/** Lengths as a knitter measures them, for sentences: `20.4 cm`, `8 in`, and `6 mm` where they are small. */

export type LengthUnit = 'cm' | 'inch';

const MM_PER_INCH = 25.4;
/** Below this a ruler is read in millimetres. */
const SMALL_MM = 10;

export function lengthWords(lengthMm: number, unit: LengthUnit): string {
  if (unit === 'inch') return `${trim(lengthMm / MM_PER_INCH, 2)} in`;
  if (Math.abs(lengthMm) < SMALL_MM) return `${trim(lengthMm, 1)} mm`;
  return `${trim(lengthMm / 10, 1)} cm`;
}

function trim(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
