/**
 * Sentences that ask the knitter of this piece for nothing at their place: they leave something to her, tell what somebody else
 * does, or what holds for all rounds. In: a passage, the token where the sentence begins. Out: whether it does, and where it ends.
 */
import { explainsFabric } from './explains.ts';
import { mayTell, moodOf } from './mood.ts';
import type { Passage } from './passage.ts';
import { declaredRepeats } from './steps/declared-repeats.ts';
import { leftToYou } from './telling.ts';

/** Most tokens of a sentence that leaves something to the knitter. Chosen: bounds the time. */
const LONGEST_LEFT = 60;

/** The sentence at token `at` is left to the knitter, or tells what somebody else does. */
export function tellsOnly(passage: Passage, castOn: boolean, at: number, last: number): boolean {
  const { tokens } = passage;
  const near = Math.min(last, at + LONGEST_LEFT);
  if (leftToYou(tokens.slice(at, near))) return true;
  // "Work each line 4 times, once on every side": said of all rounds
  const stop = passage.sentenceEnd(at, near, '.!?');
  if (stop > at && declaredRepeats(passage.text.slice(tokens[at].from, tokens[stop - 1].to)))
    return true;
  if (stop > at && explainsFabric(tokens.slice(at, stop))) return true;
  if (!castOn || !mayTell(tokens[at])) return false;
  return moodOf(tokens.slice(at, passage.sentenceEnd(at, near, '.!?'))) === 'told';
}

/** Where what is left to the knitter ends: "If there are 40 sts all is well; now knit 2 rounds". */
export function leftEnd(passage: Passage, from: number, last: number): number {
  const { tokens } = passage;
  const stop = passage.sentenceEnd(from, last, '.!?');
  const now = tokens
    .slice(from, stop)
    .findIndex((t, i) => t.text === ';' && /^(?:now|next)$/.test(tokens[from + i + 1]?.text ?? ''));
  return now < 0 ? stop : from + now;
}
