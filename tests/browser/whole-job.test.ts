/** From wishes to print in a real browser. Tests of one block follow each other on one page. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  openWorkshop,
  planText,
  seriousViolations,
  untilAtRest,
  visit,
} from './page-under-test.ts';

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop('whole-job');
});

afterAll(async () => {
  await workshop?.close();
});

describe('a new square', () => {
  let it_: Visit;
  const page = () => it_.page;

  beforeAll(async () => {
    it_ = await visit(workshop);
    await untilAtRest(page());
  });

  afterAll(async () => {
    await it_?.page.context().close();
  });

  it('counts as the wishes change and says what was traded', async () => {
    await page().getByRole('button', { name: 'Plans' }).click();
    await page()
      .getByRole('menuitem', { name: /^New square/ })
      .click();
    const dialog = page().getByRole('dialog', { name: 'New square' });
    await dialog.getByLabel('Side', { exact: true }).fill('12');
    await dialog.getByLabel('Stitches in 10 cm').fill('20');
    await dialog.getByLabel('Rounds in 10 cm').fill('28');
    await expect.poll(() => dialog.locator('.facts').textContent()).toMatch(/Cast on96 sts/);
    await dialog.getByRole('button', { name: '+ Cable of 4' }).click();
    // A cable pulls in: more stitches for the same size.
    await expect
      .poll(async () =>
        Number(/Cast on(\d+)/.exec((await dialog.locator('.facts').textContent()) ?? '')?.[1]),
      )
      .toBeGreaterThan(96);
    await expect.poll(() => dialog.locator('.traded').textContent()).toMatch(/side comes to/);
    expect(await seriousViolations(it_)).toEqual([]);
  });

  it('says which wish cannot be met, and writes nothing then', async () => {
    const dialog = page().getByRole('dialog', { name: 'New square' });
    await dialog.getByLabel('Side', { exact: true }).fill('1');
    await expect.poll(() => dialog.getByRole('alert').textContent()).toMatch(/at least 16/);
    expect(await dialog.getByRole('button', { name: 'Write the plan' }).isDisabled()).toBe(true);
    await dialog.getByLabel('Side', { exact: true }).fill('12');
  });

  it('writes the plan, which lies flat at the size asked, and undo brings the old one back', async () => {
    await page().getByLabel('Title').fill('Wished for');
    await page().getByRole('button', { name: 'Write the plan' }).click();
    await expect.poll(() => planText(page())).toContain('Title: Wished for');
    expect(await planText(page())).toMatch(/2\/2 LC/);
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/flat/i);
    const side = await page().locator('.facts').first().textContent();
    expect(Math.abs(Number(/Finished side([\d.]+)/.exec(side ?? '')?.[1]) - 12)).toBeLessThan(0.5);
    await page().getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => planText(page())).toContain('Creek square');
    await page().getByRole('button', { name: 'Redo' }).click();
    await untilAtRest(page());
    expect(it_.errors).toEqual([]);
  });
});
