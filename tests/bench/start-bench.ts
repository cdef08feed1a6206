/**
 * How long the built command takes to start (`lieflat --version`), and a small job, beside Node doing nothing and the same
 * job through a transpiler. In turn, so that whatever else the machine does hits all alike; wall time, the least and the median of the turns.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';

const TURNS = 15;
const PLAN =
  'Gauge: 20 sts and 30 rounds = 10 cm\nCast on 12 sts. Join in the round.\nRound 1: knit.\n';

export async function benchStart(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'lieflat-start-'));
  try {
    const outDir = join(folder, 'built');
    await build({ configFile: 'src/cli/vite.config.ts', logLevel: 'error', build: { outDir } });
    const command = join(outDir, 'lieflat.js');
    // As in the project's own folder: else Node reads it twice to see which kind of script it is.
    writeFileSync(join(outDir, 'package.json'), '{ "type": "module" }');
    const plan = join(folder, 'plan.txt');
    writeFileSync(plan, PLAN);
    const calls: readonly (readonly [name: string, args: readonly string[]])[] = [
      ['node -e 0', ['-e', '0']],
      ['lieflat --version', [command, '--version']],
      ['lieflat check', [command, 'check', plan]],
      ['lieflat check, sources', ['--import', 'tsx', 'src/cli/main.ts', 'check', plan]],
    ];
    const times = calls.map((): number[] => []);
    for (let turn = 0; turn < TURNS; turn++) {
      calls.forEach(([, args], k) => {
        times[k].push(timed(args));
      });
    }
    for (const all of times) all.sort((a, b) => a - b);
    console.log(`${' '.repeat(24)}   least   median`);
    calls.forEach(([name], k) => {
      const told = [0, TURNS >> 1].map(
        (n) =>
          `${times[k][n].toFixed(0).padStart(6)} ms × ${(times[k][n] / times[0][n]).toFixed(1)}`,
      );
      console.log(`${name.padEnd(24)} ${told.join('   ')}`);
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function timed(args: readonly string[]): number {
  const begun = performance.now();
  const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${args.join(' ')}: ${stderr}`);
  return performance.now() - begun;
}
