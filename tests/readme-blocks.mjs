// Runs every code block of the pages given, in a folder of its own, and compares what is printed with what the page shows.
//   npm run build && node tests/readme-blocks.mjs [--write] [PAGE...]     --write puts what is printed now into the pages
//
// sh        commands; each must end with exit code 0
// console   lines after `$ ` are commands, the rest is what they print
// js        a module, run by Node; a `text` block right after it is what it prints
// js browser, json, csv    not run here: the first is run by tests/packed-core.test.ts
import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  'packages/core/README.md',
  'packages/session/README.md',
  'apps/cli/README.md',
  'apps/viewer/README.md',
];

/** Invented spectra of the demo, under the names that the pages use. */
const FILES = {
  'grain-07.msa': 'P1-L3-g03.msa',
  'ground-02.msa': 'P1-L1-g02.msa',
  'session-3/P1-L1-g01.msa': 'P1-L1-g01.msa',
  'session-3/P1-L2-g01.msa': 'P1-L2-g01.msa',
  'session-3/P1-L3-g03.msa': 'P1-L3-g03.msa',
};

/** What stands in for commands that would install, run for hours, serve for ever or need a cluster. */
const STAND_INS = {
  // `npm start`, `limner show` and `limner teach --serve` serve until they are interrupted: here, until they say where. Of other scripts, only that there is one.
  npm: `#!/bin/sh
[ "$1" = run ] && shift
grep -q "\\"$1\\":" '${root}package.json' || { echo "no script $1" >&2; exit 1; }
[ "$1" = start ] || exit 0
shift; [ "$1" = -- ] && shift
exec limner show "$@"`,
  limner: `#!/bin/sh
case "$1 $2" in "show "*|"teach --serve") ;; *) exec node "$LIMNER" "$@";; esac
: > shown; node "$LIMNER" "$@" >> shown & viewer=$!
until grep -q 'http://127.0.0.1' shown; do kill -0 $viewer || exit 1; sleep 0.1; done
kill -INT $viewer; wait $viewer`,
  npx: `#!/bin/sh
[ "$1" = --no-install ] && shift
case "$1" in limner) shift; exec limner "$@";; *) echo "npx $*";; esac`,
  node: `#!/bin/sh
case "$1" in tests/*|.config/*) echo "node $*";; *) exec '${process.execPath}' "$@";; esac`,
  parallel: `#!/bin/sh
command=; while [ "$1" != ::: ]; do command="$command $1"; shift; done; shift
for value; do eval "$(echo "$command" | sed "s/{}/$value/g")" || exit 1; done`,
};

function workshop() {
  const folder = mkdtempSync(join(tmpdir(), 'limner-readme-'));
  for (const [name, demo] of Object.entries(FILES)) cpSync(join(root, 'data/demo', demo), join(folder, name));
  for (const name of ['data', 'node_modules']) symlinkSync(join(root, name), join(folder, name));
  mkdirSync(join(folder, '.stand-ins'));
  for (const [name, script] of Object.entries(STAND_INS)) {
    writeFileSync(join(folder, '.stand-ins', name), `${script}\n`);
    chmodSync(join(folder, '.stand-ins', name), 0o755);
  }
  return folder;
}

/** What a command or a module prints; throws where it fails. */
function printed(command, args, folder) {
  const env = {
    ...process.env,
    PATH: join(folder, '.stand-ins') + delimiter + process.env.PATH,
    LIMNER: join(root, 'apps/cli/bin/limner.js'),
    PORT: '',
    SLURM_ARRAY_TASK_ID: '1',
  };
  const { status, stdout, stderr } = spawnSync(command, args, { cwd: folder, env, encoding: 'utf8' });
  if (status !== 0) throw new Error(`${args.at(-1)}\nended with exit code ${status}:\n${stderr}`);
  return stdout.trimEnd();
}

const shell = (script, folder) => printed('sh', ['-ec', script], folder);

/** The text of a console block as it should read. */
function consoleBlock(body, folder) {
  const commands = body.split('\n').filter((line) => line.startsWith('$ '));
  return commands.map((line) => [line, shell(line.slice(2), folder)].filter(Boolean).join('\n')).join('\n');
}

function moduleOutput(body, folder) {
  writeFileSync(join(folder, 'example.mjs'), body);
  return printed(process.execPath, ['example.mjs'], folder);
}

/** The page with every block as it should read. @throws naming the block that does not run */
function refreshed(text) {
  const folder = workshop();
  let output = null; // of the js block before
  try {
    return text.replaceAll(/^```(.*)\n([\s\S]*?)^```$/gm, (_block, kind, body) => {
      const before = output;
      output = null;
      if (kind === 'sh') shell(body, folder);
      else if (kind === 'console') body = `${consoleBlock(body, folder)}\n`;
      else if (kind === 'js') output = moduleOutput(body, folder);
      else if (kind === 'text' && before !== null) body = before === '' ? '' : `${before}\n`;
      else if (!['js browser', 'json', 'csv'].includes(kind))
        throw new Error(`No way to run a block of kind "${kind}":\n${body}`);
      return `\`\`\`${kind}\n${body}\`\`\``;
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const write = process.argv.includes('--write');
const named = process.argv.slice(2).filter((word) => word !== '--write');
for (const page of named.length > 0 ? named : PAGES) {
  const path = join(root, page);
  const now = readFileSync(path, 'utf8');
  try {
    const then = refreshed(now);
    if (then === now) continue;
    if (write) writeFileSync(path, then);
    else
      throw new Error(
        `prints something else now; \`node tests/readme-blocks.mjs --write\` renews it:\n${firstChange(now, then)}`,
      );
    console.error(`${page}: renewed`);
  } catch (error) {
    console.error(`${page}: ${error.message}`);
    process.exitCode = 1;
  }
}

function firstChange(now, then) {
  const [before, after] = [now, then].map((text) => text.split('\n'));
  const at = before.findIndex((line, i) => line !== after[i]);
  return `line ${at + 1}\n- ${before[at]}\n+ ${after[at] ?? ''}`;
}
