import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import type { ReadOptions } from '@limner/core';
// @ts-expect-error a plain script
import { demoAndMeasured } from '../measured.mjs';
import { CASES, recordText, simulatedText } from './bytes.ts';

const browser: Browser | null = await launchChromium();
let page: Page;

interface Kept {
  readonly name: string;
  readonly path: string;
  readonly read: ReadOptions;
  readonly beamKev: number | null;
}
/** In `npm test` a white of lead, a mixture and a film on a ground: elements, rivals, limits, materials and dates all have a say. */
const SHARE = ['P1-L2-g01', 'P1-L3-g03', 'P2-L1-g01'].map((grain) => `demo/${grain}.msa`);
const ALL = (demoAndMeasured as (sayAbsent: () => void) => Iterable<Kept>)(() => {});
const SPECTRA = [...ALL].filter(({ name }) => process.env['LIMNER_WHOLE'] || SHARE.includes(name));

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
afterAll(closePages);

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
  it.each(SPECTRA)('of $name has the same bytes in Node and in the browser', async ({ path, read, beamKev = null }) => {
    const given = [readFileSync(path, 'latin1'), read, beamKev] as const;
    const there = await page.evaluate(`limner.recordText(...${JSON.stringify(given)})`);
    const here = recordText(...given);
    expect(here.length).toBeGreaterThan(50_000);
    expect(hash(String(there)), firstDifference(here, String(there))).toBe(hash(here));
  });
});

/** Of lines of a spectrum, or of fields of a record. */
function firstDifference(a: string, b: string): string {
  const [here, there] = [a.split(/\r\n|,/), b.split(/\r\n|,/)];
  const at = here.findIndex((line, i) => line !== there[i]);
  return at < 0 ? 'same' : `no. ${at + 1}: ${here[at]} in Node, ${there[at]} in the browser`;
}
