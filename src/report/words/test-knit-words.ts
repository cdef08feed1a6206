/** The test-knit log in words, for every surface: a sample beside its prediction, and what it says of the yarn. */
import { type Calibration, type Comparison, compareTestKnit, type TestKnit } from '../test-knit.ts';
import { gaugeSpan } from './gauge.ts';
import { fixed, type LengthUnit, lengthWords } from './length.ts';

const PARTS: Readonly<
  Record<Comparison['part'], { readonly less: string; readonly more: string }>
> = {
  'stitch width': { less: 'narrower', more: 'wider' },
  'round height': { less: 'lower', more: 'higher' },
  side: { less: 'shorter', more: 'longer' },
};

export interface SampleRow {
  readonly part: Comparison['part'];
  /** What is measured: `Stitches in 10 cm`. */
  readonly name: string;
  readonly predicted: string;
  readonly measured: string;
  /** `4.2 % wider`. */
  readonly difference: string;
}

/** One row for each figure that was measured. `courses`: rounds or rows, as the sample is worked. */
export function sampleRows(
  entry: TestKnit,
  unit: LengthUnit,
  courses: 'Rounds' | 'Rows' = 'Rounds',
): SampleRow[] {
  const span = gaugeSpan(unit);
  const shown = (mm: number, part: Comparison['part']) =>
    part === 'side' ? lengthWords(mm, unit) : fixed(span.mm / mm, 1);
  return compareTestKnit(entry).map(({ part, predictedMm, measuredMm, share }) => ({
    part,
    name:
      part === 'side'
        ? 'Size'
        : `${part === 'stitch width' ? 'Stitches' : courses} in ${span.words}`,
    predicted: shown(predictedMm, part),
    measured: shown(measuredMm, part),
    difference: differenceWords(share, part),
  }));
}

function differenceWords(share: number, part: Comparison['part']): string {
  const percent = fixed(100 * Math.abs(share), 1);
  if (Number(percent) === 0) return 'as predicted';
  return `${percent} % ${share < 0 ? PARTS[part].less : PARTS[part].more}`;
}

/** How far stitches and rounds are from what was first predicted; a sentence for each that was measured. */
export function calibrationWords(calibration: Calibration): string[] {
  const { stitchFactor, stitchSamples, stitchSpread } = calibration;
  const { roundFactor, roundSamples, roundSpread } = calibration;
  return [
    factorWords('Stitches', PARTS['stitch width'], stitchFactor, stitchSamples, stitchSpread),
    factorWords('Rounds', PARTS['round height'], roundFactor, roundSamples, roundSpread),
  ].filter((words) => words !== '');
}

function factorWords(
  what: string,
  { less, more }: { readonly less: string; readonly more: string },
  factor: number,
  samples: number,
  spread: number,
): string {
  if (samples === 0) return '';
  const from =
    samples === 1 ? 'one sample' : `${samples} samples, spread ${fixed(100 * spread, 1)} %`;
  const percent = fixed(100 * Math.abs(factor - 1), 1);
  if (Number(percent) === 0) return `${what} come out as first predicted (${from}).`;
  return `${what} come out ${percent} % ${factor < 1 ? less : more} than first predicted (${from}).`;
}

/** Where no sample of a yarn counts. */
export const NO_SAMPLE_COUNTS = 'No sample counts: the prediction stands as it is.';
