// Builds everything, in order: pack the data tables, compile TypeScript, bundle the command and the page. Idempotent and incremental.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));

if (!existsSync('node_modules/typescript')) {
  console.error('Packages are not installed yet: run `npm ci` (or `npm start`, which does it) and build again.');
  process.exit(1);
}

const steps = [
  ['.config/pack-data.mjs'],
  ['node_modules/typescript/bin/tsc', '-b'],
  ['apps/cli/bundle-command.mjs'],
  ['apps/viewer/bundle-page.mjs'],
];
for (const args of steps) {
  const { status } = spawnSync(process.execPath, args, { stdio: ['ignore', 2, 2] });
  if (status !== 0) process.exit(status ?? 1);
}
