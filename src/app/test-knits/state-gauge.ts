/**
 * Puts a gauge into a plan's text: in the place of the line that states the ground's gauge, or as a
 * line of its own where there is none. Null where the text would not say it afterwards.
 */

import { parsePlan } from '../../plan/parse.ts';
import type { FabricName, Plan } from '../../plan/plan.ts';
import { gaugeStatement } from '../../plan/write/header.ts';

/** Figures a tenth of a stitch to 10 cm apart are the same to a ruler. Chosen. */
const DECIMALS = 10;
/** Rounding to a tenth changes a gauge by less than this. */
const SAME = 0.006;

export interface StatedGauge {
  readonly stitchMm: number;
  readonly roundMm: number;
}

export function stateGauge(plan: Plan, ground: string, gauge: StatedGauge): string | null {
  const at = statedAt(plan, ground);
  const stated = plan.gauges[at];
  const words = gaugeStatement(
    {
      fabric: stated ? stated.fabric : (ground as FabricName),
      stitchMm: rounded(gauge.stitchMm),
      roundMm: rounded(gauge.roundMm),
    },
    plan.worked,
  );
  const lines = plan.text.split('\n');
  const line = `Gauge: ${words}`;
  if (stated) lines[stated.at.line - 1] = line;
  else lines.splice(/^\s*title\s*:/i.test(lines[0] ?? '') ? 1 : 0, 0, line);
  const text = lines.join('\n');
  const read = parsePlan(text);
  const now = read.gauges[stated ? at : statedAt(read, ground)];
  return now && states(now, gauge) && read.rounds.length === plan.rounds.length ? text : null;
}

/** Whether the plan's gauge is this one already. */
export function states(
  stated: { readonly stitchMm: number; readonly roundMm: number | null },
  gauge: StatedGauge,
): boolean {
  const near = (a: number, b: number) => Math.abs(a / b - 1) < SAME;
  return near(stated.stitchMm, gauge.stitchMm) && near(stated.roundMm ?? 0, gauge.roundMm);
}

/** Index of the gauge line that holds for the ground; −1 for none. */
function statedAt(plan: Plan, ground: string): number {
  return plan.gauges.findIndex(({ fabric }) => fabric === null || fabric === ground);
}

function rounded(mm: number): number {
  return 100 / (Math.round((100 / mm) * DECIMALS) / DECIMALS);
}
