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
  version: 3,
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
    const narrow = ['--border-cm', '1'];
    const asked = await blanket([...narrow, '--inches', '--svg', 'b.svg']);
    expect(asked.out).toMatch(/Wide is [\d⅛¼⅜½⅝¾⅞]+ in too wide/);
    expect(asked.out).toMatch(/\d+ yd/);
    expect(asked.out).not.toMatch(/\d (?:mm|cm)\b/);
    expect(String(asked.files.get('b.svg'))).toMatch(/^<svg /);
    const kept = await blanket(narrow, { ...PROJECT, units: 'inch' });
    expect(kept.out).toBe(asked.out);
    expect((await blanket(narrow)).out).toMatch(/Wide is [\d.]+ [cm]m too wide/);
  });

  it('leaves out what cannot be joined and says why', async () => {
    const broken = PROJECT.plans.map((plan) =>
      plan.id === 'c' ? { ...plan, text: 'Cast on 9 sts.\nRound 1: k8.' } : plan,
    );
    const { code, out } = await blanket([], { ...PROJECT, plans: broken });
    expect(code).toBe(1);
    expect(out).toMatch(/Left out:\n {2}Wide: its plan has mistakes/);
  });

  it('ends and says what it could not do, for squares of 4 to 60 stitches', async () => {
    const met = { joined: 0, left: 0 };
    const head = (sts: number) =>
      `Gauge: 20x40\nWorked: in the round\nCast on ${sts} sts.\nRound 1: `;
    const odd = [4, 7, 12, 16, 33, 60].flatMap((sts) => [
      `${head(sts)}k2tog around.\nDraw up.\n`,
      `${head(sts)}k.\nBind off.\n`,
    ]);
    const shaped = [16, 48].map((sts) => `${head(sts)}*ssk, k2tog; rep from *.\nDraw up.\n`);
    // 16, 24, … stitches at four corners.
    const corners = [-4, -3, -2, 0].map(square);
    for (const [n, text] of [...odd, ...shaped, ...corners].entries()) {
      const places = 1 + (n % 3);
      const rows = Array.from({ length: places }, () => Array(places).fill('a'));
      const plans = [{ id: 'a', name: 'Tiny', text }];
      const args = ['--json', '--border-cm', '1'];
      const { code, out, err } = await blanket(args, { ...PROJECT, plans, blanket: { rows } });
      const { squares, left, borderPlan, borderTrouble } = JSON.parse(out);
      expect(squares.length + left.length).toBe(1);
      expect(borderPlan === null).toBe(borderTrouble !== null);
      if (left.length > 0) expect([code, borderPlan]).toEqual([1, null]);
      if (borderPlan === null) expect(err).toContain(borderTrouble);
      if (left.length > 0) met.left++;
      else met.joined++;
    }
    expect(met.joined).toBeGreaterThan(1);
    expect(met.left).toBeGreaterThan(1);
  }, 20_000);

  it('says that there is nothing to sew where no square can be joined', async () => {
    const text = 'Gauge: 20x40\nCast on 16 sts.\nRound 1: *ssk, k2tog; rep from *.\nDraw up.\n';
    const plans = [{ id: 'a', name: 'Disc', text }];
    const files = ['--svg', 'b.svg', '--border-plan', 'b.txt'];
    const disc = await blanket(files, { ...PROJECT, plans, blanket: { rows: [['a', 'a']] } });
    expect(disc.code).toBe(1);
    expect(disc.out).toMatch(/no blanket to sew and no border/);
    expect(disc.out).toMatch(/Left out:\n {2}Disc: it has no four sides to join/);
    expect(disc.out).not.toMatch(/NaN|Infinity|pick up/);
    expect(disc.err).toMatch(/There is no border/);
    expect([disc.files.has('b.svg'), disc.files.has('b.txt')]).toEqual([false, false]);
  });

  it('makes no border where one was asked for that is deeper than anyone knits', async () => {
    const args = ['--border-cm', '1e9', '--border-plan', 'b'];
    const project = { ...PROJECT, blanket: { rows: [['a', 'a']] } };
    const { code, out, err, files } = await blanket(args, project);
    expect([code, files.has('b')]).toEqual([1, false]);
    expect(err).toMatch(/So deep a border takes more than 400 rounds/);
    expect(out).toMatch(/Seams:/);
  });

  it('refuses a file that is no project and a project that lays nothing', async () => {
    const bare = await blanket([], { ...PROJECT, blanket: { rows: [] } });
    expect([bare.code, bare.out]).toEqual([2, '']);
    expect(bare.err).toMatch(/no square laid out/);
    const damaged = await blanket([], { ...PROJECT, plans: [{ id: 'a' }] });
    expect([damaged.code, damaged.out]).toEqual([2, '']);
    expect(damaged.err).toMatch(/damaged: plan 1 cannot be read/);
  });

  it('takes projects of version 1, whose squares go by their yarn lines', async () => {
    const plans = PROJECT.plans.map(({ colours: _, ...plan }) => plan);
    const { code, out } = await blanket(['--json'], { ...PROJECT, version: 1, plans });
    expect(code).toBe(0);
    expect(JSON.parse(out).yarn).toHaveLength(1);
  });
});
