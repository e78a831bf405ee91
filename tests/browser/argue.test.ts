// Arguing with a reading in a real Chromium: changes are read in the browser, undone, redone, kept in the address and in the saved record.
import type { LimnerRecord } from '@limner/core';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { closePages, launchChromium } from './chromium.ts';
import { servedFiles, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
/** Core runs in the browser here, on a machine that may be busy. */
const PATIENCE = { timeout: 120_000 };
let stage: Awaited<ReturnType<typeof servedFiles>>;
let page: Page;
let faults: string[];

beforeAll(async () => {
  stage = await servedFiles({ 'white.msa': emsaText('PbCO3', 1) });
});
afterAll(async () => {
  await closePages();
  await stage.end();
});

async function open(hash = ''): Promise<void> {
  ({ page, faults } = await watchedPage(browser!, stage.origin));
  page.setDefaultTimeout(PATIENCE.timeout);
  await page.goto(`${stage.origin}/${hash}`);
  await page.waitForSelector('.plot .scatterlayer .trace');
}

/** Waits until the page has read again. */
const read = (): Promise<unknown> =>
  page.waitForFunction(() => !document.querySelector('main')!.hasAttribute('aria-busy'), null, PATIENCE);
const changed = (): Promise<string[]> => page.locator('.changes button').allInnerTexts();
const query = (): string => new URL(page.url()).hash.split('?')[1] ?? '';

/** Runs in the page: colours of the figure that are no greys. */
const drawnColours = (): string[] => {
  const { data } = document.querySelector('.plot') as unknown as {
    data: { line: { color: string }; fillcolor?: string; fillpattern?: { fgcolor: string } }[];
  };
  const all = data.flatMap(({ line, fillcolor, fillpattern }) => [line.color, fillcolor, fillpattern?.fgcolor]);
  const isGrey = (hex: string): boolean => /^#(..)\1\1/.test(hex);
  return [...new Set(all.filter((one) => one !== undefined && !isGrey(one)))] as string[];
};

describe.skipIf(!browser)('arguing with a reading', () => {
  afterEach(closePages);

  it('lays the measurement over the figure that a plan proposes, under both explanations', async () => {
    await open('#white.msa?claim=S');
    await page.waitForSelector('#claim-S');
    await read();
    await page.locator('#overlay').focus();
    await page.locator('#overlay').selectOption({ label: 'the next measurement, as planned' });
    await page.locator('#lay-over').click();
    await page.waitForSelector('.laid li');
    expect(await page.locator('.laid li').allInnerTexts()).toEqual([
      expect.stringMatching(/^Dotted line: planned at \d+\skeV with [\d\s]+ counts, with S, scaled to all counts\./),
      expect.stringMatching(
        /^Dash-dotted line: planned at .+ counts, (without S|with .+ in its place), scaled to all counts\./,
      ),
    ]);
    const differ = await page.evaluate(() => {
      const { data } = document.querySelector('.plot') as unknown as { data: { name: string; y: number[] }[] };
      const [a, b] = data.filter(({ name }) => name.startsWith('planned'));
      return a.y.some((value, i) => Math.abs(value - b.y[i]) > 1);
    });
    expect(differ).toBe(true);
    expect(faults).toEqual([]);
  });

  it('tests a claim and a bar, greys the old answer, undoes and redoes, and saves what was changed', async () => {
    await open();
    await page.locator('#argue > summary').click();
    await page.locator('#argue-claim').fill('sulfur');
    await page.keyboard.press('Enter');
    await page.waitForSelector('main[aria-busy]');
    await page.waitForSelector('#claim-S');
    await read();
    expect(await changed()).toEqual(['S claimed ×']);
    expect(query()).toBe('claim=S');
    expect(await page.locator('.told').innerText()).not.toBe('');

    await page.locator('#element-Pb').getByRole('button', { name: 'exclude it' }).click();
    await page.waitForSelector('#without');
    await read();
    expect(query()).toBe('claim=S&without=Pb');
    expect(await page.locator('#claim-S').count()).toBe(1);

    await page.locator('#undo').click();
    await page.waitForSelector('#without', { state: 'detached' });
    await read();
    expect(await changed()).toEqual(['S claimed ×']);
    await page.locator('#redo').click();
    await page.waitForSelector('#without');
    await read();

    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#download').click()]);
    const record = JSON.parse(readFileSync(await download.path(), 'utf8')) as LimnerRecord;
    expect(record.changes).toMatchObject({ claim: [{ symbol: 'S', massFraction: null }], without: ['Pb'], mount: [] });
    expect(record.claims.map(({ symbol }) => symbol)).toEqual(['S']);

    for (const name of ['Remove: S claimed', 'Remove: Pb excluded']) {
      await page.getByRole('button', { name }).click();
      await page.waitForFunction((gone) => !document.querySelector(`[aria-label="${gone}"]`), name, PATIENCE);
      await read();
    }
    expect([query(), await changed()]).toEqual(['', []]);
    expect(faults).toEqual([]);
  });

  it('finds the changes of an address again, and says when an element is none', async () => {
    await open('#white.msa?mount=carbon-stub&beam=18&dated=1500');
    expect(await changed()).toEqual(['mounting: carbon stub ×', 'beam 18\u00a0keV ×', 'stated year 1500 ×']);
    expect(await page.locator('#conditions-text').innerText()).toMatch(/^Beam 18\s/);
    await page.locator('#argue-without').fill('unobtainium');
    await page.keyboard.press('Enter');
    expect(await page.locator('#argue .note').allInnerTexts()).toContain(
      'There is no element “unobtainium”. Type a symbol such as Sn, or a name.',
    );
    expect(faults).toEqual([]);
  });

  it('takes what else was seen, and refuses words that it does not know', async () => {
    await open();
    await page.locator('#argue > summary').click();
    const seen = page.getByRole('form', { name: 'What else was seen' });
    await seen.locator('input').fill('greenish');
    await page.keyboard.press('Enter');
    await page.waitForFunction(
      () => document.querySelector('#argue form[aria-label="What else was seen"] .note')!.textContent,
    );
    expect(await seen.locator('.note').innerText()).toContain('greenish');
    await seen.locator('input').fill('white');
    await page.keyboard.press('Enter');
    await page.waitForSelector('#seen');
    await read();
    expect(query()).toBe('seen.colour=white');
    expect(await page.locator('#seen-told').innerText()).toMatch(/white/i);
    expect(faults).toEqual([]);
  });
});

describe.skipIf(!browser)('the figure of a reading', () => {
  // One page for all: what is drawn over the spectrum is taken away again.
  beforeAll(async () => {
    if (browser) await open();
  });

  it('draws the fit without an element over the spectrum, and saves the figure with its caption', async () => {
    await page.locator('#element-Pb').getByRole('button', { name: 'show the fit without it' }).click();
    await page.waitForSelector('.comparison button');
    expect(await page.locator('.comparison').innerText()).toMatch(/^Dashed line: the best fit without Pb\./);
    const [svg] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the figure as SVG' }).click(),
    ]);
    expect(svg.suggestedFilename()).toBe('white.msa.svg');
    const text = readFileSync(await svg.path(), 'utf8');
    expect(text).toMatch(/^<svg [^>]*width="170mm"/);
    for (const part of ['Dashed line: the best fit without Pb', 'SHA-256', 'energy, keV', 'M5-N7'])
      expect(text).toContain(part);
    await page.getByLabel('in grey, for print').check();
    await page.waitForFunction(() => /^Grey line/.test(document.querySelector('.spectrum figcaption')!.textContent));
    expect(await page.evaluate(drawnColours)).toEqual([]);
    const [png] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the figure as PNG' }).click(),
    ]);
    const bytes = readFileSync(await png.path());
    expect([bytes.subarray(1, 4).toString(), bytes.readUInt32BE(16)]).toEqual(['PNG', 2008]);
    await page.locator('.comparison button').click();
    await page.waitForFunction(() => document.querySelector('.comparison')!.textContent === '');
    expect(faults).toEqual([]);
  });

  it('says in words what is under the cursor, moved with the keyboard', async () => {
    await page.locator('.plot').focus();
    await page.keyboard.press('Shift+PageUp');
    await page.waitForFunction(() =>
      /Lines that could be here/.test(document.querySelector('.cursor')!.textContent ?? ''),
    );
    expect(await page.locator('.cursor').innerText()).toMatch(/^\d+\.\d{3}\skeV: [\d\s]+ counts, fit /);
  });

  it('draws an element against the best fit without it', async () => {
    const picture = page.locator('#element-Pb svg').first();
    await page.waitForFunction(
      () =>
        document.querySelector('#element-Pb svg')!.getAttribute('aria-label')!.includes('in the best fit without it'),
      null,
      PATIENCE,
    );
    expect(await picture.locator('.without').count()).toBe(1);
    expect(faults).toEqual([]);
  });
});
