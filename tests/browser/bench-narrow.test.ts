// The bench and a lesson on a narrow window and at 200 % zoom in a real Chromium: nothing to scroll sideways, nothing cut, every control to be reached.
// A browser at 200 % lays a window out as if it had half the pixels, each twice as large: so 1280 x 720 is 640 x 360.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import { stageClassroom } from './stage.ts';

const browser: Browser | null = await launchChromium();
const PATIENCE = 120_000;
const LESSON = '01-sulfur-lead-molybdenum';
const WINDOWS = [
  { name: '400 px', width: 400, height: 900, deviceScaleFactor: 1 },
  { name: '1280 px at 200 %', width: 640, height: 360, deviceScaleFactor: 2 },
];

describe.skipIf(browser === null).each(WINDOWS)('at $name', ({ width, height, deviceScaleFactor }) => {
  let room: Awaited<ReturnType<typeof stageClassroom>>;
  let page: Page;

  beforeAll(async () => {
    room = await stageClassroom();
    page = await browser!.newPage({ viewport: { width, height }, deviceScaleFactor, reducedMotion: 'reduce' });
    page.setDefaultTimeout(PATIENCE);
  }, PATIENCE);
  afterAll(async () => {
    await page.close();
    room.remove();
  });

  const settled = () => page.waitForFunction(() => !document.querySelector('.stale'));

  it('the bench fits, and all of it can be reached', async () => {
    await page.goto(room.address('out=S'));
    await page.locator('.verdict-place table').waitFor();
    await page.locator('#result > details > summary').click();
    await settled();
    await fits(page);
  });

  it('a lesson fits at every stage, and brings the result into sight', async () => {
    await page.goto('about:blank');
    await page.goto(room.address(`lesson=${LESSON}&out=S`));
    await page.locator('input[name=prediction]').first().check();
    await fits(page);
    await page.getByText('Commit to this').click();
    await page.locator('.lead').waitFor();
    await page.locator('.go').first().click();
    await expect.poll(() => inSight(page, '#result h2'), { timeout: PATIENCE }).toBe(true);
    await page.getByText('I have read the figures').click();
    await page.locator('#explanation').fill('Its place and shape.');
    await page.getByText('Compare with the answer').click();
    await page.locator('.answer').waitFor();
    await settled();
    await fits(page);
  });
});

afterAll(closePages);

async function fits(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  expect(await page.evaluate(cut)).toEqual([]);
  expect(await page.evaluate(outOfReach)).toEqual([]);
}

/** Runs in the page: whatever stands beyond the window, or holds more than it shows. A long line in a field, or the name of a choice, scrolls there. */
function cut(): string[] {
  const out: string[] = [];
  for (const element of document.querySelectorAll<HTMLElement>('body *')) {
    if (element.closest('.skip, .hidden, #spoken, datalist, details:not([open]) > :not(summary)')) continue;
    const { left, right, width } = element.getBoundingClientRect();
    const told = `${element.tagName} ${element.id} ${element.getAttribute('class')} ${element.textContent?.slice(0, 40)}`;
    if (width > 0 && (left < -0.5 || right > window.innerWidth + 0.5)) out.push(`beyond the window: ${told}`);
    const isNumber = element instanceof HTMLInputElement && element.type === 'number';
    const holdsText = !(element instanceof SVGElement) && !/^(INPUT|SELECT|OPTION)$/.test(element.tagName);
    if ((isNumber || holdsText) && element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 0)
      out.push(`cut: ${told}`);
  }
  return out;
}

/** Runs in the page: controls that stay covered when they are brought into sight. */
function outOfReach(): string[] {
  return [...document.querySelectorAll<HTMLElement>('input, select, textarea, button, summary')].flatMap((control) => {
    if (control.closest('[inert], details:not([open]) > :not(summary)') || control.getClientRects().length === 0)
      return [];
    control.scrollIntoView({ block: 'nearest' });
    control.focus({ preventScroll: true });
    const { left, top, width, height } = control.getBoundingClientRect();
    const on = document.elementFromPoint(left + width / 2, top + height / 2);
    const isReached = on !== null && (control.contains(on) || on.contains(control) || on.closest('label') !== null);
    return isReached ? [] : [`${control.tagName} ${control.id} under ${on?.tagName} ${on?.id}`];
  });
}

const inSight = (page: Page, selector: string): Promise<boolean> =>
  page.locator(selector).evaluate((element) => {
    const { top, bottom } = element.getBoundingClientRect();
    return top >= 0 && bottom <= window.innerHeight;
  });
