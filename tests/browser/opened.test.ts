// Files opened in the page, and its tables taken along, in a real Chromium.
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import { drop, emsaText, servedStage, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
const PATIENCE = 120_000;
let stage: Awaited<ReturnType<typeof servedStage>>;
let page: Page;
let faults: string[];

beforeAll(async () => {
  stage = await servedStage();
});
afterAll(async () => {
  await closePages();
  await stage.end();
});

describe.skipIf(!browser)('the page', () => {
  beforeEach(async () => {
    ({ page, faults } = await watchedPage(browser!, stage.origin));
    page.setDefaultTimeout(PATIENCE);
    await page.goto(stage.origin);
    await page.waitForSelector('.plot .scatterlayer .trace');
  }, PATIENCE);
  afterEach(closePages);

  const shows = (title: string) =>
    page.waitForFunction((wanted) => document.querySelector('h1')?.textContent === wanted, title);
  const listed = () => page.locator('#contents .entry-title').allInnerTexts();

  it('keeps an opened file over a reload, until it is closed', async () => {
    await drop(page, [{ name: 'mine.msa', text: emsaText('My own grain') }]);
    await shows('My own grain');
    await page.reload();
    await shows('My own grain');
    expect(await listed()).toContain('mine.msa');
    // Spectra of the folder on show have nothing to be closed.
    expect(await page.locator('#contents button').count()).toBe(1);
    await page.getByRole('button', { name: 'Close mine.msa' }).click();
    await shows('Invented grain, yellow of the mantle');
    expect(await listed()).not.toContain('mine.msa');
    await page.reload();
    await shows('Invented grain, yellow of the mantle');
    expect(await listed()).not.toContain('mine.msa');
    expect(faults).toEqual([]);
  });

  it('lays other spectra over this one, each scaled as asked, and takes them away one by one', async () => {
    const over = () =>
      page.evaluate(() =>
        (document.querySelector('.plot') as unknown as { data: { name: string; line: { dash?: string } }[] }).data
          .filter(({ name }) => name === 'Second grain')
          .map(({ line }) => line.dash),
      );
    for (const to of ['counts', 'peak']) {
      await page.locator('#overlay').focus();
      await page.locator('#overlay').selectOption({ label: 'Second grain' });
      await page.getByLabel('Scaled to').selectOption(to);
      await page.locator('#lay-over').click();
      await page
        .getByText(`Second grain, scaled to ${to === 'counts' ? 'all counts' : 'peak at the cursor'}.`)
        .waitFor();
    }
    expect(await page.locator('.laid li').allInnerTexts()).toEqual([
      expect.stringContaining('Dotted line: Second grain'),
      expect.stringContaining('Dash-dotted line: Second grain'),
    ]);
    expect(await over()).toEqual(['dot', 'dashdot']);
    await page.getByRole('button', { name: 'Remove: Second grain' }).first().click();
    await page.waitForFunction(() => document.querySelectorAll('.laid li').length === 1);
    await expect.poll(over).toEqual(['dot']);
    // What lies there is in the address, and found again.
    expect(new URL(page.url()).hash).toMatch(/^#yellow%20grain\.msa\?over=peak@\d+:second\.msa$/);
    await page.reload();
    await expect.poll(over, { timeout: PATIENCE }).toEqual(['dot']);
    expect(await page.locator('.laid li').count()).toBe(1);
    expect(faults).toEqual([]);
  });

  it('hands each table over, to be pasted and as CSV', async () => {
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'], { origin: stage.origin });
    const name = 'Elements that are present or open';
    await page.getByRole('button', { name: `Copy the table: ${name}` }).click();
    await page.waitForFunction(() =>
      [...document.querySelectorAll('.table-tools [role=status]')].some((one) => one.textContent === 'copied'),
    );
    const pasted = (await page.evaluate(() => navigator.clipboard.readText()))
      .split('\n')
      .map((row) => row.split('\t'));
    expect(pasted.map(([symbol]) => symbol)).toEqual(expect.arrayContaining(['Pb', 'Sn', 'Si']));
    expect(new Set(pasted.map((row) => row.length)).size).toBe(1);
    const [csv] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: `Save the table as CSV: ${name}` }).click(),
    ]);
    expect(csv.suggestedFilename()).toBe(`${name}.csv`);
    expect(readFileSync(await csv.path(), 'utf8').split('\r\n')[1]).toContain('Pb,');
    const tables = await page.locator('table').count();
    expect(await page.locator('.table-tools').count()).toBeGreaterThanOrEqual(Math.min(tables, 3));
    expect(faults).toEqual([]);
  });
});
