/** `test-knits PROJECT`: every sample of the log beside its prediction, and the gauge that each yarn is told by them. */
import { Command } from 'commander';
import { readProject } from '../../paper/project-file.ts';
import { knowledgeOf, type YarnKnowledge, yarnsOf } from '../../report/known-gauges.ts';
import { compareTestKnit, type TestKnit } from '../../report/test-knit.ts';
import { gaugeWords } from '../../report/words/gauge.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import {
  calibrationWords,
  NO_SAMPLE_COUNTS,
  sampleRows,
} from '../../report/words/test-knit-words.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { readProjectText } from '../plan-input.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface Options {
  readonly json?: boolean;
  readonly inches?: boolean;
}

export const testKnitsCommand: CommandMaker = (session) =>
  new Command('test-knits')
    .description(
      'the knitted samples of a project beside their predictions, and the gauge they tell',
    )
    .argument('<project>', 'project file as the page saves it, - for the standard input')
    .option('--inches', 'counts to 4 inches (else as the project says)')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io, exitWith } = session;
      const read = readProject(await readProjectText(path, io));
      if (!read.ok) throw new UsageError(read.message);
      const { title, units, testKnits: log } = read.project;
      if (log.length === 0) {
        throw new UsageError('this project has no test knit: enter a sample on the page first');
      }
      const unit = options.inches === true || units === 'inch' ? 'inch' : 'cm';
      const yarns = yarnsOf(log).map((yarn) => knowledgeOf(log, yarn));
      // A figure that is not believed leaves its yarn without a gauge.
      if (yarns.some(({ trouble }) => trouble !== null)) exitWith(EXIT_PLAN_ERRORS);
      if (options.json) {
        const samples = log.map((entry) => ({ ...entry, compared: compareTestKnit(entry) }));
        printJson(io, { version: 1, title, yarns, samples });
      } else io.out(yarns.map((known) => yarnWords(known, log, unit)).join('\n'));
    });

function yarnWords(
  { yarn, gauge, trouble }: YarnKnowledge,
  log: readonly TestKnit[],
  unit: LengthUnit,
): string {
  const rows = log
    .filter((entry) => entry.yarn === yarn)
    .flatMap((entry) =>
      sampleRows(entry, unit).map(({ name, predicted, measured, difference }, i) => [
        i > 0 ? '' : sampleName(entry),
        name,
        predicted,
        measured,
        difference,
      ]),
    );
  const heads = ['sample', '', 'predicted', 'measured', 'it is'];
  const table = textTable(
    heads.map((head, i) => ({ head, align: i === 2 || i === 3 ? 'right' : 'left' })),
    rows,
  );
  const told = gauge
    ? [gaugeWords(gauge, unit, 'round'), ...calibrationWords(gauge.calibration)]
    : [trouble ?? NO_SAMPLE_COUNTS];
  return `${yarn}\n\n${table}\n${told.join('\n')}\n`;
}

function sampleName({ id, note, counts }: TestKnit): string {
  const words = [id.replace('-', ' '), note, counts ? '' : 'left out'];
  return words.filter((word) => word !== '').join(', ');
}
