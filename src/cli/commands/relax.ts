/** `relax PLAN`: the whole flow: the fabric at rest, the verdict, what to change, the shape as files. */

import { Command, InvalidArgumentError } from 'commander';
import { STATED } from '../../gauge/gauge/gauge.ts';
import { type KnitOptions, type Knitted, prepare, relax, unpin } from '../../knit.ts';
import { forceText, restTimeWords, restWords } from '../../paper/pattern/yarn-rest-words.ts';
import { writeGlb } from '../../paper/shape-files/glb.ts';
import { writeObj } from '../../paper/shape-files/obj.ts';
import type { Plan } from '../../plan/plan.ts';
import { sizeNames } from '../../plan/size-names.ts';
import { fabricWords } from '../../plan/write/header.ts';
import { closingLengths, closingName } from '../../report/closing.ts';
import type { Report } from '../../report/report.ts';
import { castOnWords } from '../../report/words/counts.ts';
import { courseWords } from '../../report/words/course-words.ts';
import { gaugeWords as countWords, statedGauge } from '../../report/words/gauge.ts';
import { type LengthUnit, lengthWords, signedLengthWords } from '../../report/words/length.ts';
import { nothingAdvised } from '../../report/words/nothing-advised.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { PINNED_FLAT, pinnedWords, riseWords } from '../../report/words/table-words.ts';
import { inPlanTerms } from '../../report/words/terms.ts';
import { liesFlat, turnsRound } from '../../report/words/verdict-words.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { REST_FORCE, type RelaxedYarn, relaxYarn } from '../../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { fabricShape, laidYarn, yarnShape } from '../fabric-shape.ts';
import type { Io } from '../io.ts';
import { openPlan } from '../open-plan.ts';
import { addSizeOption, allSizes, type SizeChoice } from '../plan-size.ts';
import { progressLine } from '../progress.ts';
import { mustBeAtRest } from '../rest.ts';
import { addSolverOptions, type SolverChoices, solverOptions } from '../solver-options.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';
import { diagnosticLines, unitOf } from '../words.ts';

interface Options extends SolverChoices, SizeChoice {
  readonly json?: boolean;
  readonly inches?: boolean;
  readonly obj?: string;
  readonly glb?: string;
  readonly yarnObj?: string;
  readonly yarnGlb?: string;
  readonly pose: Pose;
  readonly settle?: boolean;
  readonly unpinned?: boolean;
  readonly advised?: string;
}

type Pose = 'lying' | 'picked-up';

function parsePose(text: string): Pose {
  if (text === 'lying' || text === 'picked-up') return text;
  throw new InvalidArgumentError('Write lying or picked-up.');
}

/** The piece on its table; as it is where it was not laid on one. */
function asItLies(knitted: Knitted): Knitted {
  const { lying } = knitted.sheet;
  if (!lying) return knitted;
  return { ...knitted, sheet: { ...knitted.sheet, positions: lying.positions } };
}

export const relaxCommand: CommandMaker = (session) =>
  addSizeOption(addSolverOptions(new Command('relax')))
    .description('lay the fabric out: does it lie flat, how big is it, what to change')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('--obj <file>', 'write the shape as Wavefront OBJ, mm')
    .option('--glb <file>', 'write the shape as binary glTF, metres')
    .option('--yarn-obj <file>', 'write the yarn, laid on the shape, as Wavefront OBJ, mm')
    .option('--yarn-glb <file>', 'write the yarn as binary glTF, metres')
    .option(
      '--pose <pose>',
      'how the piece stands in these files: lying (on a table, as the rise is told) or picked-up',
      parsePose,
      'lying',
    )
    .option('--settle', 'bring the yarn to rest before it is written; a large square takes a while')
    .option('--unpinned', 'the shape with nothing to hold it down: stockinette curls at its edges')
    .option('--advised <file>', 'write the plan with the advice followed')
    .option('--inches', 'inches instead of centimetres')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      if (options.settle && !options.yarnObj && !options.yarnGlb) {
        throw new UsageError('--settle is for the yarn: add --yarn-obj or --yarn-glb');
      }
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const { io, exitWith } = session;
      const progress = progressLine(io);
      const solver = solverOptions(options, io, progress, 'relaxing');
      const pinned = relax(prepare(plan), solver);
      if (options.unpinned) mustBeAtRest(session, options, pinned.report.relaxation);
      const knitted = options.unpinned ? unpin(pinned, solver) : pinned;
      const sizes = options.size === undefined ? relaxSizes(plan, pinned, solver) : [];
      for (const { report } of sizes) mustBeAtRest(session, options, report.relaxation);
      progress.end();
      const { relaxation } = knitted.report;
      mustBeAtRest(session, options, relaxation);
      const posed = options.pose === 'lying' ? asItLies(knitted) : knitted;
      if (options.obj || options.glb) {
        const shape = fabricShape(posed);
        if (options.obj) await io.writeFile(options.obj, writeObj(shape));
        if (options.glb) await io.writeFile(options.glb, writeGlb(shape));
      }
      if (options.advised) {
        const offer = knitted.report.advice.find((advice) => advice.planText !== null);
        if (offer?.planText) await io.writeFile(options.advised, offer.planText);
        else {
          io.err(
            `No plan was written to ${options.advised}: ${inPlanTerms(noOffer(knitted.report), plan)}\n`,
          );
          exitWith(EXIT_PLAN_ERRORS);
        }
      }
      let settled: RelaxedYarn | null = null;
      if (options.yarnObj || options.yarnGlb) {
        const laid = laidYarn(posed);
        settled = options.settle ? settleLaid(laid, posed, options, io) : null;
        if (settled) mustBeAtRest(session, options, settled.relaxation);
        const yarn = yarnShape(posed, settled?.curves ?? laid);
        if (options.yarnObj) await io.writeFile(options.yarnObj, writeObj(yarn));
        if (options.yarnGlb) await io.writeFile(options.yarnGlb, writeGlb(yarn));
      }
      const settling = settled && settlingOf(settled);
      if (options.json)
        printJson(io, {
          ...knitted.report,
          ...(settling && { settling }),
          ...(sizes.length > 0 && { sizes: sizes.map(sizeFigures) }),
        });
      else {
        io.out(inPlanTerms(describe(knitted, unitOf(options)), plan));
        if (sizes.length > 0) io.out(`\n${sizesTable(plan, sizes, unitOf(options))}`);
        if (settling) io.out(`\n${settling.words}\n`);
      }
    });

interface RelaxedSize {
  readonly name: string;
  readonly report: Report;
}

/** Every size of a plan for several; none where it is for one. */
function relaxSizes(plan: Plan, followed: Knitted, solver: KnitOptions): RelaxedSize[] {
  const names = sizeNames(plan);
  if (names.length === 0) return [];
  return allSizes(plan).map((one, k) => ({
    name: names[k],
    report:
      k === plan.sizes?.chosen
        ? followed.report
        : relax(prepare(one), { ...solver, advise: false }).report,
  }));
}

function sizeFigures({ name, report }: RelaxedSize) {
  const { castOn, verdict, coneAngleDeg, sideMm, riseMm, relaxation } = report;
  return { name, castOn, verdict, coneAngleDeg, sideMm, riseMm, relaxation };
}

function sizesTable({ sizes }: Plan, relaxed: readonly RelaxedSize[], unit: LengthUnit): string {
  const heads = ['size', 'cast on', 'verdict', 'comes to', 'rise'].map((head, i) => ({
    head,
    align: i === 0 || i === 2 ? ('left' as const) : ('right' as const),
  }));
  const rows = relaxed.map(({ name, report }, k) => [
    k === sizes?.chosen ? `${name} (above)` : name,
    String(report.castOn),
    report.verdict,
    sizeFact(report, unit).words,
    riseWords(report, unit),
  ]);
  return textTable(heads, rows);
}

function noOffer({ verdict, advice }: Report): string {
  return (
    advice[0]?.text ??
    (liesFlat(verdict) ? 'the piece lies flat as it is.' : 'there is no schedule to advise.')
  );
}

/** Yarn brought to rest, within the time that the solver may take as well. */
function settleLaid(
  laid: YarnCurves,
  { graph }: Knitted,
  { maxSeconds }: Options,
  io: Io,
): RelaxedYarn {
  const progress = progressLine(io);
  const start = io.now();
  const settled = relaxYarn(laid, graph, {
    onProgress: (residual, step) => {
      progress.show(
        () =>
          `bringing the yarn to rest (${restTimeWords(graph.loops)}): step ${step}, ` +
          `force left ${forceText(residual)}, at rest ${forceText(REST_FORCE)}`,
      );
      return io.now() - start > maxSeconds * 1000;
    },
  });
  progress.end();
  return settled;
}

function settlingOf({ curves, relaxation }: RelaxedYarn) {
  const { linksChecked, linksWrong, minCentreDistanceMm } = curves.check;
  return {
    ...relaxation,
    closestDiameters: minCentreDistanceMm / (2 * curves.radiusMm),
    linksChecked,
    linksWrong,
    words: restWords(relaxation, curves),
  };
}

function describe({ report, plan }: Knitted, unit: LengthUnit): string {
  const parts = [`${report.title || 'Untitled plan'}\n`, verdictLines(report)];
  const pinned = pinnedWords(report, unit);
  const size = sizeFact(report, unit);
  const rows = [
    ['cast on', castOnWords(report.castOn, report.castOnForJoin)],
    [courseWords(report).many, String(report.rounds.length)],
    ['stitches at the end', String(report.last)],
    ...(report.closing
      ? [[closingName(report).toLowerCase(), closingLengths(report.closing, unit)]]
      : []),
    ['gauge', gaugeWords(report, plan, unit)],
    [size.name, size.words],
    // A tube's height is in its size.
    ...(report.tube ? [] : [[report.lying ? 'rise as it lies' : 'rise', riseWords(report, unit)]]),
    ...(report.lying ? [['rise picked up', lengthWords(report.weightlessRiseMm, unit)]] : []),
    ...(pinned ? [[PINNED_FLAT.toLowerCase(), pinned]] : []),
    ...(turnsRound(report)
      ? [['rim too long (+) or short (−)', signedLengthWords(report.surplusRimMm, unit)]]
      : []),
    ['yarn', yarnWords(report, unit)],
  ];
  parts.push(textTable([{ head: '' }, { head: '' }], rows));
  const advice = report.advice.map((one) => one.text);
  if (advice.length === 0 && report.closing?.puckers) advice.push(nothingAdvised(report));
  if (advice.length > 0) parts.push(`What to do:\n${advice.map((text) => `  ${text}\n`).join('')}`);
  if (report.diagnostics.length > 0) {
    parts.push(`Remarks about the plan:\n${diagnosticLines(report.diagnostics)}`);
  }
  if (!report.relaxation.converged) {
    parts.push(
      `The fabric did not come to rest (${report.relaxation.reason}, force left ` +
        `${report.relaxation.residual.toExponential(1)}): take these numbers as a first guess.\n`,
    );
  }
  return parts.join('\n');
}

function verdictLines(report: Report): string {
  const shape = ['', report.verdict].includes(report.shape) ? '' : ` (${report.shape})`;
  return `Verdict: ${report.verdict}${shape}\n${report.reasons.map((r) => `  ${r}\n`).join('')}`;
}

/** The gauge that most of the piece was laid out by, behind those of the plan where it states another fabric's. */
function gaugeWords({ metric, worked }: Report, plan: Plan, unit: LengthUnit): string {
  const fabric = fabricWords(metric.ground);
  if (metric.origin === STATED) return `${statedGauge(metric, unit, worked)}${fabric} (${STATED})`;
  const most = `${countWords(metric, unit, worked)}${fabric} (${metric.origin})`;
  const stated = plan.gauges.map(
    (gauge) => `${statedGauge(gauge, unit, worked)}${fabricWords(gauge.fabric)} (${STATED})`,
  );
  return stated.length === 0 ? most : `${stated.join('; ')}; by that ${most}, as most of it is`;
}

function yarnWords(report: Report, unit: LengthUnit): string {
  const { lengthM, massG, origin } = report.yarn;
  const mass = Number.isFinite(massG) ? `, ${massWords(massG, unit)}` : '';
  return `${yarnLengthWords(lengthM, unit)}${mass} (${origin})`;
}
