import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from './chromium.ts';
import { CASES, simulatedText } from './simulated.ts';

const browser: Browser | null = await launchChromium();
let page: Page;

beforeAll(async () => {
  if (!browser) return;
  const bundle = await rolldown({
    input: fileURLToPath(new URL('simulated.ts', import.meta.url)),
    platform: 'browser',
    resolve: { conditionNames: ['@limner/source'] },
  });
  const { output } = await bundle.generate({ format: 'iife', name: 'limner' });
  page = await browser.newPage();
  await page.addScriptTag({ content: output[0].code });
});
afterAll(async () => browser?.close());

const hash = (text: string): string => createHash('sha256').update(text).digest('hex');

describe.skipIf(!browser)('a simulated spectrum', () => {
  it.each(CASES)('of the case %s has the same bytes in Node and in the browser', async (which) => {
    for (const seed of [1, 20_260_101]) {
      const there = await page.evaluate(`limner.simulatedText(${JSON.stringify(which)}, ${seed})`);
      const here = simulatedText(which, seed);
      expect(hash(String(there)), firstDifference(here, String(there))).toBe(hash(here));
    }
  });
});

function firstDifference(a: string, b: string): string {
  const [here, there] = [a.split('\r\n'), b.split('\r\n')];
  const at = here.findIndex((line, i) => line !== there[i]);
  return at < 0 ? 'same' : `line ${at + 1}: ${here[at]} in Node, ${there[at]} in the browser`;
}
