/** What `relax` and `compare` let the user say about the solver, and the same handed to it. */
import type { Command } from 'commander';
import type { KnitOptions } from '../knit.ts';
import type { Io } from './io.ts';
import { parseCount, parsePositive, parseSeed, parseTolerance } from './option-values.ts';
import type { ProgressLine } from './progress.ts';
import { addRestOption, type RestChoice } from './rest.ts';

export interface SolverChoices extends RestChoice {
  readonly seed?: number;
  readonly tolerance?: number;
  readonly maxSteps?: number;
  readonly maxSeconds: number;
}

/** Longest solve that is waited for, s. Chosen: ordinary squares take seconds. */
const MAX_SECONDS = 300;

export function addSolverOptions(command: Command): Command {
  return addRestOption(command)
    .option('--seed <n>', 'seed of the small push that looks for a lower shape', parseSeed)
    .option('--tolerance <share>', 'force left at rest', parseTolerance)
    .option('--max-steps <n>', 'give up after so many steps', parseCount)
    .option('--max-seconds <s>', 'give up after so many seconds', parsePositive, MAX_SECONDS);
}

export function solverOptions(
  choices: SolverChoices,
  io: Io,
  progress: ProgressLine,
  what: string,
): KnitOptions {
  const start = io.now();
  return {
    ...(choices.seed !== undefined && { seed: choices.seed }),
    ...(choices.tolerance !== undefined && { tolerance: choices.tolerance }),
    ...(choices.maxSteps !== undefined && { maxIterations: choices.maxSteps }),
    clock: io.now,
    onProgress: ({ iteration, residual }) => {
      progress.show(() => `${what}: step ${iteration}, force left ${residual.toExponential(1)}`);
      return io.now() - start > choices.maxSeconds * 1000;
    },
  };
}
