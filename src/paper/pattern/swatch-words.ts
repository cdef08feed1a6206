/**
 * How to make the swatch that the gauge is checked on. In: the gauges of a pattern and the units. Out: one line, or none
 * where no gauge is known. A swatch half as wide again as what is counted, worked as the piece is, one for each fabric
 * (common practice); the needle is changed, not the tension.
 */
import type { Plan } from '../../plan/plan.ts';
import { fabricWords } from '../../plan/write/header.ts';
import { listed } from '../../report/words/counts.ts';
import { gaugeSpan } from '../../report/words/gauge.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import type { PatternGauge } from './pattern-gauges.ts';

/** Width of the swatch over that of what is counted. */
const WIDER = 1.5;
/** Stitches that a fabric repeats over, so that it comes out even in the round. */
const REPEATS: Partial<Record<string, number>> = { 'rib 1x1': 2, 'rib 2x2': 4, seed: 2 };

export function swatchLine(
  gauges: readonly PatternGauge[],
  worked: Plan['worked'],
  units: LengthUnit,
): string[] {
  const swatches = gauges.map(({ fabric, stitchMm }) => {
    const repeat = REPEATS[fabric ?? ''] ?? 1;
    const least = (WIDER * gaugeSpan(units).mm) / stitchMm;
    return `${repeat * Math.ceil(least / repeat)} stitches wide${fabricWords(fabric)}`;
  });
  if (swatches.length === 0) return [];
  const how =
    worked === 'round'
      ? 'worked in the round, or on two double-pointed needles with the yarn carried loosely behind so that the right side always faces, since purl rows often come out looser'
      : 'worked flat';
  const one = swatches.length === 1;
  const what = one
    ? `${swatches[0]} and as high as it is wide`
    : `one for each fabric, ${listed(swatches)}, each as high as it is wide`;
  const care = one
    ? 'Wash and dry it as the finished piece and count in its middle'
    : 'Wash and dry them as the finished piece and count in their middles';
  return [
    `${what}, ${how}. ${care}. Too many stitches: take a thicker needle; too few: a thinner one.`,
  ];
}
