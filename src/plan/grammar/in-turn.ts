/**
 * Words that have rounds worked one behind the other for as long as something else says: "constantly", "by turns", "on
 * repeat". In: a cursor at the words. Out: true where they stand there, the cursor behind them.
 */
import { saysAny } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

const LEAD = ',? always|then|now|still|simply|just|all*';

const IN_TURN = [
  `${LEAD} constantly|continually|continuously|repeatedly|alternately|alternating|alternatingly|perpetually|endlessly|unceasingly`,
  `${LEAD} on|in repeat|loop`,
  `${LEAD} on|in a loop`,
  `${LEAD} over and over|over again?`,
  `${LEAD} again and again`,
  `${LEAD} time and|after time? again?`,
  `${LEAD} turn and turn about`,
  `${LEAD} turn about|by`,
  `${LEAD} by|in turn|turns|alternation|rotation|succession`,
  `${LEAD} # after|behind the? other|another`,
  `${LEAD} # and then? the? other`,
  `${LEAD} all the time|while`,
  `${LEAD} the whole time|while`,
  `${LEAD} round after|by|upon|and round`,
  `${LEAD} rnd after|by|upon rnd`,
  `${LEAD} row after|by|upon row`,
  `${LEAD} in the|this|that|same* order|sequence|rhythm`,
];

const OF_WHAT = /^(?:between|with|a|an|one|the|colou?rs?|rounds?|rnds?|rows?)$/;

export function inTurn(c: TokenCursor): boolean {
  // "alternating 2 rounds of A and 2 of B"
  return c.takes(() => saysAny(c, IN_TURN) !== null && !(c.isNumber() || OF_WHAT.test(c.word())));
}
