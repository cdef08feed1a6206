/** The page as its user meets it, in a real browser. Tests of one block follow each other on one page. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { withoutLimit } from './held-storage.ts';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  downloaded,
  editor,
  lookAtStage,
  measurePng,
  missedByThumbs,
  openWorkshop,
  planText,
  seriousViolations,
  stillStage,
  untilAtRest,
  visit,
  withoutAnswers,
  writePlan,
} from './page-under-test.ts';
import { SMALL_CUP as CUP, TINY_CUP, TINY_FLAT } from './small-plans.ts';

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

/** Of which plans the fabric, with its advice, and the picture are kept for the next visit. */
const keptTexts = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<unknown[]>((resolve) => {
        const opening = indexedDB.open('lieflat-fabric');
        opening.onsuccess = () => {
          const reading = opening.result.transaction(['fabric', 'picture']);
          const [fabric, picture] = ['fabric', 'picture'].map((name) =>
            reading.objectStore(name).get('last'),
          );
          reading.oncomplete = () => {
            opening.result.close();
            resolve([fabric.result?.advised && fabric.result.text, picture.result?.text]);
          };
        };
      }),
  );

describe('the page', () => {
  let it_: Visit;
  const page = () => it_.page;

  beforeAll(async () => {
    it_ = await visit(workshop, { prepared: withoutLimit });
  });

  afterAll(async () => {
    await it_?.page.context().close();
  });

  it('opens with a demo at rest, its picture and its verdict', async () => {
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/Cups/);
    const picture = await stillStage(page());
    expect(picture.colours).toBeGreaterThan(100);
    expect(picture.bluish).toBeGreaterThan(0.08);
    await expect.poll(() => planText(page())).toContain('Creek square');
  });

  it('saves the view as PNG', async () => {
    const png = await downloaded(page(), page().getByRole('button', { name: 'Save this picture' }));
    expect(png.bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
    // A picture of one colour packs far smaller.
    expect(png.bytes.length).toBeGreaterThan(30_000);
  });

  it('tells a verdict that stands already while the piece is laid on its table', async () => {
    await withoutAnswers(page(), 'rested', async () => {
      await writePlan(page(), CUP.replace('Small', 'Early'));
      await expect
        .poll(() => page().locator('.verdict-stale').textContent())
        .toMatch(/^This much is sure; how it lies/);
      expect(await page().locator('.verdict-word').textContent()).toMatch(/Cups/);
      expect(await page().locator('.facts').first().textContent()).toContain('Rise picked up');
      expect(await page().locator('.facts').first().textContent()).not.toContain('as it lies');
    });
  });

  it('counts the stitches beside every round as they are typed', async () => {
    await writePlan(page(), CUP);
    await expect
      .poll(() => page().locator('.cm-ledger .cm-count').allInnerTexts())
      .toEqual(expect.arrayContaining(['64', '−8\n56', '56', '−8\n48']));
    await untilAtRest(page());
    await expect.poll(() => page().locator('.head-title').textContent()).toContain('Small cup');
  });

  it('marks a mistake with a squiggle and says what is wrong, with line and column', async () => {
    await writePlan(page(), CUP.replace('k10, k2tog', 'k10, k2tgo'));
    await page().locator('.cm-lintRange-error').first().waitFor();
    const mistake = page().locator('.mistake', { hasText: 'k2tgo' }).first();
    await expect.poll(() => mistake.textContent()).toMatch(/^Line 8:\d+/);
    await expect
      .poll(() => page().locator('.stage-note').textContent())
      .toMatch(/mistakes? in the plan/);
    // The message is a way to the place.
    await mistake.click();
    await expect.poll(() => page().locator('.cm-activeLine').textContent()).toContain('k2tgo');
  });

  it('applies advice to the plan, and undo takes it back', async () => {
    await writePlan(page(), CUP);
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/Cups/);
    await page().getByRole('button', { name: 'Apply to the plan' }).click();
    await expect.poll(() => planText(page())).not.toBe(CUP);
    // The cup is no longer told to be at rest, not for a moment. Both at one instant.
    const [old, note] = await page().evaluate(() => [
      document.querySelector('.stage')?.getAttribute('data-old'),
      document.querySelector('.stage-note')?.getAttribute('data-state'),
    ]);
    if (old === 'true') expect(note).toBe('busy');
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/flat/i);
    await page().getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => planText(page())).toBe(CUP);
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/Cups/);
  });

  it('shows the last verdict and picture at once when it is opened again, with their time', async () => {
    await page().getByText('Trying other timings').waitFor({ state: 'detached' });
    // The picture is kept once the view has stood still for a while.
    await expect.poll(() => keptTexts(page())).toEqual([CUP, CUP]);
    await page().reload();
    await expect
      .poll(() => page().locator('.verdict-kept').textContent())
      .toMatch(/^As worked out today at \d\d:\d\d\.$/);
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/Cups/);
    expect(await page().locator('.stage-note').getAttribute('data-state')).toBe('rest');
    await page().locator('.stage canvas').waitFor();
    await page().locator('.kept-picture').waitFor({ state: 'detached' });
    await expect.poll(async () => (await lookAtStage(page())).bluish).toBeGreaterThan(0.08);
  });

  it('has kept the plan and its earlier versions over the closed tab', async () => {
    await expect.poll(() => planText(page())).toBe(CUP);
    await page().getByRole('button', { name: 'Plans' }).click();
    await page().getByRole('menuitem', { name: 'Earlier versions…' }).click();
    const versions = page().locator('.versions');
    await expect.poll(() => versions.textContent()).toContain('Small cup');
    await page().keyboard.press('Escape');
    await page().locator('dialog[open]').waitFor({ state: 'detached' });
  });

  it('takes the fabric back to any round', async () => {
    const whole = await stillStage(page());
    const slider = page().getByRole('slider', { name: 'Knitted up to' });
    await slider.focus();
    await page().keyboard.press('Home');
    for (let k = 0; k < 3; k++) await page().keyboard.press('ArrowRight');
    await expect
      .poll(() => page().locator('.stage-bar output').textContent())
      .toMatch(/Round 3 · 48/);
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .toBeLessThan(0.85 * whole.bluish);
    await page().keyboard.press('End');
    await expect.poll(async () => (await lookAtStage(page())).print).toBe(whole.print);
  });

  it('colours by rounds, stretch and bend, each with a legend and its unit', async () => {
    const yarn = await stillStage(page());
    for (const [mode, title] of [
      ['Rounds', 'Round'],
      ['Stretch', 'Stretch, %'],
      ['Bend', 'Bend: radius, cm'],
    ]) {
      await page().getByRole('radio', { name: mode }).click();
      await expect.poll(() => page().locator('.legend b').textContent()).toBe(title);
      await expect.poll(async () => (await lookAtStage(page())).print).not.toBe(yarn.print);
    }
    await page().getByRole('radio', { name: 'Inches' }).click();
    await expect.poll(() => page().locator('.legend b').textContent()).toBe('Bend: radius, in');
    await expect
      .poll(() => page().locator('.facts').textContent())
      .toMatch(/Finished side\d+[⅛¼⅜½⅝¾⅞]? in/);
    await page().getByRole('radio', { name: 'Centimetres' }).click();
    await page().getByRole('radio', { name: 'Yarn' }).click();
    await page().locator('.legend').waitFor({ state: 'detached' });
  });

  it('turns, zooms and fits by keyboard', async () => {
    const stage = page().locator('.stage-focus');
    await stage.focus();
    await page().keyboard.press('r');
    const before = await stillStage(page());
    await page().keyboard.press('ArrowLeft');
    await expect.poll(async () => (await lookAtStage(page())).print).not.toBe(before.print);
    await page().keyboard.press('+');
    await page().keyboard.press('+');
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .toBeGreaterThan(1.2 * before.bluish);
    await page().keyboard.press('r');
    await expect.poll(async () => (await lookAtStage(page())).print).toBe(before.print);
  });

  it('shows the piece as it lies, picked up and pinned flat, and says which it shows and where it rises', async () => {
    const label = () => page().locator('.stage-focus').getAttribute('aria-label');
    expect(await label()).toMatch(/as it lies on the table.*The middle stands .* above the edge/);
    const seen = new Set([(await stillStage(page())).print]);
    await page().getByRole('radio', { name: 'Picked up' }).click();
    await expect.poll(label).toMatch(/picked up, without weight: it rises/);
    await expect.poll(async () => seen.has((await lookAtStage(page())).print)).toBe(false);
    seen.add((await stillStage(page())).print);
    await page().getByRole('radio', { name: 'Pinned flat' }).click();
    await expect.poll(label).toMatch(/pinned flat, dried: each side \d/);
    await expect.poll(async () => seen.has((await lookAtStage(page())).print)).toBe(false);
    await page().getByRole('radio', { name: 'As it lies' }).click();
    await expect.poll(label).toMatch(/as it lies/);
  });

  it('cuts a section with its measures and draws it on the fabric', async () => {
    await page().getByRole('button', { name: 'Section' }).click();
    const chart = page().locator('.section-chart svg');
    await expect
      .poll(() => chart.getAttribute('aria-label'))
      .toMatch(/fabric is [\d.]+ [cm]m high over [\d.]+ cm/);
    const straight = await chart.locator('path[stroke-width="2.2"]').getAttribute('d');
    expect(straight?.split('M').length).toBeGreaterThan(10);
    await page().getByRole('slider', { name: /Angle/ }).focus();
    await page().keyboard.press('PageUp');
    await expect
      .poll(() => chart.locator('path[stroke-width="2.2"]').getAttribute('d'))
      .not.toBe(straight);
    await page().getByRole('button', { name: 'Close section' }).click();
  });

  it('lays three rates side by side', async () => {
    await page().getByRole('radio', { name: 'Compare rates' }).click();
    // Advice that comes meanwhile makes the middle one another.
    await expect
      .poll(() => page().locator('.compare-verdict').allInnerTexts(), { timeout: 60_000 })
      .toEqual(['ruffles', expect.stringMatching(/flat/), 'cups']);
    // One scale for the three, told beside them.
    await page().getByRole('radio', { name: 'Rounds' }).click();
    await expect.poll(() => page().locator('.stage-compare .legend b').textContent()).toBe('Round');
    await page().getByRole('radio', { name: 'Yarn' }).click();
    await expect.poll(async () => (await lookAtStage(page())).bluish).toBeGreaterThan(0.04);
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
  });

  it('takes an empty page for no mistake, and lays nothing of before on the table', async () => {
    await editor(page()).focus();
    await page().keyboard.press('ControlOrMeta+a');
    await page().keyboard.press('Delete');
    await expect
      .poll(() => page().locator('.pane-fabric').textContent())
      .toMatch(/Cast on and write/);
    expect(await page().locator('.mistakes, .verdict-word, .stage canvas').count()).toBe(0);
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(() => page().locator('.verdict-word').count()).toBe(1);
    // Also the one that stood beside a text with mistakes.
    await editor(page()).focus();
    await page().keyboard.press('ControlOrMeta+End');
    await page().keyboard.type('\nRound 99: kfrob');
    await expect
      .poll(() => page().locator('.verdict-stale').textContent())
      .toMatch(/before the mistakes/);
    await page().keyboard.press('ControlOrMeta+a');
    await page().keyboard.press('Delete');
    await expect.poll(() => page().locator('.verdict-word').count()).toBe(0);
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(() => page().locator('.verdict-word').count()).toBe(1);
    expect(await page().locator('.verdict-stale').textContent()).toMatch(/before the mistakes/);
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(() => page().locator('.verdict-stale').count()).toBe(0);
  });

  it('completes a stitch with its explanation', async () => {
    await editor(page()).focus();
    await page().keyboard.press('ControlOrMeta+End');
    await page().keyboard.type('Round 13: k2');
    await page().keyboard.press('Control+Space');
    const option = page().locator('.cm-tooltip-autocomplete li', { hasText: 'k2tog' }).first();
    await expect.poll(() => option.textContent()).toMatch(/knit 2 .*together/);
    await page().keyboard.press('Escape');
  });

  it('takes a dropped text file', async () => {
    const text = CUP.replace('Small cup', 'Dropped');
    await page().evaluate((dropped) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([dropped], 'dropped.txt', { type: 'text/plain' }));
      for (const type of ['dragenter', 'dragover', 'drop']) {
        document.body.dispatchEvent(
          new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true }),
        );
      }
    }, text);
    await expect.poll(() => planText(page())).toBe(text);
    expect(await page().locator('.drop-veil').count()).toBe(0);
  });

  it('opens a text file and refuses what is none, losing nothing', async () => {
    const choose = async (file: { name: string; mimeType: string; buffer: Buffer }) => {
      const asked = page().waitForEvent('filechooser');
      await page().getByRole('button', { name: 'Plans' }).click();
      await page().getByRole('menuitem', { name: 'Open a file…' }).click();
      await (await asked).setFiles(file);
    };
    const before = await planText(page());
    await choose({ name: 'a.png', mimeType: 'image/png', buffer: Buffer.from([0x89, 0xff, 0]) });
    await expect
      .poll(() => page().locator('.notice').textContent())
      .toMatch(/not a text file: only plain text/);
    expect(await planText(page())).toBe(before);
    await page().getByRole('button', { name: 'Put away' }).click();
    const text = CUP.replace('Small cup', 'From a file');
    await choose({ name: 'b.txt', mimeType: 'text/plain', buffer: Buffer.from(text) });
    await expect.poll(() => planText(page())).toBe(text);
    await expect
      .poll(() => page().locator('.head-title').textContent())
      .toMatch(/From a file · b\.txt/);
  });

  it('wears the theme that is chosen, without a serious fault of accessibility', async () => {
    await untilAtRest(page());
    await page().getByRole('button', { name: /Theme/ }).click();
    await page().getByRole('menuitemradio', { name: 'Dark' }).click();
    await expect
      .poll(() => page().evaluate(() => getComputedStyle(document.body).backgroundColor))
      .toBe('rgb(19, 22, 23)');
    expect(await seriousViolations(it_)).toEqual([]);
  });

  it('shows what is chosen, and how far a slider is, where few colours are forced', async () => {
    await page().emulateMedia({ forcedColors: 'active' });
    // The system's mark is a blue.
    const marked = async (selector: string) => {
      const png = await page().locator(selector).first().screenshot({ caret: 'initial' });
      return (await measurePng(page(), png)).bluish;
    };
    expect(await marked('.strip-areas > [data-state="on"]')).toBeGreaterThan(0.5);
    expect(await marked('.strip-areas > [data-state="off"]')).toBeLessThan(0.05);
    expect(await marked('.slider-range')).toBeGreaterThan(0.5);
    await page().emulateMedia({ forcedColors: null });
  });

  it('asked nobody but its own server for anything, and broke no rule of its policy', () => {
    expect(it_.requests.length).toBeGreaterThan(3);
    const abroad = it_.requests.filter(
      (address) => !/^(?:blob|data):/.test(address) && !address.startsWith(`${workshop.origin}/`),
    );
    expect(abroad).toEqual([]);
    expect(it_.errors).toEqual([]);
  });
});

/** No compared piece lies under words, buttons or tools. */
async function keepsClear(page: Page): Promise<void> {
  const parts = '.compare-name, .compare-place > .button, .stage-tools > *';
  const seen = (visibility: string) =>
    page.evaluate(
      ([selector, value]) => {
        for (const part of document.querySelectorAll<HTMLElement>(selector))
          part.style.visibility = value;
      },
      [parts, visibility] as const,
    );
  await expect.poll(async () => (await stillStage(page)).bluish).toBeGreaterThan(0.03);
  const boxes = await page.evaluate(
    (selector) =>
      [...document.querySelectorAll(selector)].map((part) => {
        const { x, y, width, height } = part.getBoundingClientRect();
        return { x, y, width, height };
      }),
    parts,
  );
  expect(boxes.length).toBeGreaterThan(10);
  // What lies under them, with them out of the picture.
  await seen('hidden');
  await stillStage(page);
  for (const clip of boxes) {
    const { bluish } = await measurePng(page, await page.screenshot({ clip, caret: 'initial' }));
    expect(bluish, JSON.stringify(clip)).toBe(0);
  }
  await seen('');
}

describe('the page on a phone', () => {
  it('keeps compared pieces clear of the words and buttons beside them', async () => {
    const small = await visit(workshop, {
      plan: TINY_CUP,
      viewport: { width: 360, height: 640 },
      hasTouch: true,
    });
    const { page } = small;
    await page.locator('.pane-choice button', { hasText: 'Fabric' }).click();
    await untilAtRest(page);
    const places = page.locator('.compare-place');
    await withoutAnswers(page, 'rested', async () => {
      await page.getByLabel('What lies on the table').selectOption({ label: 'Compare' });
      // One piece lies there already, one comes to rest, one waits; a stop ends both.
      await expect
        .poll(() => page.locator('.stage-busy progress').getAttribute('value'))
        .toMatch(/\d/);
      expect((await places.allInnerTexts()).join()).toMatch(/to rest….*its turn.*cups/s);
      await page.getByRole('button', { name: 'Stop' }).click();
      await expect.poll(() => page.getByText('stopped before it').count()).toBe(2);
      expect(await page.locator('.compare-verdict, .stage-busy').allInnerTexts()).toEqual(['cups']);
    });
    await page.getByRole('button', { name: 'Go on' }).first().click();
    await page.locator('.compare-verdict').nth(2).waitFor({ timeout: 90_000 });
    await keepsClear(page);
    // A window with the verdict under the table: the pieces beside each other, the tools above them.
    await page.setViewportSize({ width: 1024, height: 768 });
    await page.locator('.compare-names[data-stacked="false"]').waitFor();
    await keepsClear(page);
    await page.context().close();
  });

  it('shows one pane at a time and never scrolls sideways at 360 px, in the dark', async () => {
    const small = await visit(workshop, {
      plan: TINY_CUP,
      viewport: { width: 360, height: 740 },
      colorScheme: 'dark',
      hasTouch: true,
    });
    const { page } = small;
    await page.locator('.pane-choice button', { hasText: 'Fabric' }).click();
    await untilAtRest(page);
    for (const [pane, seen] of [
      ['Plan', '.editor'],
      ['Verdict', '.verdict-word'],
      ['Fabric', '.stage canvas'],
    ]) {
      await page.locator('.pane-choice button', { hasText: pane }).click();
      await page.locator(seen).first().waitFor();
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide).toBeLessThanOrEqual(360);
      expect(await missedByThumbs(page), pane).toEqual([]);
    }
    await expect.poll(async () => (await lookAtStage(page)).bluish).toBeGreaterThan(0.03);
    await page.getByLabel('Colour by').selectOption('rounds');
    await page.locator('.legend').waitFor();
    // The legend leaves the tools within reach of the thumb.
    await page.getByRole('button', { name: 'Fit in' }).click({ trial: true });
    // What comes and goes below the choices moves neither.
    const choices = () =>
      page
        .locator('.stage-choices .strip')
        .evaluateAll((all) => all.map((strip) => strip.getBoundingClientRect().y));
    const before = await choices();
    await page.getByRole('radio', { name: 'Strands' }).click();
    await page.locator('.strand-rest').waitFor();
    expect(await choices()).toEqual(before);
    // Also a hexagon's two sizes leave the choice of panes its thirds.
    const rights = await page.locator('.pane-choice button').evaluateAll((buttons) => {
      const words = buttons[1].querySelector('small');
      if (words) words.textContent = '8.9 cm, 15.8 cm between opposite sides';
      return buttons.map((button) => Math.round(button.getBoundingClientRect().right));
    });
    expect(rights).toEqual([120, 240, 360]);
    expect(small.errors).toEqual([]);
    await page.context().close();
  });
});

describe('the page in trouble', () => {
  it('says clearly when the browser keeps nothing and draws nothing, and works on', async () => {
    const { page, errors } = await visit(workshop, {
      picture: false,
      prepared: () => {
        Object.defineProperty(globalThis, 'indexedDB', {
          value: {
            open: () => {
              throw new DOMException('denied', 'SecurityError');
            },
          },
        });
      },
    });
    await expect
      .poll(() => page.locator('.notice').textContent())
      .toMatch(/not being kept: .*blocks storage.*Save the plan to a file/);
    await editor(page).waitFor();
    await expect.poll(() => planText(page)).toContain('Creek square');
    // Sooner at rest than the demo.
    await writePlan(page, TINY_FLAT);
    await untilAtRest(page);
    await expect.poll(() => page.locator('.verdict-word').textContent()).toMatch(/flat/i);
    // Nor can this one draw in 3D.
    await expect.poll(() => page.locator('.stage').textContent()).toMatch(/draws nothing in 3D/);
    await page.getByRole('button', { name: 'Plans' }).click();
    await page.getByRole('menuitem', { name: /^Tideline square/ }).click();
    await expect.poll(() => planText(page)).toContain('Tideline square');
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
