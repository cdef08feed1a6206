/**
 * The test-knit log: what a knitted sample measured against what was predicted, and the calibration
 * of a yarn that follows from it.
 *
 * Pure: log in, numbers out. An entry is never overwritten, only switched off, so every calibration
 * can be undone. Factors are on the gauge that was predicted first, before any sample had corrected it:
 * a later sample is knitted from a corrected plan, and would otherwise correct the correction.
 * Lengths mm.
 */

export interface TestKnit {
  readonly id: string;
  /** Name of the yarn (and needle) that the calibration is kept under. */
  readonly yarn: string;
  /** Free words: date, needle, washed or not. */
  readonly note: string;
  /** What the tool had predicted when the sample was knitted. */
  readonly predicted: Sizes;
  /** What the ruler says; null where it was not measured. */
  readonly measured: {
    readonly stitchMm: number | null;
    readonly roundMm: number | null;
    readonly sideMm: number | null;
  };
  /** Whether the entry counts towards the calibration. */
  readonly counts: boolean;
}

export interface Sizes {
  readonly stitchMm: number;
  readonly roundMm: number;
  readonly sideMm: number;
}

/** Factors on the gauge that was first predicted for one yarn. */
export interface Calibration {
  readonly yarn: string;
  /** That gauge; null where the log has no entry of this yarn. */
  readonly first: Pick<Sizes, 'stitchMm' | 'roundMm'> | null;
  readonly stitchFactor: number;
  readonly roundFactor: number;
  /** Samples behind each factor; 0 leaves that factor at 1. */
  readonly stitchSamples: number;
  readonly roundSamples: number;
  /** Standard deviation of the samples' factors; 0 for a single one. */
  readonly stitchSpread: number;
  readonly roundSpread: number;
}

export interface Comparison {
  readonly part: 'stitch width' | 'round height' | 'side';
  readonly predictedMm: number;
  readonly measuredMm: number;
  /** Measured less predicted, mm and as a share of the prediction. */
  readonly differenceMm: number;
  readonly share: number;
}

/** Nothing outside these factors is believed: more likely a slip of the pen. Chosen. */
const LEAST_FACTOR = 0.5;
const MOST_FACTOR = 2;

export function compareTestKnit(entry: TestKnit): Comparison[] {
  const rows: Comparison[] = [];
  const add = (part: Comparison['part'], predictedMm: number, measuredMm: number | null) => {
    if (measuredMm === null) return;
    const differenceMm = measuredMm - predictedMm;
    rows.push({ part, predictedMm, measuredMm, differenceMm, share: differenceMm / predictedMm });
  };
  add('stitch width', entry.predicted.stitchMm, entry.measured.stitchMm);
  add('round height', entry.predicted.roundMm, entry.measured.roundMm);
  add('side', entry.predicted.sideMm, entry.measured.sideMm);
  return rows;
}

/** What was predicted for a yarn before any of its samples; entries that do not count still tell it. */
function firstPrediction(log: readonly TestKnit[], yarn: string): Sizes | null {
  return log.find((entry) => entry.yarn === yarn)?.predicted ?? null;
}

/**
 * Calibration of one yarn: the geometric mean of measured / first predicted over the entries that
 * count. A side measured without a stitch width tells the width (the stitches along it are known).
 */
export function calibrate(log: readonly TestKnit[], yarn: string): Calibration {
  const first = firstPrediction(log, yarn);
  const widths: number[] = [];
  const heights: number[] = [];
  for (const entry of log) {
    if (entry.yarn !== yarn || !entry.counts || !first) continue;
    const { measured, predicted } = entry;
    // The slip of a pen shows against what was predicted for this very sample.
    const since = predicted.stitchMm / first.stitchMm;
    if (measured.stitchMm !== null)
      widths.push(since * factor('stitch width', entry.id, measured.stitchMm, predicted.stitchMm));
    else if (measured.sideMm !== null)
      widths.push(since * factor('side', entry.id, measured.sideMm, predicted.sideMm));
    if (measured.roundMm !== null)
      heights.push(
        (predicted.roundMm / first.roundMm) *
          factor('round height', entry.id, measured.roundMm, predicted.roundMm),
      );
  }
  return {
    yarn,
    first: first && { stitchMm: first.stitchMm, roundMm: first.roundMm },
    stitchFactor: geometricMean(widths),
    roundFactor: geometricMean(heights),
    stitchSamples: widths.length,
    roundSamples: heights.length,
    stitchSpread: spread(widths),
    roundSpread: spread(heights),
  };
}

/** The gauge that the yarn really makes, from the one that was predicted first. */
export function applyCalibration<T extends { stitchMm: number; roundMm: number | null }>(
  gauge: T,
  calibration: Calibration,
): T {
  return {
    ...gauge,
    stitchMm: gauge.stitchMm * calibration.stitchFactor,
    roundMm: gauge.roundMm === null ? null : gauge.roundMm * calibration.roundFactor,
  };
}

/** The log with one entry switched on or off; unknown ids change nothing. */
export function switchEntry(log: readonly TestKnit[], id: string, counts: boolean): TestKnit[] {
  return log.map((entry) => (entry.id === id ? { ...entry, counts } : entry));
}

function factor(part: string, id: string, measuredMm: number, predictedMm: number): number {
  const value = measuredMm / predictedMm;
  if (!(value >= LEAST_FACTOR && value <= MOST_FACTOR))
    throw new RangeError(
      `${id.replace('-', ' ')}: the ${part} measured is ${Number(value.toPrecision(2))} times what was predicted; check the figure and its unit.`,
    );
  return value;
}

function geometricMean(values: readonly number[]): number {
  if (values.length === 0) return 1;
  return Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length);
}

function spread(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}
