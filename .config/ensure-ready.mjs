// Makes a fresh clone ready: installs what is missing, then builds. Before `npm start` it installs only what running needs; with --dev
// (tests, build) the tools as well. --types is passed on to the build. It may import nothing but Node itself. Tools' output goes to stderr.
import { spawn } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const HEARTBEAT_MS = 5000;
const dev = process.argv.includes('--dev');
process.chdir(fileURLToPath(new URL('..', import.meta.url)));

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(
    `Limner needs Node 20.19 or later; this is ${process.version}. Install a newer Node and run the command again.`,
  );
  process.exit(1);
}

const hasTools = existsSync('node_modules/typescript/package.json');
if (isStale() || (dev && !hasTools)) await install(dev || hasTools);
const types = process.argv.includes('--types') ? ['--types'] : [];
await run(process.execPath, ['.config/build.mjs', ...types], 'The message above says what did not build.');

function isStale() {
  const modified = (path) => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return modified('node_modules/.package-lock.json') < modified('package-lock.json');
}

/** npm draws nothing where there is no terminal, so say from time to time how far it is. */
async function install(withTools) {
  const what = withTools ? 'packages and developers’ tools' : 'packages';
  console.error(`Installing ${what} with npm, once (some ${withTools ? 180 : 70} MB on disk) ...`);
  const { packages } = JSON.parse(readFileSync('package-lock.json', 'utf8'));
  const paths = Object.keys(packages).filter((path) => path.startsWith('node_modules/'));
  const begun = Date.now();
  const heartbeat = setInterval(() => {
    const there = paths.filter((path) => existsSync(`${path}/package.json`)).length;
    console.error(`  ${Math.round((Date.now() - begun) / 1000)} s: ${there} packages unpacked so far`);
  }, HEARTBEAT_MS);
  const args = ['ci', withTools ? '--include=dev' : '--omit=dev', '--no-fund', '--no-audit', '--no-progress'];
  await run('npm', args, 'Check that the npm registry can be reached.');
  clearInterval(heartbeat);
}

function run(command, args, hint) {
  return new Promise((done) => {
    const stop = (code, reason) => {
      console.error(`Setting up stopped at: ${command} ${args.join(' ')}${reason}. ${hint}`);
      process.exit(code);
    };
    const child = spawn(command, args, { stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
    child.on('error', (error) => stop(1, ` (${error.message})`));
    child.on('exit', (code) => (code === 0 ? done() : stop(code || 1, '')));
  });
}
