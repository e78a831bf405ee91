import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { closePages } from './chromium.ts';
import { servedStage, watchedPage } from './stage.ts';

/** The page over the hand-made reading, served for the tests of one file: opens it by itself, those opened before closed. */
export function stagedPage(
  browser: Browser | null,
): (width?: number, hash?: string) => Promise<{ page: Page; faults: string[] }> {
  let stage: Awaited<ReturnType<typeof servedStage>>;
  beforeAll(async () => {
    if (browser) stage = await servedStage();
  });
  afterAll(async () => {
    if (!browser) return;
    await closePages();
    await stage.end();
  });
  return async (width = 1400, hash = '') => {
    await closePages();
    const watched = await watchedPage(browser!, stage.origin, width);
    await watched.page.goto(`${stage.origin}/${hash}`);
    await watched.page.waitForSelector('.plot .scatterlayer .trace, .fault');
    return watched;
  };
}
