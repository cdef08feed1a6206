/**
 * `patch PLAN --rounds a-b --stitches c-d`: a patch of the plan as yarn. The patch is laid on the relaxed
 * sheet and comes to rest held to it, with its crossings and with the same stitches worked straight; where
 * its columns can be repeated, the free panel of the yarn model says what the crossings alone would do.
 */
import { Command } from 'commander';
import { checkRequest, MAX_CELL_STITCHES } from '../../cell/cell-limits.ts';
import { HAND_LOOP } from '../../cell/fabric-ratios.ts';
import { type PanelResult, relaxPanel } from '../../cell/relax-panel.ts';
import {
  type HeldPatch,
  type HeldPatchOverStarts,
  patchOverStarts,
} from '../../cell/yarn-patch.ts';
import { buildStitchGraph } from '../../fabric/build-graph.ts';
import { type PatchSpan, patchLoops, refuseShortRows } from '../../fabric/region-loops.ts';
import { courseCount, type StitchGraph } from '../../fabric/stitch-graph.ts';
import { prepare, relax } from '../../knit.ts';
import type { Plan } from '../../plan/plan.ts';
import { uncrossPlan } from '../../plan/stitches/without-crossings.ts';
import { MUNDEN_KW } from '../../report/yarn-estimate.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parseCount, parsePositive, parseRange } from '../option-values.ts';
import { cutPatch } from '../plan-patch.ts';
import { type ProgressLine, progressLine } from '../progress.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { textTable } from '../text-table.ts';
import { UsageError } from '../usage-error.ts';
import { fixed } from '../words.ts';

interface Options extends RestChoice {
  readonly rounds: PatchSpan;
  readonly stitches: PatchSpan;
  readonly loopMm?: number;
  readonly yarnMm?: number;
  readonly panel: boolean;
  readonly starts: number;
  readonly json?: boolean;
}

interface Yarn {
  readonly loopMm: number;
  readonly yarnMm: number;
}

export const patchCommand: CommandMaker = (session) =>
  addRestOption(new Command('patch'))
    .description('a patch of the plan as yarn, held to its relaxed sheet: width, gaps, pull-in')
    .argument('<plan>', 'plan text file, - for the standard input')
    .requiredOption('--rounds <a-b>', 'rounds of the patch, counted as worked', parseRange)
    .requiredOption('--stitches <c-d>', 'stitches, from the right in its first round', parseRange)
    .option(
      '--loop-mm <mm>',
      'yarn in a stitch of the free panel; else by the gauge',
      parsePositive,
    )
    .option(
      '--yarn-mm <mm>',
      'thickness of the pressed yarn; otherwise from the gauge',
      parsePositive,
    )
    .option(
      '--starts <n>',
      'relax the patch from so many starts and tell how far they differ',
      parseCount,
      1,
    )
    .option('--no-panel', 'leave out the free panel, which takes longest')
    .option('--json', 'one JSON document instead of words')
    .addHelpText('after', HELP)
    .action(async (path: string, options: Options) => {
      const { io } = session;
      const plan = await openPlan(path, session, options);
      if (!plan) return;
      const { rounds, stitches } = options;
      checkSpans(plan, rounds, stitches);
      const { stitchMm } = prepare(plan).gauge.sizes.stockinette;
      const yarn: Yarn = {
        loopMm: options.loopMm ?? MUNDEN_KW * stitchMm,
        // Of the free panel, as tight as hand knitting, like the cables of the metric; the held patch has its own.
        yarnMm: options.yarnMm ?? (MUNDEN_KW * stitchMm) / HAND_LOOP,
      };
      const progress = progressLine(io);
      const measured = inWords(() => {
        checkRequest([[1]], yarn.loopMm, yarn.yarnMm, 16);
        return measure(plan, options, yarn, progress);
      });
      progress.end();
      mustBeAtRest(session, options, measured);
      if (options.json) printJson(io, documentOf(plan, measured, options, yarn));
      else io.out(describe(measured, options, yarn));
    });

const HELP = `
width, uncrossed width and pull-in are measured on the yarn of the patch at rest. The patch is held to
the relaxed sheet, so its pull-in is what the whole piece shows there (0 without crossings); how much a
crossing narrows the sheet comes from the yarn model's table. The free panel repeats the columns of the
patch in all directions with free width: what the crossings do when nothing around holds them. It is
left out where the patch has no crossing, is shaped, or is too large to repeat.
`;

interface Measured {
  readonly held: HeldPatchOverStarts;
  readonly straight: HeldPatch;
  readonly crossings: number;
  readonly sheetAtRest: boolean;
  readonly panel: PanelResult | null;
  /** Why there is no panel; empty where there is one. */
  readonly noPanel: string;
  readonly graph: StitchGraph;
  readonly converged: boolean;
}

function measure(plan: Plan, options: Options, yarn: Yarn, progress: ProgressLine): Measured {
  const { rounds, stitches } = options;
  const restOf = (of: Plan, what: string) => {
    const knitted = relax(prepare(of), {
      onProgress: ({ residual }) => {
        progress.show(() => `${what}: sheet, force left ${residual.toExponential(1)}`);
        return false;
      },
    });
    const { graph, cells, sheet } = knitted;
    const courses = patchLoops(graph, rounds, stitches);
    if (courses.length <= rounds.to - rounds.from) {
      const { label } = plan.rounds[rounds.from + courses.length - 1];
      throw new UsageError(`${label} leaves none of these stitches: end the patch before it`);
    }
    const held = patchOverStarts(graph, cells, sheet.positions, courses, options.starts, {
      yarnMm: options.yarnMm ?? null,
      onProgress: (residual) => {
        progress.show(() => `${what}: yarn, force left ${residual.toExponential(1)}`);
        return undefined;
      },
    });
    return { graph, courses, held, atRest: sheet.relaxation.converged };
  };
  const crossed = restOf(plan, 'patch');
  const { graph } = crossed;
  const found = new Set<number>();
  for (const loop of crossed.courses.flat()) {
    if (graph.crossing[loop] >= 0) found.add(graph.crossing[loop]);
  }
  // Crossings elsewhere in the piece stay out of the comparison too: all of them are worked straight.
  const straight = graph.crossings > 0 ? restOf(uncrossPlan(plan), 'worked straight') : crossed;
  const { panel, noPanel } = freePanel(plan, found.size, options, yarn, progress);
  return {
    held: crossed.held,
    straight: straight.held,
    crossings: found.size,
    sheetAtRest: crossed.atRest && straight.atRest,
    panel,
    noPanel,
    graph,
    converged:
      crossed.atRest &&
      straight.atRest &&
      crossed.held.relaxation.converged &&
      straight.held.relaxation.converged &&
      (panel?.relaxation.converged ?? true),
  };
}

function freePanel(
  plan: Plan,
  crossings: number,
  { rounds, stitches, panel }: Options,
  { loopMm, yarnMm }: Yarn,
  progress: ProgressLine,
): { panel: PanelResult | null; noPanel: string } {
  const none = (noPanel: string) => ({ panel: null, noPanel });
  if (!panel) return none('not asked for');
  if (crossings === 0) return none('the patch has no crossing');
  const size = (rounds.to - rounds.from + 1) * (stitches.to - stitches.from + 1);
  if (size > MAX_CELL_STITCHES) {
    return none(`a repeat may hold ${MAX_CELL_STITCHES} stitches at most, this one has ${size}`);
  }
  try {
    const repeat = cutPatch(plan, rounds, stitches);
    const onProgress = (residual: number) => {
      progress.show(() => `free panel, force left ${residual.toExponential(1)}`);
      return undefined;
    };
    return { panel: relaxPanel({ ...repeat, loopMm, yarnMm, onProgress }), noPanel: '' };
  } catch (error) {
    // Shaped columns, a cut crossing, a crossing as wide as the patch: told, the held patch stands.
    if (error instanceof UsageError || error instanceof RangeError) return none(error.message);
    throw error;
  }
}

function checkSpans(plan: Plan, rounds: PatchSpan, stitches: PatchSpan): void {
  if (rounds.to > plan.rounds.length) {
    throw new UsageError(
      `the plan has ${plan.rounds.length} rounds; there is no round ${rounds.to}`,
    );
  }
  const { label } = plan.rounds[rounds.from - 1];
  const graph = buildStitchGraph(plan);
  inWords(() => refuseShortRows(graph, rounds));
  const count = courseCount(graph, rounds.from);
  if (stitches.to > count) {
    throw new UsageError(
      `${label} leaves ${count === 1 ? '1 stitch' : `${count} stitches`}; there is no stitch ${stitches.to}`,
    );
  }
}

function inWords<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

function documentOf(plan: Plan, measured: Measured, options: Options, { loopMm, yarnMm }: Yarn) {
  const { held, straight, crossings, panel, noPanel, graph, sheetAtRest } = measured;
  const { rounds, stitches } = options;
  const { widthMm } = held;
  const place = placeOf(graph, held.gaps.largestLoop);
  const free = panel && {
    loopMm,
    yarnMm,
    widthMm: panel.widthMm,
    uncrossedWidthMm: panel.uncrossedWidthMm,
    roundMm: panel.roundMm,
    pullInPercent: panel.pullInPercent,
    cablePullInPercent: panel.cablePullInPercent,
    relaxation: panel.relaxation,
  };
  return {
    version: 1,
    title: plan.title,
    rounds,
    stitches,
    crossings,
    boundary: 'held to the relaxed sheet',
    widthMm,
    uncrossedWidthMm: straight.widthMm,
    pullInPercent: pullInOf(measured),
    roundWidths: held.courseWidthsMm.map((mm, k) => ({
      round: rounds.from + k,
      widthMm: mm,
      uncrossedWidthMm: straight.courseWidthsMm[k],
    })),
    loopMm: held.loopMm,
    yarnMm: held.yarnMm,
    minCentreDistanceMm: held.minCentreDistanceMm,
    gaps: {
      largestMm: held.gaps.largestMm,
      largestAt: place,
      usualMm: held.gaps.usualMm,
    },
    ...(held.starts > 1 ? { starts: held.starts, spreadMm: held.spreadMm } : {}),
    linksWrong: held.linksWrong,
    relaxation: held.relaxation,
    uncrossedRelaxation: straight.relaxation,
    sheetAtRest,
    freePanel: free,
    ...(panel ? {} : { freePanelLeftOut: noPanel }),
  };
}

function pullInOf({ held, straight, crossings }: Measured): number {
  return crossings > 0 ? 100 * (1 - held.widthMm / straight.widthMm) : 0;
}

function placeOf(graph: StitchGraph, loop: number): { round: number; stitch: number } {
  return { round: graph.course[loop], stitch: graph.position[loop] + 1 };
}

function describe(measured: Measured, { rounds, stitches }: Options, free: Yarn): string {
  const { held, straight, crossings, panel, noPanel, graph } = measured;
  const mm = (value: number, digits = 1) => `${fixed(value, digits)} mm`;
  const place = placeOf(graph, held.gaps.largestLoop);
  const where = `Rounds ${rounds.from}–${rounds.to}, stitches ${stitches.from}–${stitches.to}, held to the relaxed sheet`;
  const yarn = `${mm(held.loopMm)} of yarn a stitch, ${mm(held.yarnMm, 2)} thick`;
  const columns = [{ head: '' }, { head: '', align: 'right' as const }];
  const rows = [
    ['width', mm(held.widthMm)],
    ...(crossings > 0
      ? [
          ['width with crossings worked straight', mm(straight.widthMm)],
          ['pulled in', `${fixed(pullInOf(measured), 1)} %`],
        ]
      : []),
    ['crossings', String(crossings)],
    ['usual gap between strands', mm(held.gaps.usualMm, 2)],
    [`largest gap (round ${place.round}, stitch ${place.stitch})`, mm(held.gaps.largestMm, 2)],
    ['nearest centre lines', mm(held.minCentreDistanceMm, 2)],
    ...(held.starts > 1
      ? [
          [`spread of ${held.starts} starts: width`, mm(held.spreadMm.width, 2)],
          [`spread of ${held.starts} starts: largest gap`, mm(held.spreadMm.largestGap, 2)],
          [`spread of ${held.starts} starts: usual gap`, mm(held.spreadMm.usualGap, 2)],
        ]
      : []),
  ];
  const repeated = panel
    ? `\nThe same columns repeated, free to draw in (${mm(free.loopMm)} of yarn a stitch, ${mm(free.yarnMm, 2)} thick):\n\n${textTable(
        columns,
        [
          ['width', mm(panel.widthMm)],
          ['width without crossings', mm(panel.uncrossedWidthMm)],
          ['pulled in', `${fixed(panel.pullInPercent, 1)} %`],
          ['pulled in, of the cables alone', `${fixed(panel.cablePullInPercent, 1)} %`],
          ['height of a round (held)', mm(panel.roundMm)],
        ],
      )}`
    : crossings > 0
      ? `\nNo free panel: ${noPanel}.\n`
      : '';
  const doubts = [
    ...(measured.sheetAtRest ? [] : ['the sheet']),
    ...(held.relaxation.converged ? [] : [`the patch (${held.relaxation.reason})`]),
    ...(straight.relaxation.converged
      ? []
      : [`the patch worked straight (${straight.relaxation.reason})`]),
    ...(panel && !panel.relaxation.converged
      ? [`the free panel (${panel.relaxation.reason})`]
      : []),
  ];
  const trust =
    doubts.length > 0
      ? `\nDid not come to rest: ${doubts.join(', ')}. Do not rely on its numbers.\n`
      : '';
  return `${where}: ${yarn}\n\n${textTable(columns, rows)}${repeated}${trust}`;
}
