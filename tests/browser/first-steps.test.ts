/** What a new user meets first: the tour, the help, a lesson. */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import { editor, openWorkshop, visit } from './page-under-test.ts';

/** Nothing to relax or draw. */
const TITLE = 'Title: Only a title\n';

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

/** On a phone there are no tabs and no arrow keys to be spoken of. */
async function speaksOfThePhone(page: Page, tour: Locator): Promise<void> {
  const before = page.viewportSize();
  expect(await tour.textContent()).toMatch(/arrow keys; the tabs above/);
  await page.setViewportSize({ width: 360, height: 740 });
  await expect.poll(() => tour.textContent()).toMatch(/with a finger; the list above/);
  await page.getByLabel('What lies on the table').waitFor();
  if (before) await page.setViewportSize(before);
}

describe('the first steps', () => {
  let visited: Visit;
  const page = () => visited.page;

  beforeAll(async () => {
    visited = await visit(workshop, { plan: TITLE, toured: true });
  });

  afterAll(async () => {
    await visited?.page.context().close();
  });

  it('of the tour are three, at the first visit alone, and again when asked for', async () => {
    const tour = page().getByRole('complementary', { name: 'First look round' });
    for (const words of [/^This is the plan\./, /^This is the fabric/, /^This says whether/]) {
      await expect.poll(() => tour.locator('p').textContent()).toMatch(words);
      if (words.source.includes('fabric')) await speaksOfThePhone(page(), tour);
      await tour.getByRole('button', { name: /^(?:Next|Begin)$/ }).press('Enter');
    }
    await tour.waitFor({ state: 'detached' });
    await page().reload();
    await editor(page()).waitFor();
    expect(await tour.count()).toBe(0);
    for (const leave of [
      () => tour.getByRole('button', { name: 'Skip' }).press('Enter'),
      () => page().keyboard.press('Escape'),
    ]) {
      await page().getByRole('button', { name: 'Help' }).press('Enter');
      await page().getByRole('button', { name: 'Show me round once more' }).press('Enter');
      await tour.waitFor();
      await leave();
      await tour.waitFor({ state: 'detached' });
    }
  });

  it('find a stitch and a figure in the help, and say where there is none', async () => {
    await page().getByRole('button', { name: 'Help' }).press('Enter');
    const help = page().getByRole('dialog', { name: 'Help' });
    const terms = () => help.locator('dt').allTextContents();
    const search = help.getByRole('searchbox');
    await search.fill('k2tog');
    await expect.poll(terms).toContain('k2tog');
    expect((await terms()).length).toBeLessThan(6);
    await search.fill('angle');
    await expect.poll(terms).toContain('Angle round the centre');
    await search.fill('zzz');
    await expect.poll(() => help.textContent()).toMatch(/Nothing here is called so/);
    // A search is emptied first, then the help is left.
    await page().keyboard.press('Escape');
    await expect.poll(() => search.inputValue()).toBe('');
    await page().keyboard.press('Escape');
    await help.waitFor({ state: 'detached' });
    expect(await page().evaluate(() => document.activeElement?.ariaLabel)).toBe('Help');
  });

  it('follow a lesson from its link, step by step, with a reason where a step is not there', async () => {
    await page().evaluate(() => {
      location.hash = '#lesson=rate.1';
    });
    const lesson = page().locator('.lessons');
    const sentence = () => lesson.locator('.lesson-step p').textContent();
    await expect.poll(sentence).toMatch(/^Step 1 of 3/);
    // Not clicked: what has a reason not to be pressed counts as disabled.
    // The verdict of the plan gives way to what the lesson shows.
    const unfold = page().getByRole('button', { name: /^Unfold the verdict on your plan/ });
    await expect.poll(() => unfold.count()).toBe(1);
    expect(await page().locator('.verdict-word').isVisible()).toBe(false);
    await lesson.getByRole('button', { name: 'Back' }).press('Enter');
    await expect.poll(() => lesson.locator('.why').textContent()).toBe('This is the first step.');
    // A slider stands only where it moves something.
    const slider = lesson.getByRole('slider');
    expect(await slider.count()).toBe(0);
    await lesson.getByRole('button', { name: 'Next' }).click();
    await expect.poll(sentence).toMatch(/^Step 2 of 3/);
    await slider.focus();
    await page().keyboard.press('Home');
    await expect
      .poll(() => lesson.locator('figcaption').textContent())
      .toMatch(/^Decreased every round/);
    await lesson.getByRole('button', { name: 'Copy link' }).click();
    await expect
      .poll(() => lesson.locator('.lesson-head').textContent())
      .toMatch(/Copied\.|The link stands in the address bar\./);
    await page().evaluate(() => {
      location.hash = '#lesson=nosuch';
    });
    await expect.poll(() => page().locator('.notice').textContent()).toMatch(/no such lesson/);
  });

  it('print the lesson for a class: every step with its sentence and its pictures', async () => {
    await page().evaluate(() => {
      window.print = () => document.body.setAttribute('data-printed', '');
    });
    await page().getByRole('button', { name: 'Class sheet…' }).click();
    await page().locator('body[data-printed]').waitFor();
    await page().evaluate(() => void window.dispatchEvent(new Event('beforeprint')));
    const steps = page().locator('.print-lesson .lesson-paper');
    expect(await steps.count()).toBe(3);
    for (const step of await steps.all()) {
      expect(await step.locator('p').first().textContent()).toMatch(/^\d .{40,}[.]\s*$/);
    }
    const pictures = await steps.locator('img').evaluateAll((images) =>
      Promise.all(
        images.map(async (image) => {
          await (image as HTMLImageElement).decode();
          return (image as HTMLImageElement).naturalWidth;
        }),
      ),
    );
    // The slider was moved: the second step shows a piece of its own.
    expect(pictures.length).toBe(5);
    expect(Math.min(...pictures)).toBeGreaterThan(400);
    // The lesson stands at the step where it stood.
    await expect.poll(() => page().locator('.lesson-step p').textContent()).toMatch(/^Step 2 of 3/);
    expect(visited.errors).toEqual([]);
  });
});
