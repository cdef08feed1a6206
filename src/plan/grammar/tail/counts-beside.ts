import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

const SIDE_COUNT = ',|(|-|;|and* # @sts? left|remain|remaining|being|are|rem*';
const EACH_SIDE = [
  `${SIDE_COUNT} on|to|per|in|at|for? each|every|a @shared )?`,
  `${SIDE_COUNT} per @shared )?`,
  `${SIDE_COUNT} on|per|to each )?`,
  ', that is the|a|one corner @sts? and # more|others? on|to|per|at each|every|a|either? @shared )?',
  `${SIDE_COUNT} between|in each|every|the|all|of|two|pair|#* @marker )?`,
];

/** "until 16 sts remain, 4 on each side" */
export function eachSideToo(c: TokenCursor, tail: OpenTail, total: number): void {
  const start = c.i;
  const n = saysAny(c, EACH_SIDE);
  const corner = /\bcorner\b/.test(c.slice(start, c.i)) ? 1 : 0;
  if (n?.[0] != null) tail.stated ??= { total, perSide: n[0] + corner, change: null };
}

const IN_ALL = [
  ',|(|-|=|;|:|and|that|is|or|i|e|ie|making|makes|total|of* # @sts? in|all|total|altogether|left|remain|remaining* )?',
];

/** "until there are 14 sts on each needle, 56 in all" */
export function inAllToo(c: TokenCursor, tail: OpenTail): void {
  const n = c.attempt(() => {
    const all = saysAny(c, IN_ALL);
    // "until only 1 st per needle (= 4 sts) remains"
    if (all && c.mark(')', -1)) says(c, 'is|are|still* remain|remains|remaining|left');
    return all && (c.done || c.mark('.,;)(-') || /^(?:and|ending|after)$/.test(c.word()))
      ? all
      : null;
  });
  if (n?.[0] == null) return;
  tail.stated ??= { total: n[0], perSide: null, change: null };
}

const AT_ROUND =
  ';|,|(|-|after|that|this|which|it|is|was|will|should|be|being|at|the|end|of* @unit # )?';

/** "(16 in all; this is round 23)": which round comes to the count. */
export function atRound(c: TokenCursor, tail: OpenTail): void {
  c.takes(() => {
    const n = says(c, AT_ROUND)?.[0];
    if (n == null || tail.untilRound !== null || !(c.done || c.mark('.,;'))) return null;
    tail.untilRound = n;
    return true;
  });
}
