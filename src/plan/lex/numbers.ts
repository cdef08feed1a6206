/**
 * Numbers as patterns write them: digits, words up to ninety-nine, lists and ranges (`3, 5 and 7–9`).
 * Input is lower-case text with plain dashes (see `source.ts`).
 */
const UNITS =
  'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');

const VALUES = new Map<string, number>();
UNITS.forEach((word, i) => {
  VALUES.set(word, i + 1);
});
TENS.forEach((word, i) => {
  VALUES.set(word, 20 + 10 * i);
});

const words = [...UNITS].sort((a, b) => b.length - a.length).join('|');

/** Regular-expression source of one number; longer than seven digits is no count of stitches. */
export const NUM = `(?:\\d{1,7}(?!\\d)|(?:${TENS.join('|')})(?:[\\s-](?:${words}))?(?![a-z])|(?:${words})(?![a-z])|(?:a\\s)?hundred(?![a-z]))`;

/** Value of a text that `NUM` matched; NaN otherwise. */
export function toNumber(text: string): number {
  if (/^\d+$/.test(text)) return Number(text);
  if (/hundred$/.test(text)) return 100;
  let sum = 0;
  for (const word of text.split(/[\s-]+/)) {
    const value = VALUES.get(word);
    if (value === undefined) return Number.NaN;
    sum += value;
  }
  return sum;
}

/** Regular-expression source of a length without its unit: `12`, `2.5`, `7 3/4`, `1/2`. */
export const LENGTH = '(?:\\d+(?:[.,]\\d+)?(?:[\\s-]+\\d\\/\\d)?|\\d\\/\\d)(?![\\d/])';

/** Value of a text that `LENGTH` matched. */
export function toLength(text: string): number {
  const m = /^(\d+(?:[.,]\d+)?)?(?:[\s-]*(\d)\/(\d))?$/.exec(
    text.replace(/^(\d)\/(\d)$/, '0 $1/$2'),
  );
  if (!m) return Number.NaN;
  const part = m[2] ? Number(m[2]) / Number(m[3]) : 0;
  return Number((m[1] ?? '0').replace(',', '.')) + part;
}

const ORDINALS =
  'first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth'.split(' ');

/** `4th`, `fourth`, `other`/`alternate`/`second` as in "every other round"; NaN otherwise. */
export function toOrdinal(text: string): number {
  if (text === 'other' || text.startsWith('alt')) return 2;
  const at = ORDINALS.indexOf(text);
  if (at >= 0) return at + 1;
  const m = /^(\d+)(?:st|nd|rd|th)?$/.exec(text);
  return m ? Number(m[1]) : Number.NaN;
}

export const ORDINAL = `(?:\\d{1,4}(?:st|nd|rd|th)|other|alternate|alt\\.?|${ORDINALS.join('|')})`;

const NTH_WORD = `(?:\\d{1,4}(?:st|nd|rd|th)|${ORDINALS.join('|')})(?![a-z])`;
/** Regular-expression source of `2nd`, `2nd to 6th`, `2nd, 4th and 6th`. */
export const ORDINAL_LIST = `${NTH_WORD}(?:\\s*(?:-+|,\\s*and\\s|,|&)\\s*(?:${NTH_WORD})|\\s+(?:to|thru|through|and)\\s+(?:the\\s+)?(?:${NTH_WORD}))*`;

/** Numbers of a list that `ORDINAL_LIST` matched; null where a range is absurd. */
export function toOrdinalList(text: string): number[] | null {
  return toNumberList(
    text
      .replace(/(\d+)(?:st|nd|rd|th)/g, '$1')
      .replace(/[a-z]+/g, (w) => (ORDINALS.includes(w) ? String(toOrdinal(w)) : w)),
  );
}

const UNIT_WORD = '(?:rounds?|rnds?|rds?|rows?|r)\\.?\\s*';
/** A number that is not the count of a following "times" or "sts". */
const PLAIN =
  '\\d{1,6}(?!\\d)(?!\\s*(?:more\\s+|further\\s+)?times?\\b)(?!\\s*x\\b)(?!\\s*(?:sts?|stitch(?:es)?)\\b)';
const BETWEEN = '(?:\\s*(?:-+|,\\s*and\\s|,\\s*&|,|&|\\+|/)\\s*|\\s+(?:to|thru|through|and)\\s+)';
/** Regular-expression source of a list of round numbers. */
export const NUMBER_LIST = `${PLAIN}(?:${BETWEEN}(?:${UNIT_WORD})?${PLAIN})*`;

/** Longest list that is spelled out; a longer range is a slip of the pen. Chosen. */
const LONGEST_LIST = 20_000;

/** Numbers of a list that `NUMBER_LIST` matched, in the order written; null where a range is absurd. */
export function toNumberList(text: string): number[] | null {
  const out: number[] = [];
  const token = /\d+|-+|\bto\b|\bthru\b|\bthrough\b/g;
  let range = false;
  for (let m = token.exec(text); m; m = token.exec(text)) {
    if (!/^\d/.test(m[0])) {
      range = true;
      continue;
    }
    const n = Number(m[0]);
    const last = out[out.length - 1];
    if (range && last !== undefined) {
      if (n < last || n - last > LONGEST_LIST) return null;
      for (let i = last + 1; i <= n; i++) out.push(i);
    } else out.push(n);
    if (out.length > LONGEST_LIST) return null;
    range = false;
  }
  return out;
}
