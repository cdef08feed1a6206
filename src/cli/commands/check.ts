/** `check PLAN`: the stitches of every round, and every mistake with its line. */
import { Command } from 'commander';
import { parsePlan } from '../../plan/parse.ts';
import { castOnWords } from '../../report/words/counts.ts';
import { courseWords } from '../../report/words/course-words.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { type CheckedPlan, checkPlan } from '../plan-document.ts';
import { readPlanText } from '../plan-input.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS } from '../usage-error.ts';
import { diagnosticLines, NOTHING_WRITTEN, plural } from '../words.ts';

export const checkCommand: CommandMaker = ({ io, exitWith }) =>
  new Command('check')
    .description('count the stitches of every round and find the mistakes')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: { json?: boolean }) => {
      const text = await readPlanText(path, io);
      const checked = checkPlan(parsePlan(text));
      if (checked.broken) exitWith(EXIT_PLAN_ERRORS);
      if (options.json) printJson(io, checked.document);
      else io.out(text.trim() === '' ? NOTHING_WRITTEN : describe(checked));
    });

function describe({ document, broken }: CheckedPlan): string {
  const { rounds, diagnostics } = document;
  const { one } = courseWords(document);
  // Short rows leave stitches on the needle.
  const short = rounds.some((r) => r.worked !== undefined);
  const { title, castOn, castOnForJoin } = document;
  const begun = castOn > 0 ? `Cast on ${castOnWords(castOn, castOnForJoin)}.\n\n` : '';
  const head = `${title || 'Untitled plan'}\n\n${begun}`;
  const table =
    rounds.length === 0
      ? ''
      : textTable(
          [
            { head: one },
            { head: 'stitches', align: 'right' },
            ...(short ? [{ head: 'worked', align: 'right' } as const] : []),
            { head: 'lost', align: 'right' },
            { head: 'gained', align: 'right' },
            { head: 'crossings', align: 'right' },
          ],
          rounds.map((r) => [
            r.label,
            String(r.stitches),
            ...(short ? [r.worked === undefined ? '' : String(r.worked)] : []),
            blankZero(r.decreases),
            blankZero(r.increases),
            blankZero(r.crossings),
          ]),
        );
  const parted = table === '' ? '' : '\n';
  const mistakes = diagnostics.length === 0 ? '' : `${parted}${diagnosticLines(diagnostics)}`;
  const errors = diagnostics.filter((d) => d.severity === 'error').length;
  const unended = diagnostics.some((d) => d.code === 'ending-missing');
  const end = broken
    ? `\n${plural(errors, 'mistake')} to put right.\n`
    : `\nEvery ${one} works the stitches that are on the needles${unended ? ', but the text does not say how the piece ends' : ''}.\n`;
  return head + table + mistakes + end;
}

function blankZero(n: number): string {
  return n === 0 ? '' : String(n);
}
