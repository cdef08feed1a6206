/**
 * A piece that cups, ruffles or buckles is none to knit as it is told: exit code 1, unless the user takes it so.
 * In: reports of pieces that a command's output shows or tells how to make. Out: exit code, and why on the error stream.
 */
import type { Command } from 'commander';
import { judgeFabric, prepare } from '../knit.ts';
import type { Plan } from '../plan/plan.ts';
import type { Report } from '../report/report.ts';
import { standsAsTold } from '../report/words/verdict-words.ts';
import type { Session } from './command.ts';
import { progressLine } from './progress.ts';
import { mustBeAtRest, type RestChoice } from './rest.ts';
import { solverOptions } from './solver-options.ts';
import { EXIT_PLAN_ERRORS } from './usage-error.ts';

export interface FlatChoice {
  readonly acceptUnflat?: boolean;
}

/** One piece, or one size of it. */
export interface JudgedPiece {
  /** Empty where there is only one. */
  readonly name: string;
  readonly report: Pick<Report, 'verdict'> & {
    readonly relaxation: { readonly converged: boolean };
  };
}

export function addFlatOption(command: Command): Command {
  return command.option(
    '--accept-unflat',
    'exit code 0 also where the piece does not lie flat: a hat, a bowl',
  );
}

/** To be told of every piece that a command's output is to be knitted from. */
export function mustLieFlat(
  { io, exitWith }: Session,
  { acceptUnflat }: FlatChoice,
  pieces: readonly JudgedPiece[],
): void {
  const standing = pieces.filter(({ report }) => !mayBeKnitted(report));
  if (acceptUnflat || standing.length === 0) return;
  exitWith(EXIT_PLAN_ERRORS);
  for (const { name, report } of standing) {
    const who = name === '' ? 'This piece' : name;
    io.err(`${who} does not lie flat (${report.verdict}): exit code 1. ${ACCEPT}\n`);
  }
}

/** What still moves has no verdict yet: `mustBeAtRest` ends it with 1, unless it is taken as it is. */
function mayBeKnitted({ verdict, relaxation }: JudgedPiece['report']): boolean {
  return !relaxation.converged || standsAsTold(verdict);
}

/** Plans that a command draws or divides without relaxing them itself: relaxed here to be judged. */
export function mustRestFlat(
  session: Session,
  choice: FlatChoice & RestChoice,
  plans: readonly { readonly name: string; readonly plan: Plan }[],
): void {
  const { io } = session;
  const progress = progressLine(io);
  const pieces = plans.map(({ name, plan }) => {
    const solver = solverOptions({ maxSeconds: JUDGE_SECONDS }, io, progress, 'judging');
    const report = judgeFabric(prepare(plan), solver);
    mustBeAtRest(session, choice, report.relaxation);
    return { name, report };
  });
  progress.end();
  mustLieFlat(session, choice, pieces);
}

/** Longest wait for a verdict, s. Chosen: as long as for a size. */
const JUDGE_SECONDS = 60;

const ACCEPT = '--accept-unflat takes it as it is.';
