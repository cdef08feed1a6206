/**
 * What is said between the cast-on and the first round, in rules whose every word is accounted for. In: a cursor over
 * the words (numbers in digits) goes through them in this order. Out: the opening filled; words that no rule follows
 * are left over (`rules.ts` of the grammar).
 */
import { FLAT, JOINS } from './joins.ts';
import { CARE, DISTRIBUTES, IDLE, TOOLS } from './manner.ts';
import { EVERY_PLACE, PLACES, QUARTERS, ROUND_MARKERS } from './markers.ts';
import type { OpeningRule } from './opening.ts';
import { EXTRAS, SHARES, TOTALS } from './shares.ts';

/** All of it, the narrower rules first. */
export const OPENING_RULES: readonly OpeningRule[] = [
  ...FLAT,
  ...EXTRAS,
  ...QUARTERS,
  ...EVERY_PLACE,
  ...PLACES,
  ...ROUND_MARKERS,
  ...SHARES,
  ...TOTALS,
  ...JOINS,
  ...CARE,
  ...TOOLS,
  ...DISTRIBUTES,
  ...IDLE,
];
