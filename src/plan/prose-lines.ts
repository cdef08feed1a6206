/**
 * Sentences between the instructions. Prose is left alone, but an instruction among it must not go
 * unnoticed: what asks for stitches and is not followed is said.
 */
import type { DiagnosticList } from './diagnostics.ts';
import { type Place, type Source, sentenceAt, trimmed } from './lex/source.ts';

/** A label that is none of those known. */
const LIKE_ROUND = /^\s*(?:rounds?|rnds?|rows?)\b[^:\n]{0,40}:\s*\S/;
/** Words that ask for stitches to be worked. */
const ASKS =
  /^(?:(?:and|then|now|next)\b[\s,]*)*(?:rep(?:eat)?|cont(?:inue)?|work|knit|purl|dec(?:rease)?|inc(?:rease)?|bind|slip|turn|pick\s+up|k|p|keep|carry|go\s+on)\b|\buntil\b|\b(?:dec|inc)(?:reas)?(?:e|ing)\b|\bevery\s+(?:other|alt|foll|\d)|\d\s+times\b|\bby\s+(?:working|knitting)\b|\btog(?:ether)?\b/;
/** Sentences about the work rather than of it. */
const AFTERWARDS =
  /^working\s+(?:in\s+(?:the\s+)?(?:rounds?|rows)|back\s+and\s+forth|flat)[\s,.]*$|\bas\s+follows\b|:\s*$|\bshould\b|\bmeasures?\b(?!.*\buntil\b)|\bnote\b|\bblock(?:ing)?\b|\bweave\s+in\b|\bpattern\s+(?:is|was)\b|\byou\s+(?:will|can|may|should)\b/;

/** Says so where a line of prose looks like a round or asks for stitches. */
export function checkProse(at: Place, source: Source, found: DiagnosticList): void {
  if (!LIKE_ROUND.test(sentenceAt(source, at))) {
    sayNotFollowed(at, source, found);
    return;
  }
  const { from, to } = trimmed(source, at);
  found.add(
    'warning',
    'line-not-followed',
    from,
    to,
    'this line looks like a round, but its label could not be read, so it is not worked',
    'Write for example: Round 5: knit.',
  );
}

/** Says that a sentence is not followed, unless it asks for nothing. */
export function sayNotFollowed(at: Place, source: Source, found: DiagnosticList): void {
  const text = sentenceAt(source, at).trim();
  if (!ASKS.test(text) || AFTERWARDS.test(text) || text.split(/\s+/).length < 3) return;
  const words = text.length > 60 ? `${text.slice(0, 60).replace(/\s+\S*$/, '')} …` : text;
  const { from, to } = trimmed(source, at);
  found.add(
    'warning',
    'words-not-followed',
    from,
    to,
    `"${words}" is not followed`,
    'Say it round by round, or as for example: Repeat rounds 1 and 2 until 8 sts remain.',
  );
}
