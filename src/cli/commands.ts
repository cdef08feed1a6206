/** Every command of `lieflat`, in the order in which the help lists them. */
import type { CommandMaker } from './command.ts';
import { cellCommand } from './commands/cell.ts';

export const COMMANDS: readonly CommandMaker[] = [cellCommand];
