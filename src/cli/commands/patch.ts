/**
 * `patch PLAN --rounds a-b --stitches c-d`: a piece of the plan at the level of yarn, repeated in all
 * directions: how much its crossings pull it in.
 */
import { Command } from 'commander';
import { prepare } from '../../knit.ts';
import { MUNDEN_KW } from '../../paper/yarn-use.ts';
import { STITCH_OVER_YARN } from '../../yarn/lay-yarn.ts';
import { type PanelResult, relaxPanel } from '../../yarn/relax-panel.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parsePositive, parseRange } from '../option-values.ts';
import { cutPatch, type Span } from '../plan-patch.ts';
import { progressLine } from '../progress.ts';
import { textTable } from '../text-table.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';
import { fixed } from '../words.ts';

interface Options {
  readonly rounds: Span;
  readonly stitches: Span;
  readonly loopMm?: number;
  readonly yarnMm?: number;
  readonly json?: boolean;
}

export const patchCommand: CommandMaker = (session) =>
  new Command('patch')
    .description('a piece of the plan as yarn: how much its cables pull it in')
    .argument('<plan>', 'plan text file, - for the standard input')
    .requiredOption('--rounds <a-b>', 'rounds of the patch, counted as worked', parseRange)
    .requiredOption('--stitches <c-d>', 'stitches, from the right in its first round', parseRange)
    .option('--loop-mm <mm>', 'yarn in one stitch; otherwise from the gauge', parsePositive)
    .option(
      '--yarn-mm <mm>',
      'thickness of the pressed yarn; otherwise from the gauge',
      parsePositive,
    )
    .option('--json', 'one JSON document instead of words')
    .action(async (path: string, options: Options) => {
      const { io, exitWith } = session;
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const { faces, crossings } = cutPatch(plan, options.rounds, options.stitches);
      const { stitchMm } = prepare(plan).gauge.sizes.stockinette;
      const loopMm = options.loopMm ?? MUNDEN_KW * stitchMm;
      const yarnMm = options.yarnMm ?? stitchMm / STITCH_OVER_YARN;
      const progress = progressLine(io);
      let panel: PanelResult;
      try {
        panel = relaxPanel({
          faces,
          crossings,
          loopMm,
          yarnMm,
          onProgress: (residual) => {
            progress.show(() => `relaxing, force left ${residual.toExponential(1)}`);
            return undefined;
          },
        });
      } catch (error) {
        if (error instanceof RangeError) throw new UsageError(error.message);
        throw error;
      }
      progress.end();
      if (!panel.relaxation.converged) exitWith(EXIT_PLAN_ERRORS);
      const { shape: _, ...numbers } = panel;
      const { rounds, stitches } = options;
      if (options.json) {
        const head = { version: 1, title: plan.title, rounds, stitches, loopMm, yarnMm };
        printJson(io, { ...head, crossings: crossings.length, ...numbers });
      } else io.out(describe(panel, crossings.length, options, loopMm, yarnMm));
    });

function describe(
  panel: PanelResult,
  crossings: number,
  { rounds, stitches }: Options,
  loopMm: number,
  yarnMm: number,
): string {
  const mm = (value: number) => `${fixed(value, 1)} mm`;
  const rows = [
    ['width', mm(panel.widthMm)],
    ['width without its crossings', mm(panel.uncrossedWidthMm)],
    ['pulled in', `${fixed(panel.pullInPercent, 1)} %`],
    ['pulled in, of the cables alone', `${fixed(panel.cablePullInPercent, 1)} %`],
    ['height of a round (held)', mm(panel.roundMm)],
    ['crossings', String(crossings)],
  ];
  const where = `Rounds ${rounds.from}–${rounds.to}, stitches ${stitches.from}–${stitches.to}`;
  const yarn = `${fixed(loopMm, 1)} mm of yarn a stitch, ${fixed(yarnMm, 2)} mm thick`;
  const trust = panel.relaxation.converged
    ? ''
    : `\nDid not come to rest (${panel.relaxation.reason}): do not rely on these numbers.\n`;
  return `${where}: ${yarn}\n\n${textTable([{ head: '' }, { head: '', align: 'right' }], rows)}${trust}`;
}
