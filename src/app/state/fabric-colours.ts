/** Which colours the fabric wears, from the user's choice. */
import type { FabricColours } from '../../view/colour/colour-scale.ts';
import {
  colourByBend,
  colourByRounds,
  colourByStrain,
  colourByYarn,
} from '../../view/colour/colour-scale.ts';
import type { Spin } from '../../view/colour/yarn-spin.ts';
import type { Positions, Surface } from '../../view/fabric/surface.ts';
import { computeBend, computeNormals, computeStrain } from '../../view/fabric/surface-measures.ts';
import type { Preferences } from './preferences.ts';
import { MM_PER_INCH } from './units.ts';

export function fabricColours(
  surface: Surface,
  positions: Positions,
  preferences: Preferences,
): FabricColours {
  const { graph, metric } = surface;
  switch (preferences.colourMode) {
    case 'fabric':
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

/** How the yarn is spun in the picture; null where colours carry numbers. */
export function spunYarn({ colourMode, spin }: Preferences): Spin | null {
  return colourMode === 'fabric' ? spin : null;
}
