/** `grade PLAN`: the same plan at another size or gauge; what could not be kept goes to the error stream. */
import { Command } from 'commander';
import { groundGauge, sideDeficitOf } from '../../draft/rework/grade.ts';
import { gradeToSize, type MeasuredGrade, prepare, relax } from '../../knit.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { liesFlat } from '../../report/words/verdict-words.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseGauge, parsePositive } from '../option-values.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface Options extends RestChoice {
  readonly sideCm?: number;
  readonly sideIn?: number;
  readonly gauge?: { readonly stitchMm: number; readonly roundMm: number };
  readonly json?: boolean;
}

export const gradeCommand: CommandMaker = (session) =>
  addRestOption(new Command('grade'))
    .description('the same plan at another size or gauge, with its panels and its shaping')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('--side-cm <cm>', 'side of the finished piece (disc: diameter)', parsePositive)
    .option('--side-in <inches>', 'the same in inches', parsePositive)
    .option('--gauge <SxR>', 'stitches x rounds in 10 cm, e.g. 22x30', parseGauge)
    .option('--json', 'one JSON document instead of the plan text')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      if (options.sideCm !== undefined && options.sideIn !== undefined) {
        throw new UsageError('how big? Give either --side-cm or --side-in');
      }
      if (options.sideCm === undefined && options.sideIn === undefined && !options.gauge) {
        throw new UsageError('to what? Give --side-cm, --side-in or --gauge');
      }
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const { report } = relax(prepare(plan));
      mustBeAtRest(session, options, report.relaxation);
      const gauge = groundGauge(plan, report.metric);
      const { stitchMm, roundMm } = options.gauge ?? gauge;
      const sizeMm =
        options.sideCm !== undefined
          ? options.sideCm * 10
          : options.sideIn !== undefined
            ? options.sideIn * 25.4
            : report.sideMm;
      const unit = options.sideIn === undefined ? 'cm' : 'inch';
      const corners = report.corners >= 3 ? report.corners : 0;
      const sideDeficit = sideDeficitOf(plan, report, gauge.stitchMm);
      const graded = grade(() =>
        gradeToSize(plan, { sizeMm, stitchMm, roundMm, corners, sideDeficit, units: unit }),
      );
      if (!isKnittable(graded)) session.exitWith(EXIT_PLAN_ERRORS);
      if (options.json) {
        printJson(io, { version: 1, ...graded });
        return;
      }
      io.out(graded.text.endsWith('\n') ? graded.text : `${graded.text}\n`);
      io.err(`${outcomeWords(graded, unit)}\n`);
      for (const line of graded.notes) io.err(`${line}\n`);
    });

/** Flat as it comes off the needles, or once blocked; too big to relax: by what its rounds say. */
function isKnittable({ verdict, flatnessError }: MeasuredGrade): boolean {
  return verdict === null ? !(flatnessError > DEFAULT_BANDS.blocking) : liesFlat(verdict);
}

/** `Verdict: flat. It comes to 20.1 cm.` */
function outcomeWords({ verdict, sizeMm }: MeasuredGrade, unit: LengthUnit): string {
  const size = `It comes to ${lengthWords(sizeMm, unit)}`;
  return verdict === null
    ? `Verdict: none, the piece is too big to be relaxed here. ${size} by its stitches.`
    : `Verdict: ${verdict}. ${size} (relaxed).`;
}

/** A plan that cannot be graded names the reason. */
function grade(work: () => MeasuredGrade): MeasuredGrade {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}
