/** Yarn in the page: the whole piece as strands, and a place of it close up with its measures. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TINY_COASTER } from '../coaster.ts';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  downloaded,
  lookAtStage,
  openWorkshop,
  seriousViolations,
  stillStage,
  untilAtRest,
  visit,
  withoutAnswers,
  writePlan,
} from './page-under-test.ts';

/** Small, so that a browser without a graphics card lays and relaxes it at once. */
const SQUARE = `Title: Small square
Gauge: 20 sts and 26 rounds = 10 cm
Worked: in the round

Cast on 48 sts. Join in the round.
Round 1: *ssk, k8, k2tog; rep from * to end. (40 sts)
Round 2: knit.
Round 3: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 4: knit.
Round 5: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 6: *ssk, k2, k2tog; rep from * to end. (16 sts)
Draw yarn through remaining sts.
`;

let workshop: PageUnderTest;
let it_: Visit;
const page = () => it_.page;

beforeAll(async () => {
  workshop = await openWorkshop();
  it_ = await visit(workshop, { plan: SQUARE });
  await untilAtRest(page());
});

afterAll(async () => {
  await workshop?.close();
});

const note = () => page().locator('.close-up .stage-note');
const measure = () => page().locator('.close-up-measure');

/** Openings in mm as the close-up says them: at the place, and the ordinary one. */
async function measured(): Promise<[number, number]> {
  // The words stand there only while they are of the setting that is shown.
  const words = / is ([\d.]+) mm across; .* is ([\d.]+) mm/;
  await expect.poll(() => measure().textContent()).toMatch(words);
  const found = words.exec((await measure().textContent()) ?? '');
  return [Number(found?.[1]), Number(found?.[2])];
}

describe('the piece as strands of yarn', () => {
  it('is laid when asked for, wears the colours, and is taken back with the fabric', async () => {
    const stitches = await stillStage(page());
    await page().getByRole('radio', { name: 'Strands' }).focus();
    await page().keyboard.press('Space');
    await page().locator('.strand-choice[data-drawn="strands"]').waitFor();
    expect(await page().locator('.strand-note').textContent()).toBe('');
    // The switch lies on the picture and shows its focus: that must not be taken for yarn.
    await page().getByRole('textbox', { name: 'Plan text' }).focus();
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .not.toBeCloseTo(stitches.bluish, 3);
    const strands = await stillStage(page());
    expect(strands.bluish).toBeGreaterThan(0.05);
    expect(strands.colours).toBeGreaterThan(150);
    await page().getByRole('radio', { name: 'Rounds' }).click();
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .not.toBeCloseTo(strands.bluish, 3);
    await page().getByRole('radio', { name: 'Yarn' }).click();
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .toBeCloseTo(strands.bluish, 3);
    await page().getByRole('slider', { name: 'Knitted up to' }).focus();
    await page().keyboard.press('Home');
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .toBeLessThan(0.6 * strands.bluish);
    await page().keyboard.press('End');
    await page().getByRole('radio', { name: 'Stitches' }).click();
    await expect
      .poll(async () => (await lookAtStage(page())).bluish)
      .toBeCloseTo(stitches.bluish, 3);
  });
});

describe('the yarn of the whole piece', () => {
  const rest = () => page().locator('.strand-rest');
  const button = (name: string) => rest().getByRole('button', { name });
  const atRest = () => page().locator('.strand-rest[data-state="rest"]');
  const yarnFile = async () => {
    await page().getByRole('button', { name: 'Plans' }).click();
    const item = page().getByRole('menuitem', { name: 'Yarn as OBJ' });
    return (await downloaded(page(), item)).bytes.toString('utf8');
  };
  let laid: string;

  /** Starts it, and calls `look` while it is seen on its way. */
  const seenComing = (look = async () => {}) =>
    withoutAnswers(page(), 'rested', async () => {
      await button('Bring the yarn to rest').click();
      await expect.poll(() => rest().textContent()).toMatch(/step \d+/);
      await look();
    });

  it('says how long it takes, is seen coming to rest, and ends in what is known of it', async () => {
    await writePlan(page(), `Title: Coaster\n${TINY_COASTER}`);
    await untilAtRest(page());
    await page().getByRole('radio', { name: 'Strands' }).click();
    await expect
      .poll(() => rest().textContent())
      .toMatch(/not yet at rest.*takes a few seconds for 88 stitches/);
    laid = await yarnFile();
    const before = await stillStage(page());
    await seenComing(async () => {
      expect(await rest().textContent()).toMatch(/step \d+, force left [\d.,]+; at rest 0.008/);
      expect(await rest().getByRole('progressbar').count()).toBe(1);
      await button('Stop').click();
    });
    await button('Start again').click();
    await atRest().waitFor({ timeout: 90_000 });
    expect(await rest().textContent()).toMatch(
      /The yarn is at rest: \d+ steps, force left 0\.0\d+, at rest 0\.008 or less\. Yarn nowhere lies deep in yarn.*links between stitches/,
    );
    await expect.poll(async () => (await lookAtStage(page())).print).not.toBe(before.print);
    expect(await seriousViolations(it_, '.pane-fabric')).toEqual([]);
  });

  it('is saved and printed as it lies at rest', async () => {
    const rested = await yarnFile();
    expect(rested).not.toBe(laid);
    expect(rested.match(/^v /gm)?.length).toBe(laid.match(/^v /gm)?.length);
    await page().evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    expect(await page().locator('.print-fabric .print-strands').textContent()).toMatch(
      /^The yarn is at rest: /,
    );
    await page().evaluate(() => window.dispatchEvent(new Event('afterprint')));
  });

  it('goes back to how it was laid, and stays where it was when it is stopped', async () => {
    await button('Show it as laid').click();
    await seenComing(() => button('Stop').click());
    await expect
      .poll(() => rest().textContent())
      .toMatch(/Stopped before the yarn came to rest: force left .* links between stitches/);
    expect(await yarnFile()).not.toBe(laid);
  });

  it('starts again, and goes on while another tab is looked at', async () => {
    await button('Start again').click();
    await page().getByRole('radio', { name: 'Pattern' }).click();
    await page().locator('.bench .written').waitFor();
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    await atRest().waitFor({ timeout: 90_000 });
  });

  it('is dropped with the fabric when the plan changes, also on its way', async () => {
    await button('Show it as laid').click();
    // An answer that comes too early is lost, so it is on its way still.
    await seenComing();
    await writePlan(page(), SQUARE);
    await untilAtRest(page());
    await expect.poll(() => rest().textContent()).toMatch(/not yet at rest.* 232 stitches/);
    await page().getByRole('radio', { name: 'Stitches' }).click();
    expect(await rest().count()).toBe(0);
    expect(it_.errors).toEqual([]);
  });
});

describe('the close-up', () => {
  it('shows the join with its opening beside the ordinary gap, and why', async () => {
    await page().getByRole('radio', { name: 'Close-up' }).click();
    await expect.poll(() => note().textContent()).toMatch(/settling/);
    const [opening, ordinary] = await measured();
    expect(opening).toBeGreaterThan(1.3 * ordinary);
    const picture = page().locator('.close-up .stage-focus');
    expect(await picture.getAttribute('aria-label')).toContain(`${opening.toFixed(1)} mm across`);
    await expect.poll(() => page().locator('.close-up canvas').count()).toBe(1);
    expect(await page().locator('.close-up-side').textContent()).toMatch(
      /spiral.*What helps common practice/s,
    );
  });

  it('follows the slack by keyboard, and compares what was measured', async () => {
    const [before] = await measured();
    const slider = page().getByRole('slider', { name: 'Slack in the strand' });
    await slider.focus();
    await page().keyboard.press('Home');
    await expect.poll(() => slider.getAttribute('aria-valuetext')).toBe('0.0 mm');
    const [tight] = await measured();
    expect(tight).toBeLessThan(0.8 * before);
    await expect.poll(() => page().locator('.close-up-table tbody tr').count()).toBe(2);
  });

  it('fits a screen of 360 px', async () => {
    const wide = page().viewportSize() ?? { width: 1040, height: 600 };
    await page().setViewportSize({ width: 360, height: 740 });
    await page().locator('.pane-choice button', { hasText: 'Fabric' }).click();
    await measured();
    expect(await page().evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      360,
    );
    const side = await page().locator('.close-up-side').boundingBox();
    const picture = await page().locator('.close-up-picture').boundingBox();
    expect(side?.height).toBeGreaterThan(150);
    expect(picture?.height).toBeGreaterThan(150);
    expect(await seriousViolations(it_, '.pane-fabric')).toEqual([]);
    await page().setViewportSize(wide);
  });

  it('says what cannot be knitted, and draws nothing then', async () => {
    const yarn = page().getByRole('textbox', { name: 'Yarn in a stitch' });
    await yarn.fill('8');
    await expect
      .poll(() => page().getByRole('alert').allTextContents())
      .toContainEqual(expect.stringMatching(/cannot be knitted/));
    expect(await page().locator('.close-up canvas').count()).toBe(0);
    expect(await measure().textContent()).toBe('');
    await yarn.fill('');
    await measured();
  });

  it('shows the yarn moving, and can be stopped while it settles', async () => {
    await withoutAnswers(page(), 'shown', async () => {
      await page().getByRole('radio', { name: 'Crossed' }).click();
      await page().getByRole('radio', { name: 'Extra stitch' }).click();
      await page().locator('.close-up .stage-note[data-state="busy"]').waitFor();
      // Seen moving: the picture is of this setting while it still settles.
      await page().locator('.close-up .stage-focus[data-stale="false"]').waitFor();
      await page().locator('.close-up').getByRole('button', { name: 'Stop' }).click();
      await expect.poll(() => note().textContent()).toMatch(/Stopped before/);
    });
    expect(await page().locator('.close-up canvas').count()).toBe(1);
    expect(await measure().textContent()).toBe('');
  });

  it('shows a decrease of the piece itself, and any stitch by its number', async () => {
    await page().getByRole('radio', { name: 'Decrease' }).click();
    await page().getByRole('radio', { name: 'k2tog' }).click();
    await measured();
    await page().getByRole('radio', { name: 'Any stitch' }).click();
    await page().getByRole('spinbutton', { name: 'Round' }).fill('2');
    await page().getByRole('spinbutton', { name: 'Stitch' }).fill('6');
    await measured();
    const stage = page().locator('.close-up .stage-focus');
    await expect.poll(() => stage.getAttribute('data-stale')).toBe('false');
    await stage.focus();
    const front = await stage.screenshot({ caret: 'initial' });
    await page().keyboard.press('b');
    await expect
      .poll(async () => (await stage.screenshot({ caret: 'initial' })).equals(front))
      .toBe(false);
  });

  it('has no serious fault of accessibility and broke no rule of the page', async () => {
    expect(await seriousViolations(it_, '.pane-fabric')).toEqual([]);
    expect(it_.errors).toEqual([]);
    const abroad = it_.requests.filter(
      (address) => !/^(?:blob|data):/.test(address) && !address.startsWith(`${workshop.origin}/`),
    );
    expect(abroad).toEqual([]);
  });
});
