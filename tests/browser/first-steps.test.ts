/** What a new user meets first: the tour. */
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
});
