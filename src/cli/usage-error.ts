/**
 * Wrong use of the command: a file that cannot be read, an option that makes no sense. One line for
 * the person at the terminal; the command exits with 2. Mistakes in a plan are not usage errors.
 */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** The result is there but could not be handed over: a full disk, a reader that is gone. One line, exit code 1. */
export class OutputError extends Error {
  override readonly name = 'OutputError';
}

/** Exit codes of the headless command. */
export const EXIT_DONE = 0;
/** The plan has errors, the piece does not lie flat, or something is not at rest. */
export const EXIT_PLAN_ERRORS = 1;
/** Wrong use: no or unknown command, bad option, unreadable file. */
export const EXIT_USAGE = 2;
