/**
 * The plan text prepared for reading: a lower-case copy with plain punctuation in which runs of spaces
 * and other separators are shortened (so that no wording can make reading slow), a map from each of
 * its characters to the original, and the line starts, so that any place becomes the line and column
 * of what the designer typed.
 */
import type { TextPosition } from '../plan.ts';
import { castOnSums } from './cast-on-sums.ts';
import { classesOfRounds } from './classes-of-rounds.ts';
import { cornerStitches } from './corner-stitches.ts';
import { hardWraps } from './hard-wraps.ts';
import { labelsBehind } from './labels-behind.ts';
import { leadPhrases } from './lead-phrases.ts';
import { listsOfRounds } from './lists-of-rounds.ts';
import { namesBehind, roundsInOrder, tellingsApart } from './names-explained.ts';
import { namesUsed, type Twice } from './names-used.ts';
import { inDigits, numberWords, type Replacement } from './numbers.ts';
import { ownWords } from './own-words.ts';
import { partsOfRounds } from './parts-of-rounds.ts';
import { passageMarks } from './passage-marks.ts';
import { inOrder, type Replaced, readAs, replaced } from './replaced.ts';
import { roundsByOneNumber } from './rounds-by-one-number.ts';
import { roundsInPoints } from './rounds-in-points.ts';
import { rowsCalledNeedles } from './rows-called-needles.ts';
import { sameForAll } from './same-for-all.ts';
import { schedules } from './schedules.ts';
import { chosenNumbers, linesOfSomeSizes, ofAllSizes, type Sizes, sizesIn } from './sizes.ts';
import { soOftenInFront } from './so-often-in-front.ts';
import { plainTables } from './tables.ts';
import { translated } from './translators.ts';
import { otherWordings } from './wordings.ts';
import { yarnNames } from './yarn-names.ts';

/** Some part of `source.norm`: its first character, and the one behind its last. */
export interface Place {
  readonly from: number;
  readonly to: number;
}

export interface Source {
  readonly text: string;
  /** Lower case, plain dashes, quotes and asterisks, single spaces, `\n` line ends. */
  readonly norm: string;
  /** [norm.length + 1] offset in `text` of each character of `norm`. */
  readonly map: Int32Array;
  /** Offset in `text` of each line's first character. */
  readonly lineStarts: readonly number[];
  /** Several sizes that the text is for; null where it is for one. */
  readonly sizes: Sizes | null;
  /** Yarns that the text calls by names of its own: `ownyarn1` is the first. */
  readonly yarns: readonly string[];
  /** Names that are told in two ways; places in `text`. */
  readonly toldTwice: readonly Twice[];
}

/** What characters are read as: the first of each stretch stands for the others. */
const PLAIN = new Map(
  [
    '-‐‑‒–—―−',
    "'‘’‚′",
    ' `_\t\v\f',
    '"“”„″',
    'x×✕✖⨯',
    '*∗＊✱⁎★☆',
    ',，、',
    ';；',
    ':：»→⇒',
    '(（',
    ')）',
    '[［',
    ']］',
    '/／⁄∕',
    '=＝|',
    '•·▪◦‣●☐☑✓✔□■▢➤►▶◆◇❖',
    '.…',
  ].flatMap(([plain, ...others]) => others.map((c) => [c, plain] as const)),
);

function plainCharacter(c: string): string {
  const known = PLAIN.get(c);
  if (known !== undefined) return known;
  if (/\s|[\u200b-\u200f\u2060\ufeff]/.test(c)) return ' ';
  if (c >= '０' && c <= '９') return String.fromCharCode(c.charCodeAt(0) - 0xff10 + 0x30);
  const lower = c.toLowerCase();
  return lower.length === 1 ? lower : c;
}

/** Longest run of separators that is kept; more of them mean nothing more. Chosen. */
const LONGEST_GAP = 6;

/** `**Round 1:** knit`: marks of bold type around a label are no asterisks of a repeat. */
const BOLD = /^([ \t>•*-]*(?:\d{1,3}[.)][ \t]+)?)(\*{2,3})([^*\n]{1,80})\2(?=[\s:.,-]|$)/gm;

/** `Cast on **96** sts`, `*24* per side`: marks of bold type or italics within a sentence, around a number or plain words. */
const EMPHASIS =
  /(?<=^|[\s(])(\*{1,3})(?![\s*])((?:\d{1,4}(?: ?(?:sts?|stitches|rounds?|rnds?|rows?|cm|mm|in|g))?|(?!(?:[kp]|knit|purl|slip|sl|ssk|skp|yo|inc|dec|rep)\b)[a-z][a-z' -]{1,60}|\d{1,4} [a-z' -]{2,40}))\1(?=[\s.,;:)]|$)(?!\s*(?:\d|x\b|rep|around|to\b|times|[;,]\s*rep))/gim;

/** `st(s)`, `rnd(s)`: one or several, which makes no difference. Same length, so that places hold. */
const OPTIONAL_PLURAL = /\b(st|rnd|row|round|time|marker|stitch|repeat)\((s|es)\)/gi;

/** "tog.,", "rep. from *", "sts.)": a full stop that only shortens its word. */
const SHORTENED =
  /\b(?<![a-z]\.)(sl|tog|rep|inc|dec|sts?|rnds?|rds?|rem|beg|alt|foll|patt|cont|yo|yfwd|psso|tbl|rib|k|p|m|pw|kw)\.(?=[ ]*[,;:)])/gi;
const SHORTENED_INSIDE =
  /\b(?:([Tt]og|TOG|psso|PSSO|[Ss]l)\.(?=[ ]+[a-z(])|([Ss]ts?|[Rr]nds?)\.(?=[ ]+(?:just|before|from|of|on|over|remain|to|in|with|tog|each|at|is|are|and|away|made|only|left)))/g;

/** `p.s.s.o.`, `y.o.`, `W.S.`: letters with full stops are one word. */
const DOTTED_LETTERS =
  /(?<![A-Za-z0-9.])(?:[A-Za-z]\.){2,}(?![A-Za-z0-9])([ ]+[A-Z]|[ ]*(?:\n|$))?/g;

function joinedLetters(text: string): Replacement[] {
  return [...text.matchAll(DOTTED_LETTERS)].map((m) => {
    const letters = m[0].slice(0, m[0].length - (m[1]?.length ?? 0));
    const word = letters.replaceAll('.', '') + (m[1] === undefined ? '' : '.');
    return { from: m.index, to: m.index + letters.length, text: word };
  });
}

/** "four (4) times", "4 times (four)": the number in brackets says it again. */
const TWICE = /\b([a-z]+|\d+)( times)?[ ]?\(([a-z]+|\d+)\)/gi;

function saidTwice(text: string): Replacement[] {
  return readAs(text, TWICE, ([, first, times, second]) => {
    const value = inDigits(first);
    if (/^\d+$/.test(first) === /^\d+$/.test(second) || value !== inDigits(second)) return null;
    return /^\d+$/.test(value) ? `${value}${times ?? ''}` : null;
  });
}

/** Fractions as they are said behind and without a whole number. */
const FRACTIONS: Readonly<Record<string, string>> = Object.fromEntries(
  '¼.25 ½.5 ¾.75 ⅓.33 ⅔.67 ⅛.125 ⅜.375 ⅝.625 ⅞.875'.split(' ').map((f) => [f[0], f.slice(1)]),
);

/** Same length: marks that mean nothing here become spaces. */
function prepared(original: string): string {
  const plain = plainTables(original)
    // Marks that markdown escapes: "\\*".
    .replace(/\\(?=[*_#()[\].-])/g, ' ')
    .replace(OPTIONAL_PLURAL, (_: string, word: string, s: string): string => `${word}${s}  `)
    // "K. 10, k. 2 tog.": a full stop that shortens the word; "1st rd. P. 2nd rd. K.": one that ends a round.
    .replace(
      /\b(?<![A-Za-z]\.)([KkPp]|[Ss]l|[Mm])\.(?=[ ]*\d|[ ]+[a-z])(?![ ]*\d+(?:st|nd|rd|th) (?:r(?:oun)?ds?|rnds?|rows?)\b)/g,
      '$1 ',
    )
    .replace(SHORTENED, '$1 ')
    .replace(SHORTENED_INSIDE, '$1$2 ')
    // Rows of dots lead to a count at the end, or from a label to its text.
    .replace(
      /\.{3,}(?=[ \t]*\d{1,5}[ ]*(?:sts?|stitches)?\.?[ \t]*$)/gim,
      (dots: string): string => `=${' '.repeat(dots.length - 1)}`,
    )
    .replace(/\.{4,}/g, (dots: string): string => `:${' '.repeat(dots.length - 1)}`);
  const quoted = plain.replace(
    /["“]([^"“”\n]{2,60})["”](?=\s*(?:rep(?:eat)?\b|\d+\s*times|x\s*\d))/g,
    '($1)',
  );
  const sober = quoted.replace(
    EMPHASIS,
    (_: string, mark: string, inner: string): string =>
      `${' '.repeat(mark.length)}${inner}${' '.repeat(mark.length)}`,
  );
  // "Repeat from ** to **": those asterisks are no bold type.
  if (/\b(?:from|between)(?: the)? \*{2,3}/i.test(sober)) return sober;
  return sober.replace(BOLD, (all: string, lead: string, mark: string, inner: string): string =>
    /[:.]\s*$|^\s*(?:round|rnd|row|cast|co\b|next|set|repeat|bind)/i.test(inner)
      ? `${lead}${' '.repeat(mark.length)}${inner}${' '.repeat(mark.length)}`
      : all,
  );
}

/** Stretches of the text that are read as other characters, in order and without overlaps. */
function replacementsIn(text: string, sizes: Sizes | null): Replacement[] {
  const lists = sizes
    ? [...linesOfSomeSizes(text, sizes), ...chosenNumbers(sizes), ...ofAllSizes(text)]
    : [];
  const all = [
    ...saidTwice(text),
    ...numberWords(text),
    ...joinedLetters(text),
    ...classesOfRounds(text),
    ...castOnSums(text),
    ...partsOfRounds(text),
    ...otherWordings(text),
    ...lists,
  ];
  return inOrder(all);
}

/** The text with its own words read as those of the trade. */
function inTradeWords(text: string): Replaced & { readonly yarns: readonly string[] } {
  const { inserted, removed } = labelsBehind(text);
  const { names: yarns, words: named } = yarnNames(text);
  const own = [
    ...ownWords(text),
    ...passageMarks(text),
    ...named,
    ...leadPhrases(text),
    ...schedules(text),
    ...soOftenInFront(text),
    ...listsOfRounds(text),
    ...roundsByOneNumber(text),
    ...roundsInPoints(text),
    ...sameForAll(text),
    ...rowsCalledNeedles(text),
    ...cornerStitches(text),
  ];
  const words = [...inserted, ...inOrder([...own, ...removed])];
  words.sort((a, b) => a.from - b.from || a.to - b.to);
  return { ...replaced(text, words), yarns };
}

/** `size`: index of the size to follow where the text is for several; null leaves it to the text. */
export function readSource(original: string, size: number | null = null): Source {
  const whole = replaced(original, hardWraps(original));
  const said = translated(whole.text);
  const ready = prepared(said.text);
  const lined = replaced(
    ready,
    inOrder([...tellingsApart(ready), ...roundsInOrder(ready), ...namesBehind(ready)]),
  );
  const plain = lined.text;
  const { words, twice } = namesUsed(plain);
  const named = replaced(plain, inOrder(words));
  const { text, places, yarns } = inTradeWords(named.text);
  const sizes = sizesIn(text, size);
  const replacements = replacementsIn(text, sizes);
  let r = 0;
  const lineStarts = [
    0,
    ...Array.from(original.matchAll(/\r\n|\r|\n/g), (m) => m.index + m[0].length),
  ];
  // A fraction becomes up to five characters.
  const fractions = text.match(/[¼½¾⅓⅔⅛⅜⅝⅞]/g)?.length ?? 0;
  const longer = replacements.reduce((n, r) => n + Math.max(0, r.text.length - r.to + r.from), 0);
  const map = new Int32Array(text.length + 1 + 4 * fractions + longer);
  const out: string[] = [];
  let gap = 0;
  for (let i = 0; i < text.length; i++) {
    const other = r < replacements.length && replacements[r].from === i ? replacements[r++] : null;
    if (other) {
      const { length } = other.text;
      for (let k = 0; k < length; k++) {
        map[out.length] = k > 0 && k + 1 === length ? other.to - 1 : Math.min(i + k, other.to - 1);
        out.push(other.text[k].toLowerCase());
      }
      gap = 0;
      i = other.to - 1;
      continue;
    }
    const code = text.charCodeAt(i);
    let c: string;
    const fraction = code > 127 ? FRACTIONS[text[i]] : undefined;
    if (fraction !== undefined) {
      // "7 ½" and "7½" are 7.5.
      if (out[out.length - 1] === ' ' && /\d/.test(out[out.length - 2] ?? '')) out.pop();
      const whole = /\d/.test(out[out.length - 1] ?? '');
      for (const part of whole ? fraction : `0${fraction}`) {
        map[out.length] = i;
        out.push(part);
      }
      gap = 0;
      continue;
    }
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) c = '\n';
    else if (code >= 97 && code <= 122) c = text[i];
    else if (code >= 32 && code < 124 && code !== 95 && code !== 96) c = text[i].toLowerCase();
    else c = plainCharacter(text[i]);

    if (c === '"' && !/\d\s?$/.test(`${out[out.length - 2] ?? ''}${out[out.length - 1] ?? ''}`))
      c = ' ';
    if (c === ' ' && (out.length === 0 ? false : out[out.length - 1] === ' ')) continue;
    if (c === ' ' || c === '-' || c === ',' || c === ';' || c === '.') {
      gap++;
      if (gap > LONGEST_GAP) continue;
    } else if (c !== '\n') gap = 0;
    map[out.length] = i;
    out.push(c);
  }
  map[out.length] = text.length;
  for (const moved of [places, named.places, lined.places, said.places, whole.places])
    if (moved) for (let i = 0; i <= out.length; i++) map[i] = moved[map[i]];
  const typed = (at: number): number => {
    const apart = lined.places?.[at] ?? at;
    const before = said.places?.[apart] ?? apart;
    return whole.places?.[before] ?? before;
  };
  return {
    text: original,
    norm: out.join(''),
    map: map.slice(0, out.length + 1),
    lineStarts,
    sizes,
    yarns,
    toldTwice: twice.map(({ from, to, name }) => ({
      from: typed(from),
      to: typed(to - 1) + 1,
      name,
    })),
  };
}

/** 1-based line and column of a place in `source.text`. */
export function lineAndColumn(source: Source, offset: number): TextPosition {
  let low = 0;
  let high = source.lineStarts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (source.lineStarts[middle] <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: offset - source.lineStarts[low] + 1 };
}

/** 1-based line and column of a place in `source.norm`; beyond the text gives its end. */
export function positionAt(source: Source, at: number): TextPosition {
  const place = Math.max(0, Math.min(at, source.norm.length));
  return lineAndColumn(source, source.map[place]);
}

/** Position just behind the last character before `at` in `source.norm`. */
export function endPositionAt(source: Source, at: number): TextPosition {
  const place = Math.max(0, Math.min(at, source.norm.length));
  if (place === 0) return lineAndColumn(source, 0);
  const end = source.map[place - 1] + 1;
  // A line's end of two characters is passed whole.
  const within = source.text[end - 1] === '\r' && source.text[end] === '\n';
  return lineAndColumn(source, within ? end + 1 : end);
}

/** The place `at` without white space at its end. */
export function trimmed(source: Source, at: Place): Place {
  let { to } = at;
  while (to > 0 && /\s/.test(source.norm[to - 1])) to--;
  return { from: at.from, to };
}
