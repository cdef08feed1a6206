/** `write PLAN --worked round|flat`: the written pattern, as it stands or turned to the other way. */
import { Command, InvalidArgumentError } from 'commander';
import type { SeamStitches } from '../../draft/motif/seam-rows.ts';
import type { NeedleWay } from '../../draft/needles.ts';
import { type Turned, turnFlat, turnRound } from '../../draft/rework/turn-flat.ts';
import { prepare, relax } from '../../knit.ts';
import { finishedSize } from '../../paper/pattern/size-words.ts';
import { type WrittenOptions, writePattern } from '../../paper/pattern/written.ts';
import { type SizedPlan, writeSizes } from '../../paper/pattern/written-sizes.ts';
import { yarnUse } from '../../paper/pattern/yarn-use.ts';
import { parsePlan } from '../../plan/parse.ts';
import { hasErrors, type Plan } from '../../plan/plan.ts';
import { sizeNames } from '../../plan/size-names.ts';
import type { Report } from '../../report/report.ts';
import { seamLengthMm } from '../../report/yarn-estimate.ts';
import { type CommandMaker, printJson, type Session } from '../command.ts';
import { addFlatOption, type FlatChoice, mustLieFlat } from '../lies-flat.ts';
import { openPlan } from '../open-plan.ts';
import { parseSeam, parseWay, WAY_NAMES } from '../option-values.ts';
import { addSizeOption, allSizes, type SizeChoice } from '../plan-size.ts';
import { progressLine } from '../progress.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { solverOptions } from '../solver-options.ts';
import { addTermsOption, chosenTerms, type TermsChoice } from '../terms-option.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';

interface Options extends RestChoice, SizeChoice, FlatChoice, TermsChoice {
  readonly worked?: 'round' | 'flat';
  readonly seam?: SeamStitches;
  readonly needles?: NeedleWay;
  readonly leftHanded?: boolean;
  readonly inches?: boolean;
  readonly output?: string;
  readonly json?: boolean;
}

/** The size is worth waiting for so long, s. Chosen. */
const SIZE_SECONDS = 60;

export const writeCommand: CommandMaker = (session) =>
  addTermsOption(addSizeOption(addFlatOption(addRestOption(new Command('write')))))
    .description('the written pattern: materials, gauge, abbreviations, rounds, finishing')
    .argument('<plan>', 'plan text file, - for the standard input')
    .option('--worked <way>', 'round or flat; turned if the plan is worked otherwise', parseWorked)
    .option(
      '--seam <stitches>',
      'one or two (one), cast on for the seam where a plan in the round is worked flat',
      parseSeam,
    )
    .option('--needles <way>', `needles to write for: ${WAY_NAMES} (whatever suits)`, parseWay)
    .option('--left-handed', 'say leans as they come out when knitting from left to right')
    .option('--inches', 'inches before centimetres')
    .option('-o, --output <file>', 'where to write it; without it the pattern is the output')
    .option('--json', 'one JSON document instead of the pattern text')
    .action(async (path: string, options: Options) => {
      const { io, exitWith } = session;
      const read = await openPlan(path, session, options);
      if (!read) return;
      const worked = options.worked ?? read.worked;
      if (options.seam !== undefined && (worked === 'round' || read.worked === 'flat'))
        throw new UsageError(
          worked === 'round'
            ? '--seam is for work made flat: add --worked flat'
            : '--seam is for a plan in the round: this one names its own seam stitches',
        );
      const plans = options.size === undefined ? allSizes(read) : [read];
      const turned = turnAll(plans, worked, options.seam ?? 1);
      if ('trouble' in turned) {
        exitWith(EXIT_PLAN_ERRORS);
        if (options.json) printJson(io, { version: 1, title: read.title, trouble: turned.trouble });
        else io.err(`lieflat: ${turned.trouble}\n`);
        return;
      }
      const names = sizeNames(read);
      const sizes = turned.map(({ plan }, k) => ({
        name: names[k] ?? '',
        plan,
        ...facts(plan, options, session),
      }));
      mustLieFlat(session, options, sizes);
      const [{ plan }] = sizes;
      const { title, sections, text } =
        sizes.length > 1 ? writeSizes(sizes) : writePattern(plan, sizes[0].options);
      const notes = [
        ...new Set(turned.flatMap((one) => one.notes)),
        ...(sizes.length > 1 ? sizes.map(verdictOf) : []),
      ];
      if (options.output) await io.writeFile(options.output, text);
      if (options.json) {
        printJson(io, { version: 1, title, worked: plan.worked, sections, text, notes });
        return;
      }
      if (options.output) io.out(`Pattern written: ${options.output}\n`);
      else io.out(text.endsWith('\n') ? text : `${text}\n`);
      for (const note of notes) io.err(`${note}\n`);
    });

/** `20 cm: flat after blocking.` */
function verdictOf({ name, options }: SizedPlan): string {
  return `${name}: ${options.verdict ?? 'did not come to rest'}.`;
}

/** Every size worked the way asked, all with the same seam. */
function turnAll(
  plans: readonly Plan[],
  worked: 'round' | 'flat',
  seam: SeamStitches,
): { plan: Plan; notes: readonly string[] }[] | { trouble: string } {
  const turned: { plan: Plan; notes: readonly string[] }[] = [];
  for (const plan of plans) {
    const one = turn(plan, worked, seam);
    if ('trouble' in one) return one;
    turned.push(one);
  }
  const seams = new Set(turned.map(({ plan }) => JSON.stringify(plan.seam)));
  return seams.size > 1 && seam === 1 ? turnAll(plans, worked, 2) : turned;
}

/** The plan worked the other way where that is asked, with what could not be kept. */
function turn(
  plan: Plan,
  worked: 'round' | 'flat',
  seam: SeamStitches,
): { plan: Plan; notes: readonly string[] } | { trouble: string } {
  if (plan.worked === worked) return { plan, notes: [] };
  let turned: Turned;
  try {
    turned = worked === 'flat' ? turnFlat(plan, seam) : turnRound(plan);
  } catch (error) {
    if (error instanceof RangeError) return { trouble: error.message };
    throw error;
  }
  const other = parsePlan(turned.text);
  if (hasErrors(other)) {
    const [first] = other.diagnostics.filter((d) => d.severity === 'error');
    return { trouble: `this plan cannot be worked ${worked}: ${first.message}` };
  }
  return { plan: other, notes: turned.notes };
}

/** Size and yarn of the finished piece, from the fabric at rest. */
function facts(
  plan: Plan,
  options: Options,
  session: Session,
): { report: Report; options: WrittenOptions } {
  const { io } = session;
  const prepared = prepare(plan);
  const progress = progressLine(io);
  const { report } = relax(prepared, {
    ...solverOptions({ maxSeconds: SIZE_SECONDS }, io, progress, 'measuring'),
    advise: false,
  });
  progress.end();
  mustBeAtRest(session, options, report.relaxation);
  const { gauge } = prepared;
  const written: WrittenOptions = {
    terms: chosenTerms(options, plan),
    units: options.inches ? 'inch' : 'cm',
    ...finishedSize(report),
    way: options.needles ?? null,
    stitchMm: gauge.groundSize.stitchMm,
    ground: { fabric: gauge.ground, ...gauge.groundSize },
    hand: options.leftHanded ? 'left' : 'right',
    yarnUse: yarnUse(plan, {
      stitchMm: gauge.sizes.stockinette.stitchMm,
      tex: gauge.tex,
      seamMm: seamLengthMm(plan, gauge.groundSize.roundMm),
      ballGrams: plan.yarn?.ballGrams ?? null,
      ballMetres: plan.yarn?.ballMetres ?? null,
    }),
  };
  return { report, options: written };
}

function parseWorked(text: string): 'round' | 'flat' {
  const word = text.trim().toLowerCase();
  if (word !== 'round' && word !== 'flat') throw new InvalidArgumentError('Write round or flat.');
  return word;
}
