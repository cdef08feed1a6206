/** Without a mouse: everything that can be worked is reached by Tab, with its focus to be seen. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import { drop, openWorkshop, untilAtRest, violationsEverywhere, visit } from './page-under-test.ts';
import { SMALL_BLANKET, SMALL_CUP } from './small-plans.ts';

let workshop: PageUnderTest;
let visited: Visit;
const page = () => visited.page;

beforeAll(async () => {
  workshop = await openWorkshop();
  visited = await visit(workshop, { plan: SMALL_CUP });
  // Where one pane shows at a time it is the table, on which the areas lie.
  await page().setViewportSize({ width: 360, height: 600 });
  await page().locator('.pane-choice button', { hasText: 'Fabric' }).click();
  await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
  await page().setViewportSize({ width: 1040, height: 600 });
  await untilAtRest(page());
});

afterAll(async () => {
  await workshop?.close();
});

interface Walk {
  /** Controls that Tab never came to. */
  readonly missed: string[];
  /** Controls that look the same with the focus on them. */
  readonly unseen: string[];
  readonly reached: number;
}

const DIALOGS = [
  'New square…',
  'Another size or gauge…',
  'Link to this plan…',
  'Earlier versions…',
  'Help',
];

const FOCUSABLE =
  'a[href], button, input, select, textarea, summary, [contenteditable="true"], [tabindex]';

/** Presses Tab from the top of the page until the focus leaves it. */
async function walk(at: Page): Promise<Walk> {
  await at.evaluate(() => {
    (document.activeElement as HTMLElement | null)?.blur();
    document.getSelection()?.removeAllRanges();
    window.scrollTo(0, 0);
  });
  // From the very first element on, wherever the focus was before.
  await at.locator('a.skip').focus();
  const unseen: string[] = [];
  for (let k = 0; k < 300; k++) {
    const step = await at.evaluate(() => {
      const element = document.activeElement;
      if (!element || element === document.body || element.hasAttribute('data-reached'))
        return null;
      element.setAttribute('data-reached', '');
      // The editor draws its focus inside its shadow; the skip link only shows while it has it.
      const drawn = [element, element.shadowRoot?.querySelector('.cm-editor')];
      const seen =
        element.matches('.skip') ||
        drawn.some((part) => {
          if (!part) return false;
          const { outlineStyle, outlineWidth } = getComputedStyle(part);
          return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 1;
        });
      return { seen, html: element.outerHTML.slice(0, 140) };
    });
    if (!step) break;
    if (!step.seen) unseen.push(step.html);
    await at.keyboard.press('Tab');
    // The editor marks itself as focused a moment later.
    await expect
      .poll(() =>
        at.evaluate(() => {
          const within = document.activeElement?.shadowRoot;
          return !within || within.querySelector('.cm-focused') !== null;
        }),
      )
      .toBe(true);
  }
  const { missed, reached } = await at.evaluate((selector) => {
    const left: string[] = [];
    const all = document.querySelectorAll<HTMLElement>(selector);
    for (const element of all) {
      const shown = element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
      if (!shown || element.matches(':disabled') || element.hasAttribute('data-reached')) continue;
      // What only hands the focus on to something in it.
      if (element.querySelector('[data-reached]')) continue;
      // One of a group is reached by Tab, the others by the arrows from there.
      const group = element.closest('[role="group"], [role="radiogroup"], fieldset');
      const inGroup = element.tabIndex < 0 || element.matches('input[type="radio"]');
      if (inGroup && group?.querySelector('[data-reached]')) continue;
      // A label for the mouse, or a part that only a script focuses.
      if (element.tabIndex < 0 && !element.matches('button, input, select, textarea, a')) continue;
      left.push(element.outerHTML.slice(0, 140));
    }
    const count = document.querySelectorAll('[data-reached]').length;
    for (const element of document.querySelectorAll('[data-reached]')) {
      element.removeAttribute('data-reached');
    }
    return { missed: left, reached: count };
  }, FOCUSABLE);
  return { missed, unseen, reached };
}

it.each([
  ['Fabric', '.stage-note[data-state="rest"]'],
  ['Close-up', '.close-up .stage-note[data-state="rest"]'],
  ['Compare rates', '.compare-place:nth-child(3) .compare-verdict'],
  ['Pattern', '.bench .written'],
  ['Blanket', '.blanket-empty'],
  ['Test knits', '.log form'],
  ['Lessons', '.lesson-scene figcaption span:not(:empty)'],
])('reaches every control of %s, each showing its focus', async (area, ready) => {
  await page().getByRole('radio', { name: area, exact: true }).click();
  await page().locator(ready).first().waitFor({ timeout: 90_000 });
  // What stands beside the table is the same everywhere.
  const part = area === 'Fabric' ? 'html' : '.pane-fabric';
  expect(await violationsEverywhere(visited, (tell) => tell(part))).toEqual([]);
  const { missed, unseen, reached } = await walk(page());
  expect(missed).toEqual([]);
  expect(unseen).toEqual([]);
  expect(reached).toBeGreaterThan(10);
});

it('reaches every control of a blanket with squares laid', async () => {
  await page().getByRole('radio', { name: 'Blanket' }).click();
  await drop(page(), 'small.json', SMALL_BLANKET);
  await page().locator('.fit').nth(2).waitFor({ timeout: 90_000 });
  const { missed, unseen } = await walk(page());
  expect(missed).toEqual([]);
  expect(unseen).toEqual([]);
});

it('changes tabs with the arrow keys, and opens and leaves the menu', async () => {
  await page().getByRole('radio', { name: 'Blanket' }).focus();
  const focused = () => page().evaluate(() => document.activeElement?.textContent ?? '');
  await page().keyboard.press('ArrowLeft');
  await expect.poll(focused).toBe('Pattern');
  await page().keyboard.press('Enter');
  await page().locator('.bench .written').waitFor();
  await page().getByRole('button', { name: 'Plans' }).focus();
  await page().keyboard.press('Enter');
  await expect.poll(focused).toMatch(/^New square/);
  await page().keyboard.press('ArrowDown');
  await expect.poll(focused).toMatch(/^New plan/);
  await page().keyboard.press('Escape');
  await expect.poll(focused).toMatch(/^Plans/);
  expect(visited.errors).toEqual([]);
});

it('opens and leaves every dialog and the menu by keyboard, none with a fault of accessibility', async () => {
  const menu = () => page().getByRole('button', { name: 'Plans' });
  const faults = await violationsEverywhere(visited, async (tell) => {
    await menu().press('Enter');
    await page().getByRole('menu').waitFor();
    await tell('.head');
    await page().keyboard.press('Escape');
    for (const name of DIALOGS) {
      if (name === 'Help') await page().getByRole('button', { name }).press('Enter');
      else {
        await menu().press('Enter');
        await page().getByRole('menuitem', { name }).press('Enter');
      }
      const dialog = page().locator('dialog[open]');
      await dialog.locator('h2').waitFor();
      await tell('dialog');
      await page().keyboard.press('Escape');
      await dialog.waitFor({ state: 'detached' });
    }
  });
  expect(faults).toEqual([]);
});

it('keeps the tabs in one row, and the colours in another, at 1440 px', async () => {
  await page().setViewportSize({ width: 1440, height: 900 });
  await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
  await untilAtRest(page());
  for (const strip of ['.strip-areas button', '.head-colours button']) {
    // At one instant: whatever comes in above moves them all.
    const middles = await page()
      .locator(strip)
      .evaluateAll((buttons) =>
        buttons.map((button) => {
          const { top, bottom } = button.getBoundingClientRect();
          return (top + bottom) / 2;
        }),
      );
    expect(middles.length).toBeGreaterThan(1);
    expect(Math.max(...middles) - Math.min(...middles)).toBeLessThan(4);
  }
});

it('keeps every tool on a low stage, clear of what lies below', async () => {
  await page().setViewportSize({ width: 1024, height: 768 });
  const stage = await page().locator('.stage').boundingBox();
  for (const tool of await page().locator('.stage-tools button').all()) {
    const box = await tool.boundingBox();
    expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(
      (stage?.y ?? 0) + (stage?.height ?? 0),
    );
    expect(box?.x ?? 0).toBeGreaterThan(stage?.x ?? 0);
  }
});

it('keeps the picture large in a low window, all tabs in view and nothing in front of it', async () => {
  await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
  await page().setViewportSize({ width: 1040, height: 600 });
  const box = async (selector: string) => {
    const found = await page().locator(selector).first().boundingBox();
    if (!found) throw new Error(`${selector} is not there`);
    return found;
  };
  await expect.poll(async () => (await box('.stage-focus')).height).toBeGreaterThan(240);
  const [pane, picture, choices] = [
    await box('.pane-fabric'),
    await box('.stage-focus'),
    await box('.stage-choices'),
  ];
  expect(choices.y + choices.height).toBeLessThanOrEqual(picture.y + 1);
  for (const tab of await page().locator('.strip-areas > button').all()) {
    const { x = 0, width = 0 } = (await tab.boundingBox()) ?? {};
    expect(x).toBeGreaterThanOrEqual(pane.x);
    expect(x + width).toBeLessThanOrEqual(pane.x + pane.width);
  }
});
