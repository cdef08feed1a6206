/** A result that is not at rest is no result to knit from: exit code 1, unless the user takes it as it is. */
import type { Command } from 'commander';
import type { Session } from './command.ts';
import { EXIT_PLAN_ERRORS } from './usage-error.ts';

export interface RestChoice {
  readonly acceptUnrested?: boolean;
}

export function addRestOption(command: Command): Command {
  return command.option(
    '--accept-unrested',
    'exit code 0 also where something did not come to rest in the time given',
  );
}

/** To be told of every relaxation that a command's output rests on. */
export function mustBeAtRest(
  { exitWith }: Pick<Session, 'exitWith'>,
  { acceptUnrested }: RestChoice,
  relaxation: { readonly converged: boolean },
): void {
  if (!relaxation.converged && !acceptUnrested) exitWith(EXIT_PLAN_ERRORS);
}
