/**
 * Places between two instructions of a line: full stops, commas, brackets, "and then". In: a passage, places among its
 * tokens. Out: what parts the instructions there.
 */
import { DECREASE_WORDS, INCREASE_WORDS } from '../lexicon/words.ts';
import type { Passage } from './passage.ts';
import { labelBehind } from './statements/label/holds.ts';

/** Between two instructions. */
export interface Boundary {
  readonly next: number;
  /** A full stop. */
  readonly hard: boolean;
  /** A closing bracket. */
  readonly closing: boolean;
  readonly comma: boolean;
}

/** A place between instructions at token `i`: hard behind a full stop, soft behind a comma or "then". */
export function boundaryAt(
  passage: Passage,
  i: number,
  first: number,
  last: number,
): Boundary | null {
  const t = passage.tokens[i];
  let next = i + 1;
  const colon = t.text === ':' && labelBehind(passage.cursor(Math.min(i + 1, last), last), last);
  const hard = colon || (t.kind === 'mark' && '.;!?'.includes(t.text));
  const closing = t.kind === 'mark' && ')]}'.includes(t.text);
  const comma = t.kind === 'mark' && (t.text === ',' || t.text === '-');
  const joins = t.kind === 'word' && /^(?:and|then)$/.test(t.text) && i > first;
  if (!hard && !closing && !comma && !joins) return null;
  // "on the 6th, 8th and 10th rounds"
  const nths = (k: number): boolean => passage.tokens[k]?.kind === 'ordinal';
  if ((comma || joins) && nths(i - 1) && nths(i + 1) && shapesBefore(passage, i, first))
    return null;
  if (t.text === '-' && (!t.spaced || !passage.tokens[i + 1]?.spaced)) return null;
  if (hard || closing)
    while (passage.tokens[next]?.text === '*' && !passage.tokens[next].spaced) next++;
  if (!joins) while (/^(?:and|then|,)$/.test(passage.tokens[next]?.text ?? '') && !hard) next++;
  return { next, hard, closing, comma };
}

/** Tokens looked through for the verb of a list of rounds. Chosen. */
const VERB_NEAR = 24;

/** "Decrease … on the 6th": a verb of shaping stands before in the sentence. */
function shapesBefore({ tokens }: Passage, i: number, first: number): boolean {
  for (let k = i - 1; k >= first && i - k < VERB_NEAR && !/^[.;:]$/.test(tokens[k].text); k--)
    if (DECREASE_WORDS.has(tokens[k].text) || INCREASE_WORDS.has(tokens[k].text)) return true;
  return false;
}

/** Nothing but "and then" stands between two tokens. */
export function onlyJoins(passage: Passage, from: number, to: number): boolean {
  for (let i = from; i < to; i++)
    if (!/^(?:and|then|now|,)$/.test(passage.tokens[i].text)) return false;
  return true;
}

/** More brackets are opened than closed between two tokens. */
export function opensMore(passage: Passage, from: number, to: number): boolean {
  let depth = 0;
  for (let i = to - 1; i >= from && to - i < 120; i--) {
    const { text } = passage.tokens[i];
    if (text === ')' || text === ']') depth++;
    else if ((text === '(' || text === '[') && --depth < 0) return true;
  }
  return false;
}

/** Most tokens of a bracket's rest. Chosen: bounds the time. */
const LONGEST_REST = 40;

/** Token `at` stands in a bracket that opens behind `from` and closes before `end`. */
export function withinBracket(passage: Passage, from: number, at: number, end: number): boolean {
  if (!opensMore(passage, from, at)) return false;
  let depth = 0;
  for (let i = at; i < end && i - at < LONGEST_REST; i++) {
    const { text } = passage.tokens[i];
    if (text === '(' || text === '[') depth++;
    else if ((text === ')' || text === ']') && --depth < 0) return true;
  }
  return false;
}
