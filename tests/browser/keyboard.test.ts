// One walk through the page with the keyboard alone, in a real Chromium: everything is reached in order, the focus is seen, Escape folds, nothing traps.
// WCAG 2.2: 2.1.1 keyboard, 2.1.2 no keyboard trap, 2.4.3 focus order, 2.4.7 focus visible, 2.4.11 focus not obscured.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { closePages, launchChromium } from './chromium.ts';
import { servedFiles, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
let stage: Awaited<ReturnType<typeof servedFiles>>;
let page: Page;
let faults: string[];

beforeAll(async () => {
  const sheet = 'file,sample,layer,particle\na.msa,S1,1,g1\nb.msa,S1,2,g1\n';
  stage = await servedFiles({ 'a.msa': emsaText('PbCO3', 1), 'b.msa': emsaText('HgS', 2), 'samples.csv': sheet }, true);
  if (!browser) return;
  ({ page, faults } = await watchedPage(browser, stage.origin));
});
afterAll(async () => {
  await closePages();
  await stage.end();
});

/** Runs in the page: what has the focus, and what is wrong with how it is shown. */
function focused(): { at: string; wrong: string } | null {
  const at = document.activeElement as HTMLElement;
  if (at === document.body) return null;
  const { tagName, id } = at;
  const name = at.getAttribute('aria-label') ?? (at as HTMLInputElement).labels?.[0]?.innerText ?? at.innerText;
  // The field that opens a file is drawn by the words around it.
  const seen = getComputedStyle(at).opacity === '0' ? at.parentElement! : at;
  const { outlineStyle, outlineWidth } = getComputedStyle(seen);
  const { top, bottom, left, right } = seen.getBoundingClientRect();
  const isShown = outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
  const isInSight = bottom > 0 && top < innerHeight && right > 0 && left < innerWidth;
  const told = `${tagName.toLowerCase()}${id && `#${id}`} ${name.trim().split('\n')[0]}`.slice(0, 70);
  return { at: told, wrong: `${isShown ? '' : 'no outline '}${isInSight ? '' : 'out of sight'}`.trim() };
}

/** The next Tab goes to the first stop of the page. */
const fromTheTop = (): Promise<void> =>
  page.evaluate(() => {
    document.body.tabIndex = -1;
    document.body.focus();
    document.body.removeAttribute('tabindex');
  });

/** All that Tab reaches, from the top of the page until the focus leaves it. */
async function walk(): Promise<string[]> {
  await fromTheTop();
  const stops: string[] = [];
  const wrong: string[] = [];
  for (let i = 0; i < 400; i++) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(focused);
    if (!stop) break;
    stops.push(stop.at);
    if (stop.wrong) wrong.push(`${stop.at}: ${stop.wrong}`);
  }
  expect(wrong).toEqual([]);
  expect(stops.length, 'the focus leaves the page at its end').toBeLessThan(400);
  return stops;
}

/** Goes on with Tab until the focus is on what the selector names. */
async function tabTo(selector: string): Promise<void> {
  for (let i = 0; i < 250; i++) {
    if (await page.evaluate((wanted) => document.activeElement!.matches(wanted), selector)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not reach ${selector}; the focus is on ${JSON.stringify(await page.evaluate(focused))}.`);
}

const press = async (...keys: readonly string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key);
};
const isRead = () => page.waitForFunction(() => !document.querySelector('main')!.hasAttribute('aria-busy'));
const focusedId = () => page.evaluate(() => document.activeElement!.id);

describe.skipIf(!browser)('with the keyboard alone', () => {
  it('the session is sorted and filtered, and leads to a reading', async () => {
    await page.goto(stage.origin);
    await page.waitForSelector('.matrix');
    const stops = await walk();
    expect(stops[0]).toMatch(/^a Skip to the reading/);
    for (const name of [
      'Open a spectrum',
      'Colours',
      'Text',
      'Element',
      'Spectrum: sort by',
      'S1, layer 2, g1',
      'Copy the table',
    ])
      expect(stops.filter((stop) => stop.includes(name)).length, name).toBeGreaterThan(0);
    await tabTo('.matrix th button[aria-label^="Hg"]');
    await press('Enter');
    // The table is made anew, the focus stays on its heading.
    expect(await page.evaluate(() => document.activeElement!.textContent)).toBe('Hg');
    await press('Shift+Tab');
    await tabTo('.matrix tbody a');
    await press('Enter');
    await page.waitForSelector('#element-Hg');
  });

  it('a reading shows its focus at every stop, in order', async () => {
    await page.waitForSelector('.plot .scatterlayer .trace');
    const stops = await walk();
    const order = [
      'a Skip to the reading',
      'spectra',
      'a The session',
      'Question this reading',
      'square root',
      'Zoom in',
      '#mark',
      '#overlay',
      '#grey',
      'PNG',
      'Spectrum:',
      'exclude it',
      'Why',
      '#download',
    ];
    const places = order.map((name) => stops.findIndex((stop) => stop.includes(name)));
    expect(places.filter((place) => place < 0).length, JSON.stringify(stops)).toBe(0);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it('the skip link leads past the head', async () => {
    await fromTheTop();
    await tabTo('.skip');
    await press('Enter');
    expect(await focusedId()).toBe('reading');
    await press('Tab');
    expect(await page.evaluate(() => document.querySelector('main')!.contains(document.activeElement))).toBe(true);
  });

  it('a reading is questioned, the answer undone, and the panel left with Escape', async () => {
    await tabTo('#argue > summary');
    await press('Enter');
    await tabTo('#argue-claim');
    await page.keyboard.type('sulfur');
    await press('Enter');
    await page.waitForSelector('#claim-S');
    await isRead();
    // The answer is new, the focus where it was.
    expect(await focusedId()).toBe('argue-claim');
    await tabTo('.changes button');
    await tabTo('#undo');
    await press('Enter');
    await page.waitForSelector('#claim-S', { state: 'detached' });
    await isRead();
    await tabTo('#argue-claim');
    await press('Escape');
    expect(await page.evaluate(() => document.activeElement!.textContent)).toBe('Question this reading');
    expect(await page.locator('#argue').getAttribute('open')).toBeNull();
  });

  it('the figure is looked at closer, compared, overlaid and saved', async () => {
    await page.waitForSelector('.plot .scatterlayer .trace');
    const range = () =>
      page.evaluate(
        () =>
          (document.querySelector('.plot') as unknown as { layout: { xaxis: { range: number[] } } }).layout.xaxis.range,
      );
    const whole = await range();
    await tabTo('input[name=scale]');
    await press('ArrowRight');
    await tabTo('#mark');
    await page.keyboard.type('lead');
    await press('Enter');
    await page.locator('.chips button', { hasText: 'Pb' }).waitFor();
    await tabTo('#overlay');
    // The third of the list: nothing, the planned measurement, the other spectrum.
    await press('ArrowDown', 'ArrowDown');
    await tabTo('#lay-over');
    await press('Enter');
    await page.waitForSelector('.laid li');
    await tabTo('#grey');
    await press('Space');
    await page.waitForFunction(() => /^Grey line/.test(document.querySelector('.spectrum figcaption')!.textContent));
    await tabTo('button[aria-label$="SVG"]');
    const [svg] = await Promise.all([page.waitForEvent('download'), press('Enter')]);
    expect(readFileSync(await svg.path(), 'utf8')).toContain('Grey line');
    await tabTo('.laid button');
    await tabTo('.plot');
    await press('+', 'ArrowRight', 'Shift+PageUp');
    await expect.poll(range).not.toEqual(whole);
    expect(await page.locator('.cursor').innerText()).toMatch(/^\d+\.\d{3}\skeV: /);
    await press('0');
    await expect.poll(range).toEqual(whole);
    await tabTo('#element-Hg button.quiet:nth-of-type(2)');
    await press('Enter');
    await page.waitForSelector('.comparison button');
  });

  it('a note is made and its form left with Escape', async () => {
    await tabTo('#element-Hg-notes > summary');
    await press('Enter', 'Tab');
    await press('ArrowDown');
    await tabTo('#element-Hg-notes [name=reason]');
    await page.keyboard.type('the lines stand');
    await tabTo('#element-Hg-notes [name=by]');
    await page.keyboard.type('A. Reader');
    await press('Enter');
    await page.waitForSelector('#element-Hg-notes li');
    expect(readFileSync(join(stage.folder, '.limner-notes.json'), 'utf8')).toContain('the lines stand');
    await press('Escape');
    expect(await page.locator('#element-Hg-notes').getAttribute('open')).toBeNull();
    expect(await page.evaluate(() => document.activeElement!.tagName)).toBe('SUMMARY');
  });

  it('a file is opened and closed, and the look chosen', async () => {
    await fromTheTop();
    // Asked for well before the key: the browser must know by then that the page's test takes the dialog.
    const chooser = page.waitForEvent('filechooser');
    await tabTo('.skip');
    await tabTo('#choose');
    await press('Enter');
    const file = { name: 'mine.msa', mimeType: 'text/plain', buffer: Buffer.from(emsaText('CaCO3', 3)) };
    await (await chooser).setFiles(file);
    await page.waitForSelector('#element-Ca');
    await isRead();
    await tabTo('.look select');
    await press('ArrowDown', 'ArrowDown');
    expect(await page.evaluate(() => getComputedStyle(document.documentElement).colorScheme)).toBe('dark');
    await tabTo('#contents button');
    await press('Enter');
    await page.waitForSelector('.matrix');
    expect(faults).toEqual([]);
  });
});
