/** Lengths as the user reads them. Inside the tool every length is in mm. */

export type Units = 'cm' | 'in';

export const MM_PER_INCH = 25.4;

/** Side or width: one decimal of a centimetre, or to the nearest quarter inch in words. */
export function lengthText(mm: number, units: Units): string {
  if (!Number.isFinite(mm)) return '–';
  return units === 'cm' ? `${fixed(mm / 10, 1)} cm` : `${fixed(mm / MM_PER_INCH, 2)} in`;
}

/** Below this a ruler is read in millimetres. */
const SMALL_MM = 10;

/** Lengths that may be small: millimetres below a centimetre, or hundredths of an inch. */
export function smallLengthText(mm: number, units: Units): string {
  if (!Number.isFinite(mm)) return '–';
  if (units === 'in') return `${fixed(mm / MM_PER_INCH, 2)} in`;
  return Math.abs(mm) < SMALL_MM ? `${fixed(mm, 1)} mm` : `${fixed(mm / 10, 1)} cm`;
}

/** Fixed digits with a true minus sign and no negative zero. */
export function fixed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** Scientific residual in plain characters: `3.1e-5` → `3.1·10⁻⁵`. */
export function powerText(value: number): string {
  if (!(value > 0) || !Number.isFinite(value)) return String(value);
  const exponent = Math.floor(Math.log10(value));
  if (exponent >= -2 && exponent < 3) return String(Number(value.toPrecision(2)));
  const raised = String(exponent)
    .replace('-', '⁻')
    .replace(/\d/g, (digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)]);
  return `${(value / 10 ** exponent).toFixed(1)}·10${raised}`;
}
