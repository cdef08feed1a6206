/**
 * The Report: what a knitter wants to know about a plan, as numbers and words. Pure; made from the
 * plan, its graph and metric (`reportPlan`) and, once relaxed, the sheet (`reportSheet`).
 * Lengths mm, angles degrees; this is the shape of `--json` and of what the page shows.
 */

import type { Diagnostic } from '../plan/plan.ts';
import type { StopReason } from '../relax/relaxed-sheet.ts';
import type { Closing } from './closing.ts';
import type { ShortRowShape } from './short-row-shape.ts';
import type { Verdict } from './verdict.ts';

export interface RoundReport {
  /** Working order, 1-based. */
  readonly n: number;
  /** `Round 3 (round 1 again)`: its place, with what the text calls it. */
  readonly label: string;
  /** Stitches on the needles after the round. */
  readonly stitches: number;
  /** Of a short row: stitches made in it; the others wait on the needles. */
  readonly worked?: number;
  /** Colour that it is worked in (`MC`, `colour B`), where the text tells any. */
  readonly colour?: string;
  readonly decreases: number;
  readonly increases: number;
  readonly crossings: number;
  /** Stitches to lose (outside in) or gain (centre out) in this round, on average, to lie flat. */
  readonly budget: number;
  /** What the plan loses or gains here, averaged over its own decrease period. */
  readonly rate: number;
  /** How the round fares against its budget. */
  readonly pace: 'right' | 'slow' | 'fast';
}

export interface Advice {
  /** What to do, in a knitter's words. */
  readonly text: string;
  /** Average rounds between shaping rounds that would lie flat; null where no schedule is advised. */
  readonly every: number | null;
  /** The whole plan with the advice followed, as text; null where nothing can be rewritten. */
  readonly planText: string | null;
  /** Rounds concerned, working order, inclusive. */
  readonly fromRound: number;
  readonly toRound: number;
}

/** The part of the report that needs no relaxation. */
export interface PlanReport {
  readonly version: 1;
  readonly title: string;
  readonly worked: 'round' | 'flat';
  readonly castOn: number;
  /** Stitches cast on besides and taken up by closing the ring. */
  readonly castOnForJoin: number;
  readonly rounds: readonly RoundReport[];
  /** Stitches on the needles at the end. */
  readonly last: number;
  /** The centre that is drawn up at the end; null where none is. */
  readonly closing: Closing | null;
  readonly crossings: number;
  readonly diagnostics: readonly ReportedDiagnostic[];
  readonly metric: {
    readonly stitchMm: number;
    readonly roundMm: number;
    readonly ground: string;
    readonly origin: string;
  };
  /** Corners: lines of stacked shaping, or pairs of them with a narrow panel between; 0 for spread shaping or none. */
  readonly corners: number;
  /** Stitches of the rim by which a panel along it cuts off each corner; 0 where none does. */
  readonly cutStitches: number;
  readonly shape: string;
  /** How the cables narrow the widest cabled course; null without crossings. */
  readonly pullIn: PullIn | null;
  /** What short rows do to the piece; null where it has none. */
  readonly shortRows: ShortRowShape | null;
  readonly yarn: { readonly lengthM: number; readonly massG: number; readonly origin: string };
}

export interface PullIn {
  /** Narrower than without crossings, mm a side (the whole course where there are no corners). */
  readonly sideMm: number;
  /** The same as a share of that side, percent. */
  readonly percent: number;
  /** Ground stitches a side that make up for it. */
  readonly stitches: number;
  /** Where it was measured, working order; 0 is the cast-on. */
  readonly round: number;
  /** Pull-in at the cast-on or outer edge, mm a side: 0 where the edge itself is not cabled, so it bows. */
  readonly rimMm: number;
  /** The same as a share of the edge's side, percent. */
  readonly rimPercent: number;
}

export interface ReportedDiagnostic {
  readonly code: string;
  readonly severity: Diagnostic['severity'];
  readonly message: string;
  readonly hint: string;
  readonly line: number;
  readonly column: number;
}

export interface Lying {
  /** Share of the piece that touches the table. */
  readonly touching: number;
  readonly converged: boolean;
  /** Weight of the fabric, g/m², and its in-plane stiffness, N/m, by yarn and gauge: an estimate. */
  readonly gramsPerM2: number;
  readonly stiffnessNPerM: number;
}

/** How wide and long an open piece lies, turned to where it is narrowest. */
export interface Extents {
  /** Along the cast-on, or nearer to it, mm. */
  readonly widthMm: number;
  readonly lengthMm: number;
  /** Farthest from one point of the edge to another, mm. */
  readonly cornersMm: number;
}

/** How long round a tube is, laid out, and how high it stands, mm. */
export interface TubeSize {
  /** Its shortest round and its longest. */
  readonly leastMm: number;
  readonly mostMm: number;
  readonly heightMm: number;
}

export interface Blocked {
  /** Side (or diameter) with the strain shared between the rounds, mm. */
  readonly sideMm: number;
  /** How much that stretches (+) or gathers (−) the rim, percent. */
  readonly rimStretchPercent: number;
  /** Greatest strain anywhere, percent. */
  readonly mostStrainPercent: number;
}

export interface SheetReport {
  readonly verdict: Verdict;
  /** Why, in a sentence or two. */
  readonly reasons: readonly string[];
  /** Total angle round the centre that the rounds make; 360 lies flat. */
  readonly coneAngleDeg: number;
  /** How far from flat as a whole, share of a full turn; 0 where it lies flat by itself. */
  readonly misfit: number;
  /** Rim too long (+) or too short (−) for a flat piece, mm. */
  readonly surplusRimMm: number;
  /** Mean side of the relaxed rim laid out; the diameter of a disc; the whole rim of an open piece (see `extents`). */
  readonly sideMm: number;
  /** Of an open flat piece, seen from above; null for all that is closed. */
  readonly extents: Extents | null;
  /** Of a tube; null for all else. */
  readonly tube: TubeSize | null;
  /**
   * Of a closed piece with sides, seen from above, mm: from side to side through the middle, or the narrowest width where
   * no side has another opposite; null for all else.
   */
  readonly acrossMm: number | null;
  /** Highest minus lowest point as it lies on a table, mm; of a piece that was not laid on one, in the air. */
  readonly riseMm: number;
  /** The same in the air, without weight, along the mean normal. */
  readonly weightlessRiseMm: number;
  /** On the table by its own weight; null where that was not worked out (tubes, very large pieces). */
  readonly lying: Lying | null;
  /** Pinned out flat and dried; null for pieces that do not turn about a centre. */
  readonly blocked: Blocked | null;
  readonly relaxation: {
    readonly converged: boolean;
    readonly reason: StopReason;
    readonly iterations: number;
    readonly residual: number;
    readonly energy: number;
    readonly ms: number;
  };
  readonly advice: readonly Advice[];
}

export type Report = PlanReport & SheetReport;
