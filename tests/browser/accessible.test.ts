// Every screen of the page against the rules of WCAG 2.2 AA that axe-core can test (its documentation lists them), light and dark.
import { createViewer, openResults } from '@limner/viewer';
import { tag } from '@limner/session';
import axe from 'axe-core';
import type { FastifyInstance } from 'fastify';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { emsaText as realText } from '../fixtures/emsa.ts';
import { closePages, launchChromium } from './chromium.ts';
import { bundlePage, drop, fixtureViewer, stageFiles, watchedPage } from './stage.ts';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

const browser: Browser | null = await launchChromium();
let folder: string;
let reading: { app: FastifyInstance; origin: string };
let session: { app: FastifyInstance; origin: string };
let stage: ReturnType<typeof stageFiles>;

const listening = async (app: FastifyInstance) => ({ app, origin: await app.listen({ host: '127.0.0.1', port: 0 }) });

beforeAll(async () => {
  if (!browser) return;
  bundlePage();
  stage = stageFiles();
  reading = await listening(await fixtureViewer(stage.files));
  folder = mkdtempSync(join(tmpdir(), 'limner-accessible-'));
  mkdirSync(join(folder, 's'));
  const files = { 'a.msa': realText('PbCO3', 1), 'b.msa': realText('HgS', 2), 'bad.msa': '#FORMAT : EMSA/MAS\n' };
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, 's', name), text);
  writeFileSync(join(folder, 's', 'samples.csv'), 'file,sample,layer,particle\na.msa,S1,1,g1\nb.msa,S1,2,g1\n');
  await tag(join(folder, 's'), join(folder, 'read'));
  session = await listening(await createViewer({ files: [], ...(await openResults(join(folder, 'read'))) }));
});
afterAll(async () => {
  await closePages();
  await reading?.app.close();
  await session?.app.close();
  stage?.remove();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

/** What axe finds wrong, one line per place. */
async function wrongIn(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(
    (rules) => (window as unknown as { axe: typeof axe }).axe.run(document, { runOnly: rules }),
    RULES,
  );
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, any }) => `${id}: ${html.slice(0, 120)} ${any[0]?.message ?? ''}`),
  );
}

/** A file that counts in channels: the page asks for its axis, by two peaks or as numbers. */
const inChannels = realText('ZnO', 9)
  .replace(/^#XPERCHAN.*\n/m, '#XPERCHAN    : 1\n')
  .replace(/^#XUNITS.*$/m, '#XUNITS      : channels');

const FIGURE = '.plot .scatterlayer .trace';
const SCREENS: Readonly<Record<string, Screen>> = {
  'a reading': { where: 'reading', there: FIGURE },
  'a reading with another laid over it': {
    where: 'reading',
    hash: '#yellow%20grain.msa?over=counts:second.msa',
    there: '.laid li',
  },
  // Core itself, in the browser: what is questioned, and the answer.
  'a reading that is questioned': {
    where: 'reading',
    hash: '#second.msa?claim=S&mount=resin&seen.colour=blue',
    there: '#claim-S',
  },
  'a fault': { where: 'reading', hash: '#broken.msa', there: '.fault' },
  'a file in bare channels': {
    where: 'reading',
    there: '.calibrate svg',
    before: (page) => drop(page, [{ name: 'channels.msa', text: inChannels }]),
  },
  'a session': { where: 'session', there: '.matrix' },
  'a kept reading': { where: 'session', hash: '#a.msa', there: '#no-spectrum' },
};

interface Screen {
  readonly where: 'reading' | 'session';
  readonly hash?: string;
  /** What stands once the screen does. */
  readonly there: string;
  readonly before?: (page: Page) => Promise<void>;
}

describe.skipIf(!browser)('every screen', () => {
  it.each(Object.entries(SCREENS))(
    '%s: nothing that axe can find, light and wide, dark and narrow, and no wider than the page',
    async (_, { where, hash = '', there, before }) => {
      const { origin } = where === 'reading' ? reading : session;
      const { page, faults } = await watchedPage(browser!, origin);
      await page.emulateMedia({ colorScheme: 'light' });
      await page.goto(`${origin}/${hash}`);
      await page.waitForSelector('main h1');
      await before?.(page);
      await page.waitForSelector(there);
      await page.waitForFunction(() => !document.querySelector('main')!.hasAttribute('aria-busy'));
      await page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)));
      // The forms for notes are made as their folds open.
      if (there === FIGURE) await page.waitForSelector('.notes form', { state: 'attached' });
      expect(await wrongIn(page)).toEqual([]);
      await page.emulateMedia({ colorScheme: 'dark' });
      await page.setViewportSize({ width: 400, height: 900 });
      // The figure is drawn anew for it.
      await expect.poll(() => wrongIn(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(400);
      expect(faults.filter((fault) => !fault.includes('422'))).toEqual([]);
      await page.context().close();
    },
  );
});

describe.skipIf(!browser)('kept results', () => {
  it('show the session, lead to a reading without its spectrum, and on to the next', async () => {
    const { page, faults } = await watchedPage(browser!, session.origin);

    await page.goto(session.origin);
    await page.locator('.matrix tbody a').first().click();
    await page.waitForSelector('#no-spectrum');
    expect(await page.locator('.spectrum, #argue, .thumbnails').count()).toBe(0);
    expect(await page.locator('#element-Pb .verdict').innerText()).toContain('present');
    await page.goto(`${session.origin}/#a.msa`);
    await page.reload();
    await page.locator('.along a', { hasText: 'Next' }).click();
    await page.waitForSelector('#element-Hg');
    expect(faults).toEqual([]);
  });
});
