/**
 * What the blanket needs of one finished square, from its fabric at rest. Colour is what the `Yarn:`
 * line says: squares of the same line share their balls.
 */
import { yarnUse } from '../../paper/yarn-use.ts';
import type { BlanketSquare } from '../../report/blanket.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { rimStitches } from '../grading.ts';
import { YARNS } from '../preferences.ts';

export const UNNAMED_YARN = 'yarn not named';

/** Null where the piece has no four sides to be joined to others. */
export function squareOf(id: string, name: string, knitted: KnittedSheet): BlanketSquare | null {
  const { plan, report, gauge } = knitted;
  if (report.corners !== 4 || !(report.sideMm > 0)) return null;
  const yarn = plan.yarn;
  const use = yarnUse(plan, {
    stitchMm: gauge.sizes.stockinette.stitchMm,
    tex: gauge.tex,
    // Of its four seams every square brings the yarn for two.
    seamMm: 2 * report.sideMm + (plan.seam ? plan.rounds.length * gauge.groundSize.roundMm : 0),
  });
  return {
    id,
    name,
    sideMm: report.sideMm,
    sideStitches: Math.round(rimStitches(plan) / 4),
    sides: 4,
    yarn: [
      {
        colour: yarn?.text || UNNAMED_YARN,
        lengthM: use.lengthM,
        massG: use.massG,
        ballGrams: yarn?.ballGrams ?? null,
        ballMetres: yarn?.ballMetres ?? null,
      },
    ],
  };
}

/** The shade that the yarn line names, else one by the square's place in the list. */
export function shadeOf(yarnText: string, place: number): string {
  const words = yarnText.toLowerCase();
  const named = YARNS.find(({ name }) => words.includes(name.toLowerCase()));
  return (named ?? YARNS[(place * 2 + 5) % YARNS.length]).colour;
}
