/** `blanket PROJECT`: every square relaxed and laid out: how they fit, seams, border, yarn by colour. */
import { Command } from 'commander';
import { prepare, relax } from '../../knit.ts';
import { drawBlanket } from '../../paper/blanket/blanket-picture.ts';
import { blanketSquare } from '../../paper/blanket/blanket-square.ts';
import { type Project, readProject } from '../../paper/project-file.ts';
import { parsePlan } from '../../plan/parse.ts';
import { hasErrors } from '../../plan/plan.ts';
import { type BlanketReport, type BlanketSquare, layOutBlanket } from '../../report/blanket.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { readProjectText } from '../plan-input.ts';
import { progressLine } from '../progress.ts';
import { mustBeAtRest } from '../rest.ts';
import { addSolverOptions, type SolverChoices, solverOptions } from '../solver-options.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface Options extends SolverChoices {
  readonly json?: boolean;
  readonly inches?: boolean;
  readonly svg?: string;
}

/** A square that is laid but cannot be joined, and why. */
interface Left {
  readonly id: string;
  readonly name: string;
  readonly why: string;
}

export const blanketCommand: CommandMaker = (session) =>
  addSolverOptions(new Command('blanket'))
    .description('the squares of a project side by side: how they fit, seams, border, yarn')
    .argument('<project>', 'project file as the page saves it, - for the standard input')
    .option('--svg <file>', 'write the layout as a picture')
    .option('--inches', 'inches, yards and ounces (else as the project says)')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io, exitWith } = session;
      const read = readProject(await readProjectText(path, io));
      if (!read.ok) throw new UsageError(read.message);
      const { project } = read;
      const laid = new Set(project.blanket.rows.flat());
      if (![...laid].some((id) => id !== null)) {
        throw new UsageError(
          'this project has no square laid out: lay its blanket on the page first',
        );
      }
      const progress = progressLine(io);
      const squares: BlanketSquare[] = [];
      const left: Left[] = [];
      for (const { id, name, text, colours } of project.plans) {
        if (!laid.has(id)) continue;
        const why = (words: string) => left.push({ id, name, why: words });
        const plan = parsePlan(text);
        if (hasErrors(plan) || plan.castOn === 0 || plan.rounds.length === 0) {
          why('its plan has mistakes');
          continue;
        }
        const knitted = relax(prepare(plan), solverOptions(options, io, progress, name || id));
        mustBeAtRest(session, options, knitted.report.relaxation);
        const square = blanketSquare(id, name, knitted, colours);
        if (square) squares.push(square);
        else why('it has no four sides to join');
      }
      progress.end();
      if (left.length > 0) exitWith(EXIT_PLAN_ERRORS);
      const unit = options.inches === true || project.units === 'inch' ? 'inch' : 'cm';
      const report = layOutBlanket(squares, project.blanket, unit);
      if (options.svg) {
        await io.writeFile(options.svg, drawBlanket(project.blanket, report, unit));
      }
      if (options.json) printJson(io, { version: 1, title: project.title, ...report, left });
      else io.out(describe(project, report, left, unit));
    });

function describe(
  project: Project,
  report: BlanketReport,
  left: readonly Left[],
  unit: LengthUnit,
): string {
  const { border } = report;
  const seams = new Map<string, number>();
  for (const { words } of report.seams) seams.set(words, (seams.get(words) ?? 0) + 1);
  const parts = [
    `${project.title || 'Blanket'}\n`,
    textTable(
      [{ head: '' }, { head: '' }],
      [
        [
          'finished',
          `${lengthWords(report.widthMm, unit)} by ${lengthWords(report.heightMm, unit)}`,
        ],
        ['side to meet', lengthWords(report.targetMm, unit)],
        [
          'border, pick up',
          `${border.top} top, ${border.right} right, ${border.bottom} bottom, ${border.left} left`,
        ],
      ],
    ),
    `Squares side by side:\n${report.squares.map((fit) => `  ${fit.words}\n`).join('')}`,
    `Seams:\n${[...seams].map(([words, times]) => `  ${words}${times > 1 ? ` (${times} times)` : ''}\n`).join('')}`,
    textTable(
      [
        { head: 'yarn and colour' },
        { head: 'length', align: 'right' },
        { head: 'weight', align: 'right' },
        { head: 'balls', align: 'right' },
      ],
      report.yarn.map((yarn) => [
        yarn.colour,
        yarnLengthWords(yarn.lengthM, unit),
        massWords(yarn.massG, unit),
        yarn.balls === null ? '–' : String(yarn.balls),
      ]),
    ),
  ];
  if (left.length > 0) {
    parts.push(
      `Left out:\n${left.map(({ name, id, why }) => `  ${name || id}: ${why}\n`).join('')}`,
    );
  }
  return parts.join('\n');
}
