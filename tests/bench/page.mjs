// Times the page in Chromium: from load to the first reading, a change answered, and a session of 5,000 spectra. Nothing is asserted.
// Usage, after a build: node tests/bench/page.mjs [load|change|session ...] [--json]   (LIMNER_CHROMIUM: path of a Chromium; else `chromium` on the path)
import { execFileSync, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { median } from './processor.mjs';

const GRAIN = 'P1-L3-g02.msa';
const SPECTRA = 5000;
const LOADS = 9;
/** Each twice, with the plain reading between them. */
const CHANGES = ['claim=S', 'mount=resin', 'dated=1500', 'beam=19.9', 'seen.colour=blue', 'without=Ti', 'without=Ni'];
const PATIENCE = { timeout: 120_000 };

const PARTS = { load: timeLoads, change: timeChanges, session: timeSession };
const asked = process.argv.slice(2).filter((word) => word in PARTS);
const folder = fileURLToPath(new URL('../../data/demo', import.meta.url));
const executablePath =
  process.env.LIMNER_CHROMIUM ?? execFileSync('sh', ['-c', 'command -v chromium'], { encoding: 'utf8' }).trim();
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
const viewer = await startViewer(`${folder}/${GRAIN}`);
const told = {};
for (const part of asked.length > 0 ? asked : Object.keys(PARTS)) told[part] = await PARTS[part]();
viewer.end();
await browser.close();
if (process.argv.includes('--json')) console.log(JSON.stringify(told, null, 2));
else for (const rows of Object.values(told)) console.table(rows);

/** The built command, serving what it is given on a free port. */
async function startViewer(path) {
  const limner = fileURLToPath(new URL('../../apps/cli/bin/limner.js', import.meta.url));
  const child = spawn(process.execPath, [limner, 'show', path], {
    env: { ...process.env, PORT: '0' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let printed = '';
  const origin = await new Promise((resolve) =>
    child.stdout.on('data', (bytes) => {
      printed += bytes;
      const [, found] = /The viewer is at (http:\/\/\S+)/.exec(printed) ?? [];
      if (found) resolve(found);
    }),
  );
  return { origin, end: () => child.kill() };
}

async function openPage() {
  const context = await browser.newContext({ viewport: { width: 1400, height: 1000 } });
  const page = await context.newPage();
  return { page, close: () => context.close() };
}

/** The page, and one that only draws the same traces with the same Plotly, in turns; a fresh browser cache for each. The reading is made before. */
async function timeLoads() {
  await (await fetch(`${viewer.origin}/api/spectra/${GRAIN}/reading`)).text();
  const bare = await barePage();
  const rows = { 'first words': [], 'first figure': [], 'bare page': [] };
  for (let i = 0; i < LOADS; i++) {
    const own = await timed(`${viewer.origin}/`, async () => {});
    rows['first words'].push(own.words);
    rows['first figure'].push(own.figure);
    const { figure } = await timed(`${viewer.origin}/bare.html`, (page) => bare(page));
    rows['bare page'].push(figure);
  }
  const yardstick = median(rows['bare page']);
  return inMs(rows).map((row) => ({ ...row, 'over bare': +(row.median / yardstick).toFixed(2) }));
}

/** From the start of a load until the words and until the figure are painted, ms. */
async function timed(url, prepare) {
  const { page, close } = await openPage();
  await page.addInitScript(watchPaint);
  await prepare(page);
  await page.goto(url);
  await page.waitForFunction(() => window.painted?.figure !== undefined, null, PATIENCE);
  const painted = await page.evaluate(() => window.painted);
  await close();
  return painted;
}

/** Runs in the page. */
function watchPaint() {
  window.painted = {};
  const after = { words: '.summary', figure: '.scatterlayer .trace path' };
  const watch = new MutationObserver(() => {
    for (const [name, place] of Object.entries(after)) {
      if (name in window.painted || !document.querySelector(place)) continue;
      window.painted[name] = undefined;
      requestAnimationFrame(() => setTimeout(() => (window.painted[name] = performance.now()), 0));
    }
  });
  watch.observe(document, { childList: true, subtree: true });
}

/** Serves, inside the browser, a page that fetches the traces of the figure and draws them. */
async function barePage() {
  const { page, close } = await openPage();
  await page.goto(`${viewer.origin}/`);
  await page.waitForSelector('.scatterlayer .trace path', PATIENCE);
  const { plotly, figure } = await page.evaluate(() => {
    const { data, layout } = document.querySelector('.plot');
    return { plotly: document.getElementById('plotly').href, figure: JSON.stringify({ data, layout }) };
  });
  await close();
  const html = `<!doctype html><meta charset="utf-8"><div id="plot"></div><script type="module">
    import Plotly from '${plotly}';
    const { data, layout } = await (await fetch('bare.json')).json();
    await Plotly.newPlot('plot', data, layout);
  </script>`;
  return async (one) => {
    await one.route('**/bare.html', (route) => route.fulfill({ body: html, contentType: 'text/html' }));
    await one.route('**/bare.json', (route) => route.fulfill({ body: figure, contentType: 'application/json' }));
  };
}

/** From a change in the address until its reading stands, ms, and the part of it that is core's. */
async function timeChanges() {
  const { page, close } = await openPage();
  await page.addInitScript(watchWorker);
  await page.goto(`${viewer.origin}/#${GRAIN}?dated=1499`);
  await page.waitForSelector('.scatterlayer .trace path', PATIENCE);
  const rows = {};
  const add = async (name, query) => {
    const { all, core } = await page.evaluate(timedChange, `#${GRAIN}?${query}`);
    (rows[name] ??= []).push(all);
    (rows[`${name}, in core`] ??= []).push(core);
  };
  // The year changes nothing in the fit: the same work as the plain reading.
  for (let round = 0; round < 3; round++) {
    for (const change of CHANGES) {
      await add('plain', `dated=${1000 + 10 * round + CHANGES.indexOf(change)}`);
      await add(change, change.startsWith('dated') ? `dated=${1600 + round}` : `${change}&dated=${1700 + round}`);
    }
  }
  await close();
  const plain = median(rows['plain, in core']);
  return inMs(rows).map((row) => ({ ...row, 'over plain in core': +(row.median / plain).toFixed(2) }));
}

/** Runs in the page: remembers how long each reading took in the worker. */
function watchWorker() {
  const Plain = window.Worker;
  window.asks = new Map();
  window.Worker = class extends Plain {
    constructor(...given) {
      super(...given);
      this.addEventListener('message', ({ data }) => {
        const ask = window.asks.get(data.ticket);
        if (ask) ask.ms = performance.now() - ask.begun;
      });
    }
    postMessage(message, ...rest) {
      window.asks.set(message.ticket, { kind: message.ask?.kind, begun: performance.now() });
      super.postMessage(message, ...rest);
    }
  };
}

/** Runs in the page, once the small pictures of the last reading are drawn. */
async function timedChange(hash) {
  const main = document.querySelector('main');
  const quiet = () => [...window.asks.values()].every(({ ms }) => ms !== undefined);
  const until = async (is) => {
    while (!is()) await new Promise((go) => setTimeout(go, 2));
  };
  await until(quiet);
  await new Promise((go) => setTimeout(go, 300));
  await until(quiet);
  window.asks.clear();
  const begun = performance.now();
  location.hash = hash;
  await until(() => main.hasAttribute('aria-busy'));
  await until(() => !main.hasAttribute('aria-busy'));
  const all = performance.now() - begun;
  return { all, core: [...window.asks.values()].find(({ kind }) => kind === 'read').ms };
}

/** A session of so many spectra, made of the demo's: opened, sorted, filtered. */
async function timeSession() {
  const demo = await startViewer(folder);
  const rows = {};
  let overview;
  while (!overview) {
    ({ overview } = await (await fetch(`${demo.origin}/api/session`)).json());
    if (!overview) await new Promise((go) => setTimeout(go, 1000));
  }
  const many = manyOf(overview);
  for (let i = 0; i < 5; i++) {
    const { page, close } = await openPage();
    for (const [path, body] of Object.entries(many))
      await page.route(`**/api/${path}`, (route) => route.fulfill({ body, contentType: 'application/json' }));
    await page.goto(`${demo.origin}/`);
    await page.waitForSelector('.matrix tbody tr', PATIENCE);
    const loaded = await page.evaluate(() => performance.now());
    (rows['load, all of it'] ??= []).push(loaded);
    for (const [name, times] of Object.entries(await page.evaluate(timedInSession))) (rows[name] ??= []).push(...times);
    await close();
  }
  demo.end();
  return inMs(rows);
}

function manyOf(overview) {
  const spectra = Array.from({ length: SPECTRA }, (_, i) => {
    const one = overview.spectra[i % overview.spectra.length];
    const place = one.place && { ...one.place, sample: `S${Math.floor(i / 20)}` };
    return { ...one, file: `s${i}.msa`, title: `t${i}`, place };
  });
  return {
    session: JSON.stringify({ state: 'read', overview: { ...overview, spectra } }),
    spectra: JSON.stringify(spectra.map(({ file, title }) => ({ id: file, name: file, title, error: null }))),
  };
}

/** Runs in the page: each until it is painted. */
async function timedInSession() {
  const painted = () => new Promise((go) => requestAnimationFrame(() => setTimeout(go, 0)));
  const times = {};
  const timed = async (name, act) => {
    const begun = performance.now();
    await act();
    await painted();
    (times[name] ??= []).push(performance.now() - begun);
  };
  const say = (place, value, kind) => {
    const field = document.querySelector(place);
    field.value = value;
    field.dispatchEvent(new Event(kind, { bubbles: true }));
  };
  for (const i of [1, 5, 0]) await timed('sort', () => document.querySelectorAll('.matrix th button')[i].click());
  for (const text of ['s', 's1', '']) await timed('filter by text', () => say('input[name=text]', text, 'input'));
  for (const symbol of ['Pb', ''])
    await timed('filter by element', () => say('select[name=element]', symbol, 'change'));
  await timed('open again', async () => {
    document.querySelector('main').replaceChildren();
    window.dispatchEvent(new Event('hashchange'));
    while (!document.querySelector('.matrix tbody tr')) await new Promise((go) => setTimeout(go, 1));
  });
  return times;
}

function inMs(rows) {
  return Object.entries(rows).map(([what, times]) => ({
    what,
    median: Math.round(median(times)),
    worst: Math.round(Math.max(...times)),
  }));
}
