/** `chart PLAN -o F.svg`: the plan as a chart, in one picture or cut into sheets of paper. */
import { Command, InvalidArgumentError } from 'commander';
import { drawChart, drawChartPages, type Paper } from '../../paper/chart/chart.ts';
import type { Plan } from '../../plan/plan.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { UsageError } from '../usage-error.ts';
import { plural } from '../words.ts';

interface Options {
  readonly output?: string;
  readonly part: 'side' | 'whole';
  readonly paper?: Paper;
  readonly json?: boolean;
}

export const chartCommand: CommandMaker = (session) =>
  new Command('chart')
    .description('draw the plan as a chart (SVG)')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('-o, --output <file>', 'where to write it; without it the chart is the output')
    .option(
      '--part <part>',
      'side: what is repeated round the piece; whole: all of it',
      parsePart,
      'side',
    )
    .option(
      '--paper <size>',
      'cut into sheets of A4 or Letter: FILE-1.svg, FILE-2.svg …',
      parsePaper,
    )
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      if (options.paper && !options.output) {
        throw new UsageError('sheets need a name: give -o FILE.svg with --paper');
      }
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const pictures = draw(plan, options);
      if (!options.output) {
        if (options.json) printJson(io, { version: 1, title: plan.title, svg: pictures });
        else io.out(pictures.join('\n'));
        return;
      }
      const files = fileNames(options.output, options.paper ? pictures.length : 1);
      for (let i = 0; i < files.length; i++) await io.writeFile(files[i], pictures[i]);
      if (options.json) printJson(io, { version: 1, title: plan.title, files });
      else io.out(`${plural(files.length, 'chart')} written: ${files.join(', ')}\n`);
    });

function draw(plan: Plan, { part, paper }: Options): string[] {
  return paper ? drawChartPages(plan, { part, paper }) : [drawChart(plan, { part })];
}

function fileNames(output: string, sheets: number): string[] {
  if (sheets === 1) return [output];
  const dot = output.toLowerCase().endsWith('.svg') ? output.length - 4 : output.length;
  const stem = output.slice(0, dot);
  return Array.from({ length: sheets }, (_, i) => `${stem}-${i + 1}.svg`);
}

function parsePart(text: string): Options['part'] {
  const word = text.trim().toLowerCase();
  if (word !== 'side' && word !== 'whole') throw new InvalidArgumentError('Write side or whole.');
  return word;
}

function parsePaper(text: string): Paper {
  const word = text.trim().toLowerCase();
  if (word === 'a4') return 'A4';
  if (word === 'letter') return 'Letter';
  throw new InvalidArgumentError('Write A4 or Letter.');
}
