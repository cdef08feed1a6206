/** Which colours the fabric wears, from the user's choice. */
import { planShades, SHADES, type ShadeChoice } from '../../paper/yarn-shades.ts';
import type { Plan } from '../../plan/plan.ts';
import type { ColourMode, FabricColours } from '../../view/colour/colour-scale.ts';
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

/** What is coloured: with its plan a piece wears the colours that the plan tells of its rounds. */
export interface ColouredPiece {
  readonly surface: Surface & { readonly plan?: Plan };
  readonly positions: Positions;
}

export function fabricColours(
  surface: ColouredPiece['surface'],
  positions: Positions,
  preferences: Preferences,
): FabricColours {
  return piecesColours([{ surface, positions }], preferences)[0];
}

/** Pieces beside each other: a colour means the same on all of them, and one legend is for all. */
export function piecesColours(
  pieces: readonly ColouredPiece[],
  preferences: Preferences,
): FabricColours[] {
  const measured = pieces.map((piece) => measureOf(piece, preferences.colourMode));
  const courses = Math.max(...pieces.map(({ surface }) => surface.graph.courses));
  return pieces.map((piece, k) => colourPiece(piece, measured, k, courses, preferences));
}

function measureOf({ surface, positions }: ColouredPiece, mode: ColourMode): Float32Array {
  const { metric } = surface;
  if (mode === 'strain') return computeStrain(metric, positions);
  if (mode === 'bend') return computeBend(metric, positions, computeNormals(metric, positions));
  return new Float32Array(0);
}

function colourPiece(
  { surface }: ColouredPiece,
  measured: readonly Float32Array[],
  k: number,
  courses: number,
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
      return colourByRounds(graph.course, metric.vertices, courses, plan?.worked);
    case 'strain':
      return colourByStrain(measured[k], measured);
    case 'bend':
      return colourByBend(
        measured[k],
        preferences.units === 'cm' ? { mm: 10, name: 'cm' } : { mm: MM_PER_INCH, name: 'in' },
        measured,
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
