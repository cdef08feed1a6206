/**
 * Words behind a round's stitches that have all of them worked again: "do this 4 times", "in every row until …". In: a cursor
 * or a passage at the words. Out: true where they stand there.
 */
import type { Passage } from './passage.ts';
import { isUnit } from './phrases.ts';
import { says } from './rules.ts';
import type { Start } from './start.ts';
import { emptyTail } from './tail/open-tail.ts';
import { readCondition } from './tail/until.ts';
import type { TokenCursor } from './token-cursor.ts';

/** Most tokens of a sentence that is read in another way, to see which leaves no words. Chosen: bounds the time. */
export const LONGEST_WHOLE = 150;

/** "in every row until …", "…, and do that over and over till you are back to 4 sts" */
export function everyUntil(c: TokenCursor): boolean {
  if (says(c, 'in|on every|each @unit until|till|til')) return true;
  // "repeat this until 2 sts before the marker" is of one round
  const again = says(
    c,
    'do|repeat|rep|work|keep|doing|knit|repeating|working* the? this|that|it|same|likewise row|round|rnd? over|again|and|on|in|every|each|row|round* until|till|til',
  );
  const tail = emptyTail();
  const counted = again && readCondition(c, tail) && tail.untilStitches !== null;
  return counted === true && (c.done || c.mark('.;,!('));
}

/** "ssk, k20; do this 4 times": all the stitches of a round that does not come to its end so far. */
export function repeatsStitches(
  passage: Passage,
  current: Extract<Start, { kind: 'round' }>,
  at: number,
  last: number,
): boolean {
  const c = passage.cursor(at, last);
  const again =
    says(c, 'do|work|repeat|rep|make all|exactly* this|these|that|it|so|everything #? @sts?') ??
    says(c, 'do|work|repeat|rep the same|above|whole') ??
    says(c, 'rep|repeat from the? beginning|beg|start');
  if (!again || isUnit(c) || isUnit(c, 1) || at - current.next > LONGEST_WHOLE) return false;
  const body = passage.body(current.label, current.next, at);
  if (body.kind !== 'steps' || body.unread > 0 || body.stated) return false;
  const words = passage.text.slice(passage.tokens[current.next].from, passage.tokens[at].from);
  const perSide = /\bend of (?:the |each |this )?(?:needle|dpn|side|section)\b/.test(words);
  return body.steps.every(
    (s) => 'amount' in s && (perSide || 'times' in s.amount) && !(s.kind === 'group' && s.eachSide),
  );
}
