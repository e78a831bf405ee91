// Bundles the page, its worker (with core inside) and a minified copy of Plotly into dist/page. Plotly is redone only when its version changes.
import { build } from 'esbuild';
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const require = createRequire(import.meta.url);
const out = here('dist/page');
mkdirSync(out, { recursive: true });

const plotly = JSON.parse(readFileSync(require.resolve('plotly.js-dist/package.json'), 'utf8'));
const plotlyFile = `plotly-${plotly.version}.js`;
const target = ['chrome111', 'firefox115', 'safari16.4'];

if (!existsSync(`${out}/${plotlyFile}`)) {
  for (const name of readdirSync(out)) if (name.startsWith('plotly-')) rmSync(`${out}/${name}`);
  const partial = `${out}/.${process.pid}.partial.js`;
  await build({
    stdin: { contents: "import Plotly from 'plotly.js-dist'; export default Plotly;", resolveDir: here('.') },
    bundle: true,
    minify: true,
    format: 'esm',
    target,
    outfile: partial,
    logLevel: 'warning',
  });
  renameSync(partial, `${out}/${plotlyFile}`);
}

await build({
  entryPoints: { page: here('page/main.ts'), worker: here('page/worker.ts') },
  bundle: true,
  minify: true,
  sourcemap: 'linked',
  format: 'esm',
  target,
  outdir: out,
  conditions: ['@limner/source'],
  logLevel: 'warning',
});
cpSync(here('page/style.css'), `${out}/style.css`);
writeFileSync(`${out}/index.html`, readFileSync(here('page/index.html'), 'utf8').replaceAll('{{plotly}}', plotlyFile));
