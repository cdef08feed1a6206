import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from './memory-io.ts';

/** Garter squares that lie flat; `extra` rounds of shaping more make a larger one. */
function square(extra: number): string {
  const start = 48 + 8 * extra;
  const rounds: string[] = [];
  for (let n = 1, inner = start / 4 - 4, count = start; count > 8; n += 2, inner -= 2) {
    count -= 8;
    rounds.push(`Round ${n}: purl.`);
    const middle = inner > 0 ? `k${inner}, ` : '';
    rounds.push(`Round ${n + 1}: *ssk, ${middle}k2tog; rep from * 3 times more. (${count} sts)`);
  }
  return [
    'Yarn: thick wool, 50 g = 60 m',
    'Gauge: 20 sts and 40 rounds = 10 cm',
    'Worked: in the round',
    `Cast on ${start} sts.`,
    ...rounds,
    'Draw the yarn through the remaining sts.',
    '',
  ].join('\n');
}

const WOAD = { name: 'Woad', hex: '#5787a3' };
const FLEECE = { name: 'Fleece', hex: '#e4dccb' };

const PROJECT = {
  format: 'lieflat-project',
  version: 2,
  title: 'Hedge',
  plans: [
    { id: 'a', name: 'Plain', text: square(0), colours: { yarns: [WOAD] } },
    {
      id: 'b',
      name: 'Striped',
      text: square(0),
      colours: { yarns: [WOAD, FLEECE], stripeRounds: 2 },
    },
    { id: 'c', name: 'Wide', text: square(2), colours: null },
  ],
  blanket: {
    rows: [
      ['a', 'b'],
      ['b', 'c'],
    ],
    targetMm: null,
    easeShare: 0.03,
  },
};

async function blanket(args: string[], project: unknown = PROJECT) {
  const io = memoryIo({ p: JSON.stringify(project) });
  const code = await run(['blanket', 'p', ...args], io);
  return { code, out: io.written.out, err: io.written.err, files: io.files };
}

describe('the blanket of a project', () => {
  it('adds its yarn up by colour, stripes parted', async () => {
    const { code, out } = await blanket(['--json']);
    expect(code).toBe(0);
    const { yarn, squares } = JSON.parse(out);
    expect(yarn.map((part: { colour: string }) => part.colour)).toEqual([
      'thick wool, 50 g = 60 m · Woad',
      'thick wool, 50 g = 60 m · Fleece',
      'thick wool, 50 g = 60 m',
    ]);
    const [woad, fleece] = yarn;
    // One plain square of woad and two striped; the stripes of a square share one square's yarn.
    const one = (woad.lengthM + fleece.lengthM) / 3;
    expect(woad.lengthM).toBeGreaterThan(1.6 * one);
    expect(fleece.lengthM).toBeGreaterThan(0.6 * one);
    expect(woad.balls).toBe(Math.ceil(woad.lengthM / 60));
    expect(squares.find((s: { id: string }) => s.id === 'c').fit).toBe('adjust');
  });

  it('speaks of inches where the project or the option does, and draws the layout', async () => {
    const asked = await blanket(['--inches', '--svg', 'b.svg']);
    expect(asked.out).toMatch(/Wide is [\d⅛¼⅜½⅝¾⅞]+ in too wide/);
    expect(asked.out).toMatch(/\d+ yd/);
    expect(asked.out).not.toMatch(/\d (?:mm|cm)\b/);
    expect(String(asked.files.get('b.svg'))).toMatch(/^<svg /);
    const kept = await blanket([], { ...PROJECT, units: 'inch' });
    expect(kept.out).toBe(asked.out);
    expect((await blanket([])).out).toMatch(/Wide is [\d.]+ [cm]m too wide/);
  });

  it('leaves out what cannot be joined and says why', async () => {
    const broken = PROJECT.plans.map((plan) =>
      plan.id === 'c' ? { ...plan, text: 'Cast on 9 sts.\nRound 1: k8.' } : plan,
    );
    const { code, out } = await blanket([], { ...PROJECT, plans: broken });
    expect(code).toBe(1);
    expect(out).toMatch(/Left out:\n {2}Wide: its plan has mistakes/);
  });

  it('refuses a file that is no project and a project that lays nothing', async () => {
    const bare = await blanket([], { ...PROJECT, blanket: { rows: [] } });
    expect([bare.code, bare.out]).toEqual([2, '']);
    expect(bare.err).toMatch(/no square laid out/);
    const damaged = await blanket([], { ...PROJECT, plans: [{ id: 'a' }] });
    expect([damaged.code, damaged.out]).toEqual([2, '']);
    expect(damaged.err).toMatch(/damaged at plans/);
  });

  it('takes projects of version 1, whose squares go by their yarn lines', async () => {
    const plans = PROJECT.plans.map(({ colours: _, ...plan }) => plan);
    const { code, out } = await blanket(['--json'], { ...PROJECT, version: 1, plans });
    expect(code).toBe(0);
    expect(JSON.parse(out).yarn).toHaveLength(1);
  });
});
