// Joins the compiled command with core and session into one file, and the worker into another: Node then starts about 0.2 s sooner, which is half of a short command.
import { build } from 'esbuild';
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));

// The viewer is loaded only by the command that needs it; commander is no ES module inside; piscina starts files of its own.
const { outputFiles } = await build({
  entryPoints: [
    { in: here('dist/main.js'), out: 'limner' },
    // What `limner tag` starts once per core; it looks for the file beside itself.
    { in: here('../../packages/session/dist/reading/worker.js'), out: 'worker' },
  ],
  outdir: here('dist/bundle'),
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  external: ['@limner/viewer', 'commander', 'piscina'],
  logLevel: 'warning',
  write: false,
}).catch(() => process.exit(1)); // esbuild has said why

// Written whole or not at all, so that a command that starts meanwhile never finds half a file.
for (const { path, contents } of outputFiles) {
  const partial = `${path}.${process.pid}.partial`;
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(partial, contents);
  renameSync(partial, path);
}
