/** `needles PLAN`: which needles from the first round to the last, and the stitches on each after every round. */
import { Command } from 'commander';
import { needleTable, planNeedles, wayOfPlan } from '../../draft/needle-plan.ts';
import type { NeedleTable, NeedleWay } from '../../draft/needles.ts';
import { prepare } from '../../knit.ts';
import { drawNeedles } from '../../paper/pattern/needle-picture.ts';
import {
  MOST_MOVES,
  needleAdvice,
  needleLines,
  needleNames,
} from '../../paper/pattern/needle-words.ts';
import { sidesToMark } from '../../paper/pattern/sides-to-mark.ts';
import { inTerms, termsOf } from '../../report/words/terms.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { addFlatOption, type FlatChoice, mustRestFlat } from '../lies-flat.ts';
import { openPlan } from '../open-plan.ts';
import { parseCount, parseWay, WAY_NAMES } from '../option-values.ts';
import { addSizeOption, followedSize, type SizeChoice } from '../plan-size.ts';
import { addRestOption, type RestChoice } from '../rest.ts';
import { textTable } from '../text-table.ts';
import { UsageError } from '../usage-error.ts';
import { unitOf } from '../words.ts';

interface Options extends SizeChoice, FlatChoice, RestChoice {
  readonly way?: NeedleWay;
  readonly inches?: boolean;
  readonly svg?: string;
  readonly round?: number;
  readonly json?: boolean;
}

export const needlesCommand: CommandMaker = (session) =>
  addSizeOption(addFlatOption(addRestOption(new Command('needles'))))
    .description('needles from the first round to the last, and the stitches on each')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('--way <way>', `${WAY_NAMES}; whatever suits`, parseWay)
    .option('--svg <file>', 'draw the needles as they are after a round')
    .option('--round <n>', 'the round to draw (the cast-on)', parseCount)
    .option('--inches', 'inches before centimetres')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const followed = options.size === undefined && followedSize(plan);
      if (followed) io.err(`${followed}\n`);
      const { gauge } = prepare(plan);
      const { stitchMm } = gauge.groundSize;
      const unit = unitOf(options);
      const { sides } = sidesToMark(plan);
      const asked = options.way ?? wayOfPlan(plan);
      const phases = planNeedles(plan, asked, stitchMm, sides);
      const names = needleNames(phases, unit);
      const lines = needleLines(phases, plan, unit, sides);
      const table = needleTable(plan, asked, phases, sides);
      const advice = table
        ? needleAdvice(plan, lines).map((line) => inTerms(line, termsOf(plan)))
        : [];
      if (options.svg) {
        if (!table)
          throw new UsageError('worked flat, all stitches stay on one needle: no picture');
        const round = options.round ?? 0;
        if (round > table.rounds.length)
          throw new UsageError(`there are ${table.rounds.length} rounds; --round says ${round}`);
        await io.writeFile(options.svg, drawNeedles(table, round));
      }
      mustRestFlat(session, options, [{ name: '', plan }]);
      if (options.json) {
        printJson(io, {
          version: 1,
          title: plan.title,
          stitchMm,
          needles: names,
          phases,
          lines,
          table: table && { ...table, advice },
        });
        return;
      }
      io.out(
        [
          `${plan.title || 'Untitled plan'}\n`,
          ...names.map((name) => `  ${name}`),
          '',
          ...lines,
          ...(table ? ['', counts(table), ...advice] : []),
          ...(table && table.straddles.length > MOST_MOVES
            ? table.straddles.map((straddle) => straddle.words)
            : []),
        ].join('\n') + '\n',
      );
    });

/** Rounds in a row that leave the same stitches on every needle make one line; all on a circular needle are one number. */
function counts(table: NeedleTable): string {
  const rows: { from: number; to: number; counts: readonly number[] }[] = [];
  for (const { n, counts } of [{ n: 0, counts: table.castOn }, ...table.rounds]) {
    const last = rows.at(-1);
    if (last && last.counts.join() === counts.join()) last.to = n;
    else rows.push({ from: n, to: n, counts });
  }
  const label = (from: number, to: number) =>
    [...new Set([from, to])].map((n) => (n === 0 ? 'cast-on' : String(n))).join(' – ');
  const needles = Math.max(...rows.map((row) => row.counts.length));
  const circular = (row: { readonly counts: readonly number[] }) =>
    needles > 1 && row.counts.length === 1 ? ' (circular)' : '';
  return textTable(
    [
      { head: 'after round' },
      ...Array.from({ length: needles }, (_, i) => ({
        head: needles === 1 ? 'stitches' : `needle ${i + 1}`,
        align: 'right' as const,
      })),
    ],
    rows.map((row) => [
      label(row.from, row.to) + circular(row),
      ...Array.from({ length: needles }, (_, i) => String(row.counts[i] ?? '')),
    ]),
  );
}
