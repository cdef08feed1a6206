/** Workers that do not start or die, and a graphics card that drops the picture: said, mended, worked on. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest } from './page-under-test.ts';
import { lookAtStage, openWorkshop, untilAtRest, visit, writePlan } from './page-under-test.ts';

const TUBE = `Title: Tube
Gauge: 20 sts and 28 rounds = 10 cm
Cast on 24 sts. Join in the round.
Rounds 1-8: knit.
`;
const WORKER = /\/assets\/entry-[^/]*\.js$/;

let workshop: PageUnderTest;
let page: Page;

beforeAll(async () => {
  workshop = await openWorkshop();
  ({ page } = await visit(workshop, { plan: TUBE }));
  await untilAtRest(page);
});

afterAll(async () => {
  await page?.context().close();
  await workshop?.close();
});

const note = () => page.locator('.stage-note').textContent();
const relaxing = () => page.workers().filter((worker) => WORKER.test(worker.url()));

it('starts a worker anew that was ended without a word, and relaxes on', async () => {
  expect(relaxing().length).toBeGreaterThan(0);
  for (const worker of relaxing()) {
    // Its answer never comes: it has ended itself.
    void worker.evaluate(() => self.close()).catch(() => {});
  }
  await expect.poll(() => relaxing().length).toBe(0);
  await writePlan(page, TUBE.replace('24', '28'));
  await untilAtRest(page);
  expect(relaxing().length).toBe(1);
});

it('says clearly when no worker can be had, and works on once one can', async () => {
  for (const worker of relaxing()) void worker.evaluate(() => self.close()).catch(() => {});
  await expect.poll(() => relaxing().length).toBe(0);
  await page.context().route(WORKER, (route) => route.abort());
  await writePlan(page, TUBE.replace('24', '32'));
  await expect.poll(note).toMatch(/Relaxing the fabric stopped unexpectedly.*plan is untouched/);
  await page.context().unroute(WORKER);
  await page.locator('.stage-note').getByRole('button', { name: 'Again' }).click();
  await untilAtRest(page);
});

it('draws the piece again after the graphics card dropped it, without a drag', async () => {
  await expect.poll(async () => (await lookAtStage(page)).bluish).toBeGreaterThan(0.02);
  await page.evaluate(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('.stage canvas');
    canvas?.getContext('webgl2')?.getExtension('WEBGL_lose_context')?.loseContext();
  });
  await page.locator('.picture-dropped').waitFor();
  await page.locator('.picture-dropped').waitFor({ state: 'detached' });
  await expect.poll(async () => (await lookAtStage(page)).bluish).toBeGreaterThan(0.02);
});
