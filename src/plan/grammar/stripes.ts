/**
 * Stripes: "changing colour every 4 rounds", "in stripes of 4 rounds MC, 2 rounds CC", "2 rounds each of A and B". In: a
 * cursor at the words. Out: the stripes in order, the cursor behind them; null otherwise.
 */
import type { Stripe } from './ast.ts';
import { colourName } from './colours.ts';
import { says, saysAny } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

/** Most stripes of one pattern. Chosen: more is a chart. */
const MOST_STRIPES = 24;

const CHANGE =
  ',|and* change|changing|switch|switching|swap|swapping|alternate|alternating between? the|your|two|2* colour|colours|color|colors|yarn|yarns|shade|shades';
const EVERY = [
  `${CHANGE} after|on|at|in|with|always* every|each #|% @unit`,
  `${CHANGE} always? after # @unit`,
  `${CHANGE} after|before|on|at|in|with|always* every|each other|second|right|wrong|rs|ws side? @unit`,
  `${CHANGE} after|before|on|at|in|with|always* every|each @unit`,
];
const LEAD = [
  ',|and* in|with|working|work|worked|making|make|using* a|the? stripes|stripe|striped pattern|sequence? of|as|follows|:|,*',
  ',|and* alternating|alternate|alternately between?',
];
const BETWEEN = ',|and|then|alternating|alternate|followed|with|by|/|;*';

/** Stripes told with their rounds, or how often colours change. */
export function readStripes(c: TokenCursor): readonly Stripe[] | null {
  return c.attempt(() => changes(c) ?? listed(c));
}

function changes(c: TokenCursor): Stripe[] | null {
  for (const [i, rule] of EVERY.entries()) {
    const n = says(c, rule);
    if (!n) continue;
    const rounds = n[0] ?? n[1] ?? (i === 2 ? 2 : 1);
    if (!Number.isInteger(rounds) || rounds < 1) return null;
    return [
      { rounds, colour: null },
      { rounds, colour: null },
    ];
  }
  return null;
}

function listed(c: TokenCursor): Stripe[] | null {
  if (!saysAny(c, LEAD)) return null;
  // "stripes of 2 rounds each in A and B"
  const shared = says(c, '# @unit each of|in|with?') ?? says(c, '# - @unit stripes|stripe of|in?');
  const out: Stripe[] = [];
  while (out.length < MOST_STRIPES) {
    const stripe = c.attempt(() => {
      if (out.length > 0 && !says(c, BETWEEN)) return null;
      const rounds = shared?.[0] ?? says(c, '# @unit in|of|with|using*')?.[0];
      const colour = colourName(c);
      return rounds != null && Number.isInteger(rounds) && rounds > 0 && colour
        ? { rounds, colour }
        : null;
    });
    if (!stripe) break;
    out.push(stripe);
  }
  return out.length > 1 ? out : null;
}
