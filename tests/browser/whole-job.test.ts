/**
 * From wishes to print in a real browser. Tests of one block follow each other on one page; the fabric's picture is
 * looked at in page.test.ts.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { coaster, SMALL_COASTER } from '../coaster.ts';
import type { PageUnderTest, Visit } from './page-under-test.ts';
import {
  downloaded,
  drop,
  missedByThumbs,
  openWorkshop,
  planText,
  seriousViolations,
  untilAtRest,
  visit,
  withoutAnswers,
  writePlan,
} from './page-under-test.ts';
import { COLOURED_BLANKET, SMALL_BLANKET, SMALL_CABLED, TINY_FLAT } from './small-plans.ts';

/** Of a yarn with a name; lies flat, so that nothing has to be looked for to mend it. */
const SWATCHED = `Title: Swatched\nYarn: worsted (4), 100 g = 200 m\n${coaster(40)}`.replace(
  '20 sts and 40 rounds',
  '21 sts and 42 rounds',
);

let workshop: PageUnderTest;

beforeAll(async () => {
  workshop = await openWorkshop();
});

afterAll(async () => {
  await workshop?.close();
});

describe('a new square', () => {
  let it_: Visit;
  const page = () => it_.page;

  beforeAll(async () => {
    it_ = await visit(workshop, { plan: TINY_FLAT, picture: false });
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
    await dialog.getByLabel('Side', { exact: true }).fill('10');
    await dialog.getByLabel('Stitches in 10 cm').fill('20');
    await dialog.getByLabel('Rounds in 10 cm').fill('28');
    await expect.poll(() => dialog.locator('.facts').textContent()).toMatch(/Cast on80 sts/);
    await dialog.getByRole('button', { name: '+ Cable of 4' }).click();
    // A cable pulls in: more stitches for the same size.
    await expect
      .poll(async () =>
        Number(/Cast on(\d+)/.exec((await dialog.locator('.facts').textContent()) ?? '')?.[1]),
      )
      .toBeGreaterThan(80);
    // Between two whole stitches.
    await dialog.getByLabel('Side', { exact: true }).fill('10.3');
    await expect.poll(() => dialog.locator('.traded').textContent()).toMatch(/side comes to/);
    expect(await seriousViolations(it_, 'dialog')).toEqual([]);
  });

  it('says at once that it drafts and what it tries, shows no older draft, and can be stopped', async () => {
    const dialog = page().getByRole('dialog', { name: 'New square' });
    const outcome = dialog.locator('.outcome');
    const write = dialog.getByRole('button', { name: 'Write the plan' });
    await outcome.and(page().locator('[data-state="done"]')).waitFor({ timeout: 90_000 });
    // Seen from inside the page, as a draft may be there before the next look from outside.
    await dialog.evaluate((element) => {
      const write = element.querySelector('[type="submit"]');
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      const outcome = document.querySelector('.outcome');
      if (!outcome) return;
      const look = () => {
        const facts = outcome.querySelector('.facts') ? ' facts' : '';
        const ready = write?.getAttribute('aria-disabled') !== 'true' ? ' ready' : '';
        seen.push(`${outcome.getAttribute('data-state')}${facts}${ready} ${outcome.textContent}`);
      };
      new MutationObserver(look).observe(outcome, {
        subtree: true,
        childList: true,
        characterData: true,
        attributes: true,
      });
    });
    await dialog.getByLabel('Side', { exact: true }).fill('11');
    await outcome.and(page().locator('[data-state="done"]')).waitFor({ timeout: 90_000 });
    const seen = await page().evaluate(() => (globalThis as unknown as { seen: string[] }).seen);
    expect(seen[0]).toMatch(/^drafting What comes of it Drafting…/);
    expect(seen.filter((words) => /^drafting (?:facts|ready)/.test(words))).toEqual([]);
    // A title is no wish that the stitches hang on.
    await dialog.getByLabel('Title').fill('Not drafted anew');
    expect(await outcome.getAttribute('data-state')).toBe('done');
    await dialog.getByLabel('Title').fill('');

    // Not done before it is seen and stopped, however fast the machine is.
    await withoutAnswers(page(), 'drafted', async () => {
      await dialog.getByLabel('Side', { exact: true }).fill('12');
      // The last that is tried; what may be is in tests/app/trial-words.test.ts.
      await expect
        .poll(() => outcome.textContent())
        .toMatch(/\d+ stitches cast on: (?:timing \d+ of the shaping|trial \d+ comes to rest)/);
      await dialog.getByRole('button', { name: 'Stop drafting' }).click();
      await expect.poll(() => outcome.textContent()).toMatch(/Stopped: there is no draft/);
    });
    expect(await outcome.locator('.facts').count()).toBe(0);
    expect(await write.isDisabled()).toBe(true);
    expect(await seriousViolations(it_, 'dialog')).toEqual([]);
    // Also before the worker is asked: no draft may come after that.
    await dialog.evaluate(async (element) => {
      const press = (words: string) =>
        [...element.querySelectorAll('button')].find((one) => one.textContent === words)?.click();
      press('Draft again');
      await new Promise((resolve) => setTimeout(resolve, 20));
      press('Stop drafting');
      await new Promise((resolve) => setTimeout(resolve, 500));
    });
    expect(await outcome.getAttribute('data-state')).toBe('stopped');
    await dialog.getByLabel('Side', { exact: true }).fill('10');
    await outcome.and(page().locator('[data-state="done"]')).waitFor({ timeout: 90_000 });
  });

  it('says which wish cannot be met, and writes nothing then', async () => {
    const dialog = page().getByRole('dialog', { name: 'New square' });
    await dialog.getByLabel('Side', { exact: true }).fill('1');
    await expect.poll(() => dialog.getByRole('alert').textContent()).toMatch(/at least 16/);
    expect(await dialog.getByRole('button', { name: 'Write the plan' }).isDisabled()).toBe(true);
    await dialog.getByLabel('Side', { exact: true }).fill('10');
  });

  it('writes the plan, which lies flat at the size asked, and undo brings the old one back', async () => {
    await page().getByLabel('Title').fill('Wished for');
    await page().getByRole('button', { name: 'Write the plan' }).click();
    await expect.poll(() => planText(page())).toContain('Title: Wished for');
    expect(await planText(page())).toMatch(/2\/2 LC/);
    await untilAtRest(page());
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/flat/i);
    const side = await page().locator('.facts').first().textContent();
    expect(Math.abs(Number(/Finished side([\d.]+)/.exec(side ?? '')?.[1]) - 10)).toBeLessThan(0.5);
    await page().getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => planText(page())).toContain('Little coaster');
    await page().getByRole('button', { name: 'Redo' }).click();
    await untilAtRest(page());
    expect(it_.errors).toEqual([]);
  });
});

describe('pattern, files and links', () => {
  let it_: Visit;
  const page = () => it_.page;
  const bench = () => page().locator('.bench');

  beforeAll(async () => {
    it_ = await visit(workshop, { plan: SMALL_CABLED, picture: false });
    await untilAtRest(page());
    await page().getByRole('radio', { name: 'Pattern' }).click();
  });

  afterAll(async () => {
    await it_?.page.context().close();
  });

  it('is written with size, materials, abbreviations and rounds, and promises no blocking of a cup', async () => {
    const written = bench().locator('.written');
    await expect
      .poll(() => written.textContent())
      .toMatch(/Creek middle.*cm \(.* in\) along each side, .* round its edge, as knitted/);
    expect(await written.textContent()).not.toMatch(/blocked/);
    await expect.poll(() => written.textContent()).toMatch(/this piece does not lie flat \(cups\)/);
    await expect.poll(() => written.locator('dt').allInnerTexts()).toContain('k2tog');
    expect(await written.textContent()).toMatch(/danger to babies/);
    await expect.poll(() => written.locator('.written-rounds').textContent()).toContain('Round 23');
  });

  it('changes its terms and turns to the flat version, and the plan stays as it is', async () => {
    await bench().getByLabel('Terms').selectOption('british');
    await expect.poll(() => bench().locator('.written').textContent()).toMatch(/Tension.*stocking/);
    await bench().getByRole('radio', { name: 'Flat' }).click();
    await expect
      .poll(() => bench().locator('.written-rounds').textContent())
      .toMatch(/Row 2 \(WS\)/);
    // What could not stay as it was is said above the pattern.
    await expect
      .poll(() => bench().locator('.written .traded').textContent())
      .toMatch(/those of even rounds wait for the next row: round 6 in row 7, round 12 in row 13/);
    expect(await bench().locator('.written-rounds').textContent()).toMatch(/Row 7.*2\/2 LC/);
    expect(await planText(page())).toContain('Worked: in the round');
    await bench().getByRole('radio', { name: 'In the round' }).click();
  });

  it('charts one side or the whole round, with a key, inside the policy', async () => {
    await bench().getByRole('radio', { name: 'Chart' }).click();
    const chart = bench().locator('.chart-picture svg');
    await expect
      .poll(() => chart.locator('desc').textContent())
      .toMatch(/^25 stitches wide, 23 rounds/);
    await bench().getByLabel('Show').selectOption('whole');
    await expect.poll(() => chart.locator('desc').textContent()).toMatch(/^100 stitches wide/);
    expect(await chart.textContent()).toMatch(/Key.*back loop/);
    // How it is read stands where it need not be scrolled to.
    const told = bench().locator('.chart-reading');
    expect(await told.textContent()).toMatch(/^Read every round from right to left, upwards\./);
    expect((await chart.locator('text').allTextContents()).join(' ')).not.toContain('Read every');
    await bench().getByLabel('Show').selectOption('side');
    expect(await seriousViolations(it_, '.bench')).toEqual([]);
  });

  it('divides the stitches over the needles, round by round', async () => {
    await bench().getByRole('radio', { name: 'Needles' }).click();
    const counts = bench().locator('.needle-counts');
    await expect.poll(() => counts.textContent()).toBe('25 + 25 + 25 + 25 sts');
    const before = await bench().locator('.needle-picture svg').innerHTML();
    await page().getByRole('slider', { name: 'Needles after round' }).focus();
    await page().keyboard.press('ArrowRight');
    await page().keyboard.press('ArrowRight');
    await expect.poll(() => counts.textContent()).toBe('23 + 23 + 23 + 23 sts');
    expect(await bench().locator('.needle-picture svg').innerHTML()).not.toBe(before);
    await bench().getByLabel('On', { exact: true }).selectOption('magic loop');
    await expect.poll(() => counts.textContent()).toBe('46 + 46 sts');
    await expect
      .poll(() => bench().textContent())
      .toMatch(/circular needle of 80 cm .* as a magic loop/);
    expect(await seriousViolations(it_, '.bench')).toEqual([]);
  });

  it('counts the yarn with its allowance, and the balls', async () => {
    await bench().getByRole('radio', { name: 'Yarn' }).click();
    const length = async () =>
      Number(
        /Length, rounded up(\d+) m/.exec(
          (await bench().locator('.facts').textContent()) ?? '',
        )?.[1],
      );
    const ten = await length();
    await bench().getByLabel('Allowance').fill('30');
    await expect.poll(length).toBeGreaterThan(1.15 * ten);
    await bench().getByLabel('A ball has').fill('30');
    await expect
      .poll(() => bench().locator('.facts').textContent())
      .toMatch(new RegExp(`${Math.ceil((ten * 1.3) / 1.1 / 30)} balls`));
  });

  it('prints on the paper chosen, the pattern and nothing else', async () => {
    const sizes: string[] = [];
    for (const paper of ['A4', 'Letter']) {
      await bench().getByRole('button', { name: 'Save or set paper' }).click();
      await page().getByRole('menuitemradio', { name: paper }).click();
      await page().keyboard.press('Escape');
      const pdf = (await page().pdf({ preferCSSPageSize: true })).toString('latin1');
      sizes.push(
        /\/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]/
          .exec(pdf)
          ?.slice(1)
          .map(Number)
          .map(Math.round)
          .join('×') ?? '',
      );
      expect(pdf.match(/\/Type ?\/Page\b/g)?.length).toBeGreaterThanOrEqual(3);
    }
    // Points: 1/72 in. Chromium rounds A4 to whole pixels.
    expect(sizes).toEqual(['595×842', '612×792']);
    await page().emulateMedia({ media: 'print' });
    expect(await page().locator('.print-sheet .written').isVisible()).toBe(true);
    expect(await page().locator('.print-page svg').first().isVisible()).toBe(true);
    expect(await page().locator('.head').isVisible()).toBe(false);
    await page().emulateMedia({ media: null });
  });

  it('saves the pattern as text and the chart as SVG', async () => {
    const save = async (item: string) => {
      await bench().getByRole('button', { name: 'Save or set paper' }).click();
      const { name, bytes } = await downloaded(
        page(),
        page().getByRole('menuitem', { name: item }),
      );
      return { name, text: bytes.toString('utf8') };
    };
    const pattern = await save('Save the pattern as text');
    expect(pattern.name).toBe('creek-middle-pattern.txt');
    expect(pattern.text).toMatch(/^Title: Creek middle/);
    const chart = await save('Save the chart as SVG');
    expect(chart.name).toMatch(/chart\.svg$/);
    expect(chart.text).toMatch(/^<svg /);
  });

  const saveFromMenu = async (item: string) => {
    await page().getByRole('button', { name: 'Plans' }).click();
    return downloaded(page(), page().getByRole('menuitem', { name: item }));
  };

  it('saves the whole project and opens it again', async () => {
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    const { name, bytes } = await saveFromMenu('Whole project');
    expect(name).toMatch(/-project\.json$/);
    const project = JSON.parse(bytes.toString('utf8'));
    expect([project.format, project.version]).toEqual(['lieflat-project', 3]);
    expect(project.plans[0].text).toContain('Creek middle');
    project.plans[0].text = project.plans[0].text.replace('Creek middle', 'Carried square');
    project.units = 'inch';
    await drop(page(), 'carried.json', JSON.stringify(project));
    await expect.poll(() => planText(page())).toContain('Carried square');
    await expect.poll(() => page().locator('.facts').first().textContent()).toMatch(/ in/);
    await page().getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => planText(page())).toContain('Creek middle');
    await page().getByRole('radio', { name: 'Centimetres' }).click();
  });

  it('says what is wrong with a broken project and changes nothing', async () => {
    const before = await planText(page());
    for (const [text, words] of [
      [
        '{"format":"lieflat-project","version":1,"plans":[',
        /cut short or damaged.*Nothing was changed/,
      ],
      ['{"format":"lieflat-project","version":9,"plans":[]}', /newer Lieflat/],
      ['{"format":"lieflat-project","version":1,"plans":[{"id":"a","name":""}]}', /plans\.0\.text/],
    ] as const) {
      await drop(page(), 'broken.json', text);
      await expect.poll(() => page().locator('.notice').textContent()).toMatch(words);
    }
    expect(await planText(page())).toBe(before);
    await page().getByRole('button', { name: 'Put away' }).click();
  });

  it('saves the fabric and the yarn as OBJ and glTF', async () => {
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    await writePlan(page(), `Title: Coaster\n${SMALL_COASTER}`);
    await untilAtRest(page());
    const obj = await saveFromMenu('Fabric as OBJ');
    expect(obj.name).toBe('coaster.obj');
    // Every loop, and the centre that is drawn up.
    expect(obj.bytes.toString('utf8').match(/^v /gm)?.length).toBe(152 + 1);
    const glb = await saveFromMenu('Fabric as glTF');
    expect(glb.bytes.subarray(0, 4).toString('latin1')).toBe('glTF');
    const yarn = await saveFromMenu('Yarn as glTF');
    expect(yarn.name).toBe('coaster-yarn.glb');
    // Every loop is a tube of its own: far more than the sheet.
    expect(yarn.bytes.length).toBeGreaterThan(10 * glb.bytes.length);
    const yarnObj = await saveFromMenu('Yarn as OBJ');
    expect(yarnObj.bytes.subarray(0, 400).toString('utf8')).toMatch(/^o yarn$/m);
  });

  it('makes a link that opens the plan elsewhere and tells no server of it', async () => {
    await page().getByRole('button', { name: 'Plans' }).click();
    await page().getByRole('menuitem', { name: 'Link to this plan' }).click();
    const field = page().getByLabel('Link', { exact: true });
    await expect.poll(() => field.inputValue()).toMatch(/#plan=z\./);
    const link = await field.inputValue();
    expect(link.length).toBeLessThan(2000);
    expect(await seriousViolations(it_, 'dialog')).toEqual([]);
    await page().keyboard.press('Escape');

    const empty = { plan: 'Title: Elsewhere\n', picture: false };
    const elsewhere = await visit(workshop, empty, new URL(link).hash);
    await expect.poll(() => planText(elsewhere.page)).toContain('Coaster');
    await expect.poll(() => elsewhere.page.url()).not.toContain('#');
    // What a server sees of an address ends before the fragment.
    expect(elsewhere.requests.some((address) => new URL(address).search !== '')).toBe(false);
    const damaged = link.slice(0, -40);
    await elsewhere.page.evaluate((address) => {
      location.href = address;
    }, damaged);
    await expect
      .poll(() => elsewhere.page.locator('.notice').textContent())
      .toMatch(/link is damaged/);
    expect(await planText(elsewhere.page)).toContain('Coaster');
    expect(elsewhere.errors).toEqual([]);
    await elsewhere.page.context().close();
    expect(it_.errors).toEqual([]);
  });
});

describe('blanket, test knits and another size', () => {
  /** The first row of the blanket as it is kept. */
  const keptRow = () =>
    page().evaluate(
      () =>
        new Promise<string>((resolve) => {
          const opening = indexedDB.open('lieflat');
          opening.onsuccess = () => {
            const get = opening.result.transaction('project').objectStore('project').get('at hand');
            get.onsuccess = () => {
              opening.result.close();
              resolve(JSON.stringify(get.result?.blanket.rows[0]));
            };
          };
        }),
    );
  let it_: Visit;
  const page = () => it_.page;
  const bench = () => page().locator('.bench');
  const fits = () => bench().locator('.fit').allInnerTexts();

  beforeAll(async () => {
    it_ = await visit(workshop, { plan: TINY_FLAT, picture: false });
    await untilAtRest(page());
    await page().getByRole('radio', { name: 'Blanket' }).click();
  });

  afterAll(async () => {
    await it_?.page.context().close();
  });

  it('begins with one to look at', async () => {
    await bench().getByRole('button', { name: 'Look at the Saltmarsh blanket' }).click();
    const squares = () => bench().locator('.square-entry').allInnerTexts();
    await expect
      .poll(async () => (await squares()).join())
      .toMatch(/Creek square.*Samphire square.*Tideline square/s);
  });

  it('lays squares out, measures each and says which to adjust', async () => {
    await drop(page(), 'reed.json', COLOURED_BLANKET);
    // The one from before is offered back.
    const opened = page().locator('.notice', { hasText: '“reed.json” is open' });
    await opened.getByRole('button', { name: 'Put away' }).click();
    await expect
      .poll(async () => (await fits()).join('\n'), { timeout: 90_000 })
      .toMatch(/Reed square meets.*Rush square is .* too narrow: cast on/s);
    expect(await fits()).toHaveLength(3);
    await bench()
      .getByLabel(/^Side of every square/)
      .fill('4.6');
    await page().keyboard.press('Enter');
    await expect
      .poll(async () => (await fits()).join('\n'))
      .toMatch(/Reed square is .* too wide.*Rush square is .* too narrow: cast on/s);
    await bench()
      .getByLabel(/^Side of every square/)
      .fill('5');
    await page().keyboard.press('Enter');
    await expect.poll(async () => (await fits()).join('\n')).toMatch(/Reed square meets/);
    await expect.poll(() => bench().locator('.blanket-fit').textContent()).toMatch(/along the top/);
    await expect
      .poll(() => bench().locator('.rounds-table').textContent())
      .toMatch(/worsted.*m\d+ g\d/);
    await expect.poll(() => bench().textContent()).toMatch(/danger to babies/);
    expect(await seriousViolations(it_, '.bench')).toEqual([]);
  });

  it('adjusts a square to its neighbours, and undo takes it back', async () => {
    await bench().getByRole('button', { name: 'Adjust Rush square' }).click();
    await expect
      .poll(async () => (await fits()).join('\n'), { timeout: 90_000 })
      .toMatch(/Rush square (?:meets|is .* the seam eases it in)/);
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect
      .poll(async () => (await fits()).join('\n'))
      .toMatch(/Rush square is .* too narrow: cast on/);
  });

  it('adds the yarn up by the colours of the squares, which the picture wears too', async () => {
    const colours = () =>
      bench().locator('.blanket-fit .rounds-table tbody td:first-child').allInnerTexts();
    expect(await colours()).toEqual([
      expect.stringMatching(/worsted.* · Woad/),
      expect.stringMatching(/worsted.* · Moss/),
      expect.stringMatching(/worsted.* · Fleece/),
    ]);
    await bench().getByRole('button', { name: 'Yarn colours of Sedge square' }).click();
    await page().getByRole('radio', { name: 'Woad' }).click();
    await expect.poll(colours).toHaveLength(2);
    await page()
      .getByLabel(/^Rounds in each stripe/)
      .fill('4');
    await page().getByRole('radiogroup', { name: 'Second yarn' }).getByLabel('Madder').click();
    await expect.poll(async () => (await colours()).join()).toMatch(/Woad.*Madder.*Fleece/s);
    expect(await seriousViolations(it_)).toEqual([]);
    await page().keyboard.press('Escape');
    // All changes of one square's colours are one step.
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(async () => (await colours()).join()).toMatch(/Woad.*Moss.*Fleece/s);
  });

  it('lays by keyboard, resizes the grid and keeps it over a closed tab', async () => {
    await bench().getByLabel('Columns of the grid').fill('4');
    await page().keyboard.press('Enter');
    const place = bench().getByRole('button', { name: /^Row 1, place 4/ });
    await expect.poll(() => place.getAttribute('aria-label')).toMatch(/empty/);
    await bench().getByRole('radio', { name: /Sedge/ }).check();
    await place.focus();
    await page().keyboard.press('Enter');
    await expect.poll(() => place.getAttribute('aria-label')).toMatch(/Sedge square/);
    await expect.poll(keptRow).toMatch(/^\[("[^"]+",?){4}\]$/);
    await page().reload();
    await page().getByRole('radio', { name: 'Blanket' }).click();
    await expect.poll(() => place.getAttribute('aria-label')).toMatch(/Sedge square/);
  });

  it('keeps the plan at hand as a square and opens another into the editor', async () => {
    await bench().getByRole('button', { name: 'Open Sedge square' }).click();
    await expect.poll(() => planText(page())).toContain('Sedge square');
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    await expect
      .poll(() =>
        page().getByRole('button', { name: 'Yarn colours' }).locator('circle').getAttribute('fill'),
      )
      .toBe('#76854f');
    await page().getByRole('button', { name: 'Plans' }).click();
    await page()
      .getByRole('menuitem', { name: /^New plan/ })
      .click();
    await expect.poll(() => planText(page())).toContain('Untitled square');
    // A fabric from the first, with a remark on what is still to be written and no mistake.
    await expect.poll(() => page().locator('.verdict-word').textContent()).toMatch(/tube/i);
    expect(await page().locator('#mistakes-name').textContent()).toBe('Remarks');
    await page().getByRole('radio', { name: 'Blanket' }).click();
    await bench().getByRole('button', { name: 'Keep this plan' }).click();
    await expect.poll(() => bench().locator('.square-entry').count()).toBe(4);
    await bench().getByRole('button', { name: 'Take away Untitled square' }).click();
    await expect.poll(() => bench().locator('.square-entry').count()).toBe(3);
  });

  it('prints its layout, seams and yarn', async () => {
    await expect.poll(async () => (await fits()).length, { timeout: 90_000 }).toBe(3);
    await page().emulateMedia({ media: 'print' });
    const sheet = page().locator('.print-blanket');
    expect(await sheet.isVisible()).toBe(true);
    expect(await sheet.locator('svg desc').textContent()).toMatch(/seams/);
    expect(await page().locator('.head').isVisible()).toBe(false);
    await page().emulateMedia({ media: null });
  });

  it('compares a sample with its prediction and recalibrates the yarn', async () => {
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    await writePlan(page(), SWATCHED);
    await untilAtRest(page());
    await page().getByRole('radio', { name: 'Test knits' }).click();
    await bench().getByLabel('Stitches in 10 cm').fill('20');
    await bench().getByLabel('Rounds in 10 cm').fill('40');
    await expect
      .poll(() => bench().locator('form .rounds-table').textContent())
      .toMatch(/Stitches in 10 cm21\.020\.05\.0 % wider/);
    await bench().getByRole('button', { name: 'Enter in the log' }).click();
    const log = bench().getByRole('region', { name: /worsted/ });
    await expect.poll(() => log.textContent()).toMatch(/20 sts and 40 rounds to 10 cm/);
    await expect.poll(() => log.textContent()).toMatch(/5\.0 % wider than first predicted/);
    expect(await seriousViolations(it_, '.bench')).toEqual([]);
  });

  it('refuses a slip of the pen', async () => {
    await bench().getByLabel('Stitches in 10 cm').fill('2');
    await bench().getByRole('button', { name: 'Enter in the log' }).click();
    await expect.poll(() => bench().getByRole('alert').textContent()).toMatch(/check the figure/);
    expect(await bench().locator('.sample').count()).toBe(1);
  });

  it('puts the gauge into the plan, and a sample left out no longer counts', async () => {
    await bench().getByRole('button', { name: 'Use this gauge in the plan' }).click();
    await expect.poll(() => planText(page())).toContain('Gauge: 20 sts and 40 rounds = 10 cm');
    await expect
      .poll(() => bench().textContent(), { timeout: 90_000 })
      .toMatch(/The plan states this gauge/);
    await bench().getByRole('checkbox').uncheck();
    await expect.poll(() => bench().textContent()).toMatch(/No sample counts/);
    await page().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(() => bench().getByRole('checkbox').isChecked()).toBe(true);
  });

  it('learns from a second sample against the first prediction, and goes back to that', async () => {
    const log = bench().getByRole('region', { name: /worsted/ });
    // The plan states 20 by now; the sample agrees.
    await bench().getByLabel('Stitches in 10 cm').fill('20');
    await bench().getByRole('button', { name: 'Enter in the log' }).click();
    await expect.poll(() => log.textContent()).toMatch(/20 sts and 40 rounds to 10 cm/);
    await expect
      .poll(() => log.textContent())
      .toMatch(/5\.0 % wider than first predicted \(2 samples, spread 0\.0 %\)/);
    await log.getByRole('button', { name: 'Back to the gauge first predicted' }).click();
    await expect.poll(() => planText(page())).toContain('Gauge: 21 sts and 42 rounds = 10 cm');
    await page().getByRole('button', { name: 'Undo' }).first().click();
    await expect.poll(() => planText(page())).toContain('Gauge: 20 sts and 40 rounds = 10 cm');
  });

  it('offers the gauge to a new square', async () => {
    await page().getByRole('button', { name: 'Plans' }).click();
    await page()
      .getByRole('menuitem', { name: /^New square/ })
      .click();
    const dialog = page().getByRole('dialog', { name: 'New square' });
    await dialog.getByRole('radio', { name: 'From test knits' }).click();
    await dialog.getByLabel('Side', { exact: true }).fill('8');
    // At 20 stitches to 10 cm they are 16 a side.
    await expect.poll(() => dialog.locator('.facts').textContent()).toMatch(/Cast on64 sts/);
    await page().keyboard.press('Escape');
  });

  it('changes the plan to another size', async () => {
    await page().getByRole('radio', { name: 'Fabric', exact: true }).click();
    await untilAtRest(page());
    await page().getByRole('button', { name: 'Plans' }).click();
    await page().getByRole('menuitem', { name: 'Another size or gauge' }).click();
    const dialog = page().getByRole('dialog', { name: 'Another size or gauge' });
    await withoutAnswers(page(), 'graded', async () => {
      await dialog.getByLabel('Side, cm').fill('6');
      await expect.poll(() => dialog.textContent()).toMatch(/Measuring….*\d+ stitches cast on/s);
      await dialog.getByRole('button', { name: 'Stop measuring' }).click();
      await expect.poll(() => dialog.textContent()).toMatch(/Stopped: the plan stays as it is/);
      expect(await dialog.locator('.drafting, .facts').count()).toBe(0);
    });
    await dialog.getByRole('button', { name: 'Measure again' }).click();
    await expect
      .poll(() => dialog.locator('.facts').textContent())
      .toMatch(/Comes to[56](\.\d)? cm/);
    const change = dialog.getByRole('button', { name: 'Change the plan' });
    await expect.poll(() => change.isEnabled()).toBe(true);
    const promised = await dialog.locator('.facts').textContent();
    await change.click();
    await untilAtRest(page());
    const side = async () =>
      Number(
        /Finished side([\d.]+)/.exec(
          (await page().locator('.facts').first().textContent()) ?? '',
        )?.[1],
      );
    await expect.poll(async () => Math.abs((await side()) - 6)).toBeLessThan(0.8);
    // Rounds are whole: the nearest that they come to flat may want blocking, and then both say so.
    const verdict = await page().locator('.verdict-word').textContent();
    expect(verdict).toMatch(/flat/i);
    expect(promised).toContain(`Comes to${await side()} cm`);
    expect(promised).toContain(`Verdict${verdict}`);
    expect(it_.errors).toEqual([]);
  });
});

describe('the whole job on a phone, in the dark', () => {
  // What axe has against its parts is asked in the walk by keyboard, on a phone and in the dark too.
  it('never scrolls sideways at 360 px and has no control that a thumb misses', async () => {
    const small = await visit(workshop, {
      plan: TINY_FLAT,
      picture: false,
      viewport: { width: 360, height: 740 },
      colorScheme: 'dark',
      hasTouch: true,
    });
    const { page } = small;
    await untilAtRest(page);
    const narrow = async (where: string) => {
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide, where).toBeLessThanOrEqual(360);
      expect(await missedByThumbs(page), where).toEqual([]);
    };
    const area = page.getByLabel('What lies on the table');
    await area.selectOption('pattern');
    await page.locator('.bench .written').waitFor();
    await narrow('pattern');
    // Folded: the sheet has most of the screen.
    expect((await page.locator('.bench-sheet').boundingBox())?.y).toBeLessThan(180);
    await area.selectOption('blanket');
    await drop(page, 'small.json', SMALL_BLANKET);
    await page.locator('.fit').nth(2).waitFor({ timeout: 90_000 });
    await narrow('blanket');
    await page.getByRole('button', { name: 'Plans' }).click();
    await page.getByRole('menuitem', { name: /^New square/ }).click();
    const dialog = page.getByRole('dialog', { name: 'New square' });
    await dialog.getByLabel('Side', { exact: true }).fill('8');
    await dialog.locator('.facts').waitFor();
    await dialog.getByRole('button', { name: '+ Cable of 6' }).click();
    await narrow('new square');
    const inside = await dialog.evaluate((element) => element.scrollWidth - element.clientWidth);
    expect(inside).toBeLessThanOrEqual(0);
    expect(small.errors).toEqual([]);
    await page.context().close();
  });
});
