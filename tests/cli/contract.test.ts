/** What every command promises whatever it does: one document with --json, no output over an input, exit codes. */
import type { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.ts';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from './memory-io.ts';

const PLAN = `Title: Coaster
Gauge: 20 sts and 40 rounds = 10 cm
Cast on 16 sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k2tog; rep from * to end. (8 sts)
Draw the yarn through the remaining sts.
`;

async function lieflat(args: string[]) {
  const io = memoryIo({ plan: PLAN, wrong: 'Cast on 4.\nRound 1: k5.\n' });
  const code = await run(args, io);
  return { code, out: io.written.out, err: io.written.err, files: io.files };
}

const commands = COMMANDS.map((make) => make({ io: memoryIo(), exitWith: () => {} }));
const outputs = commands.flatMap((command) =>
  command.options
    .filter(({ flags }) => flags.includes('<file>'))
    .map((option) => [command, option.long ?? option.flags] as const),
);

/** What a command must be given, made up from its own declaration. */
function least(command: Command): string[] {
  const values: Record<string, string> = {
    '--every': '1',
    '--rounds': '1-2',
    '--stitches': '1-4',
    '--method': 'plain',
    '--slack-mm': '1',
    '--loop-mm': '19',
    '--yarn-mm': '1',
  };
  const needed = command.options.filter(({ mandatory }) => mandatory);
  return [
    command.name(),
    ...command.registeredArguments.map(() => 'plan'),
    ...needed.flatMap(({ long }) => [String(long), values[String(long)] ?? '1']),
  ];
}

describe('with --json every command prints one document', () => {
  it.each(commands.map((command) => [command.name(), command] as const))(
    'on wrong use: %s',
    async (name) => {
      const wrong = [
        [name, '--json', '--no-such-option'],
        [name, 'no such file', '--json'],
        [name, 'a', 'b', 'c', '--json'],
      ];
      for (const args of wrong) {
        const { code, out, err } = await lieflat(args);
        const document = JSON.parse(out);
        expect([code, document.exitCode, document.version]).toEqual([2, 2, 1]);
        expect(err).toBe(`lieflat: ${document.error.message}\n`);
      }
    },
  );

  it('on an unknown command, on none, on a fault of ours and on help', async () => {
    for (const args of [['--json'], ['knit', '--json']]) {
      expect(JSON.parse((await lieflat(args)).out).error.kind).toBe('usage');
    }
    expect(JSON.parse((await lieflat(['check', '--help', '--json'])).out).help).toMatch(/Usage/);
    const io = memoryIo({ plan: PLAN });
    io.writeFile = () => Promise.reject(new Error('disk\ngone'));
    expect(await run(['relax', 'plan', '--json', '--obj', 'x'], io)).toBe(1);
    expect(JSON.parse(io.written.out).error).toMatchObject({ kind: 'fault' });
  });

  it('on a plan with mistakes', async () => {
    const { code, out } = await lieflat(['relax', 'wrong', '--json']);
    expect([code, JSON.parse(out).diagnostics.length > 0]).toEqual([1, true]);
  });
});

describe('an output', () => {
  it.each(
    outputs.map(([command, option]) => [`${command.name()} ${option}`, command, option] as const),
  )('never overwrites the input, and has a name: %s', async (_, command, option) => {
    for (const path of command.registeredArguments.length > 0 ? ['plan', '', '-'] : ['', '-']) {
      const { code, err, files } = await lieflat([...least(command), option, path]);
      expect([code, err]).toEqual([2, expect.stringMatching(/overwrite|needs the name/)]);
      expect(files.get('plan')).toBe(PLAN);
    }
  });

  it('never overwrites another of the same call', async () => {
    const { code, err, files } = await lieflat(['relax', 'plan', '--obj', 'x', '--glb', 'x']);
    expect([code, files.has('x')]).toEqual([2, false]);
    expect(err).toMatch(/--glb and --obj would both write x/);
  });
});

it('a plan that does not come to rest ends with 1, unless it is taken as it is', async () => {
  const args = ['relax', 'plan', '--max-steps', '1', '--tolerance', '1e-9'];
  expect((await lieflat(args)).code).toBe(1);
  expect((await lieflat([...args, '--accept-unrested'])).code).toBe(0);
});

it('a message never repeats a long word whole', async () => {
  const word = 'x'.repeat(5000);
  for (const args of [[word], ['check', word], ['check', 'plan', `--${word}`]]) {
    const { code, err } = await lieflat(args);
    expect([code, err.length < 600]).toEqual([2, true]);
  }
});
