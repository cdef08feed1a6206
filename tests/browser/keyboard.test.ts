/** Without a mouse: everything that can be worked is reached by Tab, with its focus to be seen. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  drop,
  openWorkshop,
  untilAtRest,
  violationsEverywhere,
  visit,
  withoutAnswers,
} from './page-under-test.ts';
import { SMALL_BLANKET, TINY_CUP } from './small-plans.ts';

let workshop: PageUnderTest;
let visited: Visit;
const page = () => visited.page;

beforeAll(async () => {
  workshop = await openWorkshop();
  visited = await visit(workshop, { plan: TINY_CUP });
  // Where one pane shows at a time it is the table, on which the areas lie.
  await page().setViewportSize({ width: 360, height: 600 });
  await page().locator('.pane-choice button', { hasText: 'Fabric' }).click();
  await page().setViewportSize({ width: 1040, height: 600 });
  await untilAtRest(page());
  // Comes after the verdict, with a control that would else come in behind the focus.
  await page().getByRole('button', { name: 'Apply to the plan' }).waitFor();
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

/** The words of what has the focus. */
const focused = () => page().evaluate(() => document.activeElement?.textContent ?? '');

/** Where the focus is, once the editor has marked itself as focused, which it does a moment later; null where it leaves `part`. */
const step = (at: Page, part: string) =>
  at.evaluate(async (within) => {
    // A group hands the focus on to one of its own.
    for (let k = 0; k < 40 && document.activeElement?.matches('[role="radiogroup"]'); k++) {
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
    const element = document.activeElement;
    if (!element?.closest(within) || element === document.body) return null;
    if (element.hasAttribute('data-reached')) return null;
    element.setAttribute('data-reached', '');
    const editor = element.shadowRoot;
    for (let k = 0; k < 600 && editor && !editor.querySelector('.cm-focused'); k++) {
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    // The editor draws its focus inside its shadow; the skip link only shows while it has it.
    const drawn = [element, editor?.querySelector('.cm-editor')];
    const seen =
      element.matches('.skip') ||
      drawn.some((one) => {
        if (!one) return false;
        const { outlineStyle, outlineWidth } = getComputedStyle(one);
        return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 1;
      });
    return { seen, html: element.outerHTML.slice(0, 140) };
  }, part);

/** Presses Tab from the top of the page, or from the area's tab, until the focus leaves the page or the area. */
async function walk(at: Page, part: 'html' | '.pane-fabric'): Promise<Walk> {
  await at.evaluate(() => {
    (document.activeElement as HTMLElement | null)?.blur();
    document.getSelection()?.removeAllRanges();
    window.scrollTo(0, 0);
  });
  // Wherever the focus was before.
  const first = part === 'html' ? 'a.skip' : '.strip-areas [role="radio"][aria-checked="true"]';
  await at.locator(first).focus();
  const unseen: string[] = [];
  for (let k = 0; k < 300; k++) {
    const reached = await step(at, part);
    if (!reached) break;
    // A script's focus on a tab that was clicked shows nothing.
    if (!reached.seen && (part === 'html' || k > 0)) unseen.push(reached.html);
    await at.keyboard.press('Tab');
  }
  const { missed, reached } = await at.evaluate(
    ([selector, within]) => {
      const left: string[] = [];
      const all = [...document.querySelectorAll<HTMLElement>(selector)].filter((element) =>
        element.closest(within),
      );
      for (const element of all) {
        const shown = element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
        if (!shown || element.matches(':disabled') || element.hasAttribute('data-reached'))
          continue;
        // What only hands the focus on to something in it.
        if (element.querySelector('[data-reached]')) continue;
        // One of a group is reached by Tab, the others by the arrows from there.
        const group = element.closest('[role="group"], [role="radiogroup"], fieldset');
        const inGroup = element.tabIndex < 0 || element.matches('input[type="radio"]');
        if (inGroup && group?.querySelector('[data-reached]')) continue;
        // A label for the mouse, or a part that only a script focuses.
        if (element.tabIndex < 0 && !element.matches('button, input, select, textarea, a'))
          continue;
        left.push(element.outerHTML.slice(0, 140));
      }
      const count = document.querySelectorAll('[data-reached]').length;
      for (const element of document.querySelectorAll('[data-reached]')) {
        element.removeAttribute('data-reached');
      }
      return { missed: left, reached: count };
    },
    [FOCUSABLE, part],
  );
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
  // It lies there at first, and no mouse has been there.
  const tab = page().getByRole('radio', { name: area, exact: true });
  if (area !== 'Fabric' && area !== 'Close-up') await tab.click();
  if (area === 'Close-up') {
    // Its controls are there before the join has come to rest, which takes long.
    await withoutAnswers(page(), 'shown', async () => {
      await tab.click();
      await page().locator('.close-up').getByRole('button', { name: 'Stop' }).click();
    });
    const { missed, unseen } = await walk(page(), '.pane-fabric');
    expect([...missed, ...unseen]).toEqual([]);
    await page().getByRole('radio', { name: 'Needle gap' }).click();
  }
  await page().locator(ready).first().waitFor({ timeout: 90_000 });
  // What stands beside the table is the same everywhere.
  const part = area === 'Fabric' ? 'html' : '.pane-fabric';
  expect(await violationsEverywhere(visited, (tell) => tell(part))).toEqual([]);
  const { missed, unseen, reached } = await walk(page(), part);
  expect(missed).toEqual([]);
  expect(unseen).toEqual([]);
  expect(reached).toBeGreaterThan(4);
});

it('reaches every control of a blanket with squares laid', async () => {
  await page().getByRole('radio', { name: 'Blanket' }).click();
  await drop(page(), 'small.json', SMALL_BLANKET);
  await page().locator('.fit').nth(2).waitFor({ timeout: 90_000 });
  const { missed, unseen } = await walk(page(), '.pane-fabric');
  expect(missed).toEqual([]);
  expect(unseen).toEqual([]);
});

it('changes tabs with the arrow keys, and opens and leaves the menu', async () => {
  const blanket = page().getByRole('radio', { name: 'Blanket' });
  // Pressed by mouse while it is chosen, and left: Tab comes back to it, not to the group around it.
  for (let k = 0; k < 2; k++) await blanket.click();
  await page().keyboard.press('Shift+Tab');
  await page().keyboard.press('Tab');
  await expect.poll(() => blanket.evaluate((tab) => tab === document.activeElement)).toBe(true);
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

it('opens and leaves the menu by keyboard, without a fault of accessibility', async () => {
  // Little stands beside it here.
  await page().getByRole('radio', { name: 'Test knits' }).click();
  const menu = page().getByRole('button', { name: 'Plans' });
  const faults = await violationsEverywhere(visited, async (tell) => {
    await menu.press('Enter');
    await page().getByRole('menu').waitFor();
    await tell('.head');
    await page().keyboard.press('Escape');
    // Pressed before the menu has gone, the key would be its own.
    await page().getByRole('menu').waitFor({ state: 'detached' });
  });
  expect(faults).toEqual([]);
});

it.each(DIALOGS)(
  'opens and leaves the dialog %s by keyboard, without a fault of accessibility',
  async (name) => {
    if (name === 'Help') {
      // What was left before may give the focus back once more: the key is pressed where it has stayed.
      const help = page().getByRole('button', { name });
      await expect
        .poll(async () => {
          await help.focus();
          await page().waitForTimeout(50);
          return focused();
        })
        .toMatch(/Help/);
      await page().keyboard.press('Enter');
    } else {
      await page().getByRole('button', { name: 'Plans' }).press('Enter');
      // The menu takes the focus when it has opened: a key pressed before goes to its first line.
      await expect.poll(focused).toMatch(/^New square/);
      await page().getByRole('menuitem', { name }).press('Enter');
    }
    const dialog = page().locator('dialog[open]');
    await dialog.locator('h2').waitFor();
    // A small one is soon drafted.
    if (name === 'New square…') await dialog.getByLabel('Side', { exact: true }).fill('6');
    // Open all the while: what it works out is worked out once.
    expect(await violationsEverywhere(visited, (tell) => tell('dialog'))).toEqual([]);
    await page().keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    // The focus goes back to where it was a moment later: a key pressed before goes there too.
    await expect.poll(focused).toMatch(name === 'Help' ? /Help/ : /^Plans/);
  },
);

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
  // At one instant, once the panes have taken the new size.
  const beyond = () =>
    page().evaluate(() => {
      const stage = document.querySelector('.stage')?.getBoundingClientRect();
      const tools = [...document.querySelectorAll('.stage-tools button')];
      const out = tools.filter((tool) => {
        const { bottom, left } = tool.getBoundingClientRect();
        return !stage || bottom > stage.bottom || left <= stage.left;
      });
      return { tools: tools.length > 5, out: out.length };
    });
  await expect.poll(beyond).toEqual({ tools: true, out: 0 });
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
