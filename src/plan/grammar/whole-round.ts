/**
 * A sentence read whole as the stitches of one round. In: a passage, the sentence's first token. Out: the round that begins there, or that
 * it is one without a label; null where words of it are left.
 */
import { LONGEST_WHOLE } from './over-again.ts';
import type { Passage } from './passage.ts';
import type { Start } from './start.ts';
import { labelHolds } from './statements/label/holds.ts';
import { readLabel } from './statements/label/label.ts';
import { tellStitches } from './stitch-sentences.ts';

/** The sentence at token `at` as the stitches of one round, none of its words left; null where it is none. */
export function wholeRound(
  passage: Passage,
  at: number,
  end: number,
): Start | { readonly kind: 'free' } | null {
  const c = passage.cursor(at, end);
  const label = readLabel(c);
  const holds = label !== null && labelHolds(label, c, end);
  const clean = (stop: number): boolean => {
    if (stop - at > LONGEST_WHOLE) return false;
    const body = passage.body(holds ? label : null, holds ? c.i : at, stop);
    if (body.kind !== 'steps' || body.unread > 0 || body.failed || !body.hasStitches) return false;
    return tellStitches(body.steps);
  };
  // "Decrease 1 st on each needle in round 2. Needle 1: …" only leads to the next sentence.
  const near = Math.min(end, at + LONGEST_WHOLE + 1);
  if (!clean(passage.sentenceEnd(at, near, '.!?')) && !clean(end)) return null;
  return holds ? { kind: 'round', label, at, next: c.i } : { kind: 'free' };
}
