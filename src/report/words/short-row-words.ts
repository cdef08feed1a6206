/** What short rows do to the piece, in a sentence; lengths are left to the figures beside it. */
import type { PlanReport } from '../report.ts';

/** Bends smaller than this are not worth telling, degrees. Chosen. */
const NOTABLE = 1;

export function shortRowWords({ shortRows, shape, metric }: PlanReport): string[] {
  if (!shortRows) return [];
  const { bendDeg, deeperMm } = shortRows;
  if (bendDeg === null) {
    if (deeperMm < metric.roundMm)
      return ['The short rows together make it deeper alike all round, as whole rounds would.'];
    return shape === 'tube'
      ? ['The short rows make one side longer than the other: the tube bends there.']
      : ['The short rows add depth where they are worked, and no length to the rounds.'];
  }
  if (bendDeg < NOTABLE)
    return [
      'The short rows make some places deeper than others; the last row still runs level with the cast-on.',
    ];
  if (bendDeg > 360)
    return [
      `The short rows bend it by ${bendDeg.toFixed(0)}°, more than a full turn: it lies over itself or winds up like a stair.`,
    ];
  return [
    `The short rows bend it by ${bendDeg.toFixed(0)}°, as a slice of a ring: so far the last row is turned from the cast-on.`,
  ];
}
