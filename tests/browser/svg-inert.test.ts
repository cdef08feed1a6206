/** Pictures saved as SVG and opened by themselves do nothing, whatever a plan or project calls its things. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from '../cli/memory-io.ts';
import type { PageUnderTest } from './page-under-test.ts';
import { openWorkshop } from './page-under-test.ts';

const HOSTILE =
  '</title></text><script>document.title="hit"</script><image href="http://127.0.0.1:9/x" onerror="document.title=1"/>"\' onload="document.title=2"';
const PLAN = `Title: ${HOSTILE}
Yarn: ${HOSTILE}
Gauge: 20 sts and 40 rounds = 10 cm
Cast on 48 sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k8, k2tog; rep from * to end. (40 sts)
Round 3: purl.
Round 4: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 5: purl.
Round 6: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 7: purl.
Round 8: *ssk, k2, k2tog; rep from * to end. (16 sts)
Draw the yarn through the remaining sts.
`;
const PROJECT = JSON.stringify({
  format: 'lieflat-project',
  version: 2,
  title: HOSTILE,
  plans: [
    {
      id: HOSTILE,
      name: HOSTILE,
      text: PLAN,
      colours: { yarns: [{ name: HOSTILE, hex: '#a0b0c0' }] },
    },
  ],
  blanket: { rows: [[HOSTILE]] },
});
const PICTURES: readonly (readonly string[])[] = [
  ['chart', 'plan', '-o', 'chart.svg'],
  ['blanket', 'project', '--svg', 'blanket.svg'],
];

let workshop: PageUnderTest;
const folder = mkdtempSync(join(tmpdir(), 'lieflat-svg-'));

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
  rmSync(folder, { recursive: true, force: true });
});

it.each(PICTURES.map((args) => [String(args.at(-1)), args] as const))(
  '%s runs nothing and asks for nothing',
  async (name, args) => {
    const io = memoryIo({ plan: PLAN, project: PROJECT });
    await run(args, io);
    const svg = String(io.files.get(name));
    expect(svg).toMatch(/^<svg /);
    const path = join(folder, name);
    writeFileSync(path, svg);
    const context = await workshop.browser.newContext();
    const page = await context.newPage();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(pathToFileURL(path).href);
    const found = await page.evaluate(() => ({
      elements: document.querySelectorAll('script, image, foreignObject, a, iframe, style').length,
      handlers: [...document.querySelectorAll('*')].flatMap((element) =>
        [...element.attributes]
          .filter(({ name }) => /^on|href$/i.test(name))
          .map(({ name }) => name),
      ),
      root: document.documentElement.localName,
    }));
    expect(found).toEqual({ elements: 0, handlers: [], root: 'svg' });
    expect(asked).toEqual([pathToFileURL(path).href]);
    await context.close();
  },
);
