/**
 * Recomputes src/cell/fabric-ratio-table.ts from the yarn model, on all cores (ten minutes of one core):
 * `npx tsx tests/golden/regenerate-fabric-ratios.ts [--fabrics garter,seed] [--loops 14,15]`
 * Rows not asked for stay. Of each fabric and loop length several starts are relaxed, then every state is carried on
 * to looser and to tighter loops by half steps (by whole ones rib loses its branch); the lowest is kept, the others are told beside it.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { CELL_STARTS, statesOf } from '../../src/cell/cell-states.ts';
import { FABRIC_RATIO_TABLE } from '../../src/cell/fabric-ratio-table.ts';
import type { FabricRatioRow, RatioFabric } from '../../src/cell/fabric-ratios.ts';
import {
  type CellRequest,
  type CellResult,
  FLAT_STIFFNESS,
  relaxCell,
} from '../../src/cell/relax-cell.ts';

const LOOPS = [14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26];
const FABRICS: readonly RatioFabric[] = ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'];

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: { fabrics: { type: 'string' }, loops: { type: 'string' }, cores: { type: 'string' } },
  });
  const fabrics = values.fabrics?.split(',') ?? FABRICS;
  const loops = values.loops?.split(',').map(Number) ?? LOOPS;
  const pool = new Pool(Number(values.cores ?? availableParallelism()));
  const rows = new Map(FABRIC_RATIO_TABLE.map((row) => [`${row.fabric} ${row.loop}`, row]));
  for (const [key, row] of rows) if (!LOOPS.includes(row.loop)) rows.delete(key);
  await Promise.all(
    FABRICS.filter((fabric) => fabrics.includes(fabric)).map(async (fabric) => {
      for (const row of await fabricRows(pool, fabric, loops)) rows.set(`${fabric} ${row.loop}`, row);
    }),
  );
  pool.close();
  const sorted = [...rows.values()].sort(
    (a, b) => FABRICS.indexOf(a.fabric) - FABRICS.indexOf(b.fabric) || a.loop - b.loop,
  );
  const path = fileURLToPath(new URL('../../src/cell/fabric-ratio-table.ts', import.meta.url));
  writeFileSync(path, tableText(sorted));
  console.log('now: npx tsx tests/golden/regenerate-yarn-report.ts');
}

/** Cells of every loop length from all starts, and every state carried on both ways. */
async function restOver(
  pool: Pool,
  loops: readonly number[],
  requestOf: (loop: number) => CellRequest,
): Promise<CellResult[][]> {
  const found = await Promise.all(
    loops.map((loop) =>
      Promise.all(CELL_STARTS.map((start) => pool.relax({ ...requestOf(loop), start }))),
    ),
  );
  for (const step of [1, -1]) {
    const order = step > 0 ? loops.keys() : [...loops.keys()].reverse();
    for (const k of order) {
      const last = loops[k - step];
      if (last === undefined) continue;
      const carried = statesOf(found[k - step]).map(async (from) => {
        const half = { ...requestOf((last + loops[k]) / 2), from };
        return pool.relax({ ...requestOf(loops[k]), from: await pool.relax(half) });
      });
      found[k].push(...(await Promise.all(carried)));
    }
  }
  return found;
}

async function fabricRows(
  pool: Pool,
  fabric: RatioFabric,
  loops: readonly number[],
): Promise<FabricRatioRow[]> {
  const found = await restOver(pool, loops, (loop) => plainRequest(fabric, loop));
  const pressed = await restOver(pool, loops, (loop) => ({
    ...plainRequest(fabric, loop),
    plane: FLAT_STIFFNESS,
  }));
  return loops.flatMap((loop, k) => {
    const [best, ...others] = statesOf(found[k]);
    const [flat] = statesOf(pressed[k]);
    if (!best || !flat) {
      const [failed] = best ? pressed[k] : found[k];
      console.error(`${fabric} at ${loop} did not come to rest: ${failed.relaxation.reason}`);
      process.exitCode = 1;
      return [];
    }
    const row = {
      loop,
      fabric,
      width: best.stitchMm,
      height: best.roundMm,
      thickness: best.thicknessMm,
      flatWidth: flat.stitchMm,
      others: others.map((cell) => ({
        width: cell.stitchMm,
        energyPercent: 100 * (cell.energy / best.energy - 1),
      })),
    };
    console.log(rowText(row));
    return [row];
  });
}

function plainRequest(stitch: RatioFabric, loopMm: number): CellRequest {
  return { stitch, loopMm, yarnMm: 1 };
}

function rowText({ loop, fabric, width, height, thickness, flatWidth, others }: FabricRatioRow): string {
  const told = others
    .map((o) => `{ width: ${o.width.toFixed(3)}, energyPercent: ${o.energyPercent.toFixed(2)} }`)
    .join(', ');
  return (
    `  { loop: ${loop}, fabric: '${fabric}', width: ${width.toFixed(3)}, height: ${height.toFixed(3)}, ` +
    `thickness: ${thickness.toFixed(2)}, flatWidth: ${flatWidth.toFixed(3)}, others: [${told}] },`
  );
}

function tableText(rows: readonly FabricRatioRow[]): string {
  return `/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by \`relaxCell\` (48 segments): of the
 * states found from several starts and from the neighbours' the one of lowest energy, and beside it the
 * others. Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
${rows.map(rowText).join('\n')}
];
`;
}

/** Cells relaxed one a core. */
class Pool {
  private readonly idle: ChildProcess[];
  private readonly all: readonly ChildProcess[];
  private readonly waiting: ((worker: ChildProcess) => void)[] = [];

  constructor(cores: number) {
    this.all = Array.from(
      { length: cores },
      () => fork(fileURLToPath(import.meta.url), { serialization: 'advanced' }),
    );
    this.idle = [...this.all];
  }

  async relax(request: CellRequest): Promise<CellResult> {
    const worker = this.idle.pop() ?? (await new Promise<ChildProcess>((take) => this.waiting.push(take)));
    const cell = await new Promise<CellResult>((done, fail) => {
      worker.once('message', done);
      worker.once('error', fail);
      worker.send(request);
    });
    worker.removeAllListeners('error');
    const next = this.waiting.shift();
    if (next) next(worker);
    else this.idle.push(worker);
    return cell;
  }

  close(): void {
    for (const worker of this.all) worker.kill();
  }
}

const { send } = process;
if (send) {
  process.on('message', (request: CellRequest) => send.call(process, relaxCell(request), () => {}));
} else await main();
