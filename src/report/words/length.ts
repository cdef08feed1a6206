/**
 * Lengths of fabric as a knitter reads them off a tape, worded in this one place for every surface.
 * In: mm and the unit shown. Out: `20.2 cm`, `9 mm` below a centimetre, `7⅞ in`.
 * A tape is read to the millimetre or to an eighth of an inch (common practice).
 */

export type LengthUnit = 'cm' | 'inch';

/** Exact by definition. */
export const MM_PER_INCH = 25.4;

const EIGHTHS = ['', '⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'];

/** `–` where there is no number. */
export function lengthWords(lengthMm: number, unit: LengthUnit): string {
  if (!Number.isFinite(lengthMm)) return '–';
  return `${lengthMm < 0 && !isZero(lengthMm, unit) ? '−' : ''}${magnitude(Math.abs(lengthMm), unit)}`;
}

/** With its sign, for what is too long (+) or too short (−). */
export function signedLengthWords(lengthMm: number, unit: LengthUnit): string {
  const words = lengthWords(lengthMm, unit);
  return lengthMm > 0 && !isZero(lengthMm, unit) ? `+${words}` : words;
}

/** Both units, the one asked for first: `20.3 cm (8 in)`. */
export function bothUnits(lengthMm: number, unit: LengthUnit): string {
  const other = unit === 'cm' ? 'inch' : 'cm';
  return `${lengthWords(lengthMm, unit)} (${lengthWords(lengthMm, other)})`;
}

/** Lengths that needles are sold in, mm → inches on their labels (common practice). */
const NEEDLE_INCHES: Readonly<Record<number, number>> = {
  150: 6,
  200: 8,
  230: 9,
  300: 12,
  350: 14,
  400: 16,
  600: 24,
  800: 32,
  1000: 40,
  1200: 47,
  1500: 60,
};

/** Both units of a needle's length as it is labelled: `60 cm (24 in)`; measured where it is no usual one. */
export function needleLengthWords(lengthMm: number, unit: LengthUnit): string {
  const inches = NEEDLE_INCHES[lengthMm];
  if (inches === undefined) return bothUnits(lengthMm, unit);
  const cm = lengthWords(lengthMm, 'cm');
  return unit === 'cm' ? `${cm} (${inches} in)` : `${inches} in (${cm})`;
}

/** Lengths of yarn, gaps and slack, which no tape reads: `1.2 mm` or `0.05 in`. */
export function fineLengthWords(lengthMm: number, unit: LengthUnit): string {
  if (!Number.isFinite(lengthMm)) return '–';
  return unit === 'cm' ? `${fixed(lengthMm, 1)} mm` : `${fixed(lengthMm / MM_PER_INCH, 2)} in`;
}

/** Fixed digits with a true minus sign and no negative zero. */
export function fixed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

function magnitude(lengthMm: number, unit: LengthUnit): string {
  if (unit === 'inch') return `${eighths(lengthMm)} in`;
  const whole = Math.round(lengthMm);
  return whole < 10 ? `${whole} mm` : `${whole / 10} cm`;
}

function eighths(lengthMm: number): string {
  const parts = Math.round((lengthMm / MM_PER_INCH) * 8);
  const whole = Math.floor(parts / 8);
  const rest = EIGHTHS[parts % 8];
  return whole === 0 && rest !== '' ? rest : `${whole}${rest}`;
}

function isZero(lengthMm: number, unit: LengthUnit): boolean {
  return Math.round(unit === 'cm' ? lengthMm : (lengthMm / MM_PER_INCH) * 8) === 0;
}
