/**
 * One job: plan text → plan → laid-out sheet → progress → result, told through `post`. Calls the same flow
 * as the headless command; runs in the worker, and in tests without one.
 */
import type { GradeSpec } from '../../draft/rework/grade-spec.ts';
import { loadOf, weightOf } from '../../flow/prepare.ts';
import {
  canRelax,
  type DraftTrial,
  draftMeasured,
  gradeToSize,
  type MeasuredGrade,
  prepare,
  relax,
  shareSchedule,
} from '../../knit.ts';
import { PlanReader, parsePlan } from '../../plan/parse.ts';
import { KeptSolver } from '../../relax/solver/kept-solver.ts';
import { lengthWords } from '../../report/words/length.ts';
import type { DraftRequest, FromWorker, GradeRequest, KnitRequest } from '../messages.ts';
import { knownRest, type Rested, warmStart } from './warm-start.ts';

export interface JobSurroundings {
  readonly post: (message: FromWorker, transfer?: Transferable[]) => void;
  /** Milliseconds from any origin. */
  readonly clock: () => number;
}

/** Fifteen pictures a second: the eye follows, and posting stays cheap. Chosen. */
const PROGRESS_EVERY_MS = 66;

/** Five trials a second can be read. Chosen. */
const TRIAL_EVERY_MS = 200;

/** How high a draft or a grading rises is not shown before it is knitted. */
const UNLAID = { unlaid: true };

/** The text comes again with each edit: lines that stand again are not read again. */
const reader = new PlanReader();

/** An edit that leaves the loops as they hang goes on with the solver of the sheet before. */
const kept = new KeptSolver();

/** The last sheet that came to rest here: the next text may well be of the same fabric. */
let last: Rested | null = null;

export function runJob(request: KnitRequest, { post, clock }: JobSurroundings): void {
  const { job, stopFlag } = request;
  try {
    const plan = reader.read(request.text);
    post({ type: 'read', job, plan });
    if (!canRelax(plan)) {
      post({ type: 'failed', job, message: whyNot(plan) });
      return;
    }
    const prepared = prepare(plan);
    const { graph, cells, gauge } = prepared;
    const { metric } = prepared.measured;
    post({ type: 'laid-out', job, laid: { graph, cells, gauge, metric } });
    const load = loadOf(prepared, weightOf(prepared));
    const known = knownRest(last, request.previous, metric, load);
    let toldAt = Number.NEGATIVE_INFINITY;
    const { report } = relax(prepared, {
      clock,
      known,
      kept,
      load,
      advise: request.advise,
      onJudged: (report) => post({ type: 'judged', job, report }),
      onRested: ({ sheet, report: verdict }) => {
        last = { metric, load, sheet };
        post({ type: 'rested', job, sheet, report: verdict });
      },
      ...warmStart(request.previous, graph, metric),
      onProgress: ({ iteration, residual, energy, positions }) => {
        if (stopFlag && Atomics.load(stopFlag, 0) >= job) return true;
        const now = clock();
        if (now - toldAt >= PROGRESS_EVERY_MS) {
          toldAt = now;
          const copy = Float32Array.from(positions);
          post({ type: 'progress', job, iteration, residual, energy, positions: copy }, [
            copy.buffer,
          ]);
        }
        return undefined;
      },
    });
    post({ type: 'done', job, report });
  } catch (error) {
    post({ type: 'failed', job, message: failureWords(error) });
  }
}

/** Wishes → plan text. A wish that cannot be met is `failed` with the wish's own words. */
export function runDraft({ job, spec }: DraftRequest, surroundings: JobSurroundings): void {
  const { post } = surroundings;
  try {
    const draft = draftMeasured(spec, tellTrials(job, surroundings), UNLAID);
    post({ type: 'drafted', job, draft });
  } catch (error) {
    const message = error instanceof RangeError ? error.message : failureWords(error);
    post({ type: 'failed', job, message });
  }
}

function tellTrials(job: number, { post, clock }: JobSurroundings): (trial: DraftTrial) => void {
  let toldAt = Number.NEGATIVE_INFINITY;
  return (trial) => {
    // Relaxing takes longest: it is always told.
    if (trial.doing === 'timing' && clock() - toldAt < TRIAL_EVERY_MS) return;
    toldAt = clock();
    post({ type: 'drafting', job, trial });
  };
}

/** The plan at other sizes or gauges; `failed` with the words of what cannot be graded. */
export function runGrade(request: GradeRequest, surroundings: JobSurroundings): void {
  const { job, text, specs } = request;
  const { post } = surroundings;
  const onTrial = tellTrials(job, surroundings);
  try {
    const plan = parsePlan(text);
    if (!canRelax(plan)) {
      post({ type: 'failed', job, message: whyNot(plan) });
      return;
    }
    const graded: MeasuredGrade[] = [];
    for (const spec of specs) {
      if (graded.length > 0) post({ type: 'graded', job, graded, done: false });
      graded.push(named(spec, specs.length, () => gradeToSize(plan, spec, UNLAID, onTrial)));
    }
    post({ type: 'graded', job, graded: shareSchedule(plan, specs, graded, UNLAID), done: true });
  } catch (error) {
    const message = error instanceof RangeError ? error.message : failureWords(error);
    post({ type: 'failed', job, message });
  }
}

/** A size that cannot be had is named where there are several. */
function named<T>({ sizeMm, units = 'cm' }: GradeSpec, sizes: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof RangeError) || sizes === 1) throw error;
    throw new RangeError(`${lengthWords(sizeMm, units)}: ${error.message}`);
  }
}

function whyNot(plan: ReturnType<typeof parsePlan>): string {
  const mistake = plan.diagnostics.find((d) => d.severity === 'error');
  if (mistake) {
    return `The plan has a mistake at line ${mistake.from.line}, column ${mistake.from.column}: ${mistake.message}`;
  }
  return plan.castOn > 0
    ? 'Only the cast-on is there yet: write the first round.'
    : 'Nothing is cast on yet.';
}

function failureWords(error: unknown): string {
  if (error instanceof RangeError && /memory|allocation|array length/i.test(error.message)) {
    return 'This piece is too big for the memory of this browser.';
  }
  const reason = error instanceof Error ? error.message : String(error);
  return `The fabric could not be worked out: ${reason}`;
}
