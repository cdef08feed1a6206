/**
 * The hand-over from baked stitches to strands: at the size where one takes over from the other both pictures are alike.
 * Difference: mean over pixels and colours, 0 … 255, of the means of 5 × 5 pixels, as both are drawn without smoothed edges.
 */

import type { Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PieceRequest } from './draw-piece.tsx';
import { openWorkshop, type PageUnderTest } from './page-under-test.ts';

/** Width of a stitch from which strands come in (near-yarn.tsx). */
const STITCH_PIXELS = 26;
const SIDE = 150;

const rows = (count: number, gauge: string, lines: readonly string[], times: number) =>
  `Gauge: ${gauge} = 10 cm\nWorked: flat\n\nCast on ${count} sts.\n` +
  lines.map((line, k) => `Row ${k + 1}${k === 0 ? ' (RS)' : ''}: ${line}.\n`).join('') +
  `Repeat rows 1 to ${lines.length} ${times} more times.\nBind off all sts.\n`;

const seed = 'k1, *p1, k1; rep from * to end';
const cable = ['k3, p2, k4, p2, k3', 'p3, k2, p4, k2, p3', 'k3, p2, 2/2 LC, p2, k3'];

/** A plan of each fabric, and the most that its pictures may differ: a fifth above what was measured. */
const FABRICS = {
  stockinette: [rows(14, '22 sts and 30 rows', ['knit', 'purl'], 8), 7.2],
  garter: [rows(14, '20 sts and 40 rows', ['knit', 'knit'], 11), 9],
  seed: [rows(15, '20 sts and 34 rows', [seed, seed], 9), 7.6],
  rib: [
    rows(
      18,
      '22 sts and 30 rows',
      ['k2, *p2, k2; rep from * to end', 'p2, *k2, p2; rep from * to end'],
      8,
    ),
    8.3,
  ],
  cable: [rows(14, '22 sts and 30 rows', [...cable, cable[1], cable[0], cable[1]], 2), 6.6],
} as const;

/** In the round, drawn up in its centre. */
const CUP =
  'Gauge: 22 sts and 30 rounds = 10 cm\nWorked: in the round\n\nCast on 64 sts. Join in the round.\n' +
  [6, 5, 4, 3, 2, 1]
    .map((k) => `*k${k}, k2tog; rep from * 7 times more.\n`)
    .reduce(
      (text, line, i) =>
        `${text}Round ${3 * i + 1}: ${line}Rounds ${3 * i + 2} and ${3 * i + 3}: knit.\n`,
      '',
    ) +
  'Cut the yarn and draw it through the remaining sts.\n';

let workshop: PageUnderTest;
let page: Page;

/** The piece that is drawn, as one script. */
async function buildPiece(): Promise<string> {
  const { NODE_ENV } = process.env;
  // As in shared-browser.ts: React is the shipped one.
  process.env.NODE_ENV = 'production';
  try {
    const built = await build({
      configFile: false,
      logLevel: 'error',
      build: {
        write: false,
        minify: false,
        target: 'es2022',
        rolldownOptions: { input: 'tests/browser/draw-piece.tsx' },
      },
    });
    if (!('output' in built)) throw new Error('the piece was not built');
    return built.output[0].code;
  } finally {
    process.env.NODE_ENV = NODE_ENV;
  }
}

beforeAll(async () => {
  const [content, opened] = await Promise.all([buildPiece(), openWorkshop()]);
  workshop = opened;
  page = await workshop.browser.newPage({ viewport: { width: 200, height: 200 } });
  await page.addScriptTag({ type: 'module', content });
  await page.waitForFunction(() => 'drawPiece' in window);
});

afterAll(async () => {
  await page?.close();
  await workshop?.close();
});

type Asked = Partial<PieceRequest> & { plan: string };

/** [4·SIDE²] the picture's pixels. */
async function pixelsOf(request: Asked): Promise<Buffer> {
  const text = await page.evaluate(
    async (asked) => {
      const pixels = await window.drawPiece(asked);
      return btoa(Array.from(pixels, (value) => String.fromCharCode(value)).join(''));
    },
    {
      stitchPixels: STITCH_PIXELS,
      width: SIDE,
      height: SIDE,
      polarRad: 0.6,
      aroundRad: 0.3,
      ...request,
    },
  );
  return Buffer.from(text, 'base64');
}

/** [3·SIDE²] means of 5 × 5 pixels. */
async function draw(request: Asked): Promise<Float64Array> {
  return meansOf(await pixelsOf(request));
}

function meansOf(values: Buffer): Float64Array {
  const out = new Float64Array(3 * SIDE * SIDE);
  for (let y = 2; y < SIDE - 2; y++) {
    for (let x = 2; x < SIDE - 2; x++) {
      for (let c = 0; c < 3; c++) {
        let sum = 0;
        for (let k = 0; k < 25; k++) {
          sum += values[4 * ((y - 2 + Math.floor(k / 5)) * SIDE + x - 2 + (k % 5)) + c];
        }
        out[3 * (y * SIDE + x) + c] = sum / 25;
      }
    }
  }
  return out;
}

const apart = (a: Float64Array, b: Float64Array) =>
  a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length;

/** The largest difference in luminance (Rec. 709) of a place. */
const worstOf = (a: Float64Array, b: Float64Array) => {
  let worst = 0;
  for (let i = 0; i < a.length; i += 3) {
    const [red, green, blue] = [0, 1, 2].map((c) => a[i + c] - b[i + c]);
    worst = Math.max(worst, Math.abs(0.2126 * red + 0.7152 * green + 0.0722 * blue));
  }
  return worst;
};

describe('a piece that still relaxes', () => {
  it('is its bare sheet, as bright as the stitches that follow', async () => {
    const [plan] = FABRICS.stockinette;
    const bare = await draw({ plan, moving: true });
    const stitched = await draw({ plan, strandsFrom: 1e6 });
    const means = [bare, stitched].map((picture) =>
      [0, 1, 2].map((c) => picture.filter((_, i) => i % 3 === c).reduce((a, b) => a + b, 0)),
    );
    const all = bare.length / 3;
    for (let c = 0; c < 3; c++) expect(Math.abs(means[0][c] - means[1][c]) / all).toBeLessThan(4);
    // From one place to the next.
    const rough = (picture: Float64Array) =>
      picture.reduce((sum, value, i) => sum + Math.abs(value - picture[Math.max(0, i - 9)]), 0);
    expect(rough(bare)).toBeLessThan(0.4 * rough(stitched));
  });
});

describe('a piece seen small', () => {
  // Measured 0.13; 0.26 with the sides of yarn as dark as in a near picture.
  it('is not peppered with dark dots between its stitches', async () => {
    const values = await pixelsOf({
      plan: FABRICS.stockinette[0],
      strandsFrom: 1e6,
      stitchPixels: 6,
      polarRad: 1,
      aroundRad: Math.PI / 2,
    });
    const means = meansOf(values);
    let fabric = 0;
    let dots = 0;
    for (let i = 0; i < SIDE * SIDE; i++) {
      // Red is least in the blue of the yarn, most on the table.
      const mean = means[3 * i];
      if (!(mean > 0 && mean < 150)) continue;
      fabric++;
      if (values[4 * i] < 0.6 * mean) dots++;
    }
    expect(fabric).toBeGreaterThan(1000);
    expect(dots / fabric).toBeLessThan(0.17);
  });
});

describe('a cup seen over its own horizon', () => {
  // Of 70 columns of pixels round the tip 8; 19 where patches that their rise turns over show their wrong side.
  it('ends there in yarn, not in a dark line', async () => {
    const values = await pixelsOf({
      plan: CUP,
      cup: true,
      strandsFrom: 1e6,
      stitchPixels: 12,
      polarRad: 1.1,
      aroundRad: 0.3,
    });
    const at = (x: number, y: number) => 4 * (y * SIDE + x);
    const light = (x: number, y: number) =>
      values.subarray(at(x, y), at(x, y) + 3).reduce((sum, value) => sum + value, 0);
    let dark = 0;
    for (let x = 40; x < 110; x++) {
      // Rows come from the lowest up.
      let y = SIDE - 1;
      while (y > 20 && values[at(x, y) + 3] === 0) y--;
      expect(y).toBeGreaterThan(20);
      let below = 0;
      for (let k = 3; k < 12; k++) below += light(x, y - k) / 9;
      if (Math.min(light(x, y), light(x, y - 1)) < 0.7 * below) dark++;
    }
    expect(dark).toBeLessThan(13);
  });
});

describe('stitches baked and stitches as strands', () => {
  for (const [name, [plan, most]] of Object.entries(FABRICS)) {
    it(`look alike in ${name} where one takes over from the other`, async () => {
      const baked = await draw({ plan, strandsFrom: 1e6 });
      const strands = await draw({ plan, strandsFrom: 0 });
      const difference = apart(baked, strands);
      expect(difference).toBeLessThan(most);
      // Two pictures, and of fabric.
      expect(difference).toBeGreaterThan(0.5);
      const mean = baked.reduce((sum, value) => sum + value, 0) / baked.length;
      expect(apart(baked, new Float64Array(baked.length).fill(mean))).toBeGreaterThan(10);
    });
  }

  // A step nearer by a hundredth changes the picture by 2.1 to 3.5 in the middle of the fade, by 2.7 to 3.6 over its
  // beginning, and by 2.3 to 3.5 where nothing fades; its worst place by 15 to 32, 19 to 30 and 19 to 29.
  it.each(['stockinette', 'garter', 'cable'] as const)(
    'take over in %s without a step: coming nearer changes the picture as where nothing fades',
    async (name) => {
      const [plan] = FABRICS[name];
      const nearer = async (from: number, strandsFrom?: number) => {
        const a = await draw({ plan, stitchPixels: from, strandsFrom });
        const b = await draw({ plan, stitchPixels: 1.01 * from, strandsFrom });
        return { mean: apart(a, b), worst: worstOf(a, b) };
      };
      const steady = await nearer(30, 1e6);
      for (const from of [25.9, 30, 34.5]) {
        const step = await nearer(from);
        expect(step.mean).toBeLessThan(1.4 * steady.mean);
        expect(step.worst).toBeLessThan(1.8 * steady.worst);
      }
      expect(steady.mean).toBeGreaterThan(0.5);
    },
  );

  it('fade over: half way, the picture is the mean of both', async () => {
    const [plan] = FABRICS.stockinette;
    const baked = await draw({ plan, strandsFrom: 1e6, polarRad: 0 });
    const strands = await draw({ plan, strandsFrom: 0, polarRad: 0 });
    const between = await draw({ plan, strandsFrom: STITCH_PIXELS / 1.175, polarRad: 0 });
    const mean = baked.map((value, i) => (value + strands[i]) / 2);
    expect(apart(between, mean)).toBeLessThan(0.25 * apart(baked, strands));
  });
});
