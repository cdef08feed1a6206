/** `compare PLAN --every 1,4/3,3/2,2`: the same plan with its shaping timed anew, side by side. */
import { Command } from 'commander';
import { type Redraft, redraft } from '../../draft/rework/redraft.ts';
import { relax } from '../../knit.ts';
import { parsePlan } from '../../plan/parse.ts';
import type { Report } from '../../report/report.ts';
import { courseWords } from '../../report/words/course-words.ts';
import { type LengthUnit, signedLengthWords } from '../../report/words/length.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { riseWords } from '../../report/words/table-words.ts';
import { turnsRound } from '../../report/words/verdict-words.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseRates, type Rate } from '../option-values.ts';
import { checkPlan } from '../plan-document.ts';
import { progressLine } from '../progress.ts';
import { mustBeAtRest } from '../rest.ts';
import { addSolverOptions, type SolverChoices, solverOptions } from '../solver-options.ts';
import { textTable } from '../text-table.ts';
import { UsageError } from '../usage-error.ts';
import { fixed, unitOf } from '../words.ts';

interface Options extends SolverChoices {
  readonly every: Rate[];
  readonly json?: boolean;
  readonly inches?: boolean;
}

/** One column of the comparison; lengths mm. */
interface Trial {
  /** As typed; null for the plan as it is written. */
  readonly rate: string | null;
  /** Rounds for one shaping round on average; null as above. */
  readonly every: number | null;
  /** What the new timing could not keep. */
  readonly notes: readonly string[];
  readonly report: Report;
}

export const compareCommand: CommandMaker = (session) =>
  addSolverOptions(new Command('compare'))
    .description('the same plan with its decreases timed otherwise, side by side')
    .argument('<plan>', 'plan text file, - for the standard input')
    .requiredOption(
      '--every <rates>',
      'rounds for one decrease round, e.g. 1,4/3,3/2,2 (4/3: three rounds of every four)',
      parseRates,
    )
    .option('--inches', 'inches instead of centimetres')
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io } = session;
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      if (plan.rounds.every((round) => round.after === round.before))
        throw new UsageError(
          'this plan neither decreases nor increases, so there is no rate to compare',
        );
      const progress = progressLine(io);
      const trialOf = (text: string, rate: Rate | null, notes: readonly string[]): Trial => {
        const { prepared } = checkPlan(rate ? parsePlan(text) : plan);
        if (!prepared) {
          throw new Error(`the plan re-timed to ${rate?.text} does not check: ${text}`);
        }
        const { report } = relax(
          prepared,
          solverOptions(options, io, progress, rate ? `every ${rate.text}` : 'as written'),
        );
        return { rate: rate?.text ?? null, every: rate?.every ?? null, notes, report };
      };
      const trials = [trialOf(plan.text, null, [])];
      for (const rate of options.every) {
        const again = rescheduleShaping(plan, rate);
        trials.push(trialOf(again.text, rate, again.notes));
      }
      progress.end();
      for (const { report } of trials) mustBeAtRest(session, options, report.relaxation);
      if (options.json) {
        const [asWritten, ...compared] = trials.map(numbers);
        printJson(io, { version: 1, title: plan.title, asWritten, compared });
      } else io.out(describe(plan.title, trials, unitOf(options)));
    });

function rescheduleShaping(plan: Parameters<typeof redraft>[0], rate: Rate): Redraft {
  try {
    return redraft(plan, rate.every);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

function numbers({ rate, every, notes, report }: Trial) {
  const { castOn, last, crossings, verdict, coneAngleDeg, surplusRimMm, sideMm, riseMm } = report;
  const { weightlessRiseMm } = report;
  return {
    rate,
    every,
    castOn,
    rounds: report.rounds.length,
    last,
    crossings,
    verdict,
    coneAngleDeg,
    surplusRimMm,
    sideMm,
    riseMm,
    weightlessRiseMm,
    relaxation: report.relaxation,
    yarn: report.yarn,
    advice: report.advice,
    notes,
  };
}

function describe(title: string, trials: readonly Trial[], unit: LengthUnit): string {
  const { one, many, shape } = courseWords(trials[0].report);
  const table = textTable(
    [
      { head: `${shape} ${one} every` },
      { head: many, align: 'right' },
      { head: 'verdict' },
      { head: 'round the centre', align: 'right' },
      { head: 'rim', align: 'right' },
      { head: 'size', align: 'right' },
      { head: 'rise', align: 'right' },
    ],
    trials.map(({ rate, report }) => [
      rate ?? '(as written)',
      String(report.rounds.length),
      report.relaxation.converged ? report.verdict : `${report.verdict} (not at rest)`,
      turnsRound(report) ? `${fixed(report.coneAngleDeg, 0)}°` : '–',
      turnsRound(report) ? signedLengthWords(report.surplusRimMm, unit) : '–',
      sizeFact(report, unit).words,
      report.tube ? '–' : riseWords(report, unit),
    ]),
  );
  const notes = trials.flatMap((t) => t.notes.map((n) => `  every ${t.rate}: ${n}\n`));
  return `${title || 'Untitled plan'}\n\n${table}\n360° lies flat; the rim is too long (+) or too short (−) by so much.\n${notes.join('')}`;
}
