/**
 * What each column of a table of rounds tells: its rounds, yarns, stitches, counts of all or of a part, how often, remarks. In: the
 * cells of its head and rows. Out: the columns' roles, and how many parts share the count.
 */
import { COLOUR_SHADES, COLOUR_WORDS } from '../lexicon/colour-words.ts';
import { numberWords } from './numbers.ts';

/** `72`, `64, 56, 48`, `16 / 64`, `64 (16 per side)` */
export const COUNT =
  /^=?\s*\d{1,6}(?:\s*(?:,|\/|;|-|,?\s*(?:then|and))\s*\d{1,6}){0,30}\s*(?:sts?|stitches|m)?\.?(?:\s*\(\d[^()]{0,40}\))?$/i;
const SHARE =
  /\b(?:per|each|every|a|on|one|1)\b.*\b(?:needle|needles|ndl|dpn|side|section|half|tip|quarter|wedge|segment|panel|part|repeat|pattern|sector|motif)s?\b|\bper\b|\beach\b/i;
export const SHARED_WORK =
  /\b(?:needles?|ndls?|dpns?|sides?) 1 ?(?:-|–|to) ?[2-8]\b|\b(?:each|every|per|both|all)\b.*\b(?:needle|ndl|dpn|side|section|half|halves|tip|quarter|wedge|segment|panel|part|repeat|corner|pattern|sector|motif)s?\b|\b(?:one|1|a|each) (?:needle|side|section|quarter|wedge|segment|repeat|pattern|sector)$|\b(?:work(?:ed)?|repeat(?:ed)?|knit)\b.*\b(?:\d{1,2}|twice|two|three|four|five|six|eight) times\b/i;
/** "Work in each of the 6 patterns", "Work 4 times" */
const PARTS_TOLD =
  /\b(\d{1,2})[ ]?[x×](?![a-z])|\b(?:each|all|every)(?: one)?(?: of)?(?: the)? (\d{1,2}|two|three|four|five|six|seven|eight|nine|ten)\b|\b(\d{1,2}|two|three|four|five|six|seven|eight|nine|ten) times\b/i;
/** `4 x`, `x 4`, `(4 times)` in a head */
export const TIMES_TOLD = /\b\d{1,2}[ ]?(?:x|×|times)(?![a-z])|(?<![a-z])[x×][ ]?\d{1,2}\b/i;
/** One part by its name alone. */
const ONE_PART = /^(?:side|needle|section|quarter|repeat)$/i;
/** `18 / 72`: of one part, and of all. */
export const SHARE_AND_ALL = /^(\d{1,5})\s*\/\s*(\d{1,6})$/;
/** A yarn by its letter, in a column of its own. */
export const YARN = /^(?:[A-H]|MC|CC\d?)$/;
const COLOURS = /^(?:(?:in )?colou?rs?|yarns?|shades?|wools?|col\.?|threads?)$/i;
/** What is worked, among other words. */
const STITCHES =
  /\b(?:k|p|knit|purl|k2tog|ssk|skp|yo|tog|together|sl|slip|dec\w*|inc\w*|as|like|plain|rep|repeat)\b|\b[kp] ?\d/i;
export const NEEDLE = /^(?:n|ndls?|needles?|dpns?|sides?|tips?)\.?[ ]*#?(\d)$/i;
const REMARKS = /^(?:notes?|remarks?|comments?|tips?|hints?|why|done)$/i;
export const TIMES = /^(?:times|x|×|repeats?|how often|no\.? of times|worked)$/i;
/** What sort of round it is, beside its stitches: "plain", "decrease". */
const SORT =
  /^(?:(?:plain|even|straight|shap(?:ed?|ing)|set[- ]?up|foundation|corners?|dec(?:rease|reasing)?s?|inc(?:rease|reasing)?s?)(?: (?:round|rnd|row))?|)$/i;
export type Role =
  | 'round'
  | 'sort'
  | 'colour'
  | 'work'
  | 'shared'
  | 'total'
  | 'share'
  | 'needle'
  | 'times'
  | 'remark';

export interface Cell {
  readonly from: number;
  readonly to: number;
}

export interface Row {
  readonly cells: readonly Cell[];
  readonly words: readonly string[];
}

export interface Table {
  readonly mark: string;
  readonly roles: readonly Role[];
  readonly needles: readonly number[];
  /** Parts that share the count of all, in most of the rows; 0 where none do. */
  readonly parts: number;
}

export function columns(head: readonly string[], rows: readonly Row[]): Omit<Table, 'mark'> {
  const cellsOf = (i: number): string[] =>
    rows.map((r) => r.words[i] ?? '').filter((w) => w !== '' && !/^[-–—]$/.test(w));
  const numeric = head.map((_, i) => {
    const found = cellsOf(i);
    return (
      i > 0 && found.length > 0 && found.filter((w) => COUNT.test(w)).length >= 0.8 * found.length
    );
  });
  const needles = head.map((h) => Number(NEEDLE.exec(h)?.[1] ?? 0));
  const total = numeric.reduce(
    (best, yes, i) =>
      yes && !needles[i] && !TIMES.test(head[i]) && (best < 0 || !shares(head[i])) ? i : best,
    -1,
  );
  // "Side" over RS and WS names none.
  const told = (i: number): boolean => cellsOf(i).some((w) => /\d|knit|purl/i.test(w));
  const text = textColumns(head, cellsOf);
  const roles = head.map((h, i): Role => {
    if (i === 0) return 'round';
    if (REMARKS.test(h)) return 'remark';
    const part = SHARED_WORK.test(h) || TIMES_TOLD.test(h) || (ONE_PART.test(h) && told(i));
    if (!numeric[i]) return needles[i] ? 'needle' : part ? 'shared' : text[i];
    if (TIMES.test(h)) return 'times';
    return i !== total || shares(h) ? 'share' : 'total';
  });
  const shareAt = roles.indexOf('share');
  const quotients = rows.map(({ words }) => {
    const both = SHARE_AND_ALL.exec(words[total] ?? '');
    if (both && shareAt < 0) return Number(both[2]) / Number(both[1]);
    return countIn(words[total]) / countIn(words[shareAt]);
  });
  const often = (n: number): number => quotients.filter((q) => q === n).length;
  const parts = quotients
    .filter((q) => Number.isInteger(q) && q > 0 && q <= 12)
    .reduce((best, q) => (often(q) > often(best) ? q : best), 0);
  const sharedAt = roles.indexOf('shared');
  const inHead = shareAt < 0 && sharedAt >= 0 ? partsTold(head[sharedAt]) : 0;
  return { roles, needles, parts: inHead || (total === shareAt ? 0 : parts) };
}

/** Of several columns of words the one that tells stitches; yarns may stand before it, chat behind it. */
function textColumns(
  head: readonly string[],
  cellsOf: (i: number) => readonly string[],
): readonly ('colour' | 'sort' | 'work' | 'remark')[] {
  const stitchy = head.map((_, i) => {
    const cells = cellsOf(i);
    if (i === 0) return 0;
    const told = cells.filter((w) => STITCHES.test(w)).length / Math.max(1, cells.length);
    return cells.every((w) => SORT.test(w)) ? told / 2 : told;
  });
  const most = Math.max(...stitchy);
  const work = stitchy.indexOf(most);
  return head.map((h, i) => {
    const cells = cellsOf(i);
    const yarns = COLOURS.test(h) || cells.every((w) => isColour(w));
    if (i > 0 && i < work && yarns && cells.length > 0) return 'colour';
    if (i > 0 && i !== work && most > 0 && cells.every((w) => SORT.test(w))) return 'sort';
    return i > work && most > 0.5 && stitchy[i] < 0.3 ? 'remark' : 'work';
  });
}

/** "dark blue", "cream": by plain words. */
export function isColour(cell: string): boolean {
  const said = cell.toLowerCase().split(' ');
  return said.every((w) => COLOUR_WORDS.has(w) || COLOUR_SHADES.has(w));
}

function partsTold(head: string): number {
  const told = PARTS_TOLD.exec(head);
  const word = told?.[1] ?? told?.[2] ?? told?.[3] ?? '';
  return Number(numberWords(word)[0]?.text ?? word) || 0;
}

/** All counts of a cell, without what a bracket says besides. */
export function countsIn(word: string | undefined): number[] {
  return ((word ?? '').replace(/\(.*/, '').match(/\d+/g) ?? []).map(Number);
}

export function countIn(word: string | undefined): number {
  return Number.parseInt((word ?? '').replace('=', ''), 10) || 0;
}

function shares(head: string): boolean {
  return SHARE.test(head) && !/\b(?:all|total|round)\b/i.test(head);
}
