/** The whole job without a mouse: a plan pasted, its mistake put right, its cup mended, its pattern printed and saved. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  editor,
  openWorkshop,
  planText,
  untilAtRest,
  visit,
  writePlan,
} from './page-under-test.ts';
import { TINY_CUP } from './small-plans.ts';

const MISTAKEN = TINY_CUP.replace('Round 2: knit.', 'Round 2: knitt.');

let workshop: PageUnderTest;
let visited: Visit;
const page = () => visited.page;

beforeAll(async () => {
  workshop = await openWorkshop();
  visited = await visit(workshop, {
    plan: MISTAKEN,
    prepared: () => {
      Object.assign(globalThis, { printed: 0 });
      globalThis.print = () => {
        Object.assign(globalThis, { printed: (globalThis as unknown as Printing).printed + 1 });
      };
    },
  });
});

afterAll(async () => {
  await workshop?.close();
});

interface Printing {
  readonly printed: number;
}

/** What has the focus, as it is called. */
const focused = () =>
  page().evaluate(() => {
    const element = document.activeElement;
    return element?.getAttribute('aria-label') ?? element?.textContent ?? '';
  });

/** Tab until the focus is on what is called so. */
async function tabTo(name: RegExp): Promise<void> {
  for (let k = 0; k < 80; k++) {
    await page().keyboard.press('Tab');
    if (name.test(await focused())) return;
  }
  throw new Error(`Tab never came to ${name}`);
}

it('says of a plan opened with a mistake what the verdict waits for, and calls nothing in order', async () => {
  await page().locator('.mistake').waitFor();
  await expect
    .poll(() => page().locator('.wait').allTextContents())
    .toContainEqual(expect.stringContaining('once the mistakes in the plan are put right'));
  await page().setViewportSize({ width: 360, height: 600 });
  await expect
    .poll(() => page().locator('.pane-choice small').allInnerTexts())
    .toEqual(['1 mistake', '', '']);
  await page().setViewportSize({ width: 1040, height: 600 });
});

it('leads from a pasted plan to its mistake, and from there to a verdict', async () => {
  await editor(page()).focus();
  await writePlan(page(), MISTAKEN.replace('Little cup', 'Pasted cup'));
  await expect.poll(() => planText(page())).toContain('Pasted cup');
  await tabTo(/is no stitch that is known here/);
  expect(await focused()).toMatch(/Perhaps knit is meant/);
  await page().keyboard.press('Enter');
  // The caret stands where the mistake begins.
  await expect
    .poll(() => editor(page()).evaluate((element) => element.matches(':focus')))
    .toBe(true);
  for (let k = 0; k < 'knitt'.length; k++) await page().keyboard.press('Delete');
  await page().keyboard.type('knit');
  await page().keyboard.press('Escape');
  await expect.poll(() => planText(page())).toContain('Round 2: knit.');
  await untilAtRest(page());
  expect(await page().locator('.verdict-word').textContent()).toMatch(/cup/i);
});

it('applies what the verdict advises, and the new fabric lies flat', async () => {
  await page().getByRole('button', { name: 'Apply to the plan' }).waitFor();
  await tabTo(/^Apply to the plan/);
  await page().keyboard.press('Enter');
  await expect.poll(() => planText(page())).not.toContain('Round 2: knit.');
  await untilAtRest(page());
  await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/flat/i);
});

it('prints the pattern and saves it', async () => {
  await page().locator('a.skip').focus();
  await tabTo(/^Fabric$/);
  while ((await focused()) !== 'Pattern') await page().keyboard.press('ArrowRight');
  await page().keyboard.press('Enter');
  await page().locator('.bench .written').waitFor();
  await tabTo(/^Print$/);
  await page().keyboard.press('Enter');
  await expect
    .poll(() => page().evaluate(() => (globalThis as unknown as Printing).printed))
    .toBe(1);
  await expect.poll(focused).toMatch(/^Print$/);
  await page().keyboard.press('Shift+Tab');
  await page().keyboard.press('Enter');
  const save = /^Save the pattern as text/;
  await page().getByRole('menuitem', { name: save }).waitFor();
  // The menu takes the focus when it has opened.
  await expect
    .poll(async () => {
      const now = await focused();
      if (!save.test(now)) await page().keyboard.press('ArrowDown');
      return now;
    })
    .toMatch(save);
  const [download] = await Promise.all([
    page().waitForEvent('download'),
    page().keyboard.press('Enter'),
  ]);
  expect(download.suggestedFilename()).toMatch(/pasted-cup/i);
  expect(visited.errors).toEqual([]);
});
