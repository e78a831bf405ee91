// What the page of one spectrum shows, on the screen and on paper.
import { summary } from '@limner/core';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from './chromium.ts';
import { fixtureReading } from './fixture.ts';
import { stagedPage } from './staged-page.ts';

const browser: Browser | null = await launchChromium();
const staged = stagedPage(browser);
let page: Page;
let faults: string[];
const open = async (width?: number, hash?: string): Promise<void> => {
  ({ page, faults } = await staged(width, hash));
};
const text = (selector: string) => page.locator(selector).first().innerText();

describe.skipIf(!browser)('the reading', () => {
  // One page for all: nothing but folds is changed in it.
  beforeAll(async () => {
    if (browser) await open();
  });

  it('opens with a sentence, then the figure, without a fault and without leaving 127.0.0.1', async () => {
    expect(await text('.summary')).toBe(summary(fixtureReading(Buffer.from('#FORMAT'), 'x').record));
    expect(await text('.summary')).toMatch(/^The counts require lead and tin\./);
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
    expect(row).not.toContain('line that settles it');
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

const highest = (path: string): number =>
  Math.min(...[...path.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((match) => Number(match[1])));

describe.skipIf(!browser)('other surfaces', () => {
  it.each([400, 320, 800])('has no sideways scroll at %i px', async (width) => {
    await open(width);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)));
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    const figure = (await page.locator('.plot .main-svg').first().boundingBox())!;
    expect(figure.x + figure.width).toBeLessThanOrEqual(width);
  });

  it('keeps the head to one line, from a small window to a wide one', async () => {
    await open();
    for (const width of [800, 900, 1040, 1100, 1240, 1400]) {
      await page.setViewportSize({ width, height: 700 });
      const boxes = await page
        .locator('.masthead > *:visible')
        .evaluateAll((parts) => parts.map((part) => part.getBoundingClientRect().toJSON() as DOMRect));
      // Side by side: the lowest of them begins above where the first one ends.
      expect(Math.max(...boxes.map(({ top }) => top)), `${width} px`).toBeLessThan(
        Math.min(...boxes.map(({ bottom }) => bottom)),
      );
    }
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
