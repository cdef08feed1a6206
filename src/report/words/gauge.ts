/**
 * Gauge as a knitter counts it, for every surface: stitches and rounds to 10 cm or 4 in.
 * In: stitch width and round height, mm. Out: `22 sts and 30½ rounds to 10 cm`.
 * Four inches (101.6 mm) and ten centimetres are counted as they are, not taken for the same.
 */
import { type LengthUnit, MM_PER_INCH } from './length.ts';

export interface GaugeSpan {
  readonly mm: number;
  readonly words: string;
}

export function gaugeSpan(unit: LengthUnit): GaugeSpan {
  return unit === 'cm' ? { mm: 100, words: '10 cm' } : { mm: 4 * MM_PER_INCH, words: '4 in' };
}

/** A half stitch is said where it is this near, as a share: less than a swatch can tell. Chosen. */
const NEAR_HALF = 0.006;

/** A count over the span: to the half where that is as good, else to the tenth. */
export function gaugeCount(sizeMm: number, { mm }: GaugeSpan): string {
  const count = mm / sizeMm;
  if (!Number.isFinite(count)) return '–';
  const halves = Math.round(2 * count);
  if (Math.abs(halves / 2 - count) <= NEAR_HALF * count) {
    const whole = Math.floor(halves / 2);
    const half = halves % 2 === 1 ? '½' : '';
    return whole === 0 && half !== '' ? half : `${whole}${half}`;
  }
  return String(Number(count.toFixed(1)));
}

/** As stated with a pattern: over the span of the two that gives the rounder figures, and its like in brackets. */
export function statedGauge(size: GaugeSize, unit: LengthUnit, worked: 'round' | 'flat'): string {
  const other = unit === 'cm' ? 'inch' : 'cm';
  const shown = isRound(size, unit) || !isRound(size, other) ? unit : other;
  // Ten centimetres and four inches count as one span where a swatch is measured (common practice).
  const like = gaugeSpan(shown === 'cm' ? 'inch' : 'cm').words;
  return `${gaugeWords(size, shown, worked)} (${like})`;
}

/** Counts that are quarters of a stitch. */
function isRound({ stitchMm, roundMm }: GaugeSize, unit: LengthUnit): boolean {
  const { mm } = gaugeSpan(unit);
  return [stitchMm, roundMm ?? mm].every(
    (size) => Math.abs((4 * mm) / size - Math.round((4 * mm) / size)) < 1e-4,
  );
}

export interface GaugeSize {
  readonly stitchMm: number;
  readonly roundMm: number | null;
}

/** `22 sts and 30½ rounds`. */
function gaugeCounts(size: GaugeSize, unit: LengthUnit, worked: 'round' | 'flat'): string {
  const span = gaugeSpan(unit);
  const sts = `${gaugeCount(size.stitchMm, span)} sts`;
  if (size.roundMm === null) return sts;
  return `${sts} and ${gaugeCount(size.roundMm, span)} ${worked === 'round' ? 'rounds' : 'rows'}`;
}

/** `22 sts and 30½ rounds to 10 cm`. */
export function gaugeWords(size: GaugeSize, unit: LengthUnit, worked: 'round' | 'flat'): string {
  return `${gaugeCounts(size, unit, worked)} to ${gaugeSpan(unit).words}`;
}
