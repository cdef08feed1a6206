/**
 * The Plan: what the designer's text means, stitch by stitch.
 *
 * Input of everything later; made by `parse.ts`, written back by `write/`.
 * Counts are stitches, lengths are mm, lines and columns are 1-based.
 * A Plan is readonly, structured-cloneable and complete: it can hold mistakes (in `diagnostics`),
 * and then every round still has consistent counts, as far as they could be worked out.
 */
import { isUnworked, type StitchKind } from './stitches/stitch-kind.ts';

export interface TextPosition {
  /** 1-based line of the plan text. */
  readonly line: number;
  /** 1-based column (UTF-16 unit) of that line. */
  readonly column: number;
}

export type Severity = 'error' | 'warning' | 'note';

/** A mistake or remark about the plan text, in a knitter's words. */
export interface Diagnostic {
  /** Stable kebab-case identifier, e.g. `too-many-stitches-worked`. */
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly from: TextPosition;
  /** End, exclusive. */
  readonly to: TextPosition;
  /** What most likely helps; empty where nothing is known. */
  readonly hint: string;
}

/** Fabrics whose gauge differs. `reverse` is reverse stockinette (same size as stockinette). */
export type FabricName =
  | 'stockinette'
  | 'reverse'
  | 'garter'
  | 'rib 1x1'
  | 'rib 2x2'
  | 'seed'
  | 'cable';

/** One `Gauge:` header line. */
export interface GaugeStatement {
  /** Fabric that the line names; null where it names none: then it is the ground of this plan. */
  readonly fabric: FabricName | null;
  /** Width of one stitch along the round, mm. */
  readonly stitchMm: number;
  /** Height of one round or row, mm; null where the line gives stitches only. */
  readonly roundMm: number | null;
  readonly at: TextPosition;
}

/** `Yarn:` header. Fields are null where the line does not say. */
export interface YarnStatement {
  readonly text: string;
  /** Standard yarn weight number 0 (lace) … 7 (jumbo). */
  readonly weight: number | null;
  /** Linear density, tex = g/km. */
  readonly tex: number | null;
  readonly ballGrams: number | null;
  readonly ballMetres: number | null;
}

export type JoinMethod = 'plain' | 'crossed' | 'extra';

/** How the piece ends: yarn drawn through the last loops, bound off, or left on the needles. */
export type Ending = 'drawn-up' | 'bound-off' | 'live';

/** One worked round or row, fully expanded. */
export interface PlanRound {
  /** Working order, 1-based: round `n` works the loops that round `n - 1` left. */
  readonly n: number;
  /** As the designer numbered it, e.g. `Round 5` or `Row 2 (WS)`. */
  readonly label: string;
  /** True where the wrong side faces while working (flat work only). */
  readonly wrongSide: boolean;
  /** Stitches on the needles before and after. */
  readonly before: number;
  readonly after: number;
  /** Stitch ids in working order: indices into `Plan.kinds`. Consumes `before`, produces `after`. */
  readonly works: Int16Array;
  /** Count stated in the text, or null. */
  readonly stated: number | null;
  /**
   * Markers on the needle after this round: how many stitches (in working order of this round) lie
   * before each. Ascending; the marker at the beginning of the round (0) is listed only if placed.
   */
  readonly markers: Int32Array;
  /** Where the round's instruction stands in the text; repeats point at the same span. */
  readonly from: TextPosition;
  readonly to: TextPosition;
  /** End of the sentence that has this round worked: for repeats the repeat's, else that of `to`. */
  readonly askedAt?: TextPosition;
  /**
   * A short row: `passed` stitches at its beginning lie behind an earlier turn, and it is turned after
   * `turnedAt` stitches (null: worked to its end). Stitches left are kinds named `unworked`.
   */
  readonly shortRow?: {
    readonly passed: number;
    readonly turnedAt: number | null;
    readonly style: 'wrap' | 'double' | 'plain' | null;
  };
  /** Colour that the round is worked in (`MC`, `CC`, `colour B`, `red`); every round has one where the text tells any. */
  readonly colour?: string;
}

/** Colours of a piece worked in more than one, or in one that the text names. */
export interface PlanColours {
  readonly castOn: string;
  /** Colour that it is bound off in. */
  readonly ending: string;
  /** What a colour looks like, where the text says so: `MC` → `red`. */
  readonly words: Readonly<Record<string, string>>;
}

export interface Plan {
  readonly version: 1;
  /** The text this was read from, unchanged. */
  readonly text: string;
  readonly title: string;
  readonly yarn: YarnStatement | null;
  readonly gauges: readonly GaugeStatement[];
  /** `Needles:` header as written, and the needle diameter in mm if it could be read. */
  readonly needles: { readonly text: string; readonly mm: number | null } | null;
  readonly worked: 'round' | 'flat';
  readonly join: {
    readonly method: JoinMethod;
    /** Half turns of the cast-on before joining; 0 is untwisted, odd is a Möbius band. */
    readonly halfTurns: number;
  };
  /**
   * Edge stitches lost in the seam of flat work that is sewn into a ring: at the beginning and the
   * end of right-side rows. `null`: not seamed (in the round, or a plain swatch).
   */
  readonly seam: { readonly begin: number; readonly end: number } | null;
  /** Number of equal sides where the text says or implies it, else null. */
  readonly sides?: number | null;
  /** Sizes that the text is for, with the loops that each casts on; absent where it is for one. */
  readonly sizes?: {
    readonly names: readonly string[];
    /** Index of the size that this plan follows. */
    readonly chosen: number;
    readonly castOns: readonly number[];
  };
  /** Loops cast on. */
  readonly castOn: number;
  /**
   * Markers placed while casting on: loops cast on before each; 0 is the beginning of the round.
   * Flat work turns before its first row, so there they come from the other end.
   */
  readonly castOnMarkers?: readonly number[];
  readonly castOnAt: TextPosition;
  readonly rounds: readonly PlanRound[];
  /** Absent where the text tells no colour of a round. */
  readonly colours?: PlanColours;
  readonly ending: Ending;
  /** Every stitch kind that the plan uses; `PlanRound.works` indexes this list. */
  readonly kinds: readonly StitchKind[];
  readonly diagnostics: readonly Diagnostic[];
}

/** Stitches that are cast on over `castOn` and taken up by closing the ring. */
export function joinStitches({ worked, join, castOn }: Pick<Plan, 'worked' | 'join' | 'castOn'>) {
  return worked === 'round' && join.method === 'extra' && castOn > 0 ? 1 : 0;
}

/** Stitches on the needles when the last round is worked. */
export function stitchesAtEnd({ castOn, rounds }: Pick<Plan, 'castOn' | 'rounds'>): number {
  return rounds.at(-1)?.after ?? castOn;
}

/** True where the plan has at least one error (not just warnings and notes). */
export function hasErrors(plan: Plan): boolean {
  return plan.diagnostics.some((d) => d.severity === 'error');
}

/** True where the plan can be simulated: it has a round, and no errors. */
export function isSimulable(plan: Plan): boolean {
  return !hasErrors(plan) && plan.castOn > 0 && plan.rounds.length > 0;
}

/** Loops that a round makes: those on the needles after it, less those that wait behind a turn. */
export function madeBy(
  { kinds }: Pick<Plan, 'kinds'>,
  { after, works, shortRow }: PlanRound,
): number {
  if (!shortRow) return after;
  return works.reduce((made, id) => made - (isUnworked(kinds[id]) ? 1 : 0), after);
}

/** True where rows turn before their end. */
export function hasShortRows(plan: Plan): boolean {
  return plan.rounds.some((round) => round.shortRow !== undefined);
}
