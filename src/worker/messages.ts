/**
 * What the page and the worker tell each other. Every job has a number; the page drops answers to
 * jobs that it no longer wants.
 *
 * The page sends `KnitRequest`; the worker answers it with one `Read` (the plan) and one `LaidOut` (its sheet before it
 * relaxes), then `Progress` as often as the picture can follow, on the way perhaps `Judged` (the verdict, where it stands
 * before the sheet has come to lie), then `Rested` (the sheet where it came to rest
 * or was stopped, with its verdict) and `Done` (its advice, which takes trying), or at any point `Failed`.
 * `DraftRequest` is answered by any number of `Drafting` and then exactly one of `Drafted` or `Failed`.
 */
import type { GradeSpec } from '../draft/rework/grade-spec.ts';
import type { SpecInput } from '../draft/spec/draft-spec.ts';
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { Gauge } from '../gauge/gauge/gauge.ts';
import type { Metric } from '../gauge/metric.ts';
import type { DraftTrial, MeasuredDraft, MeasuredGrade } from '../knit.ts';
import type { Plan } from '../plan/plan.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import type { Report } from '../report/report.ts';

/** The sheet before it relaxes. */
export interface LaidSheet {
  readonly plan: Plan;
  readonly graph: StitchGraph;
  readonly cells: Cells;
  readonly gauge: Gauge;
  readonly metric: Metric;
}

/** The finished result: the sheet at rest and what it says. */
export interface KnittedSheet extends LaidSheet {
  readonly sheet: RelaxedSheet;
  readonly report: Report;
}

/** A state at rest to start from, if the loops still hang together the same way. */
export interface Previous {
  readonly graph: StitchGraph;
  /** [3·vertices] mm, and how it lay on the table; null where that is not known. */
  readonly positions: Float64Array;
  readonly lying: Float64Array | null;
}

export interface KnitRequest {
  readonly type: 'knit';
  readonly job: number;
  readonly text: string;
  readonly previous: Previous | null;
  /** Whether advice is wanted besides the verdict. */
  readonly advise: boolean;
  /** Holds the number of the job to stop; null where the page may not share memory. */
  readonly stopFlag: Int32Array | null;
}

/** The text as it was read, mistakes and all. */
export interface Read {
  readonly type: 'read';
  readonly job: number;
  readonly plan: Plan;
}

/** The sheet of the plan that was read: the plan itself is not sent twice. */
export interface LaidOut {
  readonly type: 'laid-out';
  readonly job: number;
  readonly laid: Omit<LaidSheet, 'plan'>;
}

export interface Progress {
  readonly type: 'progress';
  readonly job: number;
  readonly iteration: number;
  readonly residual: number;
  readonly energy: number;
  /** [3·vertices] mm; transferred. */
  readonly positions: Float32Array;
}

/** The verdict of the sheet that was laid out, at rest in the air; it holds however the sheet comes to lie. */
export interface Judged {
  readonly type: 'judged';
  readonly job: number;
  /** Without advice and how it lies; `riseMm` is that in the air. */
  readonly report: Report;
}

/** The sheet that was laid out, at rest: what was told of it then is not sent twice. */
export interface Rested {
  readonly type: 'rested';
  readonly job: number;
  readonly sheet: RelaxedSheet;
  /** Without advice. */
  readonly report: Report;
}

export interface Done {
  readonly type: 'done';
  readonly job: number;
  /** The report of the rested sheet, with advice. */
  readonly report: Report;
}

export interface Failed {
  readonly type: 'failed';
  readonly job: number;
  /** For the user, in words. */
  readonly message: string;
}

export interface DraftRequest {
  readonly type: 'draft';
  readonly job: number;
  readonly spec: SpecInput;
}

/**
 * The plan at other sizes or gauges for one text; answered by a `GradedPlans` after each, the last of them `done`, or
 * by `Failed`.
 */
export interface GradeRequest {
  readonly type: 'grade';
  readonly job: number;
  readonly text: string;
  readonly specs: readonly GradeSpec[];
}

export interface GradedPlans {
  readonly type: 'graded';
  readonly job: number;
  /** In the order asked, as far as they are. */
  readonly graded: readonly MeasuredGrade[];
  readonly done: boolean;
}

export interface Drafting {
  readonly type: 'drafting';
  readonly job: number;
  readonly trial: DraftTrial;
}

export interface Drafted {
  readonly type: 'drafted';
  readonly job: number;
  readonly draft: MeasuredDraft;
}

export type ToWorker = KnitRequest | DraftRequest | GradeRequest;
export type FromWorker =
  | Read
  | LaidOut
  | Progress
  | Judged
  | Rested
  | Done
  | Failed
  | Drafting
  | Drafted
  | GradedPlans;
