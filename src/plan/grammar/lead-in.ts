/**
 * Clauses that only lead to an instruction, up to their colon. In: a passage, the token where one may begin. Out: the
 * place behind the colon.
 */
import type { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { readRoundsTold } from './rounds-told.ts';
import { isStitchWord } from './word-law.ts';

/** Most tokens of a clause that leads to an instruction. Chosen. */
const LONGEST_LEAD = 24;

/**
 * "Now a frame, so that it lies flat: purl 1 round": a clause of harmless words and a colon at token `first`. Gives
 * the place behind the colon; `first` where none stands here.
 */
export function ledIn(passage: Passage, first: number, last: number): number {
  let i = first;
  while (i < last && i - first < LONGEST_LEAD && passage.tokens[i].text !== ':') {
    const t = passage.tokens[i];
    if (t.kind !== 'word' && !(t.kind === 'mark' && ",-'".includes(t.text))) return first;
    if (isStitchWord(t) || t.text === 'needle' || t.text === 'side') return first;
    i++;
  }
  if (i >= last - 1 || i - first < 2 || passage.tokens[i].text !== ':') return first;
  // "Every 5th round: purl" says on which of them.
  if (readRoundsTold(passage.cursor(first, last))) return first;
  return sentenceInstructs(passage.tokens.slice(first, i)) ? first : i + 1;
}
