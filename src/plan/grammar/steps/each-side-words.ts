/**
 * Wordings for "worked once for every side", by where they stand: before the stitches ("on each side:"),
 * behind them ("repeat on each needle"), or behind a closing asterisk. Sticky expressions over the
 * normalised text.
 */
/** Before the stitches. */
export const EACH_SIDE =
  /(?:\(?\s*(?:work\s+)?(?:on\s+|along\s+|across\s+|at\s+)?(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?|panels?|edges?)(?:\s+of\s+the\s+square)?\s*(?:work(?:ed)?\s+)?(?:as\s+follows|thus)?\s*\)?\s*[:,-]?\s*)/y;
/** Behind the stitches. */
export const TRAIL_EACH_SIDE =
  /[\s,;]*(?:(?:rep(?:eat)?|work)\s+(?:this\s+)?)?(?:on|along|for|across)\s+(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?|edges?)(?![a-z])/y;
/** "*…* on each needle" */
export const CLOSE_EACH =
  /(?:(?:on|for|along|across)\s+)?(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?)(?![a-z])(?!\s*:)/y;
