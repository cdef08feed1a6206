/**
 * What a word of plan text is to the eye: a stitch and how it changes the count, a marker, how far or how often, an edge.
 * In: a line in lower case, a place in it. Out: the role and where the words end; null for words that are none of it.
 */
import { readStitch } from '../grammar/steps/stitch-words.ts';
import { stitchKind } from '../stitches/table.ts';
import { regex } from './expression.ts';
import {
  DECREASE_WORDS,
  EDGE_VERBS,
  EXTENT_WORDS,
  INCREASE_WORDS,
  MARKER_STEPS,
  MARKER_VERBS,
  MARKER_WORDS,
  REPEAT_VERBS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
  WORK_VERBS,
} from './words.ts';

export type WordRole = 'decrease' | 'increase' | 'cable' | 'plain' | 'marker' | 'extent' | 'edge';

export interface RoleOfWords {
  readonly role: WordRole;
  /** Behind the last character. */
  readonly end: number;
}

const WORD = /[a-z][a-z0-9]*/y;

function wordAt(line: string, at: number): string {
  WORD.lastIndex = at;
  return WORD.exec(line)?.[0] ?? '';
}

export function roleAt(line: string, at: number): RoleOfWords | null {
  const word = wordAt(line, at);
  const end = at + word.length;
  if (MARKER_STEPS.has(word) || (word.length > 1 && MARKER_WORDS.has(word)))
    return { role: 'marker', end };
  const next = wordAt(line, end + 1);
  if (MARKER_VERBS.has(word) && MARKER_WORDS.has(next))
    return { role: 'marker', end: end + 1 + next.length };
  if (EDGE_VERBS.has(word))
    return { role: 'edge', end: next === 'on' || next === 'off' ? end + 1 + next.length : end };
  if (REPEAT_VERBS.has(word) || EXTENT_WORDS.has(word)) return { role: 'extent', end };
  const read = readStitch(line, at);
  if (read) return { role: stitchRole(read.name), end: read.end };
  if (DECREASE_WORDS.has(word)) return { role: 'decrease', end };
  if (INCREASE_WORDS.has(word)) return { role: 'increase', end };
  return WORK_VERBS.has(word) ? { role: 'plain', end } : null;
}

function stitchRole(name: string): WordRole {
  const kind = stitchKind(name);
  if (!kind) return 'plain';
  if (kind.crossing) return 'cable';
  const change = kind.loops.length - kind.consumes;
  return change < 0 ? 'decrease' : change > 0 ? 'increase' : 'plain';
}

const of = (...sets: readonly ReadonlySet<string>[]): string =>
  sets.flatMap((set) => [...set]).join('|');
const NUMBERS = '\\s*\\d+(?:\\s*(?:-|–|—|to|and|&|,)\\s*\\d+)*';

/** A label of a round at the beginning of a line. */
export const ROUND_LABEL = regex.i`^[ \t]*(?:set-?up\s+)?(?:${of(ROUND_WORDS, ROW_WORDS)}|r(?=\s*\d))\.?(?:${NUMBERS})?(?:\s*\((?:rs|ws)\))?(?=\s*[:.)])`;

const STS = `(?:${of(STITCH_WORDS)})\\.?`;
/** A count that is stated: "(88 sts)", "- 88 sts". */
export const STATED_COUNT = regex.i`^(?:\(\s*\d+\s*${STS}\s*\)|\[\s*\d+\s*${STS}\s*\]|[-–—]\s*\d+\s*${STS}(?![a-z]))`;
