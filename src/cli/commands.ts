/** Every command of `lieflat`, in the order in which the help lists them. */
import type { CommandMaker } from './command.ts';
import { blanketCommand } from './commands/blanket.ts';
import { cellCommand } from './commands/cell.ts';
import { chartCommand } from './commands/chart.ts';
import { checkCommand } from './commands/check.ts';
import { compareCommand } from './commands/compare.ts';
import { draftCommand } from './commands/draft.ts';
import { gradeCommand } from './commands/grade.ts';
import { joinCommand } from './commands/join.ts';
import { needlesCommand } from './commands/needles.ts';
import { patchCommand } from './commands/patch.ts';
import { relaxCommand } from './commands/relax.ts';
import { schematicCommand } from './commands/schematic.ts';
import { testKnitsCommand } from './commands/test-knits.ts';
import { writeCommand } from './commands/write.ts';

export const COMMANDS: readonly CommandMaker[] = [
  checkCommand,
  relaxCommand,
  compareCommand,
  draftCommand,
  gradeCommand,
  writeCommand,
  chartCommand,
  needlesCommand,
  schematicCommand,
  blanketCommand,
  testKnitsCommand,
  cellCommand,
  patchCommand,
  joinCommand,
];
