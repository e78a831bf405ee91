import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium, type Browser } from 'playwright-core';

const PACKAGE = '@sparticuz/chromium@143.0.4';
const cache = fileURLToPath(new URL('../../.cache/chromium', import.meta.url));

const HELP =
  'BROWSER TESTS LEFT OUT: no Chromium was found. Install one (Debian: `apt-get install chromium`), or set LIMNER_CHROMIUM ' +
  `to the path of one, or let npm reach its registry for ${PACKAGE}; then run \`npm test\` again.`;

/** Quiet: Chromium otherwise looks up its maker's hosts at every start. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

interface Found {
  readonly path: string;
  readonly flags?: readonly string[];
  readonly env?: Record<string, string>;
}

let shared: Promise<Browser | null> = Promise.resolve(null);

/**
 * The Chromium to test with, one for all files of a worker, which ends with it: LIMNER_CHROMIUM, then `chromium` on the path, then the npm
 * package (fetched once into .cache). Null, and a loud word, when there is none. @throws in CI, where a missing browser is a failure
 */
export async function launchChromium(): Promise<Browser | null> {
  const running = await shared;
  if (!running?.isConnected()) shared = launched();
  return shared;
}

/** Closes the pages that a test or a file opened. */
export async function closePages(): Promise<void> {
  const browser = await shared;
  await Promise.all((browser?.contexts() ?? []).map((context) => context.close()));
}

async function launched(): Promise<Browser | null> {
  const found = fromEnvironment() ?? fromPath() ?? (await fromPackage());
  if (found) {
    const { path, flags = [], env = {} } = found;
    return chromium.launch({ executablePath: path, args: [...FLAGS, ...flags], env: { ...process.env, ...env } });
  }
  if (process.env['CI'] === 'true') throw new Error(HELP);
  process.stderr.write(`\n${HELP}\n\n`);
  return null;
}

function fromEnvironment(): Found | null {
  const path = process.env['LIMNER_CHROMIUM'];
  if (!path) return null;
  if (!existsSync(path)) throw new Error(`LIMNER_CHROMIUM names ${path}, which is not there.`);
  return { path };
}

function fromPath(): Found | null {
  const { status, stdout } = spawnSync('sh', ['-c', 'command -v chromium'], { encoding: 'utf8' });
  return status === 0 ? { path: stdout.trim() } : null;
}

/** The package unpacks its libraries only where it believes itself on its usual host, and into the temp folder. */
async function fromPackage(): Promise<Found | null> {
  if (process.platform !== 'linux') return null;
  const temporary = process.env['TMPDIR'];
  const unpacked = `${cache}/unpacked-143.0.4`;
  process.env['AWS_LAMBDA_JS_RUNTIME'] = 'nodejs20.x';
  process.env['TMPDIR'] = unpacked;
  try {
    mkdirSync(unpacked, { recursive: true });
    if (!existsSync(`${cache}/node_modules/@sparticuz/chromium`)) {
      process.stderr.write(`Fetching ${PACKAGE} for the browser tests (once) ...\n`);
      execFileSync('npm', ['install', '--prefix', cache, '--no-save', PACKAGE], { stdio: ['ignore', 2, 2] });
    }
    const entry = createRequire(`${cache}/package.json`).resolve('@sparticuz/chromium');
    const carried = (await import(pathToFileURL(entry).href)) as { default: { executablePath(): Promise<string> } };
    const path = await carried.default.executablePath();
    return { path, flags: ['--no-zygote'], env: { FONTCONFIG_FILE: fontsFile(unpacked) } };
  } catch (error) {
    process.stderr.write(`The npm Chromium could not be used: ${String(error)}\n`);
    return null;
  } finally {
    if (temporary === undefined) delete process.env['TMPDIR'];
    else process.env['TMPDIR'] = temporary;
  }
}

/** The package's own list of fonts names folders of its usual host only, and without any font its pages crash. */
function fontsFile(unpacked: string): string {
  const folders = [`${unpacked}/fonts/fonts`, '/usr/share/fonts'].map((folder) => `<dir>${folder}</dir>`).join('');
  const file = `${cache}/fonts.conf`;
  writeFileSync(
    file,
    `<?xml version="1.0"?><fontconfig>${folders}<cachedir>${cache}/fonts-cache</cachedir></fontconfig>\n`,
  );
  return file;
}
