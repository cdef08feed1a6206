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
import { sizeNames } from '../../plan/size-names.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { addFlatOption, type FlatChoice, mustRestFlat } from '../lies-flat.ts';
import { openPlan } from '../open-plan.ts';
import { addSizeOption, allSizes, followedSize, type SizeChoice } from '../plan-size.ts';
import { addRestOption, type RestChoice } from '../rest.ts';
import { addTermsOption, chosenTerms, type TermsChoice } from '../terms-option.ts';
import { UsageError } from '../usage-error.ts';
import { plural } from '../words.ts';

interface Options extends SizeChoice, FlatChoice, RestChoice, TermsChoice {
  readonly output?: string;
  readonly part: 'side' | 'whole';
  readonly paper?: Paper;
  readonly leftHanded?: boolean;
  readonly largePrint?: boolean;
  readonly text?: boolean;
  readonly json?: boolean;
}

export const chartCommand: CommandMaker = (session) =>
  addTermsOption(addSizeOption(addFlatOption(addRestOption(new Command('chart')))))
    .description('draw the plan as a chart (SVG), every size of a plan for several')
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
      'cut into sheets of A4 or Letter, turned where that takes fewer: FILE-1.svg, FILE-2.svg …',
      parsePaper,
    )
    .option('--text', 'every row in words, for screen readers')
    .option('--large-print', 'larger squares and letters')
    .option('--left-handed', 'mirrored, for knitting from left to right')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      if (options.paper && !options.output) {
        throw new UsageError('sheets need a name: give -o FILE.svg with --paper');
      }
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      // One picture alone can go to the output: every size takes files, words or JSON.
      const single =
        options.size !== undefined || !(options.output || options.text || options.json);
      const followed = options.size === undefined && single && followedSize(plan);
      if (followed) io.err(`${followed} All of them take -o FILE.svg.\n`);
      const sizes = single ? [sizedAlone(plan, options)] : namedSizes(plan);
      if (options.text && options.paper)
        throw new UsageError('--paper cuts a picture: leave it out with --text');
      mustRestFlat(session, options, sizes);
      const named = sizes.length > 1 && { sizes: sizes.map(({ name }) => name) };
      if (options.text) {
        const text = sizes.map((size) => chartText(size.plan, choices(options, size))).join('\n');
        if (options.output) await io.writeFile(options.output, text);
        if (options.json) printJson(io, { version: 1, title: plan.title, ...named, text });
        else io.out(options.output ? `Chart in words written: ${options.output}\n` : text);
        return;
      }
      const pictures = sizes.flatMap((size) => draw(size, options));
      if (!options.output) {
        if (options.json) printJson(io, { version: 1, title: plan.title, ...named, svg: pictures });
        else io.out(pictures.join('\n'));
        return;
      }
      const files = fileNames(options.output, pictures.length);
      for (let i = 0; i < files.length; i++) await io.writeFile(files[i], pictures[i]);
      if (options.json) printJson(io, { version: 1, title: plan.title, ...named, files });
      else io.out(`${plural(files.length, 'chart')} written: ${files.join(', ')}\n`);
    });

interface NamedSize {
  /** Empty where the plan is for one size. */
  readonly name: string;
  readonly plan: Plan;
}

function namedSizes(plan: Plan): NamedSize[] {
  const names = sizeNames(plan);
  return allSizes(plan).map((one, k) => ({ name: names[k] ?? '', plan: one }));
}

function sizedAlone(plan: Plan, { size }: Options): NamedSize {
  const told = size !== undefined && plan.sizes ? sizeNames(plan)[plan.sizes.chosen] : '';
  return { name: told, plan };
}

function choices(
  { part, paper, terms, leftHanded, largePrint }: Options,
  { name, plan }: NamedSize,
): ChartOptions {
  return {
    part,
    paper,
    terms: chosenTerms({ terms }, plan),
    hand: leftHanded ? 'left' : 'right',
    largePrint,
    ...(name && { size: name }),
  };
}

function draw(size: NamedSize, options: Options): string[] {
  const { plan } = size;
  const chosen = choices(options, size);
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
