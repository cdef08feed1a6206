/** Without a network: what was opened once opens again, and what cannot be loaded leaves the rest. */
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest } from './page-under-test.ts';
import {
  editor,
  openWorkshop,
  planText,
  untilAtRest,
  visit,
  writePlan,
} from './page-under-test.ts';
import { OUT_DIR } from './serve-page.ts';
import { TINY_FLAT } from './small-plans.ts';

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

const kept = (page: Page) =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    while (!navigator.serviceWorker.controller) await new Promise((r) => setTimeout(r, 50));
  });

async function offline(context: BrowserContext): Promise<void> {
  await context.setOffline(true);
}

it('opens panels never opened before, and itself again, with the network gone', async () => {
  const allowed = { picture: false, serviceWorkers: 'allow' } as const;
  const { page, errors } = await visit(workshop, { plan: TINY_FLAT, ...allowed });
  await untilAtRest(page);
  await kept(page);
  await offline(page.context());
  await page.getByRole('radio', { name: 'Pattern' }).click();
  await page.locator('.bench .written').waitFor();
  await page.reload();
  await untilAtRest(page);
  // The kept verdict stands there before the editor does.
  await expect.poll(() => planText(page)).toContain('Little coaster');
  await page.getByRole('radio', { name: 'Blanket' }).click();
  await page.locator('.blanket-panel, .bench').first().waitFor();
  expect(errors).toEqual([]);
  await page.context().close();
});

it('says which part could not be loaded, keeps the rest at work, and loads it when tried again', async () => {
  const { page } = await visit(workshop, { plan: TINY_FLAT, picture: false });
  await untilAtRest(page);
  await offline(page.context());
  await page.getByRole('radio', { name: 'Pattern' }).click();
  const broken = page.locator('.pane-fabric .broken');
  await expect
    .poll(() => broken.textContent())
    .toMatch(/Pattern.*could not be loaded.*plan is unharmed/);
  await writePlan(page, `${await planText(page)}\nNote: still here`);
  expect(await planText(page)).toContain('still here');
  await page.getByRole('radio', { name: 'Fabric', exact: true }).click();
  await page.locator('.stage').waitFor();
  await page.getByRole('radio', { name: 'Pattern' }).click();
  await broken.waitFor();
  await page.context().setOffline(false);
  await broken.getByRole('button', { name: 'Try again' }).click();
  await page.locator('.bench .written').waitFor();
  await page.context().close();
});

it('gives the plan as plain text where the editor cannot be loaded, and keeps what is written there', async () => {
  const refused = /\/assets\/plan-pane-.*\.js/;
  const { page } = await visit(workshop, { plan: TINY_FLAT, picture: false, refused });
  const plain = page.locator('textarea[aria-label="Plan text"]');
  await plain.waitFor();
  expect(await plain.inputValue()).toContain('Little coaster');
  await plain.fill('Title: Written plainly\n');
  await page.unroute(refused);
  await page.getByRole('button', { name: 'Try again' }).click();
  await editor(page).waitFor();
  expect(await planText(page)).toContain('Written plainly');
  await page.context().close();
});

it('writes a plan chosen before the editor is there as soon as it comes, and undo takes it back', async () => {
  const { page } = await visit(workshop, { plan: TINY_FLAT, picture: false });
  await editor(page).waitFor();
  let letThrough = () => {};
  const held = new Promise<void>((resolve) => {
    letThrough = resolve;
  });
  await page.route(/\/assets\/plan-pane-.*\.js/, async (route) => {
    await held;
    await route.continue();
  });
  await page.reload({ waitUntil: 'commit' });
  await page.getByRole('button', { name: 'Plans' }).click();
  await page.getByRole('menuitem', { name: /^New plan/ }).click();
  expect(await editor(page).count()).toBe(0);
  letThrough();
  await expect.poll(() => planText(page)).toContain('Untitled square');
  await page.getByRole('button', { name: /^Undo: a new plan/ }).click();
  await expect.poll(() => planText(page)).toContain('Little coaster');
  await page.context().close();
});

it('offers a newer page that waits, and loads it when asked, with the work kept', async () => {
  const keeper = join(OUT_DIR, 'sw.js');
  const asBuilt = readFileSync(keeper);
  const { page, errors } = await visit(workshop, {
    plan: 'Title: Kept\n',
    picture: false,
    serviceWorkers: 'allow',
  });
  try {
    await editor(page).waitFor();
    await kept(page);
    const offer = page.locator('.notice', { hasText: 'A newer Lieflat is here' });
    expect(await offer.count()).toBe(0);
    appendFileSync(keeper, '\n// As another build would leave it.\n');
    await page.reload();
    await offer.waitFor();
    await editor(page).waitFor();
    await page.evaluate(() => Object.assign(globalThis, { stillThisPage: true }));
    const waiting = () =>
      page.evaluate(async () => {
        const registration = await navigator.serviceWorker.getRegistration();
        return [registration?.waiting !== null, 'stillThisPage' in globalThis];
      });
    await writePlan(page, 'Title: Written before it was taken\n');
    expect(await waiting()).toEqual([true, true]);
    await offer.getByRole('button', { name: 'Load it' }).click();
    await page.waitForFunction(() => !('stillThisPage' in globalThis));
    await expect.poll(() => planText(page)).toContain('Written before it was taken');
    expect(await waiting()).toEqual([false, false]);
    expect(await offer.count()).toBe(0);
    expect(errors).toEqual([]);
  } finally {
    writeFileSync(keeper, asBuilt);
    await page.context().close();
  }
});

it('is sent with the policy of the page, which allows no inline script or style', async () => {
  const response = await fetch(`${workshop.origin}/`);
  const policy = response.headers.get('content-security-policy') ?? '';
  expect(policy).toMatch(
    /default-src 'none'.*script-src 'self'.*style-src 'self'.*connect-src 'none'/,
  );
  expect(policy).toMatch(/frame-ancestors 'none'/);
  expect(policy).not.toMatch(/unsafe/);
});
