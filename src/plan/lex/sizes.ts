/**
 * Several sizes in one text: `72 (80, 88) sts`, `5[7:7] times`, `70 (84)`. In: the designer's text and the size
 * chosen. Out: how many sizes there are, their names, and every list of numbers with the chosen one.
 */
import { regex } from '../lexicon/expression.ts';
import { NUMBER_WORD, type Replacement, valueOfWords } from './numbers.ts';
import { readAs } from './replaced.ts';

export interface Sizes {
  /** Number of sizes, at least 2. */
  readonly count: number;
  /** Names in order; empty where the text gives none. */
  readonly names: readonly string[];
  /** Index of the size that is followed. */
  readonly chosen: number;
  /** Every list in the text: its place, and the number for each size. */
  readonly lists: readonly {
    readonly from: number;
    readonly to: number;
    readonly values: readonly string[];
  }[];
}

/** "17th (25th, 33rd) stitch" too. */
const NTH = '(?:st|nd|rd|th)?';
const ONE = `(?:[\\d.]+${NTH}|${NUMBER_WORD})`;
const MORE = `${ONE}(?:[ ]*[,:;/][ ]*${ONE})*`;
const LIST = regex.gi`(?<![\d.]|[x×*][ ]?)(\d+(?:\.\d+)?${NTH}|(?<![a-z])${NUMBER_WORD})[ \u00a0]*(?:\((${MORE})\)|\[(${MORE})\])(?!\s*[,;]?\s*x\b)`;
/** `32/36/40`, `six/seven/eight` */
const SLASHED = regex.gi`(?<![\d./a-z])((?:\d+|${NUMBER_WORD})(?:/(?:\d+|${NUMBER_WORD})){2,})(?![\d/a-z])`;
const SAYS_SIZES = /\bsizes?\b|\bto fit\b|\bsmall\b|\badult\b|\bin (?:square |round )?brackets\b/i;
/** "21 [27] sts": both numbers are of what stands behind. */
const COUNTED =
  /^[ ]*(?:sts?|stitch(?:es)?|rows?|rounds?|rnds?|ridges?|times|cms?|mm|in|ins|inch(?:es)?)\b/i;
const CASTS_ON = /\b(?:cast(?:ing)?[\s-]*on|co)\b[^.\n]{0,60}$/i;
const NAMES = /(?:\bsizes?\b|\bto fit\b)[\s:]*([^([\n]{1,30}?)[ ]*[([]([^)\]\n]{1,80})[)\]]/i;
/** "S (M, L)" alone in its line. */
const LETTERED =
  /^[ \t]*((?:x*s|m|small|mini|baby|child|medium|one))[ ]*[([]([^)\]\n\d]{1,80})[)\]][ \t.]*$/im;
const CHOSEN = /^[ \t•*#-]*size[ \t]*:[ \t]*([^\n]{1,30}?)[ \t.]*$/im;
/** Most sizes of one text. Chosen. */
const MOST = 16;

function digits(word: string): string {
  return /^[\d.]/.test(word) ? word : String(valueOfWords(word));
}

/** Null where the text is for one size. `wanted`: index of the size to follow, else the text or the first. */
export function sizesIn(text: string, wanted: number | null): Sizes | null {
  const slashed = SAYS_SIZES.test(text) && /\d\/\d+\/\d/.test(text);
  if (!slashed && !/\d[ ]*[([]\d/.test(text)) return null;
  const found = [...text.matchAll(LIST)]
    .map((m) => ({
      m,
      values: [m[1], ...(m[2] ?? m[3]).split(/[ ]*[,:;/][ ]*/)].map(digits),
    }))
    .filter(({ values }) => !sharesOut(values));
  if (slashed) {
    for (const m of text.matchAll(SLASHED)) found.push({ m, values: m[1].split('/').map(digits) });
  }
  const all = found.map(({ m, values }) => ({
    from: m.index,
    to: m.index + m[0].length,
    values,
    counted: COUNTED.test(text.slice(m.index + m[0].length, m.index + m[0].length + 12)),
    castOn: CASTS_ON.test(text.slice(Math.max(0, m.index - 80), m.index)),
  }));
  // A piece that grows from its centre is cast on with one number for all.
  const count =
    all.find((l) => l.castOn)?.values.length ?? (namesIn(text).length || commonLength(all));
  if (count < 2 || count > MOST || !all.some((l) => l.values.length === count)) return null;
  const some = linesOfSome(text);
  const lists = all.flatMap((l) => {
    if (l.values.length === count) return [l];
    const line = some.find(({ from, to }) => from <= l.from && l.to <= to);
    return line && line.sizes.length === l.values.length
      ? [{ ...l, values: spreadOver(line.sizes, l.values, count) }]
      : [];
  });
  // "CO 120 (30)" alone says nothing of sizes.
  const counted = lists.filter((l) => l.counted).length;
  if (count === 2 && !SAYS_SIZES.test(text) && lists.length < 3 && counted < 2) return null;
  const named = namesIn(text);
  const names = named.length === count ? named : [];
  const said = CHOSEN.exec(text)?.[1].toLowerCase() ?? null;
  let chosen = wanted ?? 0;
  if (wanted === null && said !== null) {
    const at = names.findIndex((n) => n.toLowerCase() === said);
    const n = /^\d+$/.test(said) && at < 0 ? Number(said) - 1 : at;
    if (n >= 0 && n < count) chosen = n;
  }
  return { count, names, chosen: Math.min(Math.max(0, chosen), count - 1), lists };
}

/** "72 (18, 18, 18, 18)": the stitches of each needle, and no sizes. */
function sharesOut([all, ...parts]: readonly string[]): boolean {
  return parts.length > 2 && parts.reduce((sum, n) => sum + Number(n), 0) === Number(all);
}

/** Lists of counts alone that say for how many sizes the text is. Chosen. */
const ENOUGH = 3;

/** How many sizes three lists of counts or lengths agree on; 0 where they do not. */
function commonLength(
  lists: readonly { readonly counted: boolean; readonly values: readonly string[] }[],
): number {
  const lengths = lists.filter((l) => l.counted && l.values.length > 2).map((l) => l.values.length);
  const [first] = lengths;
  return lengths.length >= ENOUGH && lengths.every((n) => n === first) ? first : 0;
}

function namesIn(text: string): string[] {
  const m = NAMES.exec(text) ?? LETTERED.exec(text);
  if (!m) return [];
  const names = [m[1].trim(), ...m[2].split(/\s*[,:;]\s*/)].map((n) => n.trim());
  return names.every((n) => n !== '') ? names : [];
}

/** `Size 2 only: Round 5: …`, `Sizes 2 and 3 only: Round 5: knit. (40 (48) sts)`: a line of one size or some. */
const ONLY =
  /^[ \t]*sizes?[ \t]+(\d{1,2}(?:[ \t]*(?:,|&|-|and|to|[ \t])[ \t]*\d{1,2}){0,15})[ \t]+only[ \t]*:[ \t]*([^\n]*)/gim;

interface LineOfSome {
  /** The line without the words that say whose it is: `begin` to `to`. */
  readonly from: number;
  readonly begin: number;
  readonly to: number;
  /** Sizes that it is for, 0-based, in order. */
  readonly sizes: readonly number[];
}

function linesOfSome(text: string): LineOfSome[] {
  return [...text.matchAll(ONLY)].map(({ index, 0: line, 1: named, 2: rest }) => {
    const to = index + line.length;
    return { from: index, begin: to - rest.length, to, sizes: sizesNamed(named) };
  });
}

/** `2, 3 and 5` and `2 to 4`: 0-based. */
function sizesNamed(words: string): number[] {
  const sizes = new Set<number>();
  for (const [, first, last] of words.matchAll(/(\d+)(?:[ \t]*(?:-|to)[ \t]*(\d+))?/gi))
    for (let n = Number(first); n <= Number(last ?? first); n++) sizes.add(n - 1);
  return [...sizes].sort((a, b) => a - b);
}

/** The numbers of some sizes, each at its own place among all; empty for the others. */
function spreadOver(sizes: readonly number[], values: readonly string[], count: number): string[] {
  return Array.from({ length: count }, (_, size) => values[sizes.indexOf(size)] ?? '');
}

/** Lines of one size or some: left out for the others, else without the words that say so. */
export function linesOfSomeSizes(text: string, { chosen }: Sizes): Replacement[] {
  return linesOfSome(text).map(({ from, begin, to, sizes }) => ({
    from,
    to: sizes.includes(chosen) ? begin : to,
    text: '',
  }));
}

/** The lists with the number of the chosen size alone. */
export function chosenNumbers(sizes: Sizes): Replacement[] {
  return sizes.lists.map(({ from, to, values }) => ({ from, to, text: values[sizes.chosen] }));
}

/** "(for all sizes)": said of every size, and nothing of the one that is read. */
export function ofAllSizes(text: string): Replacement[] {
  return readAs(text, /\b(?:for|in) (?:all|every|each) sizes?\b/gi, '');
}
