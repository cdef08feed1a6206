/** `blanket PROJECT`: every square relaxed and laid out: how they fit, seams, border, yarn by colour. */
import { Command } from 'commander';
import { type BorderPlan, blanketBorder } from '../../draft/motif/border-plan.ts';
import { type Knitted, prepare, relax } from '../../knit.ts';
import { drawBlanket } from '../../paper/blanket/blanket-picture.ts';
import { blanketSquare } from '../../paper/blanket/blanket-square.ts';
import { type Project, readProject } from '../../paper/project-file.ts';
import { parsePlan } from '../../plan/parse.ts';
import { hasErrors } from '../../plan/plan.ts';
import {
  type BlanketReport,
  type BlanketSquare,
  layOutBlanket,
  seamLines,
} from '../../report/blanket.ts';
import {
  BLANKET_CAUTION,
  BLANKET_YARN_NOTE,
  borderedSizeWords,
  borderYarnWords,
} from '../../report/words/blanket-words.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { inTerms, termsOfAll } from '../../report/words/terms.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { type CommandMaker, printJson } from '../command.ts';
import type { Io } from '../io.ts';
import { addFlatOption, type FlatChoice, type JudgedPiece, mustLieFlat } from '../lies-flat.ts';
import { parsePositive } from '../option-values.ts';
import { readProjectText } from '../plan-input.ts';
import { progressLine } from '../progress.ts';
import { mustBeAtRest } from '../rest.ts';
import { addSolverOptions, type SolverChoices, solverOptions } from '../solver-options.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface Options extends SolverChoices, FlatChoice {
  readonly json?: boolean;
  readonly inches?: boolean;
  readonly svg?: string;
  readonly borderCm?: number;
  readonly borderPlan?: string;
}

/** A square that is laid but cannot be joined, and why. */
interface Left {
  readonly id: string;
  readonly name: string;
  readonly why: string;
}

export const blanketCommand: CommandMaker = (session) =>
  addFlatOption(addSolverOptions(new Command('blanket')))
    .description('the squares of a project side by side: how they fit, seams, border, yarn')
    .argument('<project>', 'project file as the page saves it, - for the standard input')
    .option('--svg <file>', 'write the layout as a picture')
    .option('--border-cm <cm>', 'depth of the mitred border (3)', parsePositive)
    .option('--border-plan <file>', 'write the border as a plan')
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
      const judged: JudgedPiece[] = [];
      for (const { id, name, text, colours } of project.plans) {
        if (!laid.has(id)) continue;
        const why = (words: string) => left.push({ id, name, why: words });
        const plan = parsePlan(text);
        if (hasErrors(plan) || plan.castOn === 0 || plan.rounds.length === 0) {
          why('its plan has mistakes');
          continue;
        }
        const solver = solverOptions(options, io, progress, name || id);
        const knitted = relax(prepare(plan), { ...solver, advise: false });
        mustBeAtRest(session, options, knitted.report.relaxation);
        const square = blanketSquare(id, name, knitted, colours);
        if (square) {
          squares.push(square);
          judged.push({ name: name || id, report: knitted.report });
        } else why('it has no four sides to join');
      }
      progress.end();
      if (left.length > 0) exitWith(EXIT_PLAN_ERRORS);
      const unit = options.inches === true || project.units === 'inch' ? 'inch' : 'cm';
      const report = layOutBlanket(squares, project.blanket, unit);
      const border = makeBorder(report, project, options, io);
      if (options.borderPlan && border.plan) {
        await io.writeFile(options.borderPlan, border.plan.text);
      }
      // Asked for, and not made.
      const asked = options.borderPlan !== undefined || options.borderCm !== undefined;
      if (asked && border.trouble !== null) {
        io.err(`${border.trouble}\n`);
        exitWith(EXIT_PLAN_ERRORS);
      }
      // A border that would not lie flat is none to knit.
      if (border.knitted) mustBeAtRest(session, options, border.knitted.report.relaxation);
      const made = border.knitted ? [{ name: 'The border', report: border.knitted.report }] : [];
      mustLieFlat(session, options, [...judged, ...made]);
      // No picture of nothing.
      if (options.svg && squares.length > 0) {
        await io.writeFile(options.svg, drawBlanket(project.blanket, report, unit));
      }
      if (options.json) {
        const { plan, knitted, trouble } = border;
        const verdict = knitted?.report.verdict ?? null;
        const riseMm = knitted?.report.riseMm ?? null;
        printJson(io, {
          version: 1,
          title: project.title,
          ...report,
          borderPlan: plan && { ...plan, verdict, riseMm },
          borderTrouble: trouble,
          left,
        });
      } else io.out(inProjectTerms(describe(project, report, left, unit, border), project));
    });

interface Border {
  /** Null where none can be made; `trouble` says why. */
  readonly plan: BorderPlan | null;
  readonly trouble: string | null;
  /** Null where there is none, or where it is too large to relax. */
  readonly knitted: Knitted | null;
}

/** Depth that suits most blankets, mm. Chosen. */
const BORDER_MM = 30;
/** Larger borders are counted but not relaxed: it would take minutes. Chosen. */
const MOST_RELAXED = 30_000;

/** British where the project is, but for what its owner named. */
function inProjectTerms(text: string, { title, terms, plans }: Project): string {
  const own = [title, ...plans.map(({ name }) => name)].filter((name) => name !== '');
  return (terms ?? termsOfAll(plans)) === 'british' ? inTerms(text, 'british', own) : text;
}

/** The border picked up round all of it, relaxed so that it is known to lie flat. */
function makeBorder({ border }: BlanketReport, project: Project, options: Options, io: Io): Border {
  const { plan, trouble } = blanketBorder(border, {
    title: `${project.title || 'Blanket'}: border`,
    depthMm: options.borderCm ? 10 * options.borderCm : BORDER_MM,
  });
  if (plan === null || plan.castOn * plan.rounds > MOST_RELAXED) {
    return { plan, trouble, knitted: null };
  }
  const progress = progressLine(io);
  const knitted = relax(prepare(parsePlan(plan.text)), {
    ...solverOptions(options, io, progress, 'the border'),
    advise: false,
  });
  progress.end();
  return { plan, trouble, knitted };
}

function borderWords(
  { plan, trouble, knitted }: Border,
  report: BlanketReport,
  unit: LengthUnit,
): string[] {
  if (plan === null) return [trouble ?? ''];
  const { castOn, boundOff, rounds, depthMm } = plan;
  const lines = [
    `Mitred, in garter stitch: ${castOn} sts picked up, ${rounds} rounds (${lengthWords(depthMm, unit)}), an increase on both sides of each corner stitch every second round, ${boundOff} sts bound off loosely.`,
    borderedSizeWords(plan, report, unit),
    borderYarnWords(plan, report, unit),
  ];
  if (!knitted) return [...lines, 'It is too large to relax here: flat by its rate of increase.'];
  const { verdict, riseMm } = knitted.report;
  return [...lines, `Relaxed, the border is ${verdict}, rise ${lengthWords(riseMm, unit)}.`];
}

function describe(
  project: Project,
  report: BlanketReport,
  left: readonly Left[],
  unit: LengthUnit,
  made: Border,
): string {
  const { border } = report;
  const borderMade = made.plan !== null;
  const borderLines = borderWords(made, report, unit);
  const seams = seamLines(report.seams);
  const title = `${project.title || 'Blanket'}\n`;
  const leftOut =
    left.length > 0
      ? `Left out:\n${left.map(({ name, id, why }) => `  ${name || id}: ${why}\n`).join('')}`
      : '';
  if (report.squares.length === 0) {
    return `${title}\nNone of its squares can be joined: there is no blanket to sew and no border.\n\n${leftOut}`;
  }
  const parts = [
    title,
    textTable(
      [{ head: '' }, { head: '' }],
      [
        [
          'finished',
          `${lengthWords(report.widthMm, unit)} by ${lengthWords(report.heightMm, unit)}`,
        ],
        ['side to meet', lengthWords(report.targetMm, unit)],
        ...(borderMade
          ? [
              [
                'border, pick up',
                `${border.top} top, ${border.right} right, ${border.bottom} bottom, ${border.left} left, and one at each corner`,
              ],
            ]
          : []),
      ],
    ),
    `Border:\n${[...(borderMade ? border.pickUps.map((pick) => pick.words) : []), ...borderLines].map((line) => `  ${line}\n`).join('')}`,
    `Squares side by side:\n${report.squares.map((fit) => `  ${fit.words}\n`).join('')}`,
    `Seams:\n${seams.map(({ words, times }) => `  ${words}${times > 1 ? ` (${times} times)` : ''}\n`).join('') || '  None: no two squares lie side by side.\n'}`,
    textTable(
      [
        { head: inTerms('yarn and colour', project.terms ?? termsOfAll(project.plans)) },
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
    `${BLANKET_YARN_NOTE}\n${BLANKET_CAUTION}\n`,
  ];
  if (leftOut) parts.push(leftOut);
  return parts.join('\n');
}
