// Compiles the packages into their dist, with types, and removes what is left of sources that have gone. Incremental.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import './pack-data.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const compiler = join(root, 'node_modules/typescript/bin/tsc');
if (!existsSync(compiler))
  throw new Error('The compiler is not installed: run `npm ci --include=dev` and build again.');

const { status } = spawnSync(process.execPath, [compiler, '-b'], { cwd: root, stdio: ['ignore', 2, 2] });
if (status !== 0) throw new Error('The compiler says above what is wrong.');

for (const name of ['core', 'session']) {
  const [dist, src] = ['dist', 'src'].map((folder) => join(root, 'packages', name, folder));
  for (const path of readdirSync(dist, { recursive: true }).filter((path) => /\.(js|ts|json|map)$/.test(path))) {
    const source = path.replace(/(\.d\.ts|\.js)$/, '.ts');
    if (!existsSync(join(src, source))) rmSync(join(dist, path));
  }
}
