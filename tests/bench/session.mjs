// Throughput of `limner tag` on two workers against one, what it costs over pure identification, and memory. Never part of `npm test`.
// Usage, after a build: node tests/bench/session.mjs [COPIES of the demo session, 10 by default] [--tag-only: without pure identification]
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { timed } from './timed.mjs';

const DEMO = fileURLToPath(new URL('../../data/demo', import.meta.url));
const copies = Number(process.argv[2] ?? 10);
const files = readdirSync(DEMO).filter((name) => name.endsWith('.msa'));
const folder = mkdtempSync(join(tmpdir(), 'limner-bench-'));

/** The demo session again and again, under other titles, so that no two files are alike. */
function session(times) {
  const names = [];
  for (let i = 0; i < times; i++)
    for (const name of files) {
      const text = readFileSync(join(DEMO, name), 'utf8').replace(/^#TITLE.*$/m, (line) => `${line.trimEnd()} ${i}`);
      names.push(join(folder, `${String(i).padStart(4, '0')}-${name}`));
      writeFileSync(names.at(-1), text);
    }
  return names;
}

try {
  const names = session(copies);
  const pure = process.argv.includes('--tag-only') ? null : timed(['identify', '--json', ...names], 0);
  const one = timed(['tag', folder, '--out', join(folder, 'one'), '--workers', '1'], 0);
  const two = timed(['tag', folder, '--out', join(folder, 'two'), '--workers', '2']);
  const again = timed(['tag', folder, '--out', join(folder, 'two'), '--workers', '2']);
  const rows = {
    ...(pure && { 'identify --json': pure }),
    'one core': one,
    'two workers': two,
    'again, all kept': again,
  };
  console.log(`${names.length} spectra; load of the machine ${loadavg()[0].toFixed(1)}`);
  for (const [label, { wall, processor, mb }] of Object.entries(rows))
    console.log(
      `${label.padEnd(16)} ${wall.toFixed(1)} s, processor ${processor.toFixed(1)} s, peak ${mb.toFixed(0)} MB`,
    );
  console.log(`two cores over one: ${(one.wall / two.wall).toFixed(2)}`);
  if (pure)
    console.log(`over pure identification (processor): ${(100 * (one.processor / pure.processor - 1)).toFixed(0)} %`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
