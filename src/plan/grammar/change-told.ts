/**
 * Sentences that tell how many stitches are lost or gained each time: "you lose 2 stitches on each side every time", "round 3
 * decreases 8 stitches", "every second round gets rid of 8 stitches". In: a cursor at the sentence. Out: how many; null where it
 * is no such sentence, or orders them.
 */
import type { Token } from '../lex/tokens.ts';
import { areRemarks } from './remarks.ts';
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

export interface ChangeTold {
  readonly count: number;
  /** How many places each side has them at; null where the count is that of the round, or it is not told. */
  readonly perSide: number | null;
  /** Every so many rounds; null where that is not told. */
  readonly every: number | null;
}

const LEADS = 'so|and|thus|now|then|note|remember|that|,*';
/** Who or what loses them. */
const WHO = [
  'you|we',
  'this|that|it|which',
  'the|each|every|a|this|that|all right|wrong|side|rs|ws|second|third|fourth|other|decrease|dec|decreasing|increase|inc|repeat|time|#|%* round|rnd|row|time|pass|repeat|decrease|side|needle|corner|ridge|pair|section|quarter|count|total|tally|number|of? round|rnd|row|rounds|sts|stitches? #?',
  'round|rnd|row #',
  'with|in|on|after each|every|a dec|decrease|decreasing|increase|shaping|such* round|rnd|row|time ,? you|we|there',
];
const LOSES =
  'will|should|loses|gains|decreases|increases|reduces|sheds|costs|removes|adds|eats|takes|gets|drops|shrinks|grows|makes|has|have|is|are|lose|gain|takes|away|rid|of|off|by|up|only|just|always|now|the|round|count|number|it|piece|work|square*';
const FINITE =
  /^(?:loses|gains|decreases|increases|reduces|sheds|costs|removes|adds|eats|takes|gets|drops|shrinks|grows)$/;
const PLACE =
  'on|in|per|at|to|for|from* each|every|either|both|a|the|all|#* side|sides|needle|needles|corner|corners|section|end|quarter';

export function readChangeTold(c: TokenCursor): ChangeTold | null {
  return c.attempt(() => {
    says(c, LEADS);
    const start = c.i;
    const reader = /^(?:you|we)$/.test(c.word());
    if (!WHO.some((rule) => says(c, rule))) return null;
    const from = c.i;
    if (!says(c, LOSES)) return null;
    const verbs = c.tokens.slice(from, c.i).map((t) => t.text);
    const n = c.number() ?? (c.phrase('a|an') ? 1 : null);
    if (n === null) return null;
    const counted = verbs.includes('by');
    if (!says(c, 'more|fewer|less? @sts fewer|less|more|down|away?') && !counted) return null;
    const fewer = /^(?:fewer|less|more|down)$/.test(c.word(-1));
    const finite =
      verbs.some((v) => FINITE.test(v)) || (reader && verbs.some((v) => /^(?:lose|gain)$/.test(v)));
    // "You have 40 stitches" is a count, "you decrease 8" an order.
    if (!finite && !(fewer && /^(?:have|has|are|is)$/.test(verbs.at(-1) ?? ''))) return null;
    let perSide: number | null = null;
    for (let k = 0; k < 2 && says(c, PLACE); k++) {
      const word = c.slice(start, c.i);
      perSide = /\b(?:either|both) (?:side|end)s?$/.test(word) ? 2 : (perSide ?? 1);
      c.phrase('of');
    }
    says(
      c,
      ',? each|every|in|on|with|a|per|at|this|that|the|second|other|%|single|decrease|increase* time|round|rnd|row|pass|repeat|once',
    );
    const every = everyIn(c.tokens.slice(start, c.i));
    // "…, so it is an easy thing to do in front of a film"
    if (c.mark(',')) {
      let end = c.i + 1;
      while (end < c.end && !'.!'.includes(c.tokens[end].text)) end++;
      if (areRemarks(c.tokens.slice(c.i, end), true)) c.i = end;
    }
    return c.done || c.mark('.!') ? { count: n, perSide, every } : null;
  });
}

/** "every second round", "each other row" */
function everyIn(tokens: readonly Token[]): number | null {
  const at = tokens.findIndex(
    (t, i) =>
      /^(?:each|every)$/.test(t.text) && /^(?:round|rnd|row)$/.test(tokens[i + 2]?.text ?? ''),
  );
  const which = tokens[at + 1];
  if (at < 0) return null;
  return which.kind === 'ordinal' ? which.value : which.text === 'other' ? 2 : null;
}

/** A sentence that only tells how many stitches go begins here. */
export function tellsChange(c: TokenCursor): boolean {
  return CHANGE_LEADS.test(c.here()) && readChangeTold(c) !== null;
}

const CHANGE_LEADS =
  /^(?:so|and|thus|now|then|note|remember|that|you|we|this|it|which|the|each|every|a|all|round|rnd|row|with|in|on|after)$/;
