// Times the overlap bench in Chromium as its sliders move: 60 steps one after another, and 60 at the pace of a held key. Nothing is asserted.
// Usage, after a build: node tests/bench/slider.mjs [--json]   (LIMNER_CHROMIUM: path of a Chromium; else `chromium` on the path)
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { benchStateFrom } from '../../packages/core/dist/index.js';
import { median } from './processor.mjs';

const STEPS = 60;
/** A held key repeats some 30 times a second. */
const REPEAT_MS = 33;
const STATE = 'parts=PbCO3:80,CaSO4:20&beam=10&res=130&counts=200000&seed=11&out=S';
const SLIDERS = {
  beamKev: (step) => 8 + step * 0.2,
  fwhmMnEv: (step) => 121 + (step * 59) / STEPS,
  counts: (step) => 3 + (step * 4) / STEPS,
};

const folder = join(mkdtempSync(join(tmpdir(), 'limner-slider-')), 'classroom');
const limner = fileURLToPath(new URL('../../apps/cli/bin/limner.js', import.meta.url));
execFileSync(process.execPath, [limner, 'teach', '--out', folder]);
const executablePath =
  process.env.LIMNER_CHROMIUM ?? execFileSync('sh', ['-c', 'command -v chromium'], { encoding: 'utf8' }).trim();
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
const simulateMs = await oneSimulate();
const rows = [];
for (const body of ['thick', 'grain of 5 um'])
  for (const slider of Object.keys(SLIDERS)) rows.push(await measured(body, slider));
await browser.close();
rmSync(join(folder, '..'), { recursive: true });
report(rows);

/** One spectrum under a beam that nothing is kept of, in a worker of the same Chromium once its engine is warm, ms: the yardstick. */
async function oneSimulate() {
  const page = await browser.newPage();
  await page.goto(`${pathToFileURL(join(folder, 'index.html')).href}#${STATE}`);
  await page.waitForSelector('.three figure', { timeout: 120_000 });
  const states = Array.from({ length: STEPS }, (_, step) => ({
    ...benchStateFrom(STATE),
    beamKev: 8.003 + step * 0.2,
  }));
  const times = await page.evaluate(async (asked) => {
    const worker = new Worker(URL.createObjectURL(new Blob([globalThis.limnerBenchWorker])));
    const out = [];
    for (const state of asked) {
      const begun = performance.now();
      await new Promise((done) => {
        worker.onmessage = done;
        worker.postMessage({ ticket: 1, kind: 'curves', ask: state });
      });
      out.push(performance.now() - begun);
    }
    return out;
  }, states);
  await page.close();
  return median(times.slice(10));
}

async function measured(body, slider) {
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
  const grain = body === 'thick' ? '' : '&grain=5';
  await page.goto(`${pathToFileURL(join(folder, 'index.html')).href}#${STATE}${grain}`);
  await page.waitForSelector('.verdict-place table', { timeout: 120_000 });
  const places = Array.from({ length: STEPS }, (_, step) => SLIDERS[slider](step));
  const times = await page.evaluate(timedInPage, { slider, places, repeatMs: REPEAT_MS });
  await page.close();
  return { body, slider, ...times };
}

/** Runs in the page. */
async function timedInPage({ slider, places, repeatMs }) {
  const input = document.getElementById(slider);
  input.step = 'any';
  const words = document.querySelector('.words');
  const verdict = document.querySelector('.verdict-place');
  const until = (place, done) =>
    new Promise((resolve) => {
      const watch = new MutationObserver(() => {
        if (!done()) return;
        watch.disconnect();
        resolve(performance.now());
      });
      watch.observe(place, { childList: true, attributes: true, subtree: true });
    });
  const move = (place) => {
    input.value = String(place);
    input.dispatchEvent(new Event('input'));
    return performance.now();
  };
  const drawn = () => until(document.querySelector('.figure-place'), () => true);
  const fresh = (place) => () => !place.classList.contains('stale');
  const curves = [];
  const separations = [];
  for (const place of places) {
    const [curve, separation] = [drawn(), until(words, fresh(words))];
    const begun = performance.now();
    move(place);
    curves.push((await curve) - begun);
    separations.push((await separation) - begun);
  }
  const gaps = [];
  let last = performance.now();
  const watch = new MutationObserver(() => {
    gaps.push(performance.now() - last);
    last = performance.now();
  });
  watch.observe(document.querySelector('.figure-place'), { childList: true });
  for (const place of places.toReversed()) {
    move(place);
    await new Promise((go) => setTimeout(go, repeatMs));
  }
  const verdictMs = [];
  watch.disconnect();
  for (const place of places.slice(0, 5)) {
    const begun = move(place);
    verdictMs.push((await until(verdict, fresh(verdict))) - begun);
  }
  return { curves, separations, gaps: gaps.slice(1), verdicts: verdictMs };
}

function report(measuredRows) {
  const both = (times) => ({ medianMs: median(times), worstMs: Math.max(...times) });
  const summary = measuredRows.map(({ body, slider, curves, separations, gaps, verdicts }) => ({
    body,
    slider,
    curves: both(curves),
    separation: both(separations),
    betweenDrawings: both(gaps),
    verdict: both(verdicts),
  }));
  if (process.argv.includes('--json')) return console.log(JSON.stringify({ simulateMs, summary }, null, 2));
  const told = ({ medianMs, worstMs }) =>
    `${medianMs.toFixed(0)} / ${worstMs.toFixed(0)} ms (${(medianMs / simulateMs).toFixed(1)} / ${(worstMs / simulateMs).toFixed(1)})`;
  console.log(
    `One simulated spectrum under a new beam: ${simulateMs.toFixed(1)} ms. Median / worst, in brackets as multiples of it:`,
  );
  console.table(
    summary.map(({ body, slider, ...times }) => ({
      body,
      slider,
      ...Object.fromEntries(Object.entries(times).map(([name, of]) => [name, told(of)])),
    })),
  );
}
