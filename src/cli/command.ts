/** What every command file exports: builds its parser; the action reports its exit code if not 0. */
import type { Command } from 'commander';
import type { Io } from './io.ts';

export interface Session {
  readonly io: Io;
  exitWith(code: number): void;
}

export type CommandMaker = (session: Session) => Command;

/** One JSON document and the newline that a terminal wants. */
export function printJson(io: Io, value: unknown): void {
  io.out(`${JSON.stringify(value, null, 2)}\n`);
}
