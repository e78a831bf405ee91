// What can be done on the page: looked closer, marked, opened, dropped, given another look.
import type { Browser, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchChromium } from './chromium.ts';
import { drop, emsaText } from './stage.ts';
import { stagedPage } from './staged-page.ts';

const browser: Browser | null = await launchChromium();
const staged = stagedPage(browser);
let page: Page;
let faults: string[];
const open = async (width?: number, hash?: string): Promise<void> => {
  ({ page, faults } = await staged(width, hash));
};
const text = (selector: string) => page.locator(selector).first().innerText();

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
      'Skip to the reading',
      'Open a spectrum',
      'Second grain',
      'square root',
      'Zoom in',
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
    expect(await text('#brightness')).toContain('The composition found agrees with it.');
    await page.setViewportSize({ width: 420, height: 900 });
    for (const section of ['#ratios', '#brightness'])
      expect((await page.locator(section).boundingBox())!.width, section).toBeLessThanOrEqual(420);
  });
});

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
    await page.getByLabel('Colours').selectOption('light');
    await expect.poll(counted).toBe(light[1]);
    await page.emulateMedia({ colorScheme: 'light' });
    await page.getByLabel('Colours').selectOption('dark');
    await page.reload();
    await page.waitForSelector('.plot .scatterlayer .trace');
    expect([await paper(), await counted()]).toEqual(dark);
    await page.emulateMedia({ media: 'print' });
    await expect.poll(counted).toBe(light[1]);
    expect(faults).toEqual([]);
  });
});
