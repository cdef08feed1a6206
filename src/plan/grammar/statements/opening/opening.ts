/**
 * What is said between the cast-on and the first round: stitches shared over needles and sides, markers, how the
 * round is joined. In: rules of this folder fill it. Out: the opening, and what its shares come to.
 */
import type { Join, SetUp } from '../../ast.ts';
import { leavesOut } from '../../limits.ts';
import type { MarkersHung } from '../../markers-hung.ts';
import type { Named, Numbers, Rule } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { isStitchWord } from '../../word-law.ts';

export interface Opening {
  /** Stitches cast on, one number for each time the words cast on. */
  cast: number[];
  /** The number that a sentence puts on in words of its own, until it is met. */
  putOn: number | null;
  /** So many parts of so many stitches; parts null where they are not said. */
  readonly shares: { readonly parts: number | null; readonly each: number }[];
  /** Counts of all the stitches. */
  readonly totals: number[];
  /** Needles or sides that share the stitches equally. */
  parts: number | null;
  /** Stitches of one needle after the other. */
  readonly listed: number[];
  /** Stitches besides the equal shares: for a seam. */
  extra: number;
  markers: SetUp['markers'];
  roundMarker: boolean;
  /** Markers hung in stitches. */
  readonly hungIn: MarkersHung[];
  /** Markers behind so many stitches of a list ("20 sts, pm, 20 sts"). */
  readonly marked: number[];
  /** How often the words before are cast on again in all. */
  times: number | null;
  joins: boolean;
  join: Join | null;
  joinExtra: 'of-them' | 'besides' | null;
  /** How many of the last stitches (one, or none) are worked together with the first, or lifted over it. */
  takesLast: number;
}

export function emptyOpening(): Opening {
  return {
    cast: [],
    putOn: null,
    shares: [],
    totals: [],
    parts: null,
    listed: [],
    extra: 0,
    markers: null,
    roundMarker: false,
    hungIn: [],
    marked: [],
    times: null,
    joins: false,
    join: null,
    joinExtra: null,
    takesLast: 0,
  };
}

export type OpeningRule = Rule<Opening>;

/** Keeps the numbers of a rule by their names. */
export function keeps(o: Opening, _n: Numbers, _c: TokenCursor, named: () => Named): void {
  const { each, parts, listed, total, every, extra } = named();
  if (each) o.shares.push({ parts: parts?.[0] ?? null, each: each[0] });
  else if (parts && parts[0] > 1) o.parts ??= parts[0];
  if (listed) o.listed.push(...listed);
  if (total) o.totals.push(...total);
  if (every) o.markers = { every: every[0] };
  if (extra) o.extra += extra[0];
}

/** The shares, those of needles told apart with their number of needles. */
export function sharesOf(o: Opening): Opening['shares'] {
  return o.shares.map((s) => (s.parts === null && o.parts !== null ? { ...s, parts: o.parts } : s));
}

/**
 * The rest of the clause, up to a mark or "and": words of care, which ask for no stitch. False where they leave some of
 * the work out.
 */
export function restOfClause(c: TokenCursor): boolean {
  const from = Math.max(0, c.i - 3);
  for (let n = 0; n < 24 && !c.done; n++) {
    const t = c.peek();
    if (!t || t.kind === 'number' || (t.kind === 'mark' && t.text !== '-' && t.text !== "'")) break;
    if (/^(?:and|then|join|place|placing|divide|pm|purl|knit|repeat)$/.test(t.text)) break;
    if (isStitchWord(t)) break;
    // "pull a loop out between sts 48 and 49"
    if (/^(?:between|after|before|to|with)$/.test(t.text) && (c.isNumber(1) || c.isNumber(2)))
      break;
    c.i++;
  }
  return !leavesOut(c.slice(from, c.i));
}
