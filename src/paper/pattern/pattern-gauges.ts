/**
 * The gauges that a pattern states: those of its plan, each with its fabric, or the one that its sizes were found with.
 * In: a Plan and the ground that its fabric was laid out by. Out: gauges, sizes in mm, and their lines.
 */
import type { FabricName, Plan } from '../../plan/plan.ts';
import { fabricWords } from '../../plan/write/header.ts';
import { statedGauge } from '../../report/words/gauge.ts';
import type { LengthUnit } from '../../report/words/length.ts';

/** The fabric that most of the piece is made of, and the size of its stitches, mm. */
export interface Ground {
  readonly fabric: FabricName;
  readonly stitchMm: number;
  readonly roundMm: number;
}

export interface PatternGauge {
  /** Null where the plan names none and the ground is not known. */
  readonly fabric: FabricName | null;
  readonly stitchMm: number;
  readonly roundMm: number | null;
  /** The plan says nothing of it: its yarn does. */
  readonly guessed: boolean;
}

export function patternGauges({ gauges }: Plan, ground: Ground | null): PatternGauge[] {
  if (gauges.length === 0) return ground ? [{ ...ground, guessed: true }] : [];
  return gauges.map(({ fabric, stitchMm, roundMm }) => ({
    fabric: fabric ?? ground?.fabric ?? null,
    stitchMm,
    roundMm,
    guessed: false,
  }));
}

export function gaugeLines(
  gauges: readonly PatternGauge[],
  worked: Plan['worked'],
  units: LengthUnit,
): string[] {
  return gauges.map((gauge) => {
    const words = `${statedGauge(gauge, units, worked)}${fabricWords(gauge.fabric)}, washed and dried`;
    return gauge.guessed
      ? `${words}; assumed from the yarn, and size and yarn needed follow from it`
      : words;
  });
}
