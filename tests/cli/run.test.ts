import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { knit } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { SMALL_COASTER, TINY_COASTER } from '../coaster.ts';
import { whole } from '../runs.ts';
import { memoryIo } from './memory-io.ts';

/** A small garter square that lies flat: 8 decreases every second round at rounds half as high as wide. */
const FLAT = `Title: Coaster
Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round
Cast on 48 sts.
Round 1: purl.
Round 2: *ssk, k8, k2tog; rep from * 3 times more. (40 sts)
Round 3: purl.
Round 4: *ssk, k6, k2tog; rep from * 3 times more. (32 sts)
Round 5: purl.
Round 6: *ssk, k4, k2tog; rep from * 3 times more. (24 sts)
Round 7: purl.
Round 8: *ssk, k2, k2tog; rep from * 3 times more. (16 sts)
Round 9: purl.
Round 10: *ssk, k2tog; rep from * 3 times more. (8 sts)
Draw the yarn through the remaining sts.
`;
/** The same with a corner stitch, so that a seam finds a plain edge. */
const CORNER = FLAT.replace(/\*ssk, k(\d)/g, (_, n) => `*k1, ssk, k${Number(n) - 1}`).replace(
  /Round 10: .*\n/,
  '',
);
const WRONG = FLAT.replace('k8', 'k9');

async function lieflat(
  args: string[],
  files: Record<string, string | Uint8Array> = {},
  stdin = '',
) {
  const io = memoryIo({ flat: FLAT, wrong: WRONG, ...files }, stdin);
  const code = await run(args, io);
  return { code, out: io.written.out, err: io.written.err, files: io.files };
}

const oneLine = /^lieflat: [^\n]+\n$/;

describe('wrong use', () => {
  it.each([
    [[]],
    [['knit']],
    [['check']],
    [['check', 'flat', 'flat']],
    [['check', 'flat', '--colour']],
    [['check', 'nowhere']],
    [['relax', 'flat', '--seed', '-1']],
    [['relax', 'flat', '--tolerance', '0']],
    [['relax', 'flat', '--tolerance', '1e-300']],
    [['relax', 'flat', '--max-steps', '0']],
    [['relax', 'flat', '--obj']],
    [['compare', 'flat']],
    [['compare', 'flat', '--every', '1,,2']],
    [['draft', '--gauge', '22x30']],
    [['draft', '--side-cm', '20', '--side-in', '8', '--gauge', '22x30']],
    [['draft', '--side-cm', '20', '--gauge', '22']],
    [['draft', '--side-cm', '20']],
    [['draft', '--side-cm', '20', '--yarn', 'blue', '--needles', '4 mm']],
    [['draft', '--side-cm', '20', '--yarn', 'light', '--needles', 'old']],
    [['draft', '--side-cm', '20', '--yarn', 'light', '--ground', 'felt']],
    [['draft', '--side-cm', '20', '--gauge', '22x30', '--shape', 'star']],
    [['draft', '--side-cm', '20', '--gauge', '22x30', '--cross-every', '6']],
    [['draft', '--side-cm', '1', '--gauge', '22x30']],
    [['write', 'flat', '--worked', 'sideways']],
    [['write', 'flat', '--seam', 'two']],
    [['write', 'flat', '--terms', 'french']],
    [['chart', 'flat', '--paper', 'A4']],
    [['patch', 'flat', '--rounds', '1-2']],
    [['patch', 'flat', '--rounds', '2-1', '--stitches', '1-2']],
    [['patch', 'flat', '--rounds', '1-2', '--stitches', '1-900']],
    [['join', '--method', 'glue', '--slack-mm', '1']],
    [['join', '--method', 'plain', '--slack-mm', '-1']],
    [['join', '--method', 'plain', '--slack-mm', '1', '--tighten-mm', '1']],
    [['join', '--method', 'plain', '--slack-mm', '1', '--yarn-mm', '9']],
    [['relax', 'flat', '--settle']],
    [['cell', 'lace', '--loop-mm', '10', '--yarn-mm', '0.5']],
    [['cell', 'stockinette', '--loop-mm', '10', '--yarn-mm', '3']],
  ])('%j ends with exit code 2 and one line that says what is wrong', async (args) => {
    const { code, out, err } = await lieflat(args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(oneLine);
  });

  it('a file that is no text is refused', async () => {
    const { code, err } = await lieflat(['check', 'x'], { x: Uint8Array.of(0x89, 0x50, 0, 1, 2) });
    expect([code, err]).toEqual([2, 'lieflat: x is not a text file\n']);
  });

  it('an output file that cannot be written is told before anything is printed', async () => {
    const io = memoryIo({ flat: FLAT });
    io.writeFile = () => Promise.reject(new Error('disk gone'));
    expect(await run(['relax', 'flat', '--obj', 'x.obj'], io)).not.toBe(0);
    expect(io.written.out).toBe('');
  });
});

describe('help and version', () => {
  it('are answers: exit code 0, on the output', async () => {
    for (const args of [['--help'], ['--version'], ['relax', '--help']]) {
      const { code, out, err } = await lieflat(args);
      expect([code, err]).toEqual([0, '']);
      expect(out.length).toBeGreaterThan(3);
    }
  });
});

describe('check', () => {
  it('counts every round', async () => {
    const { code, out, err } = await lieflat(['check', 'flat', '--json']);
    expect([code, err]).toEqual([0, '']);
    const report = JSON.parse(out);
    expect(report).toMatchObject({ version: 1, title: 'Coaster', castOn: 48, last: 8 });
    expect(report.rounds.map((r: { stitches: number }) => r.stitches)).toEqual([
      48, 40, 40, 32, 32, 24, 24, 16, 16, 8,
    ]);
    expect(report.rounds[1]).toMatchObject({ n: 2, decreases: 8, increases: 0, crossings: 0 });
    expect(report.diagnostics).toEqual([]);
  });

  it('names the colour of every round where the text tells any, with and without mistakes', async () => {
    const striped =
      'Cast on 40 sts and join.\nKnit 2 rounds.\nChange to CC.\nKnit 1 round.\nBind off.\n';
    for (const plan of [striped, `${striped}Knit 5 rounds.\nRound 9: k3q.\n`]) {
      const io = memoryIo({ p: plan });
      await run(['check', 'p', '--json'], io);
      const { rounds } = JSON.parse(io.written.out);
      expect(rounds.map((r: { colour?: string }) => r.colour)).toEqual(['MC', 'MC', 'CC']);
    }
  });

  it('tells in words what it tells in JSON', async () => {
    const { code, out } = await lieflat(['check', 'flat']);
    expect(code).toBe(0);
    expect(out).toContain('Cast on 48 stitches');
    expect(out).toMatch(/Round 10\s+8\s+8/);
  });

  it('numbers rounds that are worked again, and says which they are', async () => {
    const plan =
      'Cast on 48 sts. Join in the round.\nRound 1: knit.\nRound 2: *k2tog, k10; rep from * to end.\nRepeat rounds 1 and 2 once more.\nBind off.';
    const { out } = await lieflat(['check', '-'], {}, plan);
    expect(out).toMatch(/^Round 2 +44 .*\nRound 3 \(round 1 again\) +44/m);
  });

  it('says in its last line where the text leaves the end of the piece open', async () => {
    const lastLine = async (end: string) => {
      const { out } = await lieflat(
        ['check', '-'],
        {},
        `Cast on 40 sts and join.\nKnit 4 rounds.\n${end}\n`,
      );
      return out.trimEnd().split('\n').at(-1);
    };
    expect(await lastLine('')).toMatch(/does not say how the piece ends/);
    for (const end of ['Bind off.', 'Leave the stitches on a holder.', '(Bind off all sts.)'])
      expect(await lastLine(end), end).toBe(
        'Every round works the stitches that are on the needles.',
      );
  });

  it('prints the document with the mistakes for a plan with errors, exit code 1', async () => {
    const { code, out, err } = await lieflat(['check', 'wrong', '--json']);
    expect([code, err]).toEqual([1, '']);
    const report = JSON.parse(out);
    expect(report.castOn).toBe(48);
    expect(report.diagnostics[0]).toMatchObject({ severity: 'error', line: 6 });
  });

  it('reads the standard input, with any line ends and a byte order mark', async () => {
    const text = `\ufeff${FLAT.replaceAll('\n', '\r\n')}`;
    const { code, out } = await lieflat(['check', '-', '--json'], {}, text);
    expect(code).toBe(0);
    expect(JSON.parse(out).castOn).toBe(48);
  });

  it('an empty plan has an error, not a crash', async () => {
    for (const command of ['check', 'relax', 'chart']) {
      const { code, out } = await lieflat([command, '-', '--json'], {}, '');
      expect(code).toBe(1);
      expect(JSON.parse(out).diagnostics.length).toBeGreaterThan(0);
      const { code: same, out: words } = await lieflat([command, '-'], {}, ' \n');
      expect([same, words]).toEqual([1, expect.stringContaining('Nothing is written')]);
      expect(words).not.toMatch(/mistake|Cast on 0/);
    }
  });
});

describe('relax', () => {
  it('prints one JSON document with verdict, sizes and the record of the solver', async () => {
    const { code, out, err } = await lieflat(['relax', 'flat', '--json']);
    expect([code, err]).toEqual([0, '']);
    const report = JSON.parse(out);
    expect(report.verdict).toBe('flat');
    expect(report.coneAngleDeg).toBeCloseTo(360, -1);
    expect(report.metric).toMatchObject({ stitchMm: 5, roundMm: 2.5 });
    // 12 stitches of 5 mm a side.
    expect(Math.abs(report.sideMm - 60)).toBeLessThan(3);
    expect(report.relaxation.converged).toBe(true);
    expect(report.relaxation.residual).toBeLessThan(1e-5);
    expect(report.yarn.lengthM).toBeGreaterThan(0);
    expect(report.advice).toEqual([]);
  });

  it('writes the plan with the advice followed, or says why there is none', async () => {
    const tall = FLAT.replace('40 rounds', '20 rounds');
    const fast = FLAT.replace('40 rounds', '56 rounds');
    const helped = await lieflat(['relax', 'fast', '--advised', 'better'], { fast });
    expect(helped.code).toBe(0);
    expect(parsePlan(String(helped.files.get('better'))).castOn).toBe(48);
    const none = await lieflat(['relax', 'tall', '--advised', 'better'], { tall });
    expect(none.code).toBe(1);
    expect(none.err).toMatch(/No plan was written.*(too few|No other timing)/);
    expect(none.files.has('better')).toBe(false);
  });

  it('gives centimetres or inches', async () => {
    expect((await lieflat(['relax', 'flat'])).out).toMatch(/side\s+6(\.\d)? cm/);
    expect((await lieflat(['relax', 'flat', '--inches'])).out).toMatch(/side\s+2[⅛¼⅜½⅝¾⅞]? in/);
  });

  it('prints the diagnostics and exit code 1 for a plan with errors', async () => {
    const { code, out } = await lieflat(['relax', 'wrong', '--json']);
    expect(code).toBe(1);
    expect(JSON.parse(out).diagnostics[0].severity).toBe('error');
    expect((await lieflat(['relax', 'wrong'])).out).toContain('line 6');
  });

  it('gives exit code 1 where a stated tolerance is not met', async () => {
    // A ruffle needs far more than one step.
    const ruffle = FLAT.replace(/Round \d*[13579]: purl.\n/g, '').replace(
      /Round (\d+)/g,
      (_, n) => `Round ${Number(n) / 2}`,
    );
    const hard = ['--tolerance', '1e-9', '--max-steps', '1'];
    const { code, out } = await lieflat(['relax', '-', '--json', ...hard], {}, ruffle);
    expect(JSON.parse(out).relaxation.converged).toBe(false);
    expect(code).toBe(1);
  });

  it('writes the shape as OBJ and as glTF that another reader takes', async () => {
    const { code, files } = await lieflat(['relax', 'flat', '--obj', 'a.obj', '--glb', 'a.glb']);
    expect(code).toBe(0);
    const obj = files.get('a.obj') as string;
    // 48 + 48 + 40 + 40 + … + 8 loops and the drawn-up centre.
    const loops = 48 + 48 + 2 * (40 + 32 + 24 + 16) + 8;
    expect(obj.match(/^v /gm)?.length).toBe(loops + 1);
    const glb = files.get('a.glb') as Uint8Array;
    const gltf = await new GLTFLoader().parseAsync(glb.slice().buffer as ArrayBuffer, '');
    expect(gltf.scene.children.length).toBe(1);
  });

  it('writes the yarn as OBJ and as glTF', async () => {
    const args = ['relax', 'small', '--yarn-obj', 'y.obj', '--yarn-glb', 'y.glb'];
    const { code, files } = await lieflat(args, { small: TINY_COASTER });
    expect(code).toBe(0);
    const obj = files.get('y.obj') as string;
    expect(obj).toContain('\no yarn\n');
    // Sixteen rings of eight a loop.
    const loops = 2 * (24 + 16) + 8;
    expect(obj.match(/^v /gm)?.length).toBeGreaterThan(loops * 16 * 8);
    const glb = files.get('y.glb') as Uint8Array;
    const gltf = await new GLTFLoader().parseAsync(glb.slice().buffer as ArrayBuffer, '');
    expect(gltf.scene.children[0].name).toBeTruthy();
  });

  it('brings the yarn to rest before it is written, and says how it lies then', async () => {
    // All of the small one in the soak: it comes to rest in the page's tests too.
    const io = memoryIo({ small: whole ? SMALL_COASTER : TINY_COASTER }, '', true);
    let clock = 0;
    io.now = () => (clock += 50);
    await run(['relax', 'small', '--yarn-obj', 'laid.obj'], io);
    const args = ['relax', 'small', '--yarn-obj', 'rest.obj', '--settle', '--json'];
    expect(await run(args, io)).toBe(0);
    expect(io.written.err).toMatch(
      /bringing the yarn to rest \(a few seconds\): step \d+, force left/,
    );
    const { settling } = JSON.parse(io.written.out.slice(io.written.out.indexOf('\n{')));
    expect(settling.converged).toBe(true);
    expect(settling.residual).toBeLessThanOrEqual(0.01);
    expect(settling.closestDiameters).toBeGreaterThan(0.75);
    expect(settling.words).toMatch(/^The yarn is at rest: \d+ steps/);
    const [laid, rest] = ['laid.obj', 'rest.obj'].map((name) => io.files.get(name) as string);
    // The same tubes, elsewhere.
    expect(rest.match(/^v /gm)?.length).toBe(laid.match(/^v /gm)?.length);
    expect(rest).not.toBe(laid);
  }, 120_000);

  it('says that the yarn was not brought to rest in the time given, and writes it as far as it came', async () => {
    const io = memoryIo({ small: TINY_COASTER });
    let clock = 0;
    io.now = () => (clock += 50);
    const args = ['relax', 'small', '--yarn-glb', 'y.glb', '--settle', '--max-seconds', '1'];
    expect(await run(args, io)).toBe(1);
    expect(io.written.out).toMatch(/Stopped before the yarn came to rest: force left/);
    expect(io.files.has('y.glb')).toBe(true);
  });

  it('shows progress to a person only', async () => {
    const quiet = memoryIo({ flat: FLAT });
    await run(['relax', 'flat'], quiet);
    expect(quiet.written.err).toBe('');
    const watched = memoryIo({ flat: FLAT }, '', true);
    let clock = 0;
    watched.now = () => {
      clock += 200;
      return clock;
    };
    await run(['relax', 'flat', '--json'], watched);
    expect(watched.written.err).toContain('relaxing');
    expect(() => JSON.parse(watched.written.out)).not.toThrow();
  });
});

describe('compare', () => {
  it('has nothing to set beside a plan that neither decreases nor increases', async () => {
    const io = memoryIo({ tube: 'Cast on 20 sts. Join in the round.\nRound 1: knit.\nBind off.' });
    expect(await run(['compare', 'tube', '--every', '1,2'], io)).toBe(2);
    expect(io.written.out).toBe('');
    expect(io.written.err).toMatch(/no rate to compare/);
  });

  it('sets the re-timed plans beside the plan as written', async () => {
    const { code, out } = await lieflat(['compare', 'flat', '--every', '1,2,3', '--json']);
    expect(code).toBe(0);
    const { asWritten, compared } = JSON.parse(out);
    expect(asWritten.verdict).toBe('flat');
    expect(compared.map((c: { every: number }) => c.every)).toEqual([1, 2, 3]);
    expect(compared.map((c: { verdict: string }) => c.verdict)).toEqual([
      'ruffles',
      'flat',
      'cups',
    ]);
  });
});

describe('a chain of single stitches', () => {
  it('is at rest as it is, in the round and to and fro', async () => {
    for (const join of ['Join in the round.\nRounds 1-9: knit.', '\nRows 1-9: knit.']) {
      const io = memoryIo({ p: `Gauge: 22x30\nCast on 1 st. ${join}\n` });
      expect(await run(['relax', 'p', '--json'], io)).toBe(0);
      expect(JSON.parse(io.written.out).relaxation.converged).toBe(true);
    }
  });
});

describe('draft', () => {
  it('tells the verdict and the size of what it drafted, and ends with 1 where it is not flat', async () => {
    const wishes = ['draft', '--side-cm', '10', '--gauge', '20x28'];
    const flat = await lieflat(wishes);
    expect(flat.code).toBe(0);
    expect(flat.err).toMatch(
      /^Verdict: flat( after blocking)?\. It comes to 10 cm \(relaxed\)\.$/m,
    );
    const { verdict, sizeMm, text } = JSON.parse((await lieflat([...wishes, '--json'])).out);
    const { report } = knit(text, { advise: false }).knitted ?? { report: null };
    expect(verdict).toBe(report?.verdict);
    expect(sizeMm).toBeCloseTo(report?.sideMm ?? 0, 6);
    // Rounds half as high again as a stitch is wide: more decreases than are worked.
    const cup = await lieflat('draft --shape triangle --side-cm 6 --gauge 30x20'.split(' '));
    expect(cup.err).toMatch(/^Verdict: (?!flat)/m);
    expect(cup.code).toBe(1);
  });

  it('guesses the gauge from yarn and needle, says so, and the plan states it', async () => {
    const args = ['draft', '--side-cm', '10', '--yarn', 'light', '--needles', 'US 6'];
    const { code, out, err } = await lieflat(args);
    expect(code).toBe(0);
    // Light yarn: 21 to 24 stitches on 3.75 to 4.5 mm; 4 mm lies a third of the way.
    expect(err).toMatch(/guessed.*23 sts and 30½ rounds to 10 cm.*4 mm.*swatch/);
    const plan = parsePlan(out);
    expect(plan.yarn?.weight).toBe(3);
    expect(plan.needles?.mm).toBe(4);
    expect(plan.gauges[0].stitchMm).toBeCloseTo(100 / 23, 2);
    const usual = await lieflat(['draft', '--side-in', '4', '--yarn', 'bulky', '--json']);
    expect(JSON.parse(usual.out).gaugeGuess).toMatchObject({ weight: 'bulky', needleMm: 6.75 });
    expect(JSON.parse(usual.out).compromises.join()).not.toMatch(/\bcm\b/);
  });

  it('gives a plan without mistakes that closes', async () => {
    const { code, out } = await lieflat([
      'draft',
      '--side-cm',
      '10',
      '--gauge',
      '20x40',
      '--ground',
      'garter',
    ]);
    expect(code).toBe(0);
    const plan = parsePlan(out);
    expect(plan.diagnostics).toEqual([]);
    expect(plan.ending).toBe('drawn-up');
    expect(plan.castOn).toBe(80);
  });

  it('pairs panels with their crossings and takes inches', async () => {
    const { code, out } = await lieflat([
      ...['draft', '--side-in', '6', '--gauge', '22x30', '--panel', 'p1 k4 p1'],
      ...['--cross-every', '6', '--json'],
    ]);
    expect(code).toBe(0);
    const draft = JSON.parse(out);
    expect(draft.spec.sizeMm).toBeCloseTo(152.4, 6);
    expect(draft.text).toMatch(/2\/2 LC/);
    expect(draft.text).toContain('22 sts and 30 rounds = 10 cm (4 in)');
  });
});

describe('needles', () => {
  it('plans them from the first round to the last, in words and as one document', async () => {
    const { code, out } = await lieflat(['needles', 'flat']);
    expect(code).toBe(0);
    expect(out).toMatch(/Begin on .*\(\d+ sts/);
    expect(out).toMatch(/after round +needle 1/);
    const { phases, table } = JSON.parse((await lieflat(['needles', 'flat', '--json'])).out);
    expect(phases[0].from).toBe(0);
    expect(phases.at(-1).to).toBe(parsePlan(FLAT).rounds.length);
    expect(table.rounds.length).toBe(parsePlan(FLAT).rounds.length);
    expect((await lieflat(['needles', 'flat', '--way', 'chopsticks'])).code).toBe(2);
    const drawn = await lieflat(['needles', 'flat', '--svg', 'n.svg', '--round', '2']);
    expect(String(drawn.files.get('n.svg'))).toMatch(/^<svg /);
  });

  it.each([
    ['3.5 mm set of five double-pointed needles.', 'double-pointed'],
    ['4 mm circular, for the magic loop', 'magic loop'],
  ])('takes the needles that the plan names as the pattern does: %s', async (named, kind) => {
    const io = memoryIo({ own: `Needles: ${named}\n${FLAT}` });
    expect(await run(['needles', 'own', '--json'], io)).toBe(0);
    const { phases, lines } = JSON.parse(io.written.out);
    expect(phases[0].kind).toBe(kind);
    const pattern = memoryIo({ own: `Needles: ${named}\n${FLAT}` });
    expect(await run(['write', 'own'], pattern)).toBe(0);
    expect(pattern.written.out).toContain(lines[0].split(' (')[0]);
    expect(pattern.written.out).not.toContain('.;');
  });
});

describe('schematic', () => {
  it('gives the measures to block to, and exit code 1 where there are none', async () => {
    const { code, out, files } = await lieflat(['schematic', 'flat', '-o', 's.svg']);
    expect(code).toBe(0);
    expect(out).toMatch(/along each side [\d.]+ cm/);
    expect(String(files.get('s.svg'))).toMatch(/^<svg /);
  });
});

describe('chart in words', () => {
  it('reads row by row', async () => {
    const { code, out } = await lieflat(['chart', 'flat', '--text', '--terms', 'british']);
    expect(code).toBe(0);
    expect(out.split('\n').filter((line) => /^Round \d/.test(line)).length).toBe(
      parsePlan(FLAT).rounds.length,
    );
    expect((await lieflat(['chart', 'flat', '--text', '--paper', 'a4'])).code).toBe(2);
  });
});

describe('write', () => {
  const counts = (text: string) => parsePlan(text).rounds.map((r) => r.after);

  it('gives a pattern that reads back into the same plan', async () => {
    const { code, out } = await lieflat(['write', 'flat']);
    expect(code).toBe(0);
    expect(parsePlan(out).diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    expect(counts(out)).toEqual(counts(FLAT));
  });

  it('turns a round plan flat, with one stitch for the seam or two', async () => {
    const turned = async (...seam: string[]) => {
      const files = { corner: CORNER };
      const { code, out } = await lieflat(
        ['write', 'corner', '--worked', 'flat', '--json', ...seam],
        files,
      );
      expect(code).toBe(0);
      const written = JSON.parse(out);
      expect(written.worked).toBe('flat');
      return parsePlan(written.text);
    };
    const one = await turned();
    expect((one.seam?.begin ?? 0) + (one.seam?.end ?? 0)).toBe(1);
    expect(one.rounds.map((r) => r.after)).toEqual(counts(CORNER).map((n) => n + 1));
    const two = await turned('--seam', 'two');
    expect(two.seam).toEqual({ begin: 1, end: 1 });
    expect(two.rounds.map((r) => r.after)).toEqual(counts(CORNER).map((n) => n + 2));
    expect((await lieflat(['write', 'flat', '--seam', 'three'])).code).toBe(2);
  });

  it('writes for the needles asked', async () => {
    const { out } = await lieflat(['write', 'flat', '--needles', 'magic loop']);
    expect(out).toMatch(/^Needles: .*for a magic loop/m);
    expect((await lieflat(['write', 'flat', '--needles', 'nine'])).code).toBe(2);
  });

  it('writes to a file and in British terms', async () => {
    const { out, files } = await lieflat(['write', 'flat', '--terms', 'british', '-o', 'p.txt']);
    expect(out).toBe('Pattern written: p.txt\n');
    expect(files.get('p.txt')).toMatch(/Tension/);
  });
});

describe('chart', () => {
  it('is SVG on the output or in a file', async () => {
    expect((await lieflat(['chart', 'flat'])).out).toMatch(/^<svg[\s>]|^<\?xml/);
    const { out, files } = await lieflat(['chart', 'flat', '-o', 'c.svg']);
    expect(out).toContain('c.svg');
    expect(files.get('c.svg')).toMatch(/<svg/);
  });
});

describe('cell', () => {
  it('gives stitch and round with the loop constants', async () => {
    const args = ['cell', 'stockinette', '--loop-mm', '14', '--yarn-mm', '0.75', '--json'];
    const { code, out } = await lieflat(args);
    const cell = JSON.parse(out);
    expect(code).toBe(cell.relaxation.converged ? 0 : 1);
    expect(cell).toMatchObject({ stitch: 'stockinette', loopMm: 14, yarnMm: 0.75 });
    expect(cell.kc).toBeCloseTo(14 / cell.roundMm, 6);
    expect(cell.kr).toBeCloseTo(cell.stitchMm / cell.roundMm, 6);
    expect(cell.shape).toBeUndefined();
  });

  it('takes a small plan as the repeat, turned to the right side', async () => {
    const yarn = ['--loop-mm', '14', '--yarn-mm', '0.75', '--json'];
    const garter = 'Worked: flat\nCast on 1 st.\nRow 1 (RS): knit.\nRow 2 (WS): knit.\n';
    const plan = JSON.parse((await lieflat(['cell', 'g', ...yarn], { g: garter })).out);
    const named = JSON.parse((await lieflat(['cell', 'garter', ...yarn])).out);
    expect(plan.roundMm).toBeCloseTo(named.roundMm, 1);
    expect((await lieflat(['cell', 'flat', ...yarn])).err).toMatch(/knit and purl stitches only/);
  });
});

describe('patch', () => {
  const cable = `Worked: in the round
Gauge: 22 sts and 30 rounds = 10 cm
Cast on 24 sts.
Rounds 1-3: *p1, k4, p1; rep from * to end.
Round 4: *p1, 2/2 LC, p1; rep from * to end.
Round 5: *p1, k2tog, ssk, p1; rep from * to end. (16 sts)
`;
  const where = ['--rounds', '1-4', '--stitches', '1-6'];

  it('measures a cable held to its sheet, and free, beside the same stitches uncrossed', async () => {
    // Two over two, in the yarn that the gauge tells, takes four times as long: in the soak.
    const single = cable.replaceAll('k4, p1', 'k2, p1').replace('2/2 LC', '1/1 LC');
    const small = single.replace(/Round 5: .*\n/, '');
    const args = whole ? where : ['--rounds', '1-4', '--stitches', '1-4', '--yarn-mm', '0.9'];
    const files = { c: whole ? cable : small };
    const { code, out } = await lieflat(['patch', 'c', ...args, '--json'], files);
    const patch = JSON.parse(out);
    expect(code).toBe(patch.relaxation.converged && patch.freePanel.relaxation.converged ? 0 : 1);
    expect(patch).toMatchObject({ crossings: 1, rounds: { from: 1, to: 4 } });
    for (const of of [patch, patch.freePanel]) {
      expect(of.widthMm).toBeLessThan(of.uncrossedWidthMm);
      expect(of.pullInPercent).toBeCloseTo(100 * (1 - of.widthMm / of.uncrossedWidthMm), 6);
    }
    expect(patch.roundWidths.map(({ round }: { round: number }) => round)).toEqual([1, 2, 3, 4]);
    expect(patch.minCentreDistanceMm).toBeGreaterThan(0.8 * patch.yarnMm);
    expect(patch.gaps.largestMm).toBeGreaterThanOrEqual(patch.gaps.usualMm);
  }, 60_000);

  it('gives numbers without cables too, and through shaping', async () => {
    const args = ['patch', 'c', '--rounds', '4-5', '--stitches', '6-8', '--json'];
    const plain = cable.replace('2/2 LC', 'k4');
    const { code, out } = await lieflat(args, { c: plain });
    const patch = JSON.parse(out);
    expect(code).toBe(0);
    expect(patch).toMatchObject({ crossings: 0, pullInPercent: 0, freePanel: null });
    expect(patch.widthMm).toBe(patch.uncrossedWidthMm);
    expect(patch.freePanelLeftOut).toMatch(/no crossing/);
  });

  it('says what lies outside the plan, and what yarn cannot be, with the limits', async () => {
    const said = async (...args: string[]) => {
      const { code, err } = await lieflat(['patch', 'c', '--no-panel', ...args], { c: cable });
      expect(code).toBe(2);
      return err;
    };
    expect(await said('--rounds', '4-9', '--stitches', '1-2')).toMatch(/5 rounds.*no round 9/s);
    expect(await said('--rounds', '5', '--stitches', '1-17')).toMatch(/16 stitches.*no stitch 17/s);
    expect(await said(...where, '--yarn-mm', '0')).toMatch(/number above 0/);
    expect(await said(...where, '--yarn-mm', '4')).toMatch(/jammed.*takes yarn up to/s);
    expect(await said(...where, '--loop-mm', '9')).toMatch(/jammed.*needs [\d.]+ mm or more/s);
  });
});

describe('join', () => {
  it('gives the opening beside the ordinary gap', async () => {
    const loose = ['--loop-mm', '24', '--yarn-mm', '1'];
    const args = ['join', '--method', 'plain', '--slack-mm', '2', ...loose, '--json'];
    const { code, out } = await lieflat(args);
    const join = JSON.parse(out);
    expect(code).toBe(join.relaxation.converged ? 0 : 1);
    expect(join).toMatchObject({ method: 'plain', slackMm: 2 });
    expect(join.openingMm).toBeGreaterThan(join.ordinaryGapMm);
    expect(join.shape).toBeUndefined();
  }, 60_000);
});
