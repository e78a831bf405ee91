// Bundles the page and the overlap bench, each with its worker (core inside), into dist/page, and puts Plotly beside them, and a compressed
// copy beside each file.
import { mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { bundle, place } from '../../.config/bundle.mjs';
import { lessonTexts } from '../../.config/lesson-texts.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const require = createRequire(import.meta.url);
const out = here('dist/page');
const settings = {
  platform: 'browser',
  transform: { target: ['chrome111', 'firefox115', 'safari16.4'] },
  output: { minify: true },
};

/** In the order in which they hold: what is said of paper last. */
const STYLES = [
  ...['colours', 'base', 'head', 'reading', 'argue', 'figure', 'elements', 'notes', 'tables', 'folds'],
  ...['materials', 'calibrate', 'faults', 'session', 'print'],
];

await bundle({ page: here('page/main.ts') }, out, settings);
await bundle({ worker: here('page/worker.ts') }, out, settings);
await placeBench();
const plotlyFile = placePlotly();
place(`${out}/style.css`, STYLES.map((name) => readFileSync(here(`page/style/${name}.css`), 'utf8')).join('\n'));
place(`${out}/dark.css`, readFileSync(here('page/style/dark.css')));
place(`${out}/index.html`, readFileSync(here('page/index.html'), 'utf8').replaceAll('{{plotly}}', plotlyFile));

for (const name of readdirSync(out))
  if (/\.(js|css|html)$/.test(name)) place(`${out}/${name}.gz`, gzipSync(readFileSync(`${out}/${name}`)));

/** Takes away what an earlier build left, with its compressed copy; what another build is writing at the moment has a name of its own. */
function remove(name) {
  for (const old of [name, `${name}.gz`]) rmSync(`${out}/${old}`, { force: true });
}

/** Plotly's own minified file is a CommonJS module; two lines make it one that a page can import. Its version is in its name. */
function placePlotly() {
  const { version } = JSON.parse(readFileSync(require.resolve('plotly.js-basic-dist-min/package.json'), 'utf8'));
  const name = `plotly-${version}.js`;
  const script = readFileSync(require.resolve('plotly.js-basic-dist-min'), 'utf8');
  mkdirSync(out, { recursive: true });
  for (const old of readdirSync(out)) if (/^plotly-.*\.js$|\.map$/.test(old) && old !== name) remove(old);
  place(`${out}/${name}`, `const module = { exports: {} };\n${script}\nexport default module.exports;\n`);
  return name;
}

/** The overlap bench: classic scripts, so that the same files open from a folder, where a browser loads no module and starts no worker. */
async function placeBench() {
  const classic = { ...settings, output: { ...settings.output, format: 'iife', sourcemap: false } };
  await bundle({ bench: here('page/bench/bench.ts') }, out, classic);
  await bundle({ 'bench-worker': here('page/bench/worker.ts') }, out, classic);
  const styles = ['colours', 'bench', 'figure'].map((name) => readFileSync(here(`page/bench/${name}.css`), 'utf8'));
  place(`${out}/bench.css`, styles.join('\n'));
  place(`${out}/bench.html`, readFileSync(here('page/bench/bench.html'), 'utf8'));
  placeAnswers();
}

/** The whole text of each lesson, a script by itself: the bench loads it once the student has committed, and nothing else holds an answer. */
function placeAnswers() {
  const texts = lessonTexts().map(([id, text]) => [`answer-${id}.js`, text]);
  const names = new Set(texts.map(([name]) => name));
  for (const old of readdirSync(out)) if (/^answer-.*\.js$/.test(old) && !names.has(old)) remove(old);
  for (const [name, text] of texts) place(`${out}/${name}`, `limnerLessonText(${JSON.stringify(text)});\n`);
}
