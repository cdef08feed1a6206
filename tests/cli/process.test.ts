/** The command as a process of its own: streams, disks and pipes as they are. */
import { spawn, spawnSync } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  existsSync,
  linkSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { type Io, nodeIo } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';

const ROOT = join(import.meta.dirname, '../..');
const START = join(ROOT, 'src/cli/start.js');
const PLAN =
  'Gauge: 20 sts and 30 rounds = 10 cm\nCast on 12 sts. Join in the round.\nRound 1: knit.\n';
const folder = mkdtempSync(join(tmpdir(), 'lieflat-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The command as it is started from the shell (npm's own output apart). */
function lieflat(args: string[], input = '', stdout: number | 'pipe' = 'pipe') {
  return spawnSync(process.execPath, [START, ...args], {
    cwd: folder,
    input,
    encoding: 'utf8',
    stdio: ['pipe', stdout, 'pipe'],
    timeout: 100_000,
  });
}

function planFile(name: string): string {
  const path = join(folder, name);
  writeFileSync(path, PLAN);
  return path;
}

it('reads the standard input, writes JSON alone, and ends with 0', () => {
  const { status, stdout, stderr } = lieflat(['check', '-', '--json'], PLAN);
  expect([status, stderr]).toEqual([0, '']);
  expect(JSON.parse(stdout).rounds.length).toBe(1);
});

it('ends with 2 and one line for a missing file, and for one that never ends', () => {
  const missing = lieflat(['check', 'no such plan.txt']);
  expect(missing.status).toBe(2);
  expect(missing.stdout).toBe('');
  expect(missing.stderr).toBe(
    'lieflat: cannot read no such plan.txt: there is no such file or folder\n',
  );
  const endless = lieflat(['check', '/dev/zero']);
  expect(endless.status).toBe(2);
  expect(endless.stderr).toMatch(/longer than 1 MB/);
});

it('knows its input by whatever name an output has', async () => {
  const plan = planFile('plan.txt');
  symlinkSync(plan, join(folder, 'soft.txt'));
  linkSync(plan, join(folder, 'hard.txt'));
  const names = ['plan.txt', './plan.txt', 'soft.txt', 'hard.txt'].map(
    (name) => `${folder}/${name}`,
  );
  for (const name of [...names, relative(process.cwd(), plan)]) {
    const said: string[] = [];
    const io: Io = { ...nodeIo(), err: (text) => void said.push(text) };
    const status = await run(['chart', plan, '-o', name], io);
    expect([status, said]).toEqual([2, [expect.stringMatching(/would overwrite what is read/)]]);
  }
  expect(readFileSync(plan, 'utf8')).toBe(PLAN);
});

it('knows what its streams are, too', () => {
  const plan = planFile('in.txt');
  const streamed = (args: string[], stdin: 'pipe' | number, stdout: 'pipe' | number) =>
    spawnSync(process.execPath, [START, ...args], {
      cwd: folder,
      encoding: 'utf8',
      stdio: [stdin, stdout, 'pipe'],
    });
  const reading = openSync(plan, 'r');
  const over = streamed(['chart', '-', '-o', 'in.txt'], reading, 'pipe');
  expect([over.status, over.stderr]).toEqual([
    2,
    'lieflat: --output would overwrite what is read: in.txt\n',
  ]);
  closeSync(reading);
  const appending = openSync(plan, 'a');
  const behind = streamed(['check', 'in.txt'], 'pipe', appending);
  expect([behind.status, behind.stderr]).toEqual([
    2,
    'lieflat: the standard output would be written into what is read: in.txt\n',
  ]);
  closeSync(appending);
  expect(readFileSync(plan, 'utf8')).toBe(PLAN);
  const writing = openSync(join(folder, 'both.svg'), 'w');
  const both = streamed(['chart', 'in.txt', '-o', 'both.svg'], 'pipe', writing);
  expect(both.stderr).toMatch(/--output and the standard output would both write both\.svg/);
  closeSync(writing);
});

it('says of a full disk that it is full, in one line, and leaves the file that was there', () => {
  const plan = planFile('full.txt');
  const full = openSync('/dev/full', 'w');
  const { status, stderr } = lieflat(['check', plan], '', full);
  closeSync(full);
  expect([status, stderr]).toEqual([1, 'lieflat: cannot write the output: the disk is full\n']);
  const file = lieflat(['chart', plan, '-o', '/dev/full']);
  expect([file.status, file.stderr]).toEqual([
    2,
    'lieflat: cannot write /dev/full: the disk is full\n',
  ]);
  const nowhere = lieflat(['chart', plan, '-o', join(folder, 'none', 'x.svg')]);
  expect([nowhere.status, nowhere.stderr.split('\n').length]).toEqual([2, 2]);
  expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  expect(existsSync(join(folder, 'none'))).toBe(false);
});

it('says of a closed pipe that its reader has gone, in one line', async () => {
  const plan = planFile('pipe.txt');
  const child = spawn(process.execPath, [START, 'chart', plan], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  child.stdout.destroy();
  let err = '';
  child.stderr.on('data', (part) => {
    err += part;
  });
  const status = await new Promise((resolve) => child.on('close', resolve));
  expect([status, err]).toEqual([1, 'lieflat: cannot write the output: its reader has gone\n']);
});

/** The command in one file: as `start.js` has just built it, where it is not in dist. */
function builtFile(): string {
  const cache = join(ROOT, 'node_modules/.cache/lieflat');
  const built = [join(ROOT, 'dist/lieflat.js')].filter(existsSync);
  if (existsSync(cache)) built.push(...readdirSync(cache).map((name) => join(cache, name)));
  return built.sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)[0];
}

it('is one file that runs anywhere, under the name that the package gives it', () => {
  const { bin, scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  expect(bin).toEqual({ lieflat: 'dist/lieflat.js' });
  expect(scripts.build).toContain('--config src/cli/vite.config.ts');
  const alone = join(folder, 'alone.mjs');
  copyFileSync(builtFile(), alone);
  const { status, stdout, stderr } = spawnSync(process.execPath, [alone, 'check', '-'], {
    cwd: folder,
    input: PLAN,
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([0, '']);
  expect(stdout).toMatch(/12/);
});

/** Told by a process as it ends: modules of Node that it loaded, bytes of bytecode that it compiled. */
const PROBE = `process.on('exit', () => {
  const { bytecode_and_metadata_size: bytecode } = require('node:v8').getHeapCodeStatistics();
  const told = { modules: process.moduleLoadList.length, bytecode };
  require('node:fs').writeSync(2, JSON.stringify(told));
});
`;

// What a start costs, counted: the same on a busy machine and on a quiet one, where milliseconds are not.
it('starts with little more than Node itself: few modules of it, and little script compiled', () => {
  const probe = join(folder, 'probe.cjs');
  writeFileSync(probe, PROBE);
  const startOf = (args: string[]): { modules: number; bytecode: number } => {
    const { status, stderr } = spawnSync(process.execPath, ['--require', probe, ...args], {
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    return JSON.parse(stderr);
  };
  const command = builtFile();
  const bare = startOf(['-e', '0']);
  const version = startOf([command, '--version']);
  const ratio = (part: 'modules' | 'bytecode') => version[part] / bare[part];
  console.log(
    `lieflat --version beside node -e 0: ${ratio('modules').toFixed(2)} times the modules, ${ratio('bytecode').toFixed(2)} times the bytecode, ${(statSync(command).size / 1e6).toFixed(2)} MB of script`,
  );
  // Measured: 1.33, 2.5 and 1.53; through a transpiler 1.60 and 5.7.
  expect(ratio('modules')).toBeLessThan(1.45);
  expect(ratio('bytecode')).toBeLessThan(4.5);
  expect(statSync(command).size).toBeLessThan(1.8e6);
});
