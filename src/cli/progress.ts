/** A line of progress on standard error that overwrites itself; silent unless a person is watching. */
import type { Io } from './io.ts';

/** Shortest time between two updates, ms. Chosen: smooth to the eye, nothing to the solver. */
const EVERY_MS = 100;

export interface ProgressLine {
  show(text: () => string): void;
  /** Clears the line. */
  end(): void;
}

export function progressLine(io: Io): ProgressLine {
  let last = Number.NEGATIVE_INFINITY;
  let width = 0;
  return {
    show(text) {
      if (!io.errIsTerminal || io.now() - last < EVERY_MS) return;
      last = io.now();
      const line = text();
      io.err(`\r${line.padEnd(width)}`);
      width = line.length;
    },
    end() {
      if (width > 0) io.err(`\r${' '.repeat(width)}\r`);
      width = 0;
    },
  };
}
