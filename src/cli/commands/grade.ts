/** `grade PLAN`: the same plan at another size or gauge; what could not be kept goes to the error stream. */
import { Command } from 'commander';
import type { GradeSpec } from '../../draft/rework/grade-spec.ts';
import { joinSizes } from '../../draft/rework/graded-sizes.ts';
import { openSides } from '../../draft/rework/open-piece.ts';
import { groundGauge, sideDeficitOf } from '../../draft/rework/rim-stitches.ts';
import { gradeToSize, type MeasuredGrade, prepare, relax, shareSchedule } from '../../knit.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { type CommandMaker, printJson, type Session } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseGauge, parsePositive } from '../option-values.ts';
import { isKnittable, outcomeWords } from '../outcome.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface GaugeMm {
  readonly stitchMm: number;
  readonly roundMm: number;
}

interface Options extends RestChoice {
  readonly sideCm?: readonly number[];
  readonly sideIn?: readonly number[];
  readonly gauge?: readonly GaugeMm[];
  readonly json?: boolean;
}

/** Most sizes of one pattern: the reader's. */
const MAX_SIZES = 16;

export const gradeCommand: CommandMaker = (session) =>
  addRestOption(new Command('grade'))
    .description('the same plan at another size or gauge, or several in one text')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option(
      '--side-cm <cm>',
      'side of the finished piece (disc: diameter; left open: a side of its longest row); several sizes: 15,20,25',
      listOf(parsePositive),
    )
    .option('--side-in <inches>', 'the same in inches', listOf(parsePositive))
    .option(
      '--gauge <SxR>',
      'stitches x rounds in 10 cm, e.g. 22x30; several yarns: 22x30,18x25',
      listOf(parseGauge),
    )
    .option('--json', 'one JSON document instead of the plan text')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      checkSizes(options);
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const { report } = relax(prepare(plan), { advise: false });
      mustBeAtRest(session, options, report.relaxation);
      const unit = options.sideIn === undefined ? 'cm' : 'inch';
      const own = groundGauge(plan, report.metric);
      const corners = report.corners >= 3 ? report.corners : 0;
      const sideDeficit = sideDeficitOf(plan, report, own.stitchMm);
      const sides = grade('', 1, () => openSides(plan));
      const sizes = sizesAsked(options, own, report.sideMm / (sides ?? 1), unit);
      const specs = sizes.map(
        ({ name: _, ...size }): GradeSpec => ({
          ...size,
          corners,
          sideDeficit,
          units: unit,
        }),
      );
      const alone = specs.map((spec, k) =>
        grade(sizes[k].name, sizes.length, () => gradeToSize(plan, spec)),
      );
      const graded = shareSchedule(plan, specs, alone);
      if (!graded.every(isKnittable)) session.exitWith(EXIT_PLAN_ERRORS);
      if (graded.length > 1) printSizes(session, options, sizes, graded, unit);
      else if (options.json) {
        const { spacing: _, ...one } = graded[0];
        printJson(io, { version: 1, ...one });
      } else {
        io.out(graded[0].text.endsWith('\n') ? graded[0].text : `${graded[0].text}\n`);
        io.err(`${outcomeWords(graded[0], unit)}\n`);
        for (const line of graded[0].notes) io.err(`${line}\n`);
      }
    });

function checkSizes({ sideCm, sideIn, gauge }: Options): void {
  if (sideCm !== undefined && sideIn !== undefined)
    throw new UsageError('how big? Give either --side-cm or --side-in');
  const sides = sideCm ?? sideIn;
  if (sides === undefined && !gauge)
    throw new UsageError('to what? Give --side-cm, --side-in or --gauge');
  const counts = [sides?.length ?? 1, gauge?.length ?? 1];
  if (Math.min(...counts) > 1 && counts[0] !== counts[1])
    throw new UsageError('give one gauge for all sizes, or one for each of them');
  if (Math.max(...counts) > MAX_SIZES)
    throw new UsageError(`one pattern holds at most ${MAX_SIZES} sizes`);
}

interface SizeAsked extends GaugeMm {
  readonly name: string;
  readonly sizeMm: number;
}

function sizesAsked(
  { sideCm, sideIn, gauge }: Options,
  own: GaugeMm,
  ownSideMm: number,
  unit: LengthUnit,
): SizeAsked[] {
  const sides = sideCm?.map((cm) => cm * 10) ?? sideIn?.map((inches) => inches * 25.4);
  const gauges = gauge ?? [own];
  const count = Math.max(sides?.length ?? 1, gauges.length);
  return Array.from({ length: count }, (_, k) => {
    const sizeMm = sides?.[Math.min(k, sides.length - 1)] ?? ownSideMm;
    const { stitchMm, roundMm } = gauges[Math.min(k, gauges.length - 1)];
    const size = lengthWords(sizeMm, unit);
    const name = gauges.length > 1 ? `${size} at ${Math.round(1000 / stitchMm) / 10} sts` : size;
    return { name, sizeMm, stitchMm, roundMm };
  });
}

/** All sizes in one text that reads back as each of them, with a verdict for each. */
function printSizes(
  { io }: Session,
  { json }: Options,
  sizes: readonly SizeAsked[],
  graded: readonly MeasuredGrade[],
  unit: LengthUnit,
): void {
  const { text, names } = joinSizes(
    graded.map((one, k) => ({ ...one, askedMm: sizes[k].sizeMm, stitchMm: sizes[k].stitchMm })),
    unit,
  );
  if (json) {
    const each = graded.map(({ text: _, spacing: _spacing, ...size }, k) => ({
      name: names[k],
      ...size,
    }));
    printJson(io, { version: 1, text, sizes: each });
    return;
  }
  io.out(text);
  graded.forEach((size, k) => {
    io.err(`${names[k]}: ${outcomeWords(size, unit)}\n`);
    for (const line of size.notes) io.err(`${names[k]}: ${line}\n`);
  });
}

/** Values by commas. */
function listOf<T>(parse: (text: string) => T): (text: string) => T[] {
  return (text) => text.split(',').map((part) => parse(part.trim()));
}

/** A plan that cannot be graded names the reason, and the size where there are several. */
function grade<T>(name: string, sizes: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError)
      throw new UsageError(sizes > 1 ? `${name}: ${error.message}` : error.message);
    throw error;
  }
}
