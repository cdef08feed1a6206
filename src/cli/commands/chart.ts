/** `chart PLAN -o F.svg`: the plan as a chart, in one picture, cut into sheets of paper, or in words. */
import { Command, InvalidArgumentError } from 'commander';
import {
  type ChartOptions,
  drawChart,
  drawChartPages,
  type Paper,
} from '../../paper/chart/chart.ts';
import { chartText } from '../../paper/chart/chart-text.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Terms } from '../../report/words/terms.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseTerms } from '../option-values.ts';
import { addSizeOption, followedSize, type SizeChoice } from '../plan-size.ts';
import { UsageError } from '../usage-error.ts';
import { plural } from '../words.ts';

interface Options extends SizeChoice {
  readonly output?: string;
  readonly part: 'side' | 'whole';
  readonly paper?: Paper;
  readonly terms: Terms;
  readonly leftHanded?: boolean;
  readonly largePrint?: boolean;
  readonly text?: boolean;
  readonly json?: boolean;
}

export const chartCommand: CommandMaker = (session) =>
  addSizeOption(new Command('chart'))
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
    .option('--text', 'every row in words, for screen readers')
    .option('--large-print', 'larger squares and letters')
    .option('--left-handed', 'mirrored, for knitting from left to right')
    .option('--terms <terms>', 'american or british', parseTerms, 'american')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      if (options.paper && !options.output) {
        throw new UsageError('sheets need a name: give -o FILE.svg with --paper');
      }
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const followed = options.size === undefined && followedSize(plan);
      if (followed) io.err(`${followed}\n`);
      if (options.text) {
        if (options.paper) throw new UsageError('--paper cuts a picture: leave it out with --text');
        const text = chartText(plan, choices(options));
        if (options.output) await io.writeFile(options.output, text);
        if (options.json) printJson(io, { version: 1, title: plan.title, text });
        else io.out(options.output ? `Chart in words written: ${options.output}\n` : text);
        return;
      }
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

function choices({ part, paper, terms, leftHanded, largePrint }: Options): ChartOptions {
  return { part, paper, terms, hand: leftHanded ? 'left' : 'right', largePrint };
}

function draw(plan: Plan, options: Options): string[] {
  const chosen = choices(options);
  return options.paper ? drawChartPages(plan, chosen) : [drawChart(plan, chosen)];
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
