import { benchAnswer, benchCurves, benchStateFrom, lessonKeyFrom, LESSONS } from '@limner/core';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './chromium.ts';
import { stageClassroom } from './stage.ts';

const PATIENCE = { timeout: 120_000 };
const browser: Browser | null = await launchChromium();
/** The whole text of a lesson, as a teacher edits it. */
const wholeText = (id: string): string =>
  readFileSync(new URL(`../../data/lessons/${id}.txt`, import.meta.url), 'utf8');
const STATE = 'parts=BaSO4:95,TiO2:5&beam=20&res=130&counts=200000&seed=41&out=Ti';

describe.skipIf(browser === null)('the bench in a folder, opened from its files', { timeout: 300_000 }, () => {
  let room: Awaited<ReturnType<typeof stageClassroom>>;
  let page: Page;
  const faults: string[] = [];

  beforeAll(async () => {
    room = await stageClassroom();
    page = await browser!.newPage({ viewport: { width: 400, height: 900 }, reducedMotion: 'reduce' });
    await page.context().setOffline(true);
    page.on('pageerror', (error) => faults.push(error.message));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    page.on('request', (request) => !/^(file|blob|data):/.test(request.url()) && faults.push(request.url()));
  });
  afterAll(async () => {
    await closePages();
    room.remove();
  });

  it('takes at most 8 MB', () => {
    const bytes = readdirSync(room.folder).reduce((sum, name) => sum + statSync(join(room.folder, name)).size, 0);
    expect(bytes).toBeLessThan(8e6);
  });

  it('holds each answer in a file by itself, and nowhere else', () => {
    const others = readdirSync(room.folder).filter((name) => !name.startsWith('answer-'));
    const rest = others.map((name) => readFileSync(join(room.folder, name), 'utf8')).join('\n');
    for (const { id, choices } of LESSONS) {
      const { answer, right } = lessonKeyFrom(id, wholeText(id));
      expect(readFileSync(join(room.folder, `answer-${id}.js`), 'utf8')).toContain(answer[0].slice(0, 40));
      const betraying = [...answer, `- [x] ${choices[right]}`].map((text) => text.slice(0, 40));
      expect(betraying.filter((text) => rest.includes(text))).toEqual([]);
    }
  });

  it('has the numbers of core in Node, bit for bit', async () => {
    await page.goto(room.address(STATE));
    await page.waitForSelector('.lead', PATIENCE);
    const seen = await page.evaluate(
      async (text) => {
        const worker = new Worker(
          URL.createObjectURL(new Blob([(globalThis as unknown as { limnerBenchWorker: string }).limnerBenchWorker])),
        );
        const ask = (kind: string, state: unknown): Promise<{ value: Record<string, unknown> }> =>
          new Promise((done) => {
            worker.onmessage = ({ data }) => done(data as { value: Record<string, unknown> });
            worker.postMessage({ ticket: 1, kind, ask: state });
          });
        const state = JSON.parse(text) as unknown;
        const { value: curves } = await ask('curves', state);
        const { value: answer } = await ask('answer', state);
        const { found } = answer as { found: Record<string, unknown> };
        return {
          counts: [...(curves['counts'] as Float64Array)],
          residual: [...(found['residual'] as Float64Array)],
          numbers: [found['found'], found['sigma']],
        };
      },
      JSON.stringify(benchStateFrom(STATE)),
    );
    const curves = benchCurves(benchStateFrom(STATE));
    const { found, sigma, residual } = benchAnswer(benchStateFrom(STATE), curves);
    expect(seen.counts).toEqual([...curves.counts]);
    expect(seen.residual).toEqual([...residual]);
    expect(seen.numbers).toEqual([found, sigma]);
  });

  it('says the result in words, tells a screen reader once, and always shows that it is simulated', async () => {
    await expect.poll(() => page.locator('#spoken').textContent(), PATIENCE).toMatch(/^Without titanium/);
    expect(await page.locator('#caution').innerText()).toMatch(/no evidence about any object/);
    expect(await page.locator('#left-out').textContent()).toMatch(/^Left out: charging/);
    const fits = await page.evaluate(
      () => document.documentElement.scrollWidth <= document.documentElement.clientWidth,
    );
    expect(fits).toBe(true);
  });

  it('has a name for every control, and takes a number by keyboard', async () => {
    const nameless = await page
      .locator('input, select, textarea, button')
      .evaluateAll((elements) =>
        (elements as HTMLInputElement[])
          .filter((one) => !(one.labels?.length || one.getAttribute('aria-label') || one.textContent?.trim()))
          .map((one) => one.outerHTML),
      );
    expect(nameless).toEqual([]);
    await page.locator('#counts-field').fill('5000');
    await expect.poll(() => page.locator('.lead').innerText(), PATIENCE).toMatch(/worse by [0-3]\.\d/);
    expect(page.url()).toContain('counts=5000');
  });

  it('shows the newest state alone, however fast a slider moves', async () => {
    const slider = page.locator('#beamKev');
    await slider.focus();
    for (let step = 0; step < 12; step++) await page.keyboard.press('ArrowLeft');
    await expect.poll(() => page.locator('.words').getAttribute('class'), PATIENCE).not.toContain('stale');
    const text = decodeURIComponent(page.url().split('#')[1]);
    const { found } = benchAnswer(benchStateFrom(text));
    expect(benchStateFrom(text).beamKev).toBe(14);
    await expect.poll(() => page.locator('.lead').innerText(), PATIENCE).toContain(`${found.toFixed(1)}\u00a0sigma`);
  });

  it('walks a lesson: predict, commit, work, explain, compare; no answer in the page before', async () => {
    const [lesson] = LESSONS;
    await page.goto('about:blank');
    await page.goto(room.address(''));
    await page.locator('#lesson-choice').selectOption(lesson.id);
    await page.waitForSelector('input[name=prediction]', PATIENCE);
    const opening = lessonKeyFrom(lesson.id, wholeText(lesson.id)).answer[0].slice(0, 12);
    const scripts = (): Promise<number> => page.locator(`script[src^="answer-"]`).count();
    const holds = async (): Promise<boolean> => (await page.locator('main').innerText()).includes(opening);
    expect(await holds()).toBe(false);
    await expect.poll(() => page.url()).toContain('beam=10');
    // What is to be predicted is on show no sooner, and nothing can be moved.
    await expect.poll(() => page.locator('.words').innerText(), PATIENCE).toMatch(/^Predict first/);
    await page.waitForTimeout(2000);
    expect(await page.locator('#result').innerText()).not.toMatch(/sigma|Present|sulfur/);
    expect(await page.locator('#out').evaluate((select) => select.closest('[inert]') !== null)).toBe(true);
    await page.locator('input[name=prediction]').nth(1).check();
    await page.getByText('Commit to this').click();
    await expect.poll(() => page.locator('.lead').innerText(), PATIENCE).toMatch(/^Without sulfur/);
    await page.getByText('Set the bench to this').first().click();
    await expect.poll(() => page.url()).toContain('beam=20');
    await page.getByText('I have read the figures').click();
    await page.locator('#explanation').fill('Its place and shape.');
    expect(await holds()).toBe(false);
    expect(await scripts()).toBe(0);
    await page.getByText('Compare with the answer').click();
    await page.waitForSelector('.answer', PATIENCE);
    expect(await holds()).toBe(true);
    expect(await page.locator('.answer').innerText()).toMatch(/Your prediction is right/);
  });

  it('met no fault and asked nothing of a network', () => expect(faults).toEqual([]));
});
