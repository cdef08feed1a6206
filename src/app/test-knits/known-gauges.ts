/**
 * Gauges that the test knits tell, one a yarn: what was predicted, calibrated by what was measured.
 *
 * The prediction is the geometric mean over the samples behind the calibration, so that the same
 * samples give the same gauge however often it has been taken over into a plan since.
 */
import {
  applyCalibration,
  type Calibration,
  calibrate,
  type TestKnit,
} from '../../report/test-knit.ts';

export interface KnownGauge {
  readonly yarn: string;
  readonly stitchMm: number;
  readonly roundMm: number;
  readonly calibration: Calibration;
}

export type YarnKnowledge =
  | { readonly yarn: string; readonly gauge: KnownGauge; readonly trouble: null }
  /** A figure that is not believed; says which. */
  | { readonly yarn: string; readonly gauge: null; readonly trouble: string | null };

export function knowledgeOf(log: readonly TestKnit[], yarn: string): YarnKnowledge {
  let calibration: Calibration;
  try {
    calibration = calibrate(log, yarn);
  } catch (error) {
    return { yarn, gauge: null, trouble: error instanceof Error ? error.message : String(error) };
  }
  if (calibration.stitchSamples + calibration.roundSamples === 0) {
    return { yarn, gauge: null, trouble: null };
  }
  const counting = log.filter((entry) => entry.yarn === yarn && entry.counts);
  const widths = counting
    .filter(({ measured }) => measured.stitchMm !== null || measured.sideMm !== null)
    .map(({ predicted }) => predicted.stitchMm);
  const heights = counting
    .filter(({ measured }) => measured.roundMm !== null)
    .map(({ predicted }) => predicted.roundMm);
  const all = {
    widths: counting.map((e) => e.predicted.stitchMm),
    heights: counting.map((e) => e.predicted.roundMm),
  };
  const predicted = {
    stitchMm: geometricMean(widths.length > 0 ? widths : all.widths),
    roundMm: geometricMean(heights.length > 0 ? heights : all.heights),
  };
  return {
    yarn,
    gauge: { yarn, ...applyCalibration(predicted, calibration), calibration },
    trouble: null,
  };
}

export function knownGauges(log: readonly TestKnit[]): KnownGauge[] {
  return yarnsOf(log)
    .map((yarn) => knowledgeOf(log, yarn).gauge)
    .filter((gauge) => gauge !== null);
}

/** Yarn names in order of first appearance. */
export function yarnsOf(log: readonly TestKnit[]): string[] {
  return [...new Set(log.map((entry) => entry.yarn))];
}

function geometricMean(values: readonly number[]): number {
  return Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length);
}
