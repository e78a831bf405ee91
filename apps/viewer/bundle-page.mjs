// Bundles the page, its worker (with core inside) and a minified copy of Plotly into dist/page. Plotly is redone only when its version changes.
import { build } from 'esbuild';
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const require = createRequire(import.meta.url);
const out = here('dist/page');
const target = ['chrome111', 'firefox115', 'safari16.4'];
mkdirSync(out, { recursive: true });

/** Written whole or not at all, so that a viewer that runs meanwhile never serves half a file. */
function place(path, contents) {
  const partial = `${path}.${process.pid}.partial`;
  writeFileSync(partial, contents);
  renameSync(partial, path);
}

const bundle = async (options) => {
  const settings = { bundle: true, minify: true, format: 'esm', target, logLevel: 'warning', write: false, ...options };
  const { outputFiles } = await build(settings).catch(() => process.exit(1)); // esbuild has said why
  for (const { path, contents } of outputFiles) place(path, contents);
};

const plotly = JSON.parse(readFileSync(require.resolve('plotly.js-dist/package.json'), 'utf8'));
const plotlyFile = `plotly-${plotly.version}.js`;

if (!existsSync(`${out}/${plotlyFile}`)) {
  for (const name of readdirSync(out)) if (name.startsWith('plotly-')) rmSync(`${out}/${name}`, { force: true });
  await bundle({
    stdin: { contents: "import Plotly from 'plotly.js-dist'; export default Plotly;", resolveDir: here('.') },
    outfile: `${out}/${plotlyFile}`,
  });
}

await bundle({
  entryPoints: { page: here('page/main.ts'), worker: here('page/worker.ts') },
  outdir: out,
  sourcemap: 'linked',
  conditions: ['@limner/source'],
});
const styles = ['page/style.css', 'page/session/session.css'].map((path) => readFileSync(here(path), 'utf8'));
place(`${out}/style.css`, styles.join('\n'));
place(`${out}/index.html`, readFileSync(here('page/index.html'), 'utf8').replaceAll('{{plotly}}', plotlyFile));
