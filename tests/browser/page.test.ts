import { summary } from '@limner/core';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import { fixtureReading } from './fixture.ts';
import { drop, emsaText, servedStage, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
let stage: Awaited<ReturnType<typeof servedStage>>;
let page: Page;
let faults: string[];

beforeAll(async () => {
  if (!browser) return;
  stage = await servedStage();
});
afterAll(async () => {
  if (!browser) return;
  await closePages();
  await stage.end();
});

/** A page by itself: those opened before are closed. */
async function open(width = 1400, hash = ''): Promise<void> {
  await closePages();
  ({ page, faults } = await watchedPage(browser!, stage.origin, width));
  await page.goto(`${stage.origin}/${hash}`);
  await page.waitForSelector('.plot .scatterlayer .trace, .fault');
}

const text = (selector: string) => page.locator(selector).first().innerText();

describe.skipIf(!browser)('the reading', () => {
  // One page for all: nothing but folds is changed in it.
  beforeAll(async () => {
    if (browser) await open();
  });

  it('opens with a sentence, then the figure, without a fault and without leaving 127.0.0.1', async () => {
    expect(await text('.summary')).toBe(summary(fixtureReading(Buffer.from('#FORMAT'), 'x').record));
    expect(await text('.summary')).toMatch(/^Lead and tin: required by the counts\./);
    // background, five elements, the escape peak, fit, measured, misfit
    expect(await page.locator('.plot .scatterlayer .trace').count()).toBe(10);
    expect(await page.title()).toBe('Invented grain, yellow of the mantle · Limner');
    await page.waitForTimeout(300);
    expect(faults).toEqual([]);
  });

  it('gives every claim a row with its verdict in words and its numbers', async () => {
    const row = await text('#element-Pb');
    expect(row).toContain('present');
    expect(row).toMatch(/81\s000\s±\s600/);
    expect(row).toMatch(/%\sby mass\s+61\s±\s4/);
    expect(row).toMatch(/rival \(chi-square\)\s+S \(8100\)/);
    expect(row).not.toContain('settling line');
    await page.locator('#element-Pb-why summary').click();
    expect(await text('#element-Pb-why')).toContain('its M and L lines are all there in the expected proportion');
    expect(await text('#settling-Pb-1')).toMatch(/Pb\sL3-M5\s\(Lα1\)\s10\.552\s+5190\s+0\s+5230\s±\s90/);
    expect(await text('#element-Si .verdict')).toContain('open');
    expect(await page.locator('.claim').count()).toBe(5);
  });

  it('says what could hide under what, and answers claims', async () => {
    expect(await text('#could-hide')).toBe('Could hide here, by mass: sulfur under lead, up to 3.1\u00a0%.');
    expect(await text('#claim-S')).toMatch(/^S: cannot tell\. 2 % by mass could hide here/);
  });

  it('pictures a line with and without its element', async () => {
    const picture = page.locator('#element-Sn svg').first();
    expect(await picture.getAttribute('aria-label')).toMatch(
      /^Around 3\.444\skeV: .* expected with tin, .* without its share\.$/,
    );
    const drawn = await picture.locator('path').nth(2).getAttribute('d');
    const broken = await picture.locator('path').nth(1).getAttribute('d');
    expect(highest(drawn!)).toBeLessThan(highest(broken!) - 40); // svg counts downwards
  });

  it('lists pigments with why, look-alikes and what decides, and folds what is ruled out', async () => {
    await page.locator('#material-lead-tin-yellow-i-why summary').click();
    const first = await text('.allowed li');
    expect(first).toMatch(/lead-tin yellow, type I/i);
    expect(first).toContain('Elements alone cannot tell it from lead-tin yellow (type II).');
    // Type I is tetragonal, type II cubic: only crossed polars are needed.
    expect(first).toContain('(lead-tin yellow (type I): anisotropic; lead-tin yellow (type II): isotropic)');
    expect(await page.locator('#ruled-out-naples-yellow').isVisible()).toBe(false);
    await page.locator('#ruled-out > summary').click();
    expect(await text('#ruled-out-naples-yellow')).toContain('Naples yellow: Antimony is not seen');
  });

  it('accounts for every count', async () => {
    for (const part of ['#ledger', '#peaks']) await page.locator(`${part} > summary`).click();
    expect(await text('#ledger-sum')).toMatch(/^sum\s.*100\.0$/s);
    expect(await text('#peak-1')).toMatch(/nothing\s+Cr\sK-L3\s\(Kα1\)$/);
    expect(await text('#open')).toMatch(/Peak at 5\.412\s±\s0\.004\skeV\. 900\s±\s60 counts that nothing explains/);
  });

  it('hands over the record as the JSON it is', async () => {
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#download').click()]);
    expect(download.suggestedFilename()).toBe('yellow grain.msa.limner.json');
    const record = JSON.parse(readFileSync(await download.path(), 'utf8')) as { schema: string; elements: unknown[] };
    expect([record.schema, record.elements.length]).toEqual(['limner-record/1', 10]);
  });

  it('names everything that can be worked for a screen reader', async () => {
    const unnamed = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('button, input, a, [tabindex="0"], svg[role=img]')]
        .filter(
          (at) => !at.getAttribute('aria-label') && !at.textContent?.trim() && !(at as HTMLInputElement).labels?.length,
        )
        .map((at) => at.outerHTML.slice(0, 80)),
    );
    expect(unnamed).toEqual([]);
    expect(await page.locator('h1').count()).toBe(1);
  });
});

describe.skipIf(!browser)('the reading, worked with,', () => {
  // One page, worked with further and further: the keyboard comes to it first, and it becomes narrow at the end.
  beforeAll(async () => {
    if (browser) await open();
  });

  it('can be reached and worked with the keyboard alone', async () => {
    const reached: string[] = [];
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press('Tab');
      reached.push(
        await page.evaluate(() => {
          const at = document.activeElement!;
          return (
            at.getAttribute('aria-label') ?? (at as HTMLInputElement).labels?.[0]?.textContent ?? at.textContent ?? ''
          );
        }),
      );
    }
    for (const wanted of [
      'To the reading',
      'Open a spectrum',
      'Second grain',
      'square root',
      'Closer',
      'Mark the lines of',
      'Spectrum:',
      'mark its lines',
      'Why',
    ])
      expect(
        reached.some((label) => label.includes(wanted)),
        wanted,
      ).toBe(true);
  });

  it('changes the scale of the counts', async () => {
    const ticks = async () => (await page.locator('.plot .ytick text').allTextContents()).join(' ');
    expect(await ticks()).toBe('0 200 1000 2000 5000');
    await page.getByLabel('logarithmic').check();
    await page.waitForFunction(() => document.querySelector('.plot .ytick text')?.textContent === '1');
    expect(await ticks()).toBe('1 10 100 1000');
    await page.getByLabel('linear').check();
    await page.waitForFunction(() => document.querySelectorAll('.plot .ytick text')[1]?.textContent === '2000');
  });

  it('marks lines on demand, by symbol or name, and says when there is no such element', async () => {
    const marks = page.locator('.plot .annotation-text', { hasText: 'Sn L3-M5' });
    expect(await marks.count()).toBe(0);
    await page.getByLabel('Mark the lines of').fill('tin');
    await page.keyboard.press('Enter');
    await marks.waitFor();
    await page.getByRole('button', { name: 'Remove the marks of Sn' }).click();
    await marks.waitFor({ state: 'detached' });
    await page.getByLabel('Mark the lines of').fill('unobtainium');
    await page.keyboard.press('Enter');
    expect(await text('.marks .note')).toContain('There is no element “unobtainium”');
    expect(faults).toEqual([]);
  });

  it('looks closer with the mouse and the keyboard', async () => {
    const axis = async () => (await page.locator('.plot .xtick text').allTextContents()).map(Number);
    const box = (await page.locator('.plot .nsewdrag').first().boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.1, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.25, box.y + 120, { steps: 5 });
    await page.mouse.up();
    await expect.poll(async () => Math.max(...(await axis()))).toBeLessThanOrEqual(5);
    await page.locator('.plot').focus();
    await page.keyboard.press('0');
    await expect.poll(async () => Math.max(...(await axis()))).toBe(20);
    await page.keyboard.press('+');
    await expect.poll(async () => Math.min(...(await axis()))).toBeGreaterThanOrEqual(5);
  });

  it('holds ratios and brightness against what is expected, within the page at 420 px', async () => {
    for (const fold of ['#ratios', '#brightness-identified-fold']) await page.locator(`${fold} > summary`).click();
    expect(await text('#ratios tbody tr')).toMatch(/Sn\/Pb\s+0\.5\s±\s0\.2\s+0\.5\s+lead-tin yellow, type I\s+agrees/);
    expect(await text('#ratio-sources')).toContain('An invented handbook; recalled');
    expect(await text('#brightness')).toMatch(/brighter than chalk, much like lead white/);
    expect(await text('#brightness')).toContain('The composition as identified agrees with it.');
    await page.setViewportSize({ width: 420, height: 900 });
    for (const section of ['#ratios', '#brightness'])
      expect((await page.locator(section).boundingBox())!.width, section).toBeLessThanOrEqual(420);
  });
});

const highest = (path: string): number =>
  Math.min(...[...path.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((match) => Number(match[1])));

describe.skipIf(!browser)('the session', () => {
  it('keeps the chosen spectrum in the address', async () => {
    await open();
    await page.getByRole('link', { name: 'Second grain' }).click();
    await page.waitForFunction(() => document.querySelector('.overline')?.textContent?.startsWith('second.msa'));
    expect(new URL(page.url()).hash).toBe('#second.msa');
    await page.reload();
    await page.waitForSelector('.summary');
    expect(await text('.overline')).toBe('second.msa');
    expect(await text('#conditions-text')).toMatch(/^Beam 20\skeV, /);
    expect(await page.locator('nav a[aria-current=page]').innerText()).toContain('Second grain');
  });

  it('stays where it is when the address names a part of the reading', async () => {
    await open(1400, '#second.msa');
    await page.evaluate(() => (location.hash = '#element-Sn'));
    await page.waitForTimeout(300);
    expect(await text('.overline')).toBe('second.msa');
    expect(await page.evaluate(() => document.getElementById('element-Sn')!.getBoundingClientRect().top)).toBeLessThan(
      900,
    );
  });

  it('shows the fault of a bad file in its place, and the rest still reads', async () => {
    await open(1400, '#broken.msa');
    expect(await text('.fault h1')).toBe('broken.msa cannot be read');
    expect((await text('.fault p')).length).toBeGreaterThan(10);
    await page.getByRole('link', { name: 'Yellow grain' }).click();
    await page.waitForSelector('.summary');
  });
});

describe.skipIf(!browser)('a file dropped on the page', () => {
  beforeEach(async () => open());

  it('is read in the browser and joins the list', async () => {
    let sent = 0;
    page.on('request', (request) => (sent += request.method() === 'POST' ? 1 : 0));
    await drop(page, [{ name: 'dropped.msa', text: emsaText('Dropped grain') }]);
    await page.waitForFunction(
      () => document.querySelector('.overline')?.textContent?.startsWith('dropped.msa'),
      null,
      { timeout: 120_000 },
    );
    await page.waitForSelector('.plot .scatterlayer .trace');
    expect(await page.locator('nav a[aria-current=page]').innerText()).toContain('dropped.msa');
    expect(sent).toBe(0);
    expect(faults).toEqual([]);
  });

  it('that is no spectrum gets one clear error, and the page goes on', async () => {
    await drop(page, [{ name: 'letter.txt', text: 'Dear colleague,\n' }]);
    // As above: the worker may still be starting.
    await page.waitForSelector('.fault', { timeout: 30_000 });
    expect(await text('.fault h1')).toBe('letter.txt cannot be read');
    expect(await text('.fault p')).not.toMatch(/undefined|\bat \w+ \(|\[object/);
    await page.getByRole('link', { name: 'Yellow grain' }).click();
    await page.waitForSelector('.summary');
    expect(faults).toEqual([]);
  });

  it('can be opened with the file button too', async () => {
    await page
      .locator('#choose')
      .setInputFiles({ name: 'chosen.msa', mimeType: 'text/plain', buffer: Buffer.from(emsaText('Chosen')) });
    await page.waitForFunction(() => document.querySelector('.overline')?.textContent?.startsWith('chosen.msa'), null, {
      timeout: 120_000,
    });
  });
});

describe.skipIf(!browser)('light and dark', () => {
  const paper = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const counted = () =>
    page.evaluate(
      () => document.querySelector<SVGElement>('.plot .scatterlayer .trace:last-child .js-line')!.style.stroke,
    );

  it('follows the system, then the choice of the person, which the browser keeps; paper is light', async () => {
    await open();
    const light = [await paper(), await counted()];
    await page.emulateMedia({ colorScheme: 'dark' });
    await expect.poll(counted).not.toBe(light[1]);
    const dark = [await paper(), await counted()];
    expect(dark[0]).not.toBe(light[0]);
    await page.getByLabel('Look').selectOption('light');
    await expect.poll(counted).toBe(light[1]);
    await page.emulateMedia({ colorScheme: 'light' });
    await page.getByLabel('Look').selectOption('dark');
    await page.reload();
    await page.waitForSelector('.plot .scatterlayer .trace');
    expect([await paper(), await counted()]).toEqual(dark);
    await page.emulateMedia({ media: 'print' });
    await expect.poll(counted).toBe(light[1]);
    expect(faults).toEqual([]);
  });
});

describe.skipIf(!browser)('other surfaces', () => {
  it.each([400, 320, 800])('has no sideways scroll at %i px', async (width) => {
    await open(width);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)));
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    const figure = (await page.locator('.plot .main-svg').first().boundingBox())!;
    expect(figure.x + figure.width).toBeLessThanOrEqual(width);
  });

  it('prints: the figure fits the sheet, the tools stay away, the folded lists open', async () => {
    await open();
    await page.setViewportSize({ width: 700, height: 1000 });
    await page.emulateMedia({ media: 'print' });
    await expect
      .poll(async () => (await page.locator('.plot .main-svg').first().boundingBox())!.width)
      .toBeLessThanOrEqual(700);
    expect(await page.locator('.figure-tools').isVisible()).toBe(false);
    expect(await page.locator('nav').isVisible()).toBe(false);
    expect(await page.locator('#limit-list').isVisible()).toBe(true);
    const paper = await page.pdf({ format: 'A4' });
    expect(paper.subarray(0, 5).toString()).toBe('%PDF-');
  });
});
