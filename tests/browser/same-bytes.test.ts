import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from './chromium.ts';
import type { LimnerRecord } from '../../packages/core/src/index.ts';
import { CASES, recordText, simulatedText } from './bytes.ts';

const browser: Browser | null = await launchChromium();
let page: Page;

beforeAll(async () => {
  if (!browser) return;
  const bundle = await rolldown({
    input: fileURLToPath(new URL('bytes.ts', import.meta.url)),
    platform: 'browser',
    resolve: { conditionNames: ['@limner/source'] },
  });
  const { output } = await bundle.generate({ format: 'iife', name: 'limner' });
  page = await browser.newPage();
  // A secure context, which a blank page is not: the peak search asks the browser for `crypto.randomUUID`.
  await page.route('http://localhost/', (route) => route.fulfill({ contentType: 'text/html', body: '' }));
  await page.goto('http://localhost/');
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

describe.skipIf(!browser)('a record', () => {
  // A white of lead, a mixture, a film on a ground: elements, rivals, limits, materials and dates all have a say. Its last digits, and so
  // the faintest of the blind peaks, differ between engines.
  it.each(['P1-L2-g01', 'P1-L3-g03', 'P2-L1-g01'])(
    'of %s says the same in Node and in the browser: verdicts, odds, amounts, explanations',
    async (grain) => {
      const text = readFileSync(new URL(`../../data/demo/${grain}.msa`, import.meta.url), 'latin1');
      const there = String(await page.evaluate(`limner.recordText(${JSON.stringify(text)})`));
      const told = said(there);
      expect(told.elements.length).toBeGreaterThan(60);
      expect(told).toEqual(said(recordText(text)));
    },
  );
});

/** What a record says, as closely as a reader can take it. */
function said(text: string) {
  const { elements, explanations, warnings } = JSON.parse(text) as LimnerRecord;
  return {
    elements: elements.map(({ symbol, verdict, probability, massFraction }) => [
      symbol,
      verdict,
      probability.toFixed(3),
      massFraction?.value.toFixed(3),
    ]),
    explanations: explanations.map(({ parts }) => parts.map(({ id }) => id)),
    warnings,
  };
}

function firstDifference(a: string, b: string): string {
  const [here, there] = [a.split('\r\n'), b.split('\r\n')];
  const at = here.findIndex((line, i) => line !== there[i]);
  return at < 0 ? 'same' : `line ${at + 1}: ${here[at]} in Node, ${there[at]} in the browser`;
}
