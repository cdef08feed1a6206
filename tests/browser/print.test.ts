/** What the printer gets from every tab. Tests follow each other on one page. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import { openWorkshop, stillStage, untilAtRest, visit, writePlan } from './page-under-test.ts';
import { SMALL_CUP } from './small-plans.ts';

let workshop: PageUnderTest;
let visited: Visit;
const page = () => visited.page;

beforeAll(async () => {
  workshop = await openWorkshop();
  visited = await visit(workshop, { plan: SMALL_CUP });
  await untilAtRest(page());
});

afterAll(async () => {
  await workshop?.close();
});

/** The page as the printer sees it, while `look` looks at it. */
async function asPrinted(look: (page: Page) => Promise<void>): Promise<void> {
  await page().evaluate(() => void window.dispatchEvent(new Event('beforeprint')));
  await page().emulateMedia({ media: 'print' });
  try {
    expect(await page().locator('.head').isVisible()).toBe(false);
    await look(page());
  } finally {
    await page().emulateMedia({ media: null });
    await page().evaluate(() => void window.dispatchEvent(new Event('afterprint')));
  }
}

/** What is to be read of it, line by line; `textContent` would run them together. */
async function wordsOf(printed: Page, sheet: string): Promise<string> {
  return (await printed.locator(sheet).allInnerTexts()).join('\n');
}

/** Width of the printed picture in its own pixels, and the share of them that show woad yarn. */
async function printedPicture(): Promise<{ wide: number; bluish: number }> {
  return page()
    .locator('.print-picture')
    .evaluate((element) => {
      const canvas = element as HTMLCanvasElement;
      const data = canvas.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data;
      let bluish = 0;
      if (data) for (let i = 0; i < data.length; i += 4) if (data[i + 2] > data[i] + 24) bluish++;
      return { wide: canvas.width, bluish: bluish / (canvas.width * canvas.height) };
    });
}

async function printedSize(): Promise<string> {
  const pdf = (await page().pdf({ preferCSSPageSize: true })).toString('latin1');
  const [, wide, high] = /\/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? [];
  return `${Math.round(Number(wide))}×${Math.round(Number(high))}`;
}

it('prints the fabric with its verdict, its counts and the plan', async () => {
  // Advice follows the verdict, as it takes longer.
  await page()
    .getByText(/decrease 8 stitches on 3 rounds of every 4/)
    .first()
    .waitFor({ timeout: 60_000 });
  await stillStage(page());
  await asPrinted(async (printed) => {
    const words = await wordsOf(printed, '.print-fabric');
    expect(words).toMatch(/Small cup/);
    expect(words).toMatch(/Cups/);
    expect(words).toMatch(/Round 3: 48 sts/);
    expect(words).toMatch(/decrease 8 stitches on 3 rounds of every 4/);
    expect(words).toMatch(/Cast on 64 sts\. Join in the round\./);
    expect(await printed.locator('.print-plan').isVisible()).toBe(false);
    const { wide, bluish } = await printedPicture();
    // Sharper than the screen: 186 mm at 200 dots to the inch.
    expect(wide).toBeGreaterThan(1400);
    expect(bluish).toBeGreaterThan(0.1);
  });
  // Nothing of it stays in the page afterwards.
  expect(await page().locator('.print-fabric').textContent()).toBe('');
});

it('prints the rates compared as pictures and as a table', async () => {
  await page().getByRole('radio', { name: 'Compare rates' }).click();
  await page().locator('.compare-verdict').nth(2).waitFor({ timeout: 90_000 });
  await stillStage(page());
  await asPrinted(async (printed) => {
    const rows = await printed.locator('.print-compare tbody tr').allInnerTexts();
    expect(rows).toHaveLength(3);
    expect(rows[1]).toMatch(/3 rounds of 4.*flat.*cm.*[cm]m.*35\d°/s);
    // The strip under the pieces, where their words are on the screen, is of the table alone.
    expect((await printedPicture()).bluish).toBeGreaterThan(0.05);
  });
});

it('prints a close-up with what was measured', async () => {
  await page().getByRole('radio', { name: 'Close-up' }).click();
  // At rest sooner than the join.
  await page().getByRole('radio', { name: 'Needle gap' }).click();
  await page().locator('.close-up .stage-note[data-state="rest"]').waitFor({ timeout: 90_000 });
  await page().locator('.close-up-picture canvas').waitFor();
  await expect
    .poll(() => page().locator('.close-up-picture canvas').screenshot({ caret: 'initial' }))
    .toSatisfy((png: Buffer) => png.length > 30_000);
  await asPrinted(async (printed) => {
    expect(await wordsOf(printed, '.print-close-up')).toMatch(/opening at the gap is [\d.]+ mm/);
    expect((await printedPicture()).bluish).toBeGreaterThan(0.1);
  });
});

it('prints the test-knit log', async () => {
  await page().getByRole('radio', { name: 'Test knits' }).click();
  await page().getByLabel('Stitches in 10 cm').fill('19');
  await page().getByLabel('Note').fill('washed');
  await page().getByRole('button', { name: 'Enter in the log' }).click();
  await asPrinted(async (printed) => {
    const words = await wordsOf(printed, '.print-test-knits');
    expect(words).toMatch(/19 sts and 26 rounds to 10 cm/);
    expect(words).toMatch(/sample 1 · washed/);
    expect(words).toMatch(/Stitches in 10 cm\s+20\.0\s+19\.0\s+5\.3 % wider/);
  });
});

it('prints the plan with its mistakes where there is no fabric of it', async () => {
  await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
  await writePlan(page(), 'Title: Slip\nCast on 40 sts.\nRound 1: k39.\n');
  await page().locator('.stage-note[data-state="trouble"]').waitFor();
  await asPrinted(async (printed) => {
    const words = await wordsOf(printed, '.print-plan');
    expect(words).toMatch(/Line 3: .*1 left over/);
    expect(words).toContain('Round 1: k39.');
    expect(await printed.locator('.print-picture').count()).toBe(0);
  });
});

// With no picture to draw for the printer.
it('prints on the paper chosen in the menu', async () => {
  // Points: 1/72 in. Chromium rounds A4 to whole pixels.
  expect(await printedSize()).toBe('595×842');
  await page().getByRole('button', { name: 'Plans' }).click();
  await page().getByRole('menuitemradio', { name: 'On Letter' }).click();
  await page().keyboard.press('Escape');
  expect(await printedSize()).toBe('612×792');
  expect(visited.errors).toEqual([]);
});
