// Many readers of one viewer: 50 of them for a minute, on the page, the list and readings that are kept, while readings that are not run beside.
//   npm run build && node tests/robustness/readers.mjs [--readers 50] [--seconds 60] [--folder data/demo]
// Prints errors and waits, of what is kept and of what is read anew. Exit code 1 when there was an error.
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));
const { values } = parseArgs({
  options: {
    readers: { type: 'string', default: '50' },
    seconds: { type: 'string', default: '60' },
    folder: { type: 'string', default: 'data/demo' },
  },
});

const child = spawn(process.execPath, ['apps/cli/bin/limner.js', 'show', values.folder], {
  cwd: root,
  env: { ...process.env, PORT: '0' },
  stdio: ['ignore', 'pipe', 'inherit'],
});
const address = await addressOf(child);
const errors = [];
const waits = { kept: [], anew: [] };

try {
  while ((await (await fetch(`${address}/api/session`)).json()).state === 'reading') await pause(500);
  const spectra = (await (await fetch(`${address}/api/spectra`)).json()).filter(({ error }) => error === null);
  const readings = spectra.slice(0, 10).map(({ id }) => `/api/spectra/${encodeURIComponent(id)}/reading`);
  for (const path of readings) await ask('anew', path);
  const kept = ['/', '/page.js', '/style.css', '/api/spectra', '/api/session', ...readings];
  const end = performance.now() + 1000 * Number(values.seconds);
  const reader = async (_, i) => {
    for (let k = i; performance.now() < end; k++) {
      await ask('kept', kept[k % kept.length]);
      await pause(100);
    }
  };
  const curious = async () => {
    for (let k = 0; performance.now() < end; k++)
      await ask('anew', `${readings[k % readings.length]}?beam=${(17 + k / 100).toFixed(2)}`);
  };
  await Promise.all([...Array.from({ length: Number(values.readers) }, reader), curious()]);
} finally {
  child.kill('SIGTERM');
}
for (const [what, list] of Object.entries(waits)) {
  list.sort((a, b) => a - b);
  const at = (part) => Math.round(list[Math.min(list.length - 1, Math.floor(part * list.length))] ?? 0);
  console.log(`${what}: ${list.length} answers, median ${at(0.5)} ms, 99 % within ${at(0.99)} ms, longest ${at(1)} ms`);
}
console.log(`${values.readers} readers for ${values.seconds} s: ${errors.length} errors`);
for (const error of new Set(errors)) console.log(`  ${error}`);
process.exitCode = errors.length > 0 ? 1 : 0;

async function ask(what, path) {
  const begun = performance.now();
  try {
    const reply = await fetch(address + path);
    await reply.arrayBuffer();
    if (!reply.ok) errors.push(`${path}: ${reply.status}`);
  } catch (error) {
    errors.push(`${path}: ${error.message}`);
  }
  waits[what].push(performance.now() - begun);
}

function pause(ms) {
  return new Promise((done) => setTimeout(done, ms));
}

async function addressOf({ stdout }) {
  let printed = '';
  for await (const chunk of stdout) {
    printed += chunk;
    const found = /The viewer is at (http:\S+)/.exec(printed)?.[1];
    if (found) return found;
  }
  throw new Error('the viewer did not start');
}
