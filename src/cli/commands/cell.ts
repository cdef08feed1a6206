/**
 * `cell STITCH --loop-mm L --yarn-mm D`: one relaxed repeat of a fabric, from the length of yarn in a
 * stitch and its thickness.
 */
import { Command } from 'commander';
import type { FaceGrid } from '../../cell/loop-start.ts';
import { type LowestCell, type OtherState, relaxLowestCell } from '../../cell/lowest-cell.ts';
import { CELL_FACES, type CellFabric } from '../../cell/relax-cell.ts';
import type { Plan } from '../../plan/plan.ts';
import { type CommandMaker, printJson, type Session } from '../command.ts';
import { openPlan } from '../open-plan.ts';
import { parsePositive } from '../option-values.ts';
import { cutRepeat } from '../plan-patch.ts';
import { progressLine } from '../progress.ts';
import { addRestOption, mustBeAtRest, type RestChoice } from '../rest.ts';
import { textTable } from '../text-table.ts';
import { UsageError } from '../usage-error.ts';

interface Options extends RestChoice {
  readonly loopMm: number;
  readonly yarnMm: number;
  readonly json?: boolean;
}

export const cellCommand: CommandMaker = (session) =>
  addRestOption(new Command('cell'))
    .description('size of one stitch from its yarn: how long the loop, how thick the yarn')
    .argument('<stitch>', `${FABRICS}, or the file of a small plan that is repeated`)
    .requiredOption('--loop-mm <mm>', 'length of yarn in one stitch', parsePositive)
    .requiredOption('--yarn-mm <mm>', 'thickness of the pressed yarn', parsePositive)
    .option('--json', 'one JSON document instead of words')
    .action(async (name: string, options: Options) => {
      const { io } = session;
      const stitch = await readStitch(name, options, session);
      if (!stitch) return;
      const progress = progressLine(io);
      const { cell, others } = relax(stitch, options, (residual) => {
        progress.show(() => `relaxing, force left ${residual.toExponential(1)}`);
      });
      progress.end();
      mustBeAtRest(session, options, cell.relaxation);
      const { shape: _, ...numbers } = cell;
      if (options.json) printJson(io, { ...numbers, otherStates: others });
      else io.out(describe(cell) + (others ?? []).map(describeOther).join(''));
    });

const FABRICS = Object.keys(CELL_FACES).join(', ');

/** A fabric's name, or the repeat that a plan file holds; null where that plan has errors. */
async function readStitch(
  name: string,
  options: Options,
  session: Session,
): Promise<CellFabric | FaceGrid | null> {
  const fabric = name.trim().toLowerCase().replace('×', 'x').replace(/\s+/g, ' ');
  if (Object.hasOwn(CELL_FACES, fabric)) return fabric as CellFabric;
  let plan: Plan | null;
  try {
    plan = await openPlan(name, session, options);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    throw new UsageError(`"${name}" is neither a fabric (${FABRICS}) nor a plan: ${error.message}`);
  }
  return plan && repeatOf(plan);
}

/** Rows of knit and purl; anything else has no place in a cell. */
function repeatOf(plan: Plan): FaceGrid {
  for (const round of plan.rounds) {
    for (const id of round.works) {
      const kind = plan.kinds[id];
      const [loop] = kind.loops;
      const single = kind.consumes === 1 && kind.loops.length === 1 && loop.origin === 'drawn';
      if (!single || loop.twisted) {
        throw new UsageError(
          `a cell holds knit and purl stitches only, but ${round.label} works ${kind.name}`,
        );
      }
    }
  }
  return cutRepeat(plan).faces;
}

function relax(
  stitch: CellFabric | FaceGrid,
  options: Options,
  show: (residual: number) => void,
): LowestCell {
  try {
    return relaxLowestCell({
      stitch,
      loopMm: options.loopMm,
      yarnMm: options.yarnMm,
      onProgress: (residual) => {
        show(residual);
        return undefined;
      },
    });
  } catch (error) {
    // Yarn that does not fit its loop: the message names the limits.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

/** Which one a swatch shows hangs on how it was handled. */
function describeOther({ stitchMm, roundMm, energyPercent }: OtherState): string {
  const size = `${stitchMm.toFixed(2)} mm a stitch, ${roundMm.toFixed(2)} mm a round`;
  return `It can rest in another state too, ${size}, with ${energyPercent.toFixed(1)} % more energy.\n`;
}

function describe(cell: LowestCell['cell']): string {
  const { relaxation } = cell;
  const mm = (value: number) => `${value.toFixed(2)} mm`;
  const rows = [
    ['width of a stitch', mm(cell.stitchMm)],
    ['height of a round', mm(cell.roundMm)],
    ['thickness', mm(cell.thicknessMm)],
    ['stitches in 10 cm', (100 / cell.stitchMm).toFixed(1)],
    ['rounds in 10 cm', (100 / cell.roundMm).toFixed(1)],
    ['loop length / round height', cell.kc.toFixed(2)],
    ['loop length / stitch width', cell.kw.toFixed(2)],
  ];
  const head = `${cell.stitch}, ${cell.loopMm} mm of yarn a stitch, ${cell.yarnMm} mm thick`;
  const trust = relaxation.converged
    ? `Came to rest after ${relaxation.iterations} steps.`
    : `Did not come to rest (${relaxation.reason}): do not rely on these numbers.`;
  return `${head}\n\n${textTable([{ head: '' }, { head: '', align: 'right' }], rows)}\n${trust}\n`;
}
