/** Entry of the `lieflat` command: hands arguments and streams to `run` and sets the exit code. */
import { nodeIo, outputTrouble } from './io.ts';
import { run } from './run.ts';
import { EXIT_PLAN_ERRORS } from './usage-error.ts';

// A full disk or a reader that is gone: not everything was handed over.
process.stdout.on('error', (error) => {
  process.stderr.write(`lieflat: ${outputTrouble(error)}\n`);
  process.exit(EXIT_PLAN_ERRORS);
});
// With nobody to tell, the exit code has to say it.
process.stderr.on('error', () => {});

process.exitCode = await run(process.argv.slice(2), nodeIo());
// An unread standard input would keep the process alive.
process.stdin.unref?.();
