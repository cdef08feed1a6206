/**
 * Numbers in words, which the source turns into digits before anything is read: "ninety-six", "one hundred and
 * twenty". In: the designer's text. Out: places and values.
 */
import { regex } from '../lexicon/expression.ts';

const UNITS =
  'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');
const VALUES = new Map<string, number>([
  ...UNITS.map((w, i) => [w, i + 1] as const),
  ...TENS.map((w, i) => [w, 20 + 10 * i] as const),
]);

const small = UNITS.slice(0, 9).join('|');
/** Regular-expression source of a number below a hundred in words. */
export const NUMBER_WORD = `(?:(?:${TENS.join('|')})(?:[ -](?:${small}))?|${[...UNITS].reverse().join('|')})`;
const NUMBER = regex.gi`(?<![a-z0-9])(?:((?:${small}|a)[ -])?(hundred)(?:(?: and)? (${NUMBER_WORD}))?|(${NUMBER_WORD}))(?![a-z0-9])`;

/** "ninety-six" is 96. */
export function valueOfWords(words: string): number {
  let sum = 0;
  for (const word of words.toLowerCase().split(/[ -]/)) sum += VALUES.get(word) ?? 0;
  return sum;
}

/** "first" to "twelfth" */
export const ORDINALS: ReadonlyMap<string, number> = new Map(
  'first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth'
    .split(' ')
    .map((word, i) => [word, i + 1]),
);

/** "third" and "3rd" are 3; NaN for other words. */
export const nthOf = (word: string): number => ORDINALS.get(word) ?? Number.parseInt(word, 10);

/** "thirtieth", "twenty-first" are 30 and 21, and so are "thirty" and "twenty-one". */
export function valueOfNth(words: string): number {
  let sum = 0;
  for (const word of words.toLowerCase().split('-'))
    sum += ORDINALS.get(word) ?? valueOfWords(word.replace(/ieth$/, 'y').replace(/th$/, ''));
  return sum;
}

/** A stretch of the text that stands for other characters. */
export interface Replacement {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const SOMEBODY =
  /^\s(?:obtains?|gets?|has|casts|can|should|must|works|may|will|does|knits|continues|begins|then|reaches|arrives)\b/;

export function numberWords(text: string): Replacement[] {
  const out: Replacement[] = [];
  for (const m of text.matchAll(NUMBER)) {
    const hundreds = m[2] ? 100 * (m[1] && !/^a/i.test(m[1]) ? valueOfWords(m[1].trim()) : 1) : 0;
    const rest = m[3] ?? m[4];
    const value = hundreds + (rest ? valueOfWords(rest) : 0);
    // "One obtains 20 sts": somebody, no number.
    if (/^one$/i.test(m[0]) && SOMEBODY.test(text.slice(m.index + 3, m.index + 16))) continue;
    out.push({ from: m.index, to: m.index + m[0].length, text: String(value) });
  }
  return out;
}

/** The text with its number words in digits. */
export function inDigits(text: string): string {
  let out = text;
  for (const { from, to, text: digits } of numberWords(text).reverse())
    out = out.slice(0, from) + digits + out.slice(to);
  return out;
}

/** `VII` is 7, up to 39; null for anything else. */
export function romanValue(letters: string): number | null {
  const m = /^(X{0,3})(IX|IV|V?I{0,3})$/.exec(letters);
  if (!m || letters === '') return null;
  const units = ['', 'I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII', 'IX'].indexOf(m[2]);
  return 10 * m[1].length + units;
}

/** Regular-expression source of one number; longer than seven digits is no count of stitches. */
export const NUM = '(?:\\d{1,7}(?!\\d))';
