/** Entry of the `lieflat` command: hands arguments and streams to `run` and sets the exit code. */
import { nodeIo } from './io.ts';
import { run } from './run.ts';

// A reader that stops early (`… | head`) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await run(process.argv.slice(2), nodeIo());
// An unread standard input would keep the process alive.
process.stdin.unref?.();
