/** Plain words for the colour of a yarn, and what may stand before them. Data alone. */
import { words } from './words.ts';

export const COLOUR_WORDS = words(`
  beige black blue brown charcoal coral cream gold gray green grey ivory lilac maroon mustard navy olive orange pink plum purple red rust teal
  turquoise violet white yellow
`);
export const COLOUR_SHADES = words(`
  bright dark deep light pale mid medium soft warm dusty moss rose sky sea sand stone royal apple bottle forest grass lime mint
  midnight ice brick wine sage slate petrol
`);
