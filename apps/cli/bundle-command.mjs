// Bundles the command with core, session and viewer, and the worker by itself: Node starts 0.2 s sooner, half of a short command.
import { fileURLToPath } from 'node:url';
import { bundle } from '../../.config/bundle.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const settings = {
  platform: 'node',
  transform: { target: 'node20.19' },
  // Left in node_modules: commander is no ES module inside, piscina starts files of its own, only the viewer needs Fastify.
  external: ['commander', 'piscina', 'fastify', '@fastify/compress', '@fastify/static'],
};

// What a reading needs in one file: each file more costs as much as 50 kB of program.
const codeSplitting = { groups: [{ name: 'identify', test: /commands[\\/]identify\.ts$/ }] };
await bundle({ limner: here('src/main.ts') }, here('dist/bundle'), { ...settings, output: { codeSplitting } });
// What the viewer reads spectra with.
await bundle({ 'viewer-worker': here('../viewer/server/worker.ts') }, here('dist/bundle'), settings);
// What `limner tag` starts once per core, one file: session looks for it beside itself and tells builds apart by its bytes.
await bundle({ worker: here('../../packages/session/src/reading/worker.ts') }, here('dist/bundle'), settings);
