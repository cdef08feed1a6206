/**
 * The built page in a real Chromium: open and look at. Built, served and started once by `shared-browser.ts`.
 * The browser draws without a graphics card (SwiftShader), so windows are kept small.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type {
  Browser,
  BrowserContext,
  BrowserContextOptions,
  Locator,
  Page,
} from 'playwright-core';
import { chromium } from 'playwright-core';
import { expect, inject } from 'vitest';
import { whole } from '../runs.ts';

export interface PageUnderTest {
  readonly origin: string;
  readonly browser: Browser;
  close(): Promise<void>;
}

/** Another connection to the browser that all files share; closing it leaves the browser to the others. */
export async function openWorkshop(): Promise<PageUnderTest> {
  const browser = await chromium.connect(inject('browserAddress'));
  return { origin: inject('pageOrigin'), browser, close: () => browser.close() };
}

/** A window on the page with everything that went wrong or out in it. */
export interface Visit {
  readonly page: Page;
  /** Errors of scripts and of the console, policy violations among them. */
  readonly errors: string[];
  /** Addresses asked for. */
  readonly requests: string[];
}

interface AxeResult {
  violations: { id: string; impact: string | null; nodes: { html: string }[] }[];
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8');

type Axe = { axe: { run(within: string, options: object): Promise<AxeResult> } };

/** What axe finds by all its rules within a part of the page, once it has been laid out. */
async function found(page: Page, within = 'html'): Promise<AxeResult['violations']> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axeSource);
  const { violations } = await page.evaluate(async (part) => {
    // Another theme or width is there with the next frames.
    for (let k = 0; k < 2; k++) await new Promise((next) => requestAnimationFrame(next));
    // What is told is the HTML: a selector for each element is a quarter of the work.
    const asked = { resultTypes: ['violations'], selectors: false };
    return (globalThis as unknown as Axe).axe.run(part, asked);
  }, within);
  return violations;
}

const told = ({ id, nodes }: AxeResult['violations'][number]) =>
  `${id}: ${nodes[0]?.html.slice(0, 160)}`;

/** Violations that axe calls serious or critical, in the whole page or in the part that is new. */
export async function seriousViolations({ page }: Visit, within?: string): Promise<string[]> {
  const violations = await found(page, within);
  return violations.filter(({ impact }) => /serious|critical/.test(impact ?? '')).map(told);
}

/** What is laid out anew. Colours hang on the theme, not on the width. */
const DESK_AND_PHONE = [
  { width: 1440, colorScheme: 'dark' },
  { width: 360, colorScheme: 'light' },
] as const;
const TABLET = { width: 768, colorScheme: 'dark' } as const;
const SCREENS = whole ? [...DESK_AND_PHONE, TABLET] : DESK_AND_PHONE;

/**
 * Calls `look` on a desk and on a phone (in the soak on a tablet too), in both themes, and tells all that it finds: what axe has against a part of the page, and
 * on the phone controls that a thumb misses.
 */
export async function violationsEverywhere(
  { page }: Visit,
  look: (violations: (within: string) => Promise<void>) => Promise<void>,
): Promise<string[]> {
  const before = page.viewportSize();
  const all: string[] = [];
  for (const { width, colorScheme } of SCREENS) {
    await page.emulateMedia({ colorScheme });
    await page.setViewportSize({ width, height: 600 });
    await look(async (within) => {
      const violations = (await found(page, within)).map(told);
      const missed = width < 500 ? await missedByThumbs(page) : [];
      all.push(...[...violations, ...missed].map((words) => `${width} ${colorScheme}: ${words}`));
    });
  }
  await page.emulateMedia({ colorScheme: 'light' });
  if (before) await page.setViewportSize(before);
  // What only a wide window has is there with the next frames.
  await page.evaluate(async () => {
    for (let k = 0; k < 2; k++) await new Promise((next) => requestAnimationFrame(next));
  });
  return all;
}

export interface VisitOptions extends BrowserContextOptions {
  /** Kept from an earlier visit, so that the page opens with it; else it opens with the demo, which takes three times as long. */
  readonly plan?: string;
  /** Addresses that cannot be had. */
  readonly refused?: RegExp;
  /** The first tour is shown, as to one who has never been here. */
  readonly toured?: boolean;
  /** False: the browser has no WebGL and draws no fabric, which is half of what a page costs, where words are looked at. */
  readonly picture?: boolean;
  /** Runs in the page before anything of it. */
  readonly prepared?: () => void;
}

/** Controls in view that a thumb misses: under 44 px either way (WCAG 2.2, 2.5.5), or beyond the edge of the page. */
export function missedByThumbs(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const controls = 'button, input, select, textarea, a[href], summary, [role="slider"]';
    const missed: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>(controls)) {
      const shown = element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
      if (!shown || element.closest('.only-heard, .skip')) continue;
      const own = element.getBoundingClientRect();
      // A label takes the press too, and a slider's thumb reaches beyond its picture.
      const around = element.closest('label')?.getBoundingClientRect() ?? own;
      const beyond = -Number.parseFloat(getComputedStyle(element, '::after').inset || '0') || 0;
      const wide = Math.max(own.width, around.width) + 2 * beyond;
      const high = Math.max(own.height, around.height) + 2 * beyond;
      const reached = own.left >= -1 && own.right <= innerWidth + 1;
      if (wide >= 43.5 && high >= 43.5 && reached) continue;
      const name = element.getAttribute('aria-label') || element.textContent || element.outerHTML;
      missed.push(`${Math.round(wide)} × ${Math.round(high)}: ${name.trim().slice(0, 40)}`);
    }
    return missed;
  });
}

/** Lets a test keep workers' answers of one type from the page: on a fast machine they come before it has looked. */
function keepAnswersBack(): void {
  const { get, set } = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage') ?? {};
  if (!get || !set) throw new Error('workers of this browser take no listener');
  Object.defineProperty(Worker.prototype, 'onmessage', {
    get,
    set(this: Worker, listener: ((event: MessageEvent) => void) | null) {
      set.call(
        this,
        listener &&
          ((event: MessageEvent) => {
            const { keptBack } = globalThis as { keptBack?: string };
            if (!keptBack || event.data.type !== keptBack) listener(event);
          }),
      );
    },
  });
}

/** As a browser whose owner has switched 3D off. */
export function withoutWebGl(): void {
  const { getContext } = HTMLCanvasElement.prototype;
  HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...asked: unknown[]) {
    return asked[0] === '2d' ? Reflect.apply(getContext, this, asked) : null;
  } as typeof getContext;
}

/** While `within` runs, the page gets no answer of `type` (`src/worker`): its work goes on for as long as the test looks. */
export async function withoutAnswers(
  page: Page,
  type: string,
  within: () => Promise<void>,
): Promise<void> {
  const keepBack = (kept: string) =>
    page.evaluate((word) => {
      (globalThis as { keptBack?: string }).keptBack = word;
    }, kept);
  await keepBack(type);
  try {
    await within();
  } finally {
    await keepBack('');
  }
}

/** `LIEFLAT_BROWSER_SLOWER=6`: pages run so many times as slowly, to find what a slow machine would. */
const SLOWER = Number(process.env.LIEFLAT_BROWSER_SLOWER ?? 1);

export async function visit(
  { browser, origin }: PageUnderTest,
  { plan, toured = false, refused, picture = true, prepared, ...options }: VisitOptions = {},
  fragment = '',
): Promise<Visit> {
  const context = await browser.newContext({
    // Three panes fit, and drawing takes as long as the picture is large.
    viewport: { width: 1040, height: 600 },
    // A quarter of the pixels: enough for colours, places and changes of a picture.
    deviceScaleFactor: 0.5,
    reducedMotion: 'reduce',
    // Every context would keep the whole page anew; the offline tests allow it.
    serviceWorkers: 'block',
    ...options,
  });
  // A build machine may be ten times as slow as a desk; a fault shows by what is there, not by how soon.
  context.setDefaultTimeout(60_000);
  if (!toured) await context.addInitScript(() => localStorage.setItem('lieflat tour seen', 'yes'));
  await context.addInitScript(keepAnswersBack);
  if (!picture) await context.addInitScript(withoutWebGl);
  if (prepared) await context.addInitScript(prepared);
  if (plan !== undefined) await keepPlan(context, plan);
  const page = await context.newPage();
  if (SLOWER > 1) {
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  }
  if (refused) await page.route(refused, (route) => route.abort());
  const errors: string[] = [];
  const requests: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('request', (request) => requests.push(request.url()));
  await page.goto(`${origin}/${fragment}`);
  return { page, errors, requests };
}

/**
 * Has a plan kept before the page first looks, as the page itself keeps it (`app/state/storage.ts`). The browser answers
 * requests for one storage in their order: this one comes before the page's own.
 */
export async function keepPlan(context: BrowserContext, text: string): Promise<void> {
  const kept = { text, fileName: '', savedAt: Date.now() };
  await context.addInitScript((plan) => {
    if (localStorage.getItem('plan kept for a test')) return;
    localStorage.setItem('plan kept for a test', 'yes');
    const opening = indexedDB.open('lieflat', 3);
    opening.onupgradeneeded = () => {
      opening.result.createObjectStore('plan');
      opening.result.createObjectStore('project');
      for (const name of ['versions', 'formerProjects'])
        opening.result.createObjectStore(name, { keyPath: 'id', autoIncrement: true });
    };
    opening.onsuccess = () => {
      const writing = opening.result.transaction('plan', 'readwrite');
      writing.objectStore('plan').put(plan, 'at hand');
      writing.oncomplete = () => opening.result.close();
    };
  }, kept);
}

export const editor = (page: Page) => page.getByRole('textbox', { name: 'Plan text' });

/** The fabric of the plan as it is now lies still: its note says so, and the verdict is not an older one. */
export async function untilAtRest(page: Page): Promise<void> {
  await page.locator('.verdict-word').waitFor({ state: 'attached', timeout: 90_000 });
  await page.locator('.verdict-stale').waitFor({ state: 'detached', timeout: 90_000 });
  await page.locator('.stage-note[data-state="rest"]').waitFor({ timeout: 90_000 });
}

export async function writePlan(page: Page, text: string): Promise<void> {
  await editor(page).focus();
  await page.keyboard.press('ControlOrMeta+a');
  // Pasted, as a user would; inserting key by key takes seconds.
  await editor(page).evaluate((element, pasted) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', pasted);
    element.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
    );
  }, text);
}

/** What a press of `button` gives to save. Read as a stream: a browser that is shared has no path to tell. */
export async function downloaded(
  page: Page,
  button: Locator,
): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent('download'), button.click()]);
  const parts: Buffer[] = [];
  for await (const part of await download.createReadStream()) parts.push(part as Buffer);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(parts) };
}

/** Drops a file on the page. */
export async function drop(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([fileName, content]) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([content], fileName));
      for (const type of ['dragenter', 'dragover', 'drop']) {
        document.body.dispatchEvent(
          new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true }),
        );
      }
    },
    [name, text],
  );
}

export async function planText(page: Page): Promise<string> {
  const lines = await editor(page).locator('.cm-line').allInnerTexts();
  return lines.map((line) => line.replace(/\n$/, '')).join('\n');
}

export interface Picture {
  /** Distinct colours, at 5 bits a channel. */
  readonly colours: number;
  /** Share of pixels with clearly more blue than red: the woad yarn on its oat-coloured table. */
  readonly bluish: number;
  /** One number that changes when the picture does. */
  readonly print: number;
}

/** The stage once it no longer changes: two looks, one after the other, see the same. */
export async function stillStage(page: Page): Promise<Picture> {
  let last = await lookAtStage(page);
  await expect
    .poll(async () => {
      const before = last;
      last = await lookAtStage(page);
      return last.print === before.print;
    })
    .toBe(true);
  return last;
}

/** Measures the stage as it is on screen. */
export async function lookAtStage(page: Page): Promise<Picture> {
  const png = await page.locator('.stage canvas').first().screenshot({
    // Hiding the caret would need an inline style, which the page's policy forbids.
    caret: 'initial',
  });
  return measurePng(page, png);
}

/** Measures a screenshot, in the page, which can read it. */
export async function measurePng(page: Page, png: Buffer): Promise<Picture> {
  const address = `data:image/png;base64,${png.toString('base64')}`;
  return page.evaluate(async (source) => {
    const image = new Image();
    image.src = source;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.width;
    canvas.height = image.height;
    const context = canvas.getContext('2d');
    if (!context) throw new Error('no 2d context');
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    const colours = new Set<number>();
    let bluish = 0;
    let print = 0;
    for (let i = 0; i < data.length; i += 4) {
      colours.add(((data[i] >> 3) << 10) | ((data[i + 1] >> 3) << 5) | (data[i + 2] >> 3));
      if (data[i + 2] > data[i] + 24) bluish++;
      print = (print * 31 + data[i] + 3 * data[i + 1] + 7 * data[i + 2]) % 1_000_003;
    }
    return { colours: colours.size, bluish: (4 * bluish) / data.length, print };
  }, address);
}
