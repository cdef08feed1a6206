/**
 * The instruction tree of one round as the designer wrote it: what `step-reader.ts` reads and
 * `expand.ts` works. `from` and `to` are places in the normalised text (`source.ts`).
 */
import type { Remark } from '../../diagnostics.ts';
import type { Place } from '../../lex/source.ts';
import { stitchKind } from '../../stitches/table.ts';
import type { StatedCount } from './stated-counts.ts';

/** Where a run of stitches or a repeat stops. */
export interface Target {
  /**
   * `end`: `count` stitches before the end of the round (inside a bracket that is worked for every
   * side: the end of that side). `marker`: `count` stitches before the next marker. `rest`: where the
   * stitches begin that the following steps need. `next`: after `count` stitches. `centre`: `count`
   * stitches before the middle stitch of the row, or in the round of the side (the middle gap, if the count is even). `turn`: `count`
   * stitches before the place where a short row was turned. `knit`, `purl`: before the next stitch that faces so.
   */
  readonly kind: 'end' | 'marker' | 'rest' | 'next' | 'centre' | 'turn' | 'knit' | 'purl';
  readonly count: number;
  /** The corner stitch is meant: a marked one where some are, else the first or the middle one of a side. */
  readonly corner?: true;
}

/** How often or how far a step is worked. */
export type Amount = { readonly times: number } | Target;

export interface StitchStep extends Place {
  readonly kind: 'stitch';
  /** Canonical name, see `stitches/table.ts`. */
  readonly name: string;
  readonly amount: Amount;
  /** What the words can mean instead: "inc 1" is a stitch of its own, or made of the one below. */
  readonly otherName?: string;
  /** The number of times stands behind a comma: "k13, k2tog, 6 times" may mean all the stitches before it. */
  readonly afterComma?: boolean;
}

/**
 * `set`: as set; `knits`: knit the knits and purl the purls; `seed`: the opposite of that; `rib`: as set where ribbing is on
 * the needles, else as told, or as the last ribbing was.
 */
export type PatternRule =
  | 'set'
  | 'rib'
  | 'twisted rib'
  | 'knits'
  | 'seed'
  | 'garter'
  | 'stockinette'
  | 'reverse'
  /** Knitted or purled, the yarn overs of the round below through their back loops. */
  | 'k, yo tbl'
  | 'p, yo tbl';

export interface PatternStep extends Place {
  readonly kind: 'pattern';
  readonly rule: PatternRule;
  /** Knit and purl stitches of a ribbing that is told. */
  readonly rib?: readonly [number, number];
  readonly amount: Amount;
  /** "decreasing on rounds 6, 8 and 10": the numbers of those that shape. */
  readonly shapesOn?: readonly number[];
}

export interface GroupStep extends Place {
  readonly kind: 'group';
  readonly steps: readonly Step[];
  readonly amount: Amount;
  /** Other number of times that the wording can mean ("repeat from * 3 times"), else null. */
  readonly otherTimes: number | null;
  /** What the words can mean instead, worked once. */
  readonly otherSteps?: readonly Step[];
  /** One of several parts ("Needle 1: …") that share the round equally. */
  readonly part?: boolean;
  /** Worked once for every side, whose number the plan knows. */
  readonly eachSide: boolean;
  /** How many sides its words give the round: "on each of the 4 needles". */
  readonly sides?: number;
}

export interface MarkerStep extends Place {
  readonly kind: 'marker';
  /** `mark`: into the stitch that was worked last. */
  readonly action: 'place' | 'slip' | 'remove' | 'mark';
  /** The stitch that is worked next is marked, and not the last one. */
  readonly ahead?: true;
  /** Stitches of the finished round, counted from 1, behind or into which markers are hung. */
  readonly at?: readonly number[];
  /** … and from there on so many stitches apart; without `at` the last stands at the end of the round. */
  readonly every?: number;
}

/** `decrease 8 sts evenly`: spread over the round, worked with `name` between plain stitches. */
export interface SpreadStep extends Place {
  readonly kind: 'spread';
  readonly name: string;
  readonly times: number;
  /** The stitch between them where the words name it: "purl, decreasing 8 sts evenly". */
  readonly plain?: 'k' | 'p';
}

/** How the stitch at a turn is kept from leaving a hole. */
export type TurnStyle = 'wrap' | 'double' | 'plain';

/** Turning in the middle of a row: a short row. */
export interface TurnStep extends Place {
  readonly kind: 'turn';
  readonly style: TurnStyle;
}

export type Step = StitchStep | PatternStep | GroupStep | MarkerStep | SpreadStep | TurnStep;

/** What is read of one round's instruction. */
export interface ReadInstruction {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  /** Words that could not be read: the text is perhaps no instruction at all. */
  readonly unread: number;
  /** Some of them are errors, so that the count cannot be trusted. */
  readonly failed: boolean;
  /** The text ends in the middle of something. */
  readonly unfinished: boolean;
  /** Some wording would need to know where the instruction stops: "repeat from * to end" and so on. */
  readonly hasStitches: boolean;
  /** Colour that the round is worked in, where it says so. */
  readonly colour: string | null;
  /** Mistakes met while reading. */
  readonly remarks: readonly Remark[];
  /** Brackets that tell numbers and hold no stitches. */
  readonly tells?: readonly Place[];
}

/** A stitch at either end, the pattern so far between them; `wide`: stitches that the last one works. */
export function betweenEdges(
  first: string | null,
  last: string,
  wide: number,
  { from, to }: Place,
  times = 1,
): Step[] {
  const stitch = (name: string): Step => ({ kind: 'stitch', name, amount: { times }, from, to });
  const amount = { kind: 'end', count: wide } as const;
  const middle: Step = { kind: 'pattern', rule: 'set', amount, from, to };
  return [...(first === null ? [] : [stitch(first)]), middle, stitch(last)];
}

/** A decrease or an increase at either end, or `many` of them side by side: the stitch that is told, else ssk and k2tog, or kfb (common practice). */
export function shapedAtEnds(
  decrease: boolean,
  at: Place,
  stitch: string | null = null,
  many = 1,
): Step[] {
  const [first, last] = stitch ? [stitch, stitch] : decrease ? ['ssk', 'k2tog'] : ['kfb', 'kfb'];
  const inset = stitch === null ? 0 : insetOf(stitch);
  const wide = many * (stitchKind(last)?.consumes ?? 1);
  const edge = (): Step[] =>
    inset > 0 ? [{ kind: 'stitch', name: 'k', amount: { times: inset }, ...at }] : [];
  return [...edge(), ...betweenEdges(first, last, wide + inset, at, many), ...edge()];
}

/** A strand to lift lies between two stitches of the side (common practice); another stitch may stand at its very end. */
export function insetOf(stitch: string): 0 | 1 {
  return /^m1/.test(stitch) ? 1 : 0;
}

export function isTarget(amount: Amount): amount is Target {
  return 'kind' in amount;
}
