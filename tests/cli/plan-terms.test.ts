/** What the command says of a British plan is said in British terms, whatever it says; see `report/words/terms.ts`. */
import { expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from './memory-io.ts';

const ROUNDS = [
  'Round 1: knit.',
  'Round 2: *skpo, k10, k2tog; rep from * 3 times more.',
  'Round 3: knit.',
  'Round 4: *skpo, k8, k2tog; rep from * 3 times more.',
];
const BRITISH = [
  'Seed and binding square',
  'Tension: 20 sts and 28 rounds to 10 cm in stocking stitch',
  'Cast on 56 sts. Join in the round.',
  ...ROUNDS,
  'Cast off.',
].join('\n');

const COMMANDS = [
  ['check'],
  ['relax'],
  ['relax', '--unpinned'],
  ['compare', '--every', '1,2'],
  ['needles'],
  ['write', '--accept-unflat'],
  ['schematic', '--accept-unflat', '-o', 'out.svg'],
];

it('every command speaks of a British plan in British terms, and leaves its title as it is', async () => {
  let stocking = 0;
  for (const [command, ...options] of COMMANDS) {
    const io = memoryIo({ 'plan.txt': BRITISH });
    await run([command, 'plan.txt', ...options], io);
    const said = `${io.written.out}${io.written.err}`.replaceAll('Seed and binding square', '');
    expect(said, command).not.toMatch(/stockinette|\bgauge\b|\b(?:bind|bound|binding) off|seed/i);
    if (said.includes('stocking stitch')) stocking++;
  }
  expect(stocking).toBeGreaterThan(2);
});
