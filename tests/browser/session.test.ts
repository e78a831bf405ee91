// The session view in a real Chromium: a folder of simulated spectra with a sample sheet, read in the background by the server.
import { readdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { closePages, launchChromium } from './chromium.ts';
import { drop, servedFiles, watchedPage } from './stage.ts';

const FILES: Readonly<Record<string, string>> = {
  'a.msa': emsaText('PbCO3', 1),
  'b.msa': emsaText('PbCO3', 2),
  'c.msa': emsaText('HgS', 3),
  'd.msa': emsaText('CaCO3', 4),
  'broken.msa': 'This is a letter, not a spectrum.\n',
  'samples.csv':
    'file,sample,layer,particle\na.msa,S1,2,g1\nb.msa,S1,2,g2\nc.msa,S1,2,g3\nd.msa,S1,1,g1 <i>tilted</i>\nbroken.msa,S1,1,g2\n',
};

const browser: Browser | null = await launchChromium();
let stage: Awaited<ReturnType<typeof servedFiles>>;
let page: Page;
let faults: string[];

beforeAll(async () => {
  stage = await servedFiles(FILES, true);
});
afterAll(async () => {
  await closePages();
  await stage.end();
});

async function open(width = 1300): Promise<void> {
  ({ page, faults } = await watchedPage(browser!, stage.origin, width));
  await page.goto(stage.origin);
  await page.waitForSelector('.matrix, .fault', { timeout: 120_000 });
}

const rows = () => page.locator('.matrix tbody th').allInnerTexts();

it('is read without a trace in its folder, and tells what it found', async () => {
  let state: { state: string; overview?: { spectra: { file: string }[]; failures: { file: string }[] } };
  do {
    await new Promise((resolve) => setTimeout(resolve, 200));
    state = (await stage.app.inject({ url: '/api/session', headers: { host: '127.0.0.1' } })).json();
  } while (state.state === 'reading');
  expect(state.overview?.spectra.map(({ file }) => file)).toEqual(['a.msa', 'b.msa', 'c.msa', 'd.msa']);
  expect(state.overview?.failures.map(({ file }) => file)).toEqual(['broken.msa']);
  expect(readdirSync(stage.folder).sort()).toEqual(Object.keys(FILES).sort());
});

/** A spectrum from a file that counts in channels and does not name its beam. */
const inChannels = emsaText('ZnO', 9, 100_000, 1024)
  .replace(/^#XPERCHAN.*\n/m, '#XPERCHAN    : 1\n')
  .replace(/^#XUNITS.*$/m, '#XUNITS      : channels')
  .replace(/^#BEAMKV.*\n/m, '');

it('asks for numbers where numbers are stated', async () => {
  const ask = (query: string) =>
    stage.app.inject({ url: `/api/spectra/a.msa/reading?${query}`, headers: { host: 'localhost' } });
  for (const wrong of ['beam=-3', 'beam=0', 'beam=x', 'gain=10', 'gain=10&offset=1e9', 'other=1'])
    expect((await ask(wrong)).statusCode, wrong).toBe(400);
  const { record } = (await ask('beam=18')).json<{ record: { conditions: { beamKev: unknown } } }>();
  expect(record.conditions.beamKev).toEqual({ value: 18, origin: 'option' });
});

describe.skipIf(!browser)('the session view', () => {
  // One page for all: sorted and filtered further and further.
  beforeAll(async () => {
    if (browser) await open();
  });

  it('opens with a sentence, the layers and the matrix, without a fault and without leaving 127.0.0.1', async () => {
    expect(await page.locator('.summary').innerText()).toMatch(/^4\sspectra from 2\slayers of 1\ssample\./);
    expect(await page.locator('.summary').innerText()).toMatch(/1\sfile could not be read/);
    expect(await page.locator('.layers').count()).toBe(1);
    const report = await page.request.get(new URL('report.html', page.url()).href);
    expect(await report.text()).toContain('<h1>Readings of 4\u00a0spectra</h1>');
    expect(await page.locator('a[href="report.html"]').count()).toBe(1);
    expect(await rows()).toEqual([
      'S1, layer 1, g1 <i>tilted</i>',
      'S1, layer 2, g1',
      'S1, layer 2, g2',
      'S1, layer 2, g3',
    ]);
    expect(await page.locator('.failures').innerText()).toContain('broken.msa: ');
    expect(faults).toEqual([]);
  });

  it('says in words what a cell of the matrix shows', async () => {
    const cell = page.locator('.matrix tbody tr', { hasText: 'g3' }).locator('td.present', { hasText: 'Hg' });
    expect(await cell.innerText()).toMatch(/Hg present: \d+\s±\s\d+\s% by mass, [\d\s]+±[\d\s]+counts/);
  });

  it('sorts by an element, and says so', async () => {
    await page.getByRole('button', { name: 'Sort by mercury' }).click();
    expect((await rows())[0]).toBe('S1, layer 2, g3');
    expect(await page.locator('th[aria-sort="descending"]').innerText()).toMatch(/^Hg/);
    await page.getByRole('button', { name: 'Sort by mercury' }).click();
    expect((await rows()).at(-1)).toBe('S1, layer 2, g3');
  });

  it('filters by layer, element and text, together', async () => {
    await page.locator('select[name=layer]').selectOption('2');
    expect((await rows()).length).toBe(3);
    await page.locator('select[name=element]').selectOption('Pb');
    expect(await rows()).toEqual(['S1, layer 2, g1', 'S1, layer 2, g2']);
    await page.locator('input[name=text]').fill('b.msa');
    expect(await rows()).toEqual(['S1, layer 2, g2']);
    await page.locator('input[name=text]').fill('nothing of that name');
    expect(await page.locator('.results').innerText()).toContain('No spectrum matches');
  });
});

describe.skipIf(!browser)('from the session view', () => {
  afterEach(closePages);

  it('goes to a reading, on to the next, and back with what was chosen', async () => {
    await open();
    await page.locator('select[name=element]').selectOption('Pb');
    await page.locator('.matrix tbody a').first().click();
    await page.waitForSelector('.reading h1');
    expect(await page.locator('.reading h1').innerText()).toBe('Invented PbCO3');
    await page.locator('.along a', { hasText: 'Next' }).click();
    await page.waitForURL(/#b\.msa$/);
    await page.waitForSelector('.along a:has-text("Previous")');
    await page.goBack();
    await page.goBack();
    await page.waitForSelector('.matrix');
    expect((await rows()).length).toBe(2);
    expect(faults).toEqual([]);
  });

  it('leads from a file that was not read to what is wrong with it', async () => {
    await open();
    await page.locator('.failures a').click();
    await page.waitForSelector('.fault form.given');
    expect(await page.locator('.fault').innerText()).toContain('broken.msa cannot be read');
  });

  it('is no wider than a narrow page', async () => {
    await open(400);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(400);
  });

  it('asks for the axis of a dropped file that has none, and reads it', async () => {
    await open();
    await drop(page, [{ name: 'channels.msa', text: inChannels }]);
    await page.waitForSelector('.fault form.given');
    // It says what to do here, not in a terminal.
    expect(await page.locator('.fault').innerText()).toMatch(/Give the axis yourself: (?!.*--)/s);
    await page.locator('.fault input[name=beam]').fill('20');
    await page.locator('.fault input[name=gain]').fill('20');
    await page.getByRole('button', { name: 'Read the file with these' }).click();
    await page.waitForSelector('.reading h1');
    expect(await page.locator('.summary').innerText()).toMatch(/[Zz]inc/);
  });

  it('calibrates a file in bare channels by two peaks on its own counts', async () => {
    await open();
    await drop(page, [{ name: 'channels.msa', text: inChannels }]);
    const picture = page.locator('.calibrate svg');
    await picture.waitFor();
    // The oxygen peak is the tallest at low channels; zinc K-L3 is typed beside its channel.
    const box = (await picture.boundingBox())!;
    const channels = await picture.locator('path.counts').evaluate((path) => path.getAttribute('d')!.split('L').length);
    await picture.click({ position: { x: ((525 / 20) * box.width) / (channels - 1), y: box.height / 2 } });
    const channel = page.getByLabel('Channel of peak 1');
    expect(Math.abs(Number(await channel.inputValue()) - 525 / 20)).toBeLessThan(0.5);
    await page.getByLabel('Channel of peak 2').fill(String(8631 / 20));
    for (const [i, element] of ['oxygen', 'Zn'].entries()) {
      const field = page.getByLabel('element').nth(i);
      await field.fill(element);
      await field.press('Tab');
      await page.waitForFunction(
        (n) => (document.querySelectorAll<HTMLSelectElement>('.calibrate select')[n].value ?? '') !== '',
        i,
      );
    }
    await page.locator('.calibrate input[name=beam]').fill('20');
    await page.getByRole('button', { name: 'Read with this axis' }).click();
    await page.waitForSelector('.reading h1');
    expect(await page.locator('.summary').innerText()).toMatch(/[Zz]inc/);
    const gain = Number(new URLSearchParams(new URL(page.url()).hash.split('?')[1]).get('gain'));
    expect(Math.abs(gain - 20)).toBeLessThan(0.05);
    expect(await page.locator('.changes button').allInnerTexts()).toEqual(
      expect.arrayContaining([expect.stringMatching(/^axis: /)]),
    );
    expect(faults).toEqual([]);
  });
});
