/**
 * Words of an instruction that mean nothing here. Input: a cursor at such a word. Output: the cursor behind
 * it, and a diagnostic with the likeliest meaning; words that follow one another are one mistake.
 */
import type { Abbreviations } from '../../lexicon/abbreviations.ts';
import { EVERYDAY } from '../../lexicon/everyday.ts';
import { nearestWord } from '../../lexicon/suggestions.ts';
import { remarkEnd, wordsInstruct } from '../leftovers.ts';
import type { StepCursor } from './step-cursor.ts';
import { readStitch } from './stitch-words.ts';

const WORD = /[^\s,;()[\]{}*]+/y;
const REST_OF_PHRASE = /[^,;.()[\]{}*\n]{0,160}/y;
const PLACE = /[^,;()[\]{}*\n.]{0,80}/y;
/** A number behind a word is its count. */
const COUNT = /\s*\d{1,7}(?=\s*(?:sts?\b|[,;.)\]]|$))(?:\s*sts?\b)?/y;
const REPEAT_WORDS =
  /^(?:times?|to|before|after|until|around|across|of|from|more|x|marker|end|rep|repeat)$/;
const AS_FOR_EXAMPLE =
  'Say it as for example: (k2, p2) 4 times, k to last 2 sts, k to 2 sts before marker.';

/** What parts a clause from what stands before it. */
const SET_OFF = /(?:[,;:.(-]|\b(?:and|but))\s*$/;

const PART_OF_IT =
  /\b(?:over|on|for|in|across) (?:only )?(?:the |1 |one )?(?:first |second |last |other )?half\b/;

/** A clause among the stitches that asks for nothing: "so that it lies flat"; the cursor behind it. */
export function readRemark(cursor: StepCursor): boolean {
  const { text, i } = cursor;
  const end = remarkEnd(text, i, SET_OFF.test(text.slice(Math.max(0, i - 6), i)));
  // "slipping markers over the first half" leaves the rest out.
  if (end === i || readStitch(text, i) || PART_OF_IT.test(text.slice(i, end))) return false;
  cursor.i = end;
  cursor.asides++;
  return true;
}

/** `at`: where the step began that could not be read; a number of times before it may have been. */
export function readUnknown(cursor: StepCursor, at: number, abbreviations: Abbreviations): void {
  const m = cursor.match(WORD);
  if (!m) {
    cursor.i = at + 1;
    return;
  }
  const word = m[0].replace(/[.:'"!?-]+$/, '');
  if (!/[a-z0-9]/.test(word)) return;
  cursor.unread++;
  // Words that follow one another without anything readable are one mistake.
  const goesOn = cursor.unknownTo >= 0 && cursor.text.slice(cursor.unknownTo, at).trim() === '';
  cursor.unknownTo = cursor.i;
  if (goesOn) return;
  if (/^(?:to|until|before|after)$/.test(word)) {
    // A place that isn't known is one mistake, numbers and all.
    cursor.match(PLACE);
    const place = cursor.text.slice(at, cursor.i).trim();
    const message = `"${place}" is no place that is known here`;
    cursor.say('error', 'unknown-word', at, message, AS_FOR_EXAMPLE);
    return;
  }
  const wordEnd = cursor.i;
  const near = nearestWord(word, abbreviations.names());
  const phrase = word + (cursor.match(REST_OF_PHRASE)?.[0] ?? '');
  const several =
    near === null && /^[a-z0-9'" -]+$/.test(phrase) && phrase.trim().split(' ').length >= 3;
  if (several) {
    if (!wordsInstruct(phrase)) return;
    const message = `this was not followed: "${phrase.trim()}"`;
    cursor.say('error', 'words-not-followed', at, message, AS_FOR_EXAMPLE);
    return;
  }
  if (near === null && EVERYDAY.has(word) && !wordsInstruct(phrase)) return;
  cursor.i = wordEnd;
  const hint =
    near !== null
      ? `Perhaps ${near} is meant.`
      : REPEAT_WORDS.test(word)
        ? AS_FOR_EXAMPLE
        : `If it is a stitch of your own, explain it: Abbreviation: ${word} = …`;
  cursor.say('error', 'unknown-word', at, `"${word}" is no stitch that is known here`, hint);
  cursor.match(COUNT);
}
