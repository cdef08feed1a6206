/**
 * What the blanket needs of one finished square: its side, the stitches along it and the yarn in it by
 * colour. From the plan and what its relaxed fabric measures.
 */
import { rimStitches } from '../../draft/rework/rim-stitches.ts';
import type { Gauge } from '../../gauge/gauge/gauge.ts';
import type { Plan } from '../../plan/plan.ts';
import { colourInWords } from '../../plan/write/colours.ts';
import type { BlanketSquare } from '../../report/blanket.ts';
import type { Report } from '../../report/report.ts';
import { seamLengthMm } from '../../report/yarn-estimate.ts';
import { stripeShare, yarnUse } from '../pattern/yarn-use.ts';
import type { SquareColours } from '../project-file.ts';
import { planShades } from '../yarn-shades.ts';
import { squareBands } from './square-bands.ts';

const UNNAMED_YARN = 'yarn not named';

export interface MeasuredSquare {
  readonly plan: Plan;
  readonly gauge: Gauge;
  readonly report: Report;
}

/**
 * Null where the piece has no four sides to be joined to others. Without `colours` the yarn is what
 * the `Yarn:` line says: squares of the same line share their balls.
 */
export function blanketSquare(
  id: string,
  name: string,
  { plan, report, gauge }: MeasuredSquare,
  colours: SquareColours | null,
): BlanketSquare | null {
  const sideStitches = Math.round(rimStitches(plan) / 4);
  if (report.corners !== 4 || !(report.sideMm > 0) || sideStitches < 1) return null;
  const use = yarnUse(plan, {
    stitchMm: gauge.sizes.stockinette.stitchMm,
    tex: gauge.tex,
    // Of its four seams every square brings the yarn for two.
    seamMm: 2 * report.sideMm + seamLengthMm(plan, gauge.groundSize.roundMm),
  });
  const band = {
    ballGrams: plan.yarn?.ballGrams ?? null,
    ballMetres: plan.yarn?.ballMetres ?? null,
  };
  const named = (words: string) => colourWords(plan.yarn?.text ?? '', words);
  const { verdict, sideMm } = report;
  const bands = squareBands(plan, colours);
  const square = { id, name, verdict, bands, sideMm, sideStitches, sides: 4 };
  if (use.colours.length > 0) {
    // The plan's colours in their order wear the square's yarns in theirs.
    const shades = planShades(plan);
    const yarn = use.colours.map(({ colour, lengthM, massG }, place) => {
      const chosen = colours?.yarns[place];
      const look = plan.colours?.words[colour];
      return {
        colour: partOf(plan.yarn?.text ?? '', chosen?.name ?? look ?? colourInWords(colour)),
        hex: chosen?.hex ?? shades.get(colour) ?? null,
        lengthM,
        massG,
        ...band,
      };
    });
    return { ...square, yarn };
  }
  const second = colours?.yarns[1] ? stripeShare(plan, colours.stripeRounds) : 0;
  const part = (place: number, share: number): BlanketSquare['yarn'][number] => ({
    colour: named(colours?.yarns[place]?.name ?? ''),
    hex: colours?.yarns[place]?.hex ?? null,
    lengthM: share * use.lengthM,
    massG: share * use.massG,
    ...band,
  });
  return { ...square, yarn: second > 0 ? [part(0, 1 - second), part(1, second)] : [part(0, 1)] };
}

/** Of several colours each has a line of its own, also where the yarn line names them all. */
function partOf(yarn: string, colour: string): string {
  return yarn === '' ? colour : `${yarn} · ${colour}`;
}

/** The yarn line with its colour, said once. */
function colourWords(yarn: string, colour: string): string {
  if (colour === '') return yarn || UNNAMED_YARN;
  if (yarn === '') return colour;
  return yarn.toLowerCase().includes(colour.toLowerCase()) ? yarn : `${yarn} · ${colour}`;
}
