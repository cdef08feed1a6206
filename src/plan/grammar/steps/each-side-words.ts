/**
 * Wordings for "worked once for every side", by where they stand: before the stitches ("on each side:"),
 * behind them ("repeat on each needle"), or behind a closing asterisk. Sticky expressions over the
 * normalised text.
 */
/** Before the stitches. */
export const EACH_SIDE =
  /(?:\(?\s*(?:work\s+)?(?:on\s+|upon\s+|for\s+|along\s+|across\s+|at\s+|in\s+)?(?:each|every|per|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|dpns?|sections?|quarters?|wedges?|segments?|fields?|parts?|panels?|edges?)(?:\s+of\s+the\s+square)?\s*(?:work(?:ed)?\s+)?(?:as\s+follows|thus)?\s*\)?\s*[:,-]?\s*)/y;
/** Behind the stitches. */
export const TRAIL_EACH_SIDE =
  /[\s,;.-]*(?:(?:and\s+)?(?:rep(?:eat)?|work|do)\s+(?:on\s+)?(?:the\s+)?(?:needles?|sides?)\s*\d(?:\s*(?:,\s*and|,|and|&|-|to)\s*\d)*\s+(?:the\s+same|alike|likewise|similarly|in\s+the\s+same\s+way)|(?:(?:rep(?:eat)?|work|do)\s+(?:this\s+|so\s+|the\s+same\s+)?)?(?:on|upon|along|for|across|at|between|in)\s+(?:each|every|all|the(?=\s+(?:other|remaining)))(?:\s+(?:the|four|4|\d+|other|remaining|rem\.?|\d+\s+other))*\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:\d+\s+)?(?:sides?|needles?|dpns?|sections?|quarters?|wedges?|segments?|fields?|parts?|edges?|markers?|corners?)(?![a-z]))/y;
/** "*…* on each needle" */
export const CLOSE_EACH =
  /(?:(?:(?:rep(?:eat)?|work|do(?:\s+this)?|the\s+same|same)\s+)?(?:on|upon|for|along|across|in)\s+)?(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|dpns?|sections?|quarters?|wedges?|segments?|fields?|parts?)(?![a-z])(?!\s*:)/y;
