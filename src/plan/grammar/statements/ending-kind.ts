/**
 * How the piece comes to end by what sentences say of it. In: what each says, the ending so far. Out: bound off, drawn up or live; whether
 * two sentences contradict one another.
 */
import type { Ending } from '../../plan.ts';
import type { EndWords } from '../ast.ts';

/** "Do not bind off" alone: the piece may go on. */
export function keepsOnly(e: EndWords): boolean {
  return e.keeps && !e.binds && !e.draws && !e.breaks && !e.holds && !e.thread;
}

const WAY = /\bin (purl|knit|rib|pattern|patt|moss)\b/;

/** "Leave all sts on a thread, don't bind off" right before "Bind off", "in purl" before "in knit": the two can't both be followed. */
export function endsOtherwise(a: EndWords, saidA: string, b: EndWords, saidB: string): boolean {
  if (!b.binds) return false;
  if (!a.binds)
    return (
      a.keeps && !/\b(?:yet|too|tight\w*|loose\w*|until|till|before|now|first|just)\b/.test(saidA)
    );
  const way = WAY.exec(saidA)?.[1];
  return way !== undefined && way !== (WAY.exec(saidB)?.[1] ?? way);
}

/** `before`: the ending so far; `kept`: it says that the stitches stay. `endingFollows`: the next sentence ends the piece too. Null leaves it to that one. */
export function endingOf(
  e: EndWords,
  before: Ending,
  endingFollows: boolean,
  kept = false,
): Ending | null {
  if (e.binds || before === 'bound-off') return 'bound-off';
  if ((e.holds || e.keeps || kept) && !e.through) return 'live';
  if (e.thread && !e.draws) return endingFollows ? null : 'live';
  if (!e.draws && !e.breaks && before !== 'live') return before;
  // Broken yarn alone: the next sentence says how the loops are held.
  return e.breaks && !e.draws && endingFollows ? null : 'drawn-up';
}
