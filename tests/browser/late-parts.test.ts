/** What an action needs and is not there yet: it is waited for and said, or the action says why it was not done. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { holdStorage, withoutLimit } from './held-storage.ts';
import type { PageUnderTest } from './page-under-test.ts';
import {
  downloaded,
  editor,
  openWorkshop,
  planText,
  untilAtRest,
  visit,
  writePlan,
} from './page-under-test.ts';
import { TINY_FLAT } from './small-plans.ts';

let workshop: PageUnderTest;
let page: Page;

beforeAll(async () => {
  workshop = await openWorkshop();
  ({ page } = await visit(workshop, { plan: TINY_FLAT, picture: false }));
  await untilAtRest(page);
  await editor(page).waitFor();
});

afterAll(async () => {
  await page?.context().close();
  await workshop?.close();
});

const notices = () => page.locator('.notices').textContent();
const item = (of: Page, name: string | RegExp) => of.getByRole('menuitem', { name });

async function choose(of: Page, name: string | RegExp): Promise<void> {
  await of.getByRole('button', { name: 'Plans' }).click();
  await item(of, name).click();
}

/** Holds files of the page back until told to let them go. */
async function holdBack(of: Page, files: RegExp): Promise<() => void> {
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await of.route(files, async (route) => {
    await held;
    await route.continue();
  });
  return letGo;
}

it('saves the project once the part that writes it is there, and says why not where it cannot be had', async () => {
  const writer = /\/assets\/project-file-.*\.js/;
  await page.route(writer, (route) => route.abort());
  await choose(page, /^Whole project/);
  await expect.poll(notices).toMatch(/Saving the project: not done.*network gone/);
  await page.getByRole('button', { name: 'Put away' }).click();
  await page.unroute(writer);

  const letGo = await holdBack(page, writer);
  await page.getByRole('button', { name: 'Plans' }).click();
  const saved = downloaded(page, item(page, /^Whole project/));
  await expect.poll(notices).toMatch(/Saving the project: a part of the page is on its way/);
  letGo();
  expect(JSON.parse((await saved).bytes.toString()).plans[0].text).toContain('Little coaster');
  await expect.poll(notices).toBe('');
});

it('opens a dialog once its part is there, and says that it is on its way', async () => {
  const letGo = await holdBack(page, /\/assets\/help-dialog-.*\.js/);
  await page.getByRole('button', { name: 'Help' }).click();
  await expect.poll(notices).toMatch(/Help is on its way/);
  letGo();
  await page.getByRole('dialog', { name: /Help/ }).waitFor();
  await page.keyboard.press('Escape');
  await expect.poll(notices).toBe('');
});

it('writes both files of yarn that are asked for one after the other', async () => {
  const names: string[] = [];
  page.on('download', (download) => names.push(download.suggestedFilename()));
  for (const name of ['Yarn as OBJ', 'Yarn as glTF']) await choose(page, name);
  await expect.poll(() => names).toEqual(['little-coaster-yarn.obj', 'little-coaster-yarn.glb']);
});

it('stops what is not read yet, and works it out when told to try again', async () => {
  // Time stands still in the pause before the reading, however slow the machine is.
  await page.clock.install();
  await page.clock.pauseAt(Date.now() + 3_600_000);
  await writePlan(page, `${TINY_FLAT}\nNote: another line`);
  const note = page.locator('.stage-note');
  await expect.poll(() => note.textContent()).toMatch(/^Reading the plan/);
  await note.getByRole('button', { name: 'Stop' }).click();
  await page.clock.runFor(1000);
  await expect.poll(() => note.textContent()).toMatch(/^Stopped before the fabric came to rest/);
  await page.clock.resume();
  await note.getByRole('button', { name: 'Try again' }).click();
  await untilAtRest(page);
});

it('offers no tools for a picture that this browser does not draw', async () => {
  expect(await page.getByRole('toolbar', { name: 'Look' }).count()).toBe(0);
});

it('does what is asked before the kept plan is there once it is, with nothing lost', async () => {
  const letGo = await holdStorage(page);
  const other = await page.context().newPage();
  await other.addInitScript(withoutLimit);
  await other.goto(workshop.origin);
  await other.getByRole('radio', { name: 'Blanket' }).click();
  await choose(other, /^New plan/);
  await expect
    .poll(() => other.locator('.notices').textContent())
    .toMatch(/The other plan comes once the one before is kept/);
  // That there are no squares is not known yet.
  expect(await other.locator('.bench').count()).toBe(0);
  await letGo();
  await expect.poll(() => planText(other)).toContain('Untitled square');
  await other.getByRole('button', { name: 'Undo: a new plan' }).click();
  await expect.poll(() => planText(other)).toContain('Little coaster');
  await other.close();
});
