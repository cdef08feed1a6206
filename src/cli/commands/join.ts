/** `join --method plain|crossed|extra|flat --slack-mm S`: the hole where a round closes. */
import { Command, InvalidArgumentError } from 'commander';
import {
  type JoinMethod,
  type JoinOverStarts,
  type JoinResult,
  joinOpening,
  joinOverStarts,
  ladderOpening,
} from '../../cell/join-opening.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { parseAmount, parseCount, parsePositive } from '../option-values.ts';
import { progressLine } from '../progress.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { textTable } from '../text-table.ts';
import { UsageError } from '../usage-error.ts';
import { fixed } from '../words.ts';

type Place = JoinMethod | 'ladder';

interface Options extends RestChoice {
  readonly method: Place;
  readonly slackMm: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  readonly tightenMm: number;
  readonly tightenStitch: 1 | 2;
  readonly starts: number;
  readonly json?: boolean;
}

/** Loop and yarn of a medium yarn knitted at 22 stitches in 10 cm: l = 4.2 w, d = w / 4.4. Chosen. */
const LOOP_MM = 19;
const YARN_MM = 1.03;

export const joinCommand: CommandMaker = (session) =>
  addRestOption(new Command('join'))
    .description('the hole where a round is joined, or the ladder between two needles')
    .requiredOption(
      '--method <method>',
      'plain, crossed, extra (stitch), flat (seamed), or ladder (between needles)',
      parseMethod,
    )
    .requiredOption('--slack-mm <mm>', 'slack in the running thread', parseAmount)
    .option('--loop-mm <mm>', 'yarn in one stitch', parsePositive, LOOP_MM)
    .option('--yarn-mm <mm>', 'thickness of the pressed yarn', parsePositive, YARN_MM)
    .option('--tighten-mm <mm>', 'ladder: yarn that a tug takes out', parseAmount, 0)
    .option('--tighten-stitch <n>', 'ladder: stitch after the gap that is tugged', parseStitch, 2)
    .option(
      '--starts <n>',
      'join: relax from so many starts and tell how far they differ',
      parseCount,
      1,
    )
    .option('--json', 'one JSON document instead of words')
    .action((options: Options) => {
      if (options.starts > 1 && options.method === 'ladder') {
        throw new UsageError('--starts goes with a join, not with --method ladder');
      }
      const { io } = session;
      if (options.tightenMm > 0 && options.method !== 'ladder') {
        throw new UsageError('--tighten-mm goes with --method ladder');
      }
      const progress = progressLine(io);
      const result = relax(options, (residual) => {
        progress.show(() => `relaxing, force left ${residual.toExponential(1)}`);
      });
      progress.end();
      mustBeAtRest(session, options, result.relaxation);
      const { shape: _, ...numbers } = result;
      if (options.json) {
        printJson(io, { ...numbers, loopMm: options.loopMm, yarnMm: options.yarnMm });
      } else io.out(describe(result, options));
    });

function relax(
  options: Options,
  show: (residual: number) => void,
): JoinResult & Partial<Pick<JoinOverStarts, 'spreadMm' | 'starts'>> {
  const { method, slackMm, loopMm, yarnMm, starts } = options;
  const onProgress = (residual: number) => {
    show(residual);
    return undefined;
  };
  try {
    if (method !== 'ladder') {
      const request = { method, slackMm, loopMm, yarnMm, onProgress };
      return starts > 1 ? joinOverStarts(request, starts) : joinOpening(request);
    }
    const tighten =
      options.tightenMm > 0 ? { stitch: options.tightenStitch, byMm: options.tightenMm } : null;
    return ladderOpening({ slackMm, loopMm, yarnMm, tighten, onProgress });
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

const NAMES: Record<Place, string> = {
  plain: 'joined plainly',
  crossed: 'first and last stitch crossed',
  extra: 'an extra stitch worked together with the first',
  flat: 'worked flat and seamed',
  ladder: 'between two needles',
};

function describe(result: ReturnType<typeof relax>, { method, loopMm, yarnMm }: Options): string {
  const mm = (value: number) => `${fixed(value, 2)} mm`;
  const rows = [
    ['opening', mm(result.openingMm)],
    ['ordinary gap between stitches', mm(result.ordinaryGapMm)],
    ...(result.spreadMm !== undefined && result.relaxation.converged
      ? [[`spread of ${result.starts} starts`, mm(result.spreadMm)]]
      : []),
  ];
  const head =
    `${NAMES[method]}, ${result.slackMm} mm of slack\n` +
    `${loopMm} mm of yarn a stitch, ${yarnMm} mm thick\n`;
  const trust = result.relaxation.converged
    ? ''
    : `\nDid not come to rest (${result.relaxation.reason}): do not rely on these numbers.\n`;
  return `${head}\n${textTable([{ head: '' }, { head: '', align: 'right' }], rows)}${trust}`;
}

function parseMethod(text: string): Place {
  const word = text.trim().toLowerCase();
  if (!Object.hasOwn(NAMES, word)) {
    throw new InvalidArgumentError(`Write ${Object.keys(NAMES).join(', ')}.`);
  }
  return word as Place;
}

function parseStitch(text: string): 1 | 2 {
  if (text !== '1' && text !== '2') throw new InvalidArgumentError('Write 1 or 2.');
  return text === '1' ? 1 : 2;
}
