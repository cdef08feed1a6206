/** Pictures saved as SVG and opened by themselves do nothing, whatever a plan or project calls its things. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryIo } from '../cli/memory-io.ts';
import { COASTER } from '../coaster.ts';
import type { PageUnderTest } from './page-under-test.ts';
import { openWorkshop } from './page-under-test.ts';

const HOSTILE =
  '</title></text><script>document.title="hit"</script><image href="http://127.0.0.1:9/x" onerror="document.title=1"/>"\' onload="document.title=2"';
const PLAN = `Title: ${HOSTILE}\nYarn: ${HOSTILE}\n${COASTER}`;
const PROJECT = JSON.stringify({
  format: 'lieflat-project',
  version: 3,
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
