// Notes on a reading in a real Chromium: made, kept beside the spectra, found again, and no part of the reading.
import type { LimnerRecord } from '@limner/core';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import { drop, emsaText, servedStage, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
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

async function note(on: Locator, answer: string, reason: string): Promise<void> {
  await on.locator('.notes > summary').click();
  await on.locator('.notes select').selectOption(answer);
  await on.locator('.notes [name=reason]').fill(reason);
  const name = on.locator('.notes [name=by]');
  if ((await name.inputValue()) === '') await name.fill('A. Reader');
  await page.keyboard.press('Enter');
  await on.locator('.notes li').first().waitFor();
}

describe.skipIf(!browser)('notes', () => {
  it('on an element and a material are kept, found again, withdrawn, and alter nothing', async () => {
    ({ page, faults } = await watchedPage(browser!, stage.origin));

    await page.goto(stage.origin);
    await page.waitForSelector('.plot .scatterlayer .trace');
    const summary = await page.locator('.summary').innerText();
    await note(page.locator('#element-Sn'), 'accepted', 'four lines, <b>each</b> clear');
    // The name is kept for the next note.
    await note(page.locator('#material-lead-tin-yellow-i'), 'rejected', 'the hue is wrong');
    expect(await page.locator('#element-Sn .notes li').allInnerTexts()).toEqual([
      expect.stringMatching(/^accepted by A\. Reader, \d{4}-\d\d-\d\d \d\d:\d\d\sUTC: four lines, <b>each<\/b> clear$/),
    ]);
    const { notes } = JSON.parse(readFileSync(join(stage.folder, '.limner-notes.json'), 'utf8')) as {
      notes: Record<string, string>[];
    };
    expect(notes.map(({ file, id, answer }) => [file, id, answer])).toEqual([
      ['yellow grain.msa', 'Sn', 'accepted'],
      ['yellow grain.msa', 'lead-tin-yellow-i', 'rejected'],
    ]);

    await page.reload();
    await page.waitForSelector('#element-Sn .notes li', { state: 'attached' });
    expect(await page.locator('#element-Sn .notes summary').innerText()).toBe('1\u00a0note: accepted by A. Reader');
    expect(await page.locator('#element-Pb .notes summary').innerText()).toBe('Make a note');
    expect(await page.locator('.summary').innerText()).toBe(summary);
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#download').click()]);
    const record = JSON.parse(readFileSync(await download.path(), 'utf8')) as LimnerRecord;
    expect(JSON.stringify(record)).not.toContain('A. Reader');

    await page.locator('#element-Sn .notes summary').click();
    await page.locator('#element-Sn .notes select').selectOption('withdrawn');
    await page.locator('#element-Sn .notes button').click();
    await page.waitForFunction(() => !document.querySelector('#element-Sn .notes li'));
    expect(faults).toEqual([]);
  });

  it('say why there are none on a file that was opened in the page', async () => {
    ({ page, faults } = await watchedPage(browser!, stage.origin));
    page.setDefaultTimeout(120_000);
    await page.goto(stage.origin);
    await page.waitForSelector('.reading h1');
    await drop(page, [{ name: 'mine.msa', text: emsaText('Mine') }]);
    await page.waitForFunction(() => document.querySelector('h1')?.textContent === 'Mine');
    expect(await page.locator('.notes').count()).toBe(0);
    expect(await page.locator('.reading').innerText()).toContain('This file was opened in the page only');
  });
});
