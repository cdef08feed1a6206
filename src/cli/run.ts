/**
 * The headless command without a process: arguments in, exit code out, everything else through `io`.
 * Exit codes: 0 done; 1 the plan has errors, a piece to knit from does not lie flat (`lies-flat.ts`) or is not at rest, or the
 * program failed; 2 wrong use. With `--json` exactly one JSON document is written whatever the exit.
 */
import { Command, CommanderError } from 'commander';
import type { Session } from './command.ts';
import { COMMANDS } from './commands.ts';
import type { Io } from './io.ts';
import { guardOutputs } from './output-guard.ts';
import { EXIT_DONE, EXIT_PLAN_ERRORS, EXIT_USAGE, OutputError, UsageError } from './usage-error.ts';

/** A failure as the document that `--json` promises. */
interface Failure {
  readonly version: 1;
  readonly exitCode: number;
  readonly error: { readonly kind: 'usage' | 'output' | 'fault'; readonly message: string };
}

export async function run(argv: readonly string[], io: Io): Promise<number> {
  const json = argv.includes('--json');
  // Held back, so that a failure after the first words still leaves one document.
  let held = '';
  const hold = (text: string) => {
    held += text;
  };
  const out = json ? hold : io.out;
  let exitCode = EXIT_DONE;
  const guard = guardOutputs({ ...io, out });
  const session: Session = {
    io: guard.io,
    exitWith(code) {
      exitCode = Math.max(exitCode, code);
    },
  };
  const program = programOf(session, out);
  program.hook('preAction', (_, command) => guard.check(command));
  try {
    if (argv.length === 0) {
      throw new UsageError(`which command? One of: ${commandNames(program)} (--help explains)`);
    }
    await program.parseAsync(argv, { from: 'user' });
    if (json) io.out(held);
    return exitCode;
  } catch (error) {
    // Help and version are answers, not mistakes.
    if (error instanceof CommanderError && error.exitCode === 0) {
      if (json) io.out(`${JSON.stringify({ version: 1, help: held }, null, 2)}\n`);
      return EXIT_DONE;
    }
    const failure = failureOf(error, program);
    io.err(`lieflat: ${failure.error.message}\n`);
    if (json) io.out(`${JSON.stringify(failure, null, 2)}\n`);
    return failure.exitCode;
  }
}

function programOf(session: Session, writeOut: (text: string) => void): Command {
  const program = new Command('lieflat')
    .description('Simulates a knitted square before anyone knits it.')
    .version('0.1.0')
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeOut, writeErr: () => {}, outputError: () => {} });
  for (const make of COMMANDS) {
    const command = make(session);
    command.exitOverride().configureOutput(program.configureOutput());
    program.addCommand(command);
  }
  return program.addHelpText('after', AFTER);
}

const AFTER = `
PLAN is a text file; - reads the standard input.

Exit code 0: done. 1: the plan has mistakes, what is handed over to knit from
does not lie flat (--accept-unflat takes it as it is: a hat, a bowl), or
something did not come to rest (--accept-unrested). 2: wrong use. A tube or a
twisted band lies as it is meant to; relax and compare only answer.`;

function failureOf(error: unknown, program: Command): Failure {
  const failure = (kind: Failure['error']['kind'], exitCode: number, message: string): Failure => ({
    version: 1,
    exitCode,
    error: { kind, message: clipped(message) },
  });
  if (error instanceof CommanderError) {
    return failure('usage', EXIT_USAGE, usageLine(error, program));
  }
  if (error instanceof UsageError) return failure('usage', EXIT_USAGE, error.message);
  if (error instanceof OutputError) return failure('output', EXIT_PLAN_ERRORS, error.message);
  const message = error instanceof Error ? error.message : String(error);
  return failure(
    'fault',
    EXIT_PLAN_ERRORS,
    `fault in the program, please report it: ${message.replace(/\s*\n\s*/g, ' ')}`,
  );
}

/** A long word is never repeated whole. */
function clipped(message: string): string {
  return message.replace(/\S{121,}/g, (word) => `${word.slice(0, 119)}…`);
}

/** The parser's message on one line, in the form of ours. */
function usageLine(error: CommanderError, program: Command): string {
  if (error.code === 'commander.help') {
    return `which command? One of: ${commandNames(program)} (--help explains)`;
  }
  const line = error.message
    .replace(/^error: /, '')
    .replace(/\s*\n\s*/g, ' ')
    .trim();
  if (error.code === 'commander.unknownCommand') {
    return `${line}; there are: ${commandNames(program)}`;
  }
  return line;
}

function commandNames(program: Command): string {
  return program.commands.map((c) => c.name()).join(', ');
}
