/** Plain words for the colour of a yarn, and what may stand before them. Data alone. */
export const COLOUR_WORDS: ReadonlySet<string> = new Set(
  'beige black blue brown charcoal coral cream gold gray green grey ivory lilac maroon mustard navy olive orange pink plum purple red rust teal turquoise violet white yellow'.split(
    ' ',
  ),
);
export const COLOUR_SHADES: ReadonlySet<string> = new Set([
  'bright',
  'dark',
  'deep',
  'light',
  'pale',
]);
