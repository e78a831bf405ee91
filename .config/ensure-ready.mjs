// Makes a fresh clone ready: installs when the lock file is newer than what is installed, then builds what changed.
// Runs before `npm start` and `npm test`, so it may import nothing but Node itself. Tools' output goes to stderr.
import { spawnSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
process.chdir(root);

if (Number(process.versions.node.split('.')[0]) < 20) {
  console.error(
    `Limner needs Node 20 or later; this is ${process.version}. Install a newer Node and run the command again.`,
  );
  process.exit(1);
}

const modified = (path) => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;

function run(command, args, hint) {
  const { status, error } = spawnSync(command, args, { stdio: ['ignore', 2, 2] });
  if (error || status !== 0) {
    console.error(`Setting up stopped at: ${command} ${args.join(' ')}${error ? ` (${error.message})` : ''}. ${hint}`);
    process.exit(status || 1);
  }
}

if (modified('node_modules/.package-lock.json') < modified('package-lock.json')) {
  console.error('Installing packages (once) ...');
  run('npm', ['ci', '--include=dev', '--no-fund', '--no-audit'], 'Check that the npm registry can be reached.');
}
run(process.execPath, ['.config/build.mjs'], 'The message above says what did not build.');
