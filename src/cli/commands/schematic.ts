/** `schematic PLAN -o F.svg`: the relaxed piece to scale with the measures to block it to; exit 1 where there are none. */
import { Command } from 'commander';
import { prepare, relax } from '../../knit.ts';
import { blockingMeasures, drawSchematic } from '../../paper/pattern/schematic.ts';
import { sizeNames } from '../../plan/size-names.ts';
import { measureOutline } from '../../report/outline.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { addFlatOption, type FlatChoice, mustLieFlat } from '../lies-flat.ts';
import { openPlan } from '../open-plan.ts';
import { addSizeOption, followedSize, type SizeChoice } from '../plan-size.ts';
import { progressLine } from '../progress.ts';
import { mustBeAtRest } from '../rest.ts';
import { addSolverOptions, type SolverChoices, solverOptions } from '../solver-options.ts';
import { addTermsOption, chosenTerms, type TermsChoice } from '../terms-option.ts';
import { EXIT_PLAN_ERRORS } from '../usage-error.ts';
import { unitOf } from '../words.ts';

interface Options extends SolverChoices, SizeChoice, FlatChoice, TermsChoice {
  readonly output?: string;
  readonly inches?: boolean;
  readonly largePrint?: boolean;
  readonly json?: boolean;
}

export const schematicCommand: CommandMaker = (session) =>
  addTermsOption(addSizeOption(addFlatOption(addSolverOptions(new Command('schematic')))))
    .description('the relaxed piece to scale with the measures to block it to (SVG)')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('-o, --output <file>', 'where to write it; without it the schematic is the output')
    .option('--large-print', 'larger letters')
    .option('--inches', 'inches before centimetres')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io, exitWith } = session;
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const followed = options.size === undefined && followedSize(plan);
      if (followed) io.err(`${followed}\n`);
      const progress = progressLine(io);
      const solver = solverOptions(options, io, progress, 'measuring');
      const knitted = relax(prepare(plan), { ...solver, advise: false });
      progress.end();
      const { report, graph, sheet } = knitted;
      const outline = measureOutline(graph, sheet.positions);
      const units = unitOf(options);
      const measures = blockingMeasures(report, outline, units);
      const { largePrint } = options;
      const terms = chosenTerms(options, plan);
      const svg = drawSchematic(plan, report, outline, {
        ...{ units, terms, largePrint },
        size: plan.sizes ? sizeNames(plan)[plan.sizes.chosen] : undefined,
      });
      mustBeAtRest(session, options, report.relaxation);
      mustLieFlat(session, options, [{ name: '', report }]);
      if (measures.length === 0 && !options.acceptUnflat) exitWith(EXIT_PLAN_ERRORS);
      if (options.output) await io.writeFile(options.output, svg);
      if (options.json) {
        const { verdict } = report;
        printJson(io, {
          version: 1,
          title: plan.title,
          verdict,
          measures,
          ...(options.output ? { file: options.output } : { svg }),
        });
        return;
      }
      if (!options.output) io.out(svg);
      else
        io.out(
          `Schematic written: ${options.output}\n${measures.map((m) => `  ${m.words}\n`).join('')}`,
        );
      if (measures.length === 0) io.err(`${report.relaxation.converged ? STANDS : MOVES}\n`);
    });

const STANDS = 'There is nothing to block it to.';
const MOVES = 'The fabric did not come to rest: there is nothing to block it to.';
