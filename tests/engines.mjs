// Records of the demo and of the measured spectra on several engines: the bytes must be the same on all of them.
//   npm run build && node tests/engines.mjs [NODE...]     or LIMNER_ENGINES=NODE:NODE, each a path of another Node
// In a folder of its own: npm i node@24, then node_modules/node/bin/node. Exit code 1 when any byte differs, 0 too where no other engine is named.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const golden = fileURLToPath(new URL('golden.mjs', import.meta.url));
const named = process.argv.slice(2);
const others = named.length > 0 ? named : (process.env.LIMNER_ENGINES ?? '').split(delimiter).filter(Boolean);
if (others.length === 0) {
  console.log(
    'No other engine is named: nothing is compared. Give paths of other Nodes, or name them in LIMNER_ENGINES.',
  );
  process.exit(0);
}

const folder = mkdtempSync(join(tmpdir(), 'limner-engines-'));
try {
  const here = recordsOf(process.execPath, 'here');
  const same = others.map((engine, i) => {
    console.log(`${version(process.execPath)} and ${version(engine)}:`);
    return run(process.execPath, golden, 'compare', here, recordsOf(engine, `other-${i}`)) === 0;
  });
  process.exitCode = same.every(Boolean) ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function recordsOf(engine, name) {
  const to = join(folder, name);
  if (run(engine, golden, 'write', to) !== 0) throw new Error(`${engine} wrote no records`);
  return to;
}

function run(command, ...args) {
  return spawnSync(command, args, { stdio: 'inherit' }).status;
}

function version(engine) {
  return `Node ${spawnSync(engine, ['--version'], { encoding: 'utf8' }).stdout.trim()}`;
}
