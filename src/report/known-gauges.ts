/**
 * Gauges that the test knits tell, one a yarn: what was predicted first, calibrated by what was measured.
 * The same samples give the same gauge however often it has been taken over into a plan since.
 */
import { applyCalibration, type Calibration, calibrate, type TestKnit } from './test-knit.ts';

export interface KnownGauge {
  readonly yarn: string;
  readonly stitchMm: number;
  readonly roundMm: number;
  /** As it was predicted before any sample. */
  readonly first: { readonly stitchMm: number; readonly roundMm: number };
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
  const { first } = calibration;
  if (!first || calibration.stitchSamples + calibration.roundSamples === 0) {
    return { yarn, gauge: null, trouble: null };
  }
  return {
    yarn,
    gauge: { yarn, ...applyCalibration(first, calibration), first, calibration },
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
