// What a person gives beside a spectrum, in a real Chromium: own materials and known materials, among the changes, in the address, in the record.
import type { LimnerRecord } from '@limner/core';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { closePages, launchChromium } from './chromium.ts';
import { servedFiles, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
/** Core runs in the browser here, on a machine that may be busy. */
const PATIENCE = { timeout: 120_000 };
const OWN =
  'id,name,class,composition,required,composition_source\ninvented-white,Invented white,pigment,PbCO3,Pb,own notes\n';
const KNOWN = emsaText('PbCO3', 2);
let stage: Awaited<ReturnType<typeof servedFiles>>;

beforeAll(async () => {
  stage = await servedFiles({ 'white.msa': emsaText('PbCO3', 1) });
});
afterAll(async () => {
  await closePages();
  await stage.end();
});

async function opened(hash = ''): Promise<{ page: Page; faults: string[] }> {
  const { page, faults } = await watchedPage(browser!, stage.origin);
  page.setDefaultTimeout(PATIENCE.timeout);
  await page.goto(`${stage.origin}/${hash}`);
  return { page, faults };
}

const read = (page: Page): Promise<unknown> =>
  page.waitForFunction(() => !document.querySelector('main')!.hasAttribute('aria-busy'), null, PATIENCE);
const changed = (page: Page): Promise<string[]> => page.locator('.changes button').allInnerTexts();
const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

const give = async (page: Page, id: string, name: string, text: string): Promise<void> => {
  await page.locator(`#argue-${id}`).setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
  await page.locator(`form:has(#argue-${id}) button[type=submit]`).click();
};
const wait = (page: Page, text: string): Promise<void> =>
  page.locator('.changes button').getByText(text).waitFor(PATIENCE);

describe.skipIf(!browser)('what a person gives beside a spectrum', () => {
  it('is read with, undone and redone, survives a reload, and is named in the record', async () => {
    const { page, faults } = await opened();
    await page.waitForSelector('.plot .scatterlayer .trace');
    await page.locator('#argue > summary').click();
    await give(page, 'materials', 'mine.csv', OWN);
    await wait(page, 'own materials: mine.csv');
    await read(page);
    expect(await page.locator('#reading').textContent()).toMatch(/invented white/i);
    await page.locator('form:has(#argue-reference) input[name=label]').fill('PbCO3');
    await give(page, 'reference', 'standard.msa', KNOWN);
    await wait(page, 'known material: standard.msa, PbCO3');
    await read(page);
    expect(await page.locator('#reading').textContent()).toContain('standard.msa (PbCO3)');
    await page.locator('#undo').click();
    await page.waitForFunction(() => document.querySelectorAll('.changes button').length === 1, null, PATIENCE);
    await read(page);
    await page.locator('#redo').click();
    await wait(page, 'known material: standard.msa, PbCO3');
    await page.reload();
    await wait(page, 'known material: standard.msa, PbCO3');
    await read(page);
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#download').click()]);
    const record = JSON.parse(readFileSync(await download.path(), 'utf8')) as LimnerRecord;
    expect(record.changes).toMatchObject({
      materials: { file: 'mine.csv', sha256: sha256(OWN) },
      references: [{ file: 'standard.msa', sha256: sha256(KNOWN), label: 'PbCO3' }],
    });
    expect(record.ownMaterials).toMatchObject({ file: 'mine.csv', sha256: sha256(OWN), entries: 1 });
    expect(faults).toEqual([]);
  });

  it('is asked for again where this tab does not have it, and can be taken back', async () => {
    const { page } = await opened(`#white.msa?materials=${'ab'.repeat(32)}:other.csv`);
    await page.locator('.fault').getByText('other.csv (SHA-256 begins abababab) is not kept in this tab').waitFor();
    expect(await changed(page)).toEqual(['own materials: other.csv ×']);
    await page.getByRole('button', { name: 'Remove: own materials: other.csv' }).click();
    await page.waitForSelector('.plot .scatterlayer .trace');
    expect(page.url()).not.toContain('materials');
  });

  it('is refused with what is wrong with it, and the reading stays', async () => {
    const { page, faults } = await opened();
    await page.waitForSelector('.plot .scatterlayer .trace');
    await page.locator('#argue > summary').click();
    await give(page, 'materials', 'mine.csv', 'id,name\nx,X\n');
    await page.getByText(/mine\.csv.*the heading lacks/).waitFor();
    await page.locator('form:has(#argue-reference) input[name=label]').fill('no formula');
    await give(page, 'reference', 'standard.msa', KNOWN);
    await page.getByText(/'no formula' is not a formula with a percentage/).waitFor();
    expect([await changed(page), new URL(page.url()).hash]).toEqual([[], '']);
    expect(faults).toEqual([]);
  });
});
