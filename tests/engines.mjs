// Records of the demo and of the measured spectra on several engines: the bytes must be the same on all of them.
//   npm run build && node tests/engines.mjs [NODE...]     each a path of another Node; without, Nodes of npm's registry, kept in .cache
// Exit code 1 when any byte differs. Chromium: tests/browser/same-bytes.test.ts.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Lines of Node that are supported, besides that of this machine. */
const LINES = [20, 22, 24].filter((line) => !process.version.startsWith(`v${line}.`));
const cache = fileURLToPath(new URL('../.cache/engines', import.meta.url));
const golden = fileURLToPath(new URL('golden.mjs', import.meta.url));
const named = process.argv.slice(2);
const others = named.length > 0 ? named : LINES.map(fetched);

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

/** The Node of a line, from the package that brings it for this machine; that for all machines would run a script to fetch this one. */
function fetched(line) {
  const home = join(cache, `node-${line}`);
  const name = `node-${process.platform === 'win32' ? 'win' : process.platform}-${process.arch}`;
  const engine = join(home, 'node_modules', name, process.platform === 'win32' ? 'bin/node.exe' : 'bin/node');
  if (!existsSync(engine)) {
    mkdirSync(home, { recursive: true });
    console.error(`Fetching Node ${line} (once) ...`);
    if (run('npm', 'install', '--prefix', home, '--no-save', '--no-audit', '--no-fund', `${name}@${line}`) !== 0)
      throw new Error(`no Node ${line} came from npm's registry: name the path of one`);
  }
  return engine;
}

function run(command, ...args) {
  return spawnSync(command, args, { stdio: 'inherit' }).status;
}

function version(engine) {
  return `Node ${spawnSync(engine, ['--version'], { encoding: 'utf8' }).stdout.trim()}`;
}
