/** Which colours the fabric wears, from the user's choice. */
import { planShades, SHADES, type ShadeChoice } from '../../paper/yarn-shades.ts';
import type { Plan } from '../../plan/plan.ts';
import type { FabricColours } from '../../view/colour/colour-scale.ts';
import {
  colourByBend,
  colourByCourse,
  colourByRounds,
  colourByStrain,
  colourByYarn,
} from '../../view/colour/colour-scale.ts';
import type { Spin } from '../../view/colour/yarn-spin.ts';
import type { Positions, Surface } from '../../view/fabric/surface.ts';
import { computeBend, computeNormals, computeStrain } from '../../view/fabric/surface-measures.ts';
import type { Preferences } from './preferences.ts';
import { shadeChoice } from './square-colours.ts';
import { MM_PER_INCH } from './units.ts';

/** With its plan a piece wears the colours that the plan tells of its rounds. */
export function fabricColours(
  surface: Surface & { readonly plan?: Plan },
  positions: Positions,
  preferences: Preferences,
): FabricColours {
  const { graph, metric, plan } = surface;
  switch (preferences.colourMode) {
    case 'fabric':
      if (plan?.colours)
        return colourByCourse(
          graph.course,
          metric.vertices,
          courseShades(plan, shadeChoice(preferences)),
        );
      return colourByYarn(
        graph.course,
        metric.vertices,
        preferences.mainColour,
        preferences.stripeColour,
        preferences.stripeRounds,
      );
    case 'rounds':
      return colourByRounds(graph.course, metric.vertices, graph.courses);
    case 'strain':
      return colourByStrain(computeStrain(metric, positions));
    case 'bend':
      return colourByBend(
        computeBend(metric, positions, computeNormals(metric, positions)),
        preferences.units === 'cm' ? { perMm: 10, name: 'cm' } : { perMm: MM_PER_INCH, name: 'in' },
      );
  }
}

/** The shade of the cast-on, then that of every round. */
function courseShades(plan: Plan, choice: ShadeChoice): string[] {
  const shades = planShades(plan, choice);
  const of = (name: string | undefined) => shades.get(name ?? '') ?? SHADES[0];
  return [of(plan.colours?.castOn), ...plan.rounds.map(({ colour }) => of(colour))];
}

/** How the yarn is spun in the picture; null where colours carry numbers. */
export function spunYarn({ colourMode, spin }: Preferences): Spin | null {
  return colourMode === 'fabric' ? spin : null;
}
