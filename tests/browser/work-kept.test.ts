/** Nothing the user made is lost: a killed browser, two tabs, a project opened over another, files that are none. */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { whole } from '../runs.ts';
import { holdStorage } from './held-storage.ts';
import { newProfile, type OwnBrowser } from './own-browser.ts';
import type { PageUnderTest } from './page-under-test.ts';
import {
  drop,
  editor,
  keepPlan,
  openWorkshop,
  planText,
  untilAtRest,
  visit,
  withoutWebGl,
  writePlan,
} from './page-under-test.ts';

/** As long as a test can wait, and half a minute in the soak. */
const TYPING_MS = whole ? 30_000 : 2500;

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

const titled = (title: string) => `Title: ${title}\n`;
const tube = (title: string) =>
  `${titled(title)}Gauge: 20 sts and 28 rounds = 10 cm\nCast on 12 sts. Join in the round.\nRounds 1-2: knit.\n`;
const savedText = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<string>((resolve) => {
        const opening = indexedDB.open('lieflat');
        opening.onsuccess = () => {
          const db = opening.result;
          const get = db.transaction('plan').objectStore('plan').get('at hand');
          get.onsuccess = () => {
            db.close();
            resolve(String(get.result?.text));
          };
        };
      }),
  );
const saved = (page: Page, text: string) => expect.poll(() => savedText(page)).toContain(text);

interface Typed {
  /** All that was typed: words that are their own numbers. */
  readonly words: string;
  /** When each word was whole, and how long `words` was then. */
  readonly at: readonly number[];
  readonly lengths: readonly number[];
}

/** Types into the title, a key every 10 ms or so: never a pause. */
async function typeWords(page: Page): Promise<Typed> {
  await editor(page).focus();
  await page.keyboard.press('ControlOrMeta+Home');
  await page.keyboard.press('End');
  const at: number[] = [];
  const lengths: number[] = [];
  let words = '';
  const begun = Date.now();
  while (Date.now() - begun < TYPING_MS) {
    const word = ` ${at.length}`;
    await page.keyboard.type(word);
    words += word;
    at.push(Date.now());
    lengths.push(words.length);
  }
  return { words, at, lengths };
}

/** How long before `now` the first word was whole that `text` does not hold. The last word kept may be cut. */
function lostMs({ words, at, lengths }: Typed, text: string, now: number): number {
  const kept = (/^Title: ?([ \d]*)/.exec(text)?.[1] ?? '').trimEnd();
  expect(words.startsWith(kept)).toBe(true);
  expect(kept).toMatch(/^ 0 1 /);
  return now - (at.find((_, i) => lengths[i] > kept.length) ?? now);
}

/** A machine that lets the page wait for a key lets it wait for everything else too. */
const longestStall = ({ at }: Typed) =>
  Math.max(...at.map((time, i) => time - (at[i - 1] ?? time)));

/** From now on the database answers nothing: a change of its form waits for a connection that stays open. */
const jamStorage = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('lieflat', 3);
        opening.onsuccess = () => {
          // Held on to: a connection that nobody knows is closed when the memory is swept.
          Object.assign(globalThis, { jam: opening.result });
          indexedDB.open('lieflat', 4).onblocked = () => resolve();
        };
      }),
  );

/** Time passes for the page, a second at a time, until the notice has the words. */
const passTime = (page: Page, notice: Locator, words: RegExp) =>
  expect
    .poll(async () => {
      await page.clock.fastForward(1000);
      return (await notice.allTextContents()).join();
    })
    .toMatch(words);

describe('a browser that is killed', () => {
  const profile = newProfile();
  const small = { width: 1040, height: 600 };
  let first: OwnBrowser;
  let page: Page;

  beforeAll(async () => {
    first = await profile.start();
    await first.context.addInitScript(withoutWebGl);
    await keepPlan(first.context, titled(''));
    page = await first.context.newPage();
    await page.setViewportSize(small);
    await page.goto(workshop.origin);
    await editor(page).waitFor();
  });

  afterAll(async () => {
    await first?.kill();
    profile.remove();
  });

  // Asked here, as a private window such as the other tests have installs nothing.
  it('lets the page be installed', async () => {
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => {}));
    const session = await first.context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    expect(installabilityErrors).toEqual([]);
    await session.detach();
  });

  it('has saved steady typing all the while', async () => {
    const typed = await typeWords(page);
    const now = Date.now();
    const behind = lostMs(typed, await savedText(page), now);
    console.log(`${typed.at.length} words typed, saved up to ${behind} ms behind`);
    expect(behind).toBeLessThan(1000 + longestStall(typed));
  });

  /** The project has one square and one sample. */
  const hasProject = async (at: Page) => {
    await at.getByRole('radio', { name: 'Blanket' }).click();
    await expect.poll(() => at.locator('.square-entry').count()).toBe(1);
    await at.getByRole('radio', { name: 'Test knits' }).click();
    await expect.poll(() => at.locator('.sample').count()).toBe(1);
  };

  it('loses nothing of the project and less than a second of what is typed, also where the database does not answer', async () => {
    const other = await first.context.newPage();
    await other.goto(workshop.origin);
    await editor(other).waitFor();
    await jamStorage(other);
    await other.bringToFront();
    await writePlan(other, titled('The other tab'));
    await page.bringToFront();
    await writePlan(page, tube('Laid in the blanket'));
    await untilAtRest(page);
    await page.getByRole('radio', { name: 'Blanket' }).click();
    await page.getByRole('button', { name: /^Keep this plan/ }).click();
    await page.getByRole('radio', { name: 'Test knits' }).click();
    await page.getByLabel('Stitches in 10 cm').fill('19');
    await page.getByRole('button', { name: 'Enter in the log' }).click();
    await hasProject(page);
    await writePlan(page, titled(''));
    const typed = await typeWords(page);
    const killedAt = Date.now();
    await first.kill();

    first = await profile.start();
    await first.context.addInitScript(withoutWebGl);
    const again = await first.context.newPage();
    await again.setViewportSize(small);
    await again.goto(workshop.origin);
    await editor(again).waitFor();
    const lost = lostMs(typed, await planText(again), killedAt);
    console.log(`${typed.at.length} words typed, kept up to ${lost} ms before the end`);
    expect(lost).toBeLessThan(1000 + longestStall(typed));
    await hasProject(again);
    // It was not the one at hand.
    await expect.poll(() => versionsOf(again)).toContain('The other tab');
  });
});

describe('two tabs', () => {
  let one: Page;
  let two: Page;

  beforeAll(async () => {
    ({ page: one } = await visit(workshop, { plan: titled('Start'), picture: false }));
    await editor(one).waitFor();
  });

  afterAll(async () => {
    await one?.context().close();
  });

  it('keep both texts, tell of the other change, and come back each with its own', async () => {
    await writePlan(one, titled('Shared start'));
    await saved(one, 'Shared start');
    two = await one.context().newPage();
    await two.goto(workshop.origin);
    await expect.poll(() => planText(two)).toContain('Shared start');
    await writePlan(one, titled('Changed in one'));
    await expect
      .poll(() => two.locator('.notices').textContent())
      .toMatch(/Another tab has changed/);
    await writePlan(two, titled('Changed in two'));
    await saved(two, 'Changed in two');
    await one.reload();
    await expect.poll(() => planText(one)).toContain('Changed in one');
    await two.reload();
    await expect.poll(() => planText(two)).toContain('Changed in two');
    // The one that was closed is found again in a third.
    await two.close();
    await writePlan(one, titled('Gone on in one'));
    await saved(one, 'Gone on in one');
    two = await one.context().newPage();
    await two.goto(workshop.origin);
    await editor(two).waitFor();
    await expect.poll(() => versionsOf(two)).toContain('Changed in two');
  });

  it('put the squares of both into one project', async () => {
    for (const [page, title] of [
      [one, 'From one'],
      [two, 'From two'],
    ] as const) {
      await writePlan(page, `${titled(title)}Cast on 12 sts. Join in the round.\nRound 1: knit.\n`);
      await page.getByRole('radio', { name: 'Blanket' }).click();
    }
    const keep = (page: Page) => page.getByRole('button', { name: /^Keep this plan/ }).click();
    await Promise.all([keep(one), keep(two)]);
    for (const page of [one, two]) {
      await expect.poll(() => page.locator('.bench').textContent()).toMatch(/From one/);
      await expect.poll(() => page.locator('.bench').textContent()).toMatch(/From two/);
    }
  });

  it('come back each with its own, also when one does not get its place back', async () => {
    // Whoever waits for the lock has it before the page that is loaded again, as on a slow machine.
    const id = await one.evaluate(() => sessionStorage.getItem('lieflat-tab'));
    await two.evaluate((lock) => {
      void navigator.locks.request(lock, () => new Promise(() => {}));
    }, `lieflat-tab-${id}`);
    await writePlan(one, titled('Kept in one'));
    await saved(one, 'Kept in one');
    await writePlan(two, titled('Saved last in two'));
    await saved(two, 'Saved last in two');
    await one.reload();
    await expect.poll(() => planText(one)).toContain('Kept in one');
    // Not saved yet when the page goes.
    await writePlan(one, titled('Just written in one'));
    await one.reload();
    await expect.poll(() => planText(one)).toContain('Just written in one');
  });
});

describe('a file', () => {
  let page: Page;

  beforeAll(async () => {
    ({ page } = await visit(workshop, { plan: titled('Mine'), picture: false }));
    await editor(page).waitFor();
  });

  afterAll(async () => {
    await page?.context().close();
  });

  const project = (title: string, plans: string[]) =>
    JSON.stringify({
      format: 'lieflat-project',
      version: 3,
      title,
      plans: plans.map((name, n) => ({ id: `square-${n + 1}`, name, text: titled(name) })),
      open: plans.length > 0 ? 'square-1' : null,
    });

  it('with another project keeps the one before, and undo brings it back', async () => {
    await drop(page, 'first.json', project('First', ['Reed', 'Sedge']));
    await expect.poll(() => planText(page)).toContain('Reed');
    await drop(page, 'empty.json', project('', []));
    const notice = page.locator('.notices');
    await expect
      .poll(() => notice.textContent())
      .toMatch(/“empty.json” is open.*2 squares and 0 test knits/);
    await page.getByRole('radio', { name: 'Blanket' }).click();
    await expect.poll(() => page.locator('.bench').textContent()).not.toMatch(/Sedge/);
    await notice.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.locator('.bench').textContent()).toMatch(/Sedge/);
    expect(await planText(page)).toContain('Reed');
    await drop(page, 'second.json', project('Second', ['Rush']));
    await expect.poll(() => planText(page)).toContain('Rush');
    await page.reload();
    await expect.poll(() => planText(page)).toContain('Rush');
    await page.getByRole('button', { name: 'Plans' }).click();
    await page.getByRole('menuitem', { name: /^Earlier versions/ }).click();
    const former = page.locator('.version', { hasText: 'before opening second.json' });
    await former.filter({ hasText: 'First' }).getByRole('button', { name: 'Bring back' }).click();
    await expect.poll(() => planText(page)).toContain('Reed');
  });

  it.each([
    ['nothing.json', '', /is empty/],
    ['blank.txt', ' \n', /is empty/],
    ['null.json', 'null', /not a project/],
    ['text.json', '"Cast on 4"', /not a project/],
    ['nul.txt', 'Cast on 4\0', /not a text file/],
    ['cut.json', project('Cut', ['Reed']).slice(0, 60), /cut short or damaged/],
    [
      `${'long'.repeat(60)}.json`,
      `{"format":"lieflat-project","version":2,"plans":[],"open":"${'x'.repeat(5000)}"}`,
      /damaged/,
    ],
  ])('that is no plan or project changes nothing: %s', async (name, text, words) => {
    const before = await planText(page);
    await drop(page, name, text);
    await expect.poll(() => page.locator('.notices').textContent()).toMatch(words);
    expect(await planText(page)).toBe(before);
    expect((await page.locator('.notices').textContent())?.length).toBeLessThan(400);
    const away = page.getByRole('button', { name: 'Put away' });
    while ((await away.count()) > 0) await away.first().click();
  });

  it('opens beside a project that cannot be kept only when told to, with a limit to the wait', async () => {
    await page.clock.install();
    const square = () => page.locator('.bench .square-entry').first().textContent();
    await page.getByRole('radio', { name: 'Blanket' }).click();
    const before = await planText(page);
    await expect.poll(square).toMatch(/Reed/);
    const letGo = await holdStorage(page);
    await drop(page, 'third.json', project('Third', ['Bulrush']));
    const notice = page.locator('.notice', { hasText: 'third.json' });
    await passTime(page, notice, /opens once the project from before is kept/);
    await passTime(page, notice, /is not open, and nothing was changed.*2 squares.*save it to a/);
    expect(await page.locator('.notices').textContent()).toMatch(/storage does not answer/);
    expect(await planText(page)).toBe(before);
    expect(await square()).toMatch(/Reed/);
    await notice.getByRole('button', { name: 'Open it all the same' }).click();
    await expect.poll(() => planText(page)).toContain('Bulrush');
    expect(await square()).toMatch(/Bulrush/);
    await notice.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => planText(page)).toBe(before);
    await expect.poll(square).toMatch(/Reed/);
    await letGo();
    // Asked for while nothing answered, and done since.
    await page.clock.resume();
    await page.getByRole('button', { name: 'Plans' }).click();
    await page.getByRole('menuitem', { name: /^Earlier versions/ }).click();
    await page.locator('.version', { hasText: 'before opening third.json' }).waitFor();
    await page.keyboard.press('Escape');
    await saved(page, 'Reed');
  });

  it('that is kept and cannot be had holds up the start for a limited time', async () => {
    const letGo = await holdStorage(page);
    const other = await page.context().newPage();
    await other.goto(workshop.origin);
    const notice = other.locator('.notice', { hasText: 'not being kept' });
    await passTime(other, notice, /storage does not answer/);
    await editor(other).waitFor();
    await letGo();
    await other.close();
  });

  it('or a link with more than a plan may have changes nothing', async () => {
    const before = await planText(page);
    for (const text of ['x'.repeat(1_000_001), 'Cast on 4\0']) {
      const fragment = `#plan=t.${Buffer.from(text).toString('base64url')}`;
      await page.evaluate((hash) => {
        location.hash = hash;
      }, fragment);
      await expect.poll(() => page.locator('.notices').textContent()).toMatch(/link/);
      await page.getByRole('button', { name: 'Put away' }).first().click();
    }
    expect(await planText(page)).toBe(before);
  });
});

async function versionsOf(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Plans' }).click();
  await page.getByRole('menuitem', { name: /^Earlier versions/ }).click();
  const dialog = page.locator('dialog[open]');
  const list = dialog.locator('.versions').last();
  await list.waitFor({ state: 'attached' });
  await dialog.getByText('Looking…').waitFor({ state: 'detached' });
  const words = (await list.textContent()) ?? '';
  await dialog.getByRole('button', { name: 'Close' }).click();
  return words;
}
