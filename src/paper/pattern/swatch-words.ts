/**
 * How to make the swatch that the gauge is checked on. In: a Plan and the units. Out: one line, or none where
 * the plan states no gauge. A swatch half as wide again as what is counted, worked as the piece is (common
 * practice); the needle is changed, not the tension.
 */
import type { Plan } from '../../plan/plan.ts';
import { gaugeSpan } from '../../report/words/gauge.ts';
import type { LengthUnit } from '../../report/words/length.ts';

/** Width of the swatch over that of what is counted. */
const WIDER = 1.5;

export function swatchLine(plan: Plan, units: LengthUnit): string[] {
  const gauge = plan.gauges.find((stated) => stated.stitchMm !== null);
  if (!gauge?.stitchMm) return [];
  const span = gaugeSpan(units);
  const wide = Math.ceil((WIDER * span.mm) / gauge.stitchMm);
  const how =
    plan.worked === 'round'
      ? 'worked in the round, or on two double-pointed needles with the yarn carried loosely behind so that the right side always faces, since purl rows often come out looser'
      : 'worked flat';
  return [
    `${wide} stitches wide and as high as it is wide, ${how}. Wash and dry it as the finished piece and count in its middle. Too many stitches: take a thicker needle; too few: a thinner one.`,
  ];
}
