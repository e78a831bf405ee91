// Builds what a user waits for: the data tables, the command and the page. With --types, also each package's dist with its types,
// for who imports one. Does the same again when run again.
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));

if (!existsSync('node_modules/rolldown')) {
  console.error('Packages are not installed yet: run `npm run build`, which installs them.');
  process.exit(1);
}

await step('Packing the data tables', () => import('./pack-data.mjs'));
await step('Building the command', () => import('../apps/cli/bundle-command.mjs'));
await step('Building the page', () => import('../apps/viewer/bundle-page.mjs'));
if (process.argv.includes('--types')) await step('Compiling the packages, with types', () => import('./compile.mjs'));

async function step(what, work) {
  const begun = performance.now();
  process.stderr.write(`${what} ... `);
  try {
    await work();
  } catch (error) {
    console.error(`failed:\n${error.message}`);
    process.exit(1);
  }
  console.error(`${((performance.now() - begun) / 1000).toFixed(1)} s`);
}
