/** What a new user meets: the tour, the help, a lesson, and later the offer of a newer page. */
import { appendFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  editor,
  openWorkshop,
  planText,
  seriousViolations,
  visit,
  writePlan,
} from './page-under-test.ts';
import { OUT_DIR, servePage } from './serve-page.ts';

/** Nothing to relax or draw. */
const TITLE = 'Title: Only a title\n';

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

describe('the first steps', () => {
  let visited: Visit;
  const page = () => visited.page;

  beforeAll(async () => {
    visited = await visit(workshop, { plan: TITLE });
    await page().evaluate(() => localStorage.removeItem('lieflat tour seen'));
  });

  afterAll(async () => {
    await visited?.page.context().close();
  });

  it('of the tour are three, by keyboard, once, and again when asked for', async () => {
    await editor(page()).waitFor();
    await page().getByRole('button', { name: 'Help' }).click();
    await page().getByRole('button', { name: 'Show me round once more' }).click();
    const tour = page().getByRole('complementary', { name: 'First look round' });
    for (const words of [/^This is the plan\./, /^This is the fabric/, /^This says whether/]) {
      await expect.poll(() => tour.locator('p').textContent()).toMatch(words);
      await tour.getByRole('button', { name: /^(?:Next|Begin)$/ }).press('Enter');
    }
    await tour.waitFor({ state: 'detached' });
    expect(await page().evaluate(() => localStorage.getItem('lieflat tour seen'))).toBe('yes');
    await page().getByRole('button', { name: 'Help' }).click();
    await page().getByRole('button', { name: 'Show me round once more' }).click();
    await tour.getByRole('button', { name: 'Skip' }).click();
    await tour.waitFor({ state: 'detached' });
  });

  it('find a stitch and a figure in the help, and say where there is none', async () => {
    await page().getByRole('button', { name: 'Help' }).press('Enter');
    const help = page().getByRole('dialog', { name: 'Help' });
    const terms = () => help.locator('dt').allInnerTexts();
    const search = help.getByRole('searchbox');
    await search.fill('k2tog');
    await expect.poll(terms).toContain('k2tog');
    expect((await terms()).length).toBeLessThan(6);
    await search.fill('angle');
    await expect.poll(terms).toContain('Angle round the centre');
    await search.fill('zzz');
    await expect.poll(() => help.textContent()).toMatch(/Nothing here is called so/);
    expect(await seriousViolations(visited)).toEqual([]);
    await page().keyboard.press('Escape');
    await help.waitFor({ state: 'detached' });
  });

  it('follow a lesson from its link, step by step, with a reason where a step is not there', async () => {
    await page().evaluate(() => {
      location.hash = '#lesson=rate.1';
    });
    const lesson = page().locator('.lessons');
    const sentence = () => lesson.locator('.lesson-step p').textContent();
    await expect.poll(sentence).toMatch(/^Step 1 of 3/);
    await lesson.getByRole('button', { name: 'Back' }).click();
    await expect.poll(() => lesson.locator('.why').textContent()).toBe('This is the first step.');
    const first = await sentence();
    const slider = lesson.getByRole('slider');
    await slider.focus();
    await page().keyboard.press('Home');
    await expect.poll(sentence).not.toBe(first);
    await lesson.getByRole('button', { name: 'Next' }).click();
    await expect.poll(sentence).toMatch(/^Step 2 of 3/);
    await lesson.getByRole('button', { name: 'Copy link' }).click();
    await expect
      .poll(() => lesson.locator('.lesson-head').textContent())
      .toMatch(/Copied\.|The link stands in the address bar\./);
    await page().evaluate(() => {
      location.hash = '#lesson=nosuch';
    });
    await expect.poll(() => page().locator('.notice').textContent()).toMatch(/no such lesson/);
    expect(visited.errors).toEqual([]);
  });
});

describe('a newer page', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lieflat-page-'));
  const closing: (() => Promise<void>)[] = [];

  afterAll(async () => {
    for (const close of closing) await close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('is offered and not forced, and loads with all that was written', async () => {
    cpSync(OUT_DIR, folder, { recursive: true });
    const { origin, close } = await servePage(folder);
    closing.push(close);
    const { page } = await visit({ ...workshop, origin }, { plan: TITLE, serviceWorkers: 'allow' });
    closing.unshift(() => page.context().close());
    await editor(page).waitFor();
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
      while (!navigator.serviceWorker.controller) await new Promise((r) => setTimeout(r, 50));
    });
    expect(await page.locator('.notice').count()).toBe(0);
    appendFileSync(join(folder, 'sw.js'), '\n// newer\n');
    await page.evaluate(async () => {
      await (await navigator.serviceWorker.getRegistration())?.update();
    });
    const notice = page.locator('.notice', { hasText: 'A newer Lieflat is here' });
    await notice.waitFor();
    await writePlan(page, 'Title: Written before the update\n');
    await page.evaluate(() => Object.assign(globalThis, { before: true }));
    await notice.getByRole('button', { name: 'Load it' }).click();
    await page.waitForFunction(() => !('before' in globalThis));
    await expect.poll(() => planText(page)).toContain('Written before the update');
    expect(await notice.count()).toBe(0);
  });
});
