/**
 * The headless command without a process: arguments in, exit code out, everything else through `io`.
 *
 * Exit codes: 0 done, 1 the plan has errors or a stated check failed (or the
 * program itself did), 2 wrong use. With `--json`
 * a command writes one JSON document to the output and nothing else, plan errors included.
 */
import { Command, CommanderError } from 'commander';
import type { Session } from './command.ts';
import { COMMANDS } from './commands.ts';
import type { Io } from './io.ts';
import { EXIT_DONE, EXIT_PLAN_ERRORS, EXIT_USAGE, UsageError } from './usage-error.ts';

export async function run(argv: readonly string[], io: Io): Promise<number> {
  let exitCode = EXIT_DONE;
  const program = new Command('lieflat')
    .description('Simulates a knitted square before anyone knits it.')
    .version('0.1.0')
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: () => {}, outputError: () => {} });
  const session: Session = {
    io,
    exitWith(code) {
      exitCode = code;
    },
  };
  for (const make of COMMANDS) {
    const command = make(session);
    command.exitOverride().configureOutput(program.configureOutput());
    program.addCommand(command);
  }
  program.addHelpText('after', `\nPLAN is a text file; - reads the standard input.`);
  try {
    if (argv.length === 0) {
      throw new UsageError(`which command? One of: ${commandNames(program)} (--help explains)`);
    }
    await program.parseAsync(argv, { from: 'user' });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) {
      // Help and version are answers, not mistakes.
      if (error.exitCode === 0) return EXIT_DONE;
      io.err(`lieflat: ${usageLine(error, program)}\n`);
      return EXIT_USAGE;
    }
    if (error instanceof UsageError) {
      io.err(`lieflat: ${error.message}\n`);
      return EXIT_USAGE;
    }
    // A fault of ours: still one line, still no half document for whoever reads the output.
    io.err(`lieflat: fault in the program, please report it: ${(error as Error).message}\n`);
    return EXIT_PLAN_ERRORS;
  }
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
