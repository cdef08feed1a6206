/**
 * Stripes: "changing colour every 4 rounds", "in stripes of 4 rounds MC, 2 rounds CC", "2 rounds each of A and B". In: a
 * cursor at the words. Out: the stripes in order, the cursor behind them; null otherwise.
 */
import { REMARK_LEADS } from '../lexicon/words.ts';
import type { Stripe } from './ast.ts';
import { colourName, restsColour } from './colours.ts';
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
  ',|and* in|with|working|work|worked|making|make|using|knit|knitting* a|the|your? stripes|stripe|striped|striping|colour|color|colours|colors pattern|sequence|order? of|as|follows|:|,|is|are|-|=|(*',
  ',|and* alternating|alternate|alternately between?',
];
const BETWEEN = ',|and|then|alternating|alternate|followed|with|by|/|;*';

const REPEATED = [
  ',|and* repeat|repeated|repeating|over|alternating* throughout|again|over',
  ',? to|until|till the? very? end',
  ',|and* repeat|repeated|repeating',
  ',|and* so on|forth',
  'all the way',
];
/** "The square is striped: …", "Throughout, work a stripe of …" */
const OWN_LEAD =
  'throughout|always|the|this|that|whole|square|piece|block|tile|motif|patch|it|is|are|we|you|will|now|then|from|here|on|striped|stripes|work|worked|knit|knitted|in|,|:*';
/** "(A and B in turn)", ": A, then B": the colours by name, behind how often they change. */
const NAMED_LEAD = ',|(|:|-|between|from|with|using|beginning|starting|first|begin|start*';
const NAMED_NEXT = 'and|then|,|to|with|/*';
const NAMED_END = 'in|by|turn|turns|alternately|alternating|again|back|and|so|on|)*';

/** "Keeping the stripe sequence correct": the stripes go on as they have been. */
export const AS_BEFORE: readonly Stripe[] = [];
const GOES_ON = [
  `${CHANGE} as|like before|set|established|above|usual`,
  `${CHANGE} on|at|with|in|for|always|the|beginning|start|of* every|each dec|decrease|decreasing|inc|increase|increasing|shaping @unit`,
  ',|and* keep|keeping|maintain|maintaining|continue|continuing|cont|carry|carrying|on|with|in* the|your* stripes|stripe|striped|colour|color sequence|pattern|patt|order|stripes? correct|going|as before|set|established?',
  ',|and* keep|keeping|maintain|maintaining|continue|continuing|cont|carry|carrying|on|with|in* the|your* stripes|stripe|striped|colour|color sequence|pattern|patt|order|stripes? as before|set|established|correct|going',
  ',|and* in|with|keeping|continuing|working* the? stripes as before|set|established',
  ',|and* in|with|keeping|continuing|working* the? stripe|stripes|striped|colour|color sequence|pattern|patt|order as before|set|established?',
];

function goesOn(c: TokenCursor): boolean {
  return c.takes(() => saysAny(c, GOES_ON) && (c.done || c.mark('.,;(-)') || UNTIL.test(c.word())));
}
const UNTIL = /^(?:until|till|and|for|to|throughout|as)$/;

/** Stripes told with their rounds, or how often colours change. */
export function readStripes(c: TokenCursor): readonly Stripe[] | null {
  if (goesOn(c)) return AS_BEFORE;
  return c.attempt(() => wide(c) ?? changes(c) ?? c.attempt(() => numbered(c)) ?? listed(c));
}

/** Stripes that a sentence of their own tells, or one that goes on with a remark. */
export function stripesTold(c: TokenCursor): readonly Stripe[] | null {
  return c.attempt(() => {
    const { i } = c;
    says(c, OWN_LEAD);
    const led = readStripes(c);
    if (!led) c.i = i;
    const stripes = led ?? readStripes(c);
    while (restsColour(c));
    const again = saysAny(c, REPEATED) !== null;
    while (restsColour(c));
    const ends = again || c.done || c.mark('.,;!') || c.isWord(REMARK_LEADS);
    return stripes && ends ? stripes : null;
  });
}

/** "The stripes are 2 rows wide: red, white and so on" */
function wide(c: TokenCursor): Stripe[] | null {
  return c.attempt(() => {
    const n = says(
      c,
      'the|your|all|each|every* stripe|stripes is|are|being each|all|always* # @unit wide|each|high|deep|tall|in',
    );
    const [rounds] = n ?? [];
    const named = rounds != null && Number.isInteger(rounds) ? coloursInTurn(c) : null;
    return named?.map((colour) => ({ rounds: rounds as number, colour })) ?? null;
  });
}

function changes(c: TokenCursor): Stripe[] | null {
  for (const [i, rule] of EVERY.entries()) {
    const n = says(c, rule);
    if (!n) continue;
    const rounds = n[0] ?? n[1] ?? (i === 2 ? 2 : 1);
    if (!Number.isInteger(rounds) || rounds < 1) return null;
    const named = c.attempt(() => coloursInTurn(c));
    return (named ?? [null, null]).map((colour) => ({ rounds, colour }));
  }
  return null;
}

function coloursInTurn(c: TokenCursor): string[] | null {
  says(c, NAMED_LEAD);
  const first = colourName(c);
  if (!first) return null;
  const out = [first];
  while (out.length < MOST_STRIPES) {
    const next = c.attempt(() => {
      says(c, NAMED_NEXT);
      return colourName(c);
    });
    if (!next) break;
    out.push(next);
  }
  says(c, NAMED_END);
  const { length } = out;
  // "A, B, A": over and over, the last is the first again.
  const whole = length > 2 && out[length - 1] === first ? out.slice(0, -1) : out;
  return whole.length > 1 ? whole : null;
}

const IN_TURN = ',|and* alternately|alternating|in|by|turn|turns|about|throughout|)*';
const EACH_COLOUR =
  ',|in|with|working|work* # @unit of|in|with|for each|every|both|either colour|color|yarn|shade';

function listed(c: TokenCursor): Stripe[] | null {
  // "2 rounds of each colour"
  const each = says(c, EACH_COLOUR)?.[0];
  if (each != null) return [1, 2].map(() => ({ rounds: each, colour: null }));
  const led = saysAny(c, LEAD) !== null;
  if (!led) says(c, ',|working|work|with|and|knitting*');
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
  const { i } = c;
  says(c, IN_TURN);
  const turns = /\b(?:alternat|turn)/.test(c.slice(i, c.i));
  return out.length > 1 && (led || turns) ? out : null;
}

/** "Rounds 1 to 4 are in A, rounds 5 to 8 in B, rounds 9 to 12 in A and so on, 4 rounds of each": from the first round on. */
function numbered(c: TokenCursor): Stripe[] | null {
  if (!says(c, 'work|knit')) saysAny(c, LEAD);
  const out: Stripe[] = [];
  let done = 0;
  while (out.length < MOST_STRIPES) {
    const stripe = c.attempt(() => {
      says(c, 'and|then|,*');
      const n = says(
        c,
        '@unit? # to|-|through|until|till|and|& # :|=|-|are|is|will|be|worked|work|knitted|knit|in|with|using|yarn*',
      );
      const colour = n && colourName(c);
      const [first, last] = n ?? [];
      if (!colour || first !== done + 1 || last == null || last < first) return null;
      says(c, 'again|once|more*');
      return { rounds: last - done, colour };
    });
    if (!stripe) break;
    done += stripe.rounds;
    out.push(stripe);
  }
  if (out.length < 2) return null;
  if (
    !saysAny(c, [
      ',|and* so on|forth',
      ',|and* etc .?',
      ',|and* on and on',
      ',|and* repeat|repeating|alternating|alternate as? before?',
    ])
  )
    return out;
  const each = says(
    c,
    ',|(|-|: always? # @unit of|in|for|to each|every|them? colour|color|yarn? )?',
  );
  if (each?.[0] != null && out.some((s) => s.rounds !== each[0])) return null;
  const period = out.findIndex((s, i) => i > 1 && s.colour === out[0].colour);
  return period < 0 ? out : out.slice(0, period);
}
