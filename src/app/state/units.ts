/** The page's units, and figures of the page alone. Lengths are worded in `report/words`. */
import {
  fineLengthWords,
  type LengthUnit,
  lengthWords,
  MM_PER_INCH,
} from '../../report/words/length.ts';

export { fixed } from '../../report/words/length.ts';
export { MM_PER_INCH };

export type Units = 'cm' | 'in';

/** The unit as the rest of the tool names it. */
export function unitOf(units: Units): LengthUnit {
  return units === 'cm' ? 'cm' : 'inch';
}

/** A length that a tape reads. */
export function lengthText(mm: number, units: Units): string {
  return lengthWords(mm, unitOf(units));
}

/** A length of yarn or a gap: tenths of a millimetre. */
export function fineLengthText(mm: number, units: Units): string {
  return fineLengthWords(mm, unitOf(units));
}

/** The figure in it: what is reckoned from it fits what stands beside it (2.4 mm is twice 1.2 mm). */
export function fineLengthTold(mm: number, units: Units): number {
  return Number.parseFloat(fineLengthText(mm, units));
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
