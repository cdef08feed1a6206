import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');
const PLAN =
  'Gauge: 20 sts and 30 rounds = 10 cm\nCast on 12 sts. Join in the round.\nRound 1: knit.\n';

/** The command as it is started from the shell (npm's own output apart). */
function lieflat(args: string[], input = '') {
  return spawnSync(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', ...args], {
    cwd: ROOT,
    input,
    encoding: 'utf8',
    timeout: 60_000,
  });
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
