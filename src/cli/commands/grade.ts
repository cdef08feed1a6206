/** `grade PLAN`: the same plan at another size or gauge; what could not be kept goes to the error stream. */
import { Command } from 'commander';
import { rimStitches } from '../../draft/rework/grade.ts';
import type { MeasuredGrade } from '../../draft/search/grade-measured.ts';
import { gradeToSize, prepare, relax } from '../../knit.ts';
import { lengthWords } from '../../report/words/length.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseGauge, parsePositive } from '../option-values.ts';
import { UsageError } from '../usage-error.ts';

interface Options {
  readonly sideCm?: number;
  readonly sideIn?: number;
  readonly gauge?: { readonly stitchMm: number; readonly roundMm: number };
  readonly json?: boolean;
}

export const gradeCommand: CommandMaker = (session) =>
  new Command('grade')
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
      const { stitchMm, roundMm } = options.gauge ?? report.metric;
      const sizeMm =
        options.sideCm !== undefined
          ? options.sideCm * 10
          : options.sideIn !== undefined
            ? options.sideIn * 25.4
            : report.sideMm;
      const corners = report.corners >= 3 ? report.corners : 0;
      const sideDeficit =
        corners > 0 ? rimStitches(plan) / corners - report.sideMm / report.metric.stitchMm : 0;
      const graded = grade(() =>
        gradeToSize(plan, { sizeMm, stitchMm, roundMm, corners, sideDeficit }),
      );
      if (options.json) {
        printJson(io, { version: 1, ...graded });
        return;
      }
      io.out(graded.text.endsWith('\n') ? graded.text : `${graded.text}\n`);
      const unit = options.sideIn === undefined ? 'cm' : 'inch';
      const how = Number.isFinite(graded.flatnessError) ? 'relaxed' : 'by its stitches';
      io.err(`It comes to ${lengthWords(graded.sizeMm, unit)} (${how}).\n`);
      for (const line of graded.notes) io.err(`${line}\n`);
    });

/** A plan that cannot be graded names the reason. */
function grade(work: () => MeasuredGrade): MeasuredGrade {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}
