// What the scripts of this folder share: their arguments, the version of the core that is judged, readings with their processor time.
import { existsSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';

const here = new URL('../../..', import.meta.url).pathname;

/**
 * The command line: `--core CHECKOUT` (a checkout that has been built; else this one), `--json FILE` (the rows behind the
 * tables) and the options that a script adds. `values.core` becomes the core itself.
 */
export async function commandLine(options = {}) {
  const { values, positionals } = parseArgs({
    options: { core: { type: 'string', default: here }, json: { type: 'string' }, ...options },
    allowPositionals: true,
  });
  const checkout = resolve(values.core);
  const built = join(checkout, 'packages/core/dist/index.js');
  if (!existsSync(built)) {
    console.error(`${built} is not there: run npm run build in ${checkout} first.`);
    process.exit(2);
  }
  return { values: { ...values, core: await import(pathToFileURL(built)) }, positionals };
}

export function saveRows(file, rows) {
  if (file !== undefined) writeFileSync(file, JSON.stringify(rows, null, 1) + '\n');
}

/** A record and the processor time it took, ms: other work on the machine does not count. */
export function timed(identify) {
  const before = process.cpuUsage();
  const record = identify();
  const { user, system } = process.cpuUsage(before);
  return { record, ms: (user + system) / 1000 };
}

/** Symbols with a verdict. */
export const symbolsWith = (record, verdict) =>
  record.elements.filter((e) => e.verdict === verdict).map(({ symbol }) => symbol);

/** Elements told `present` although their own amount is below 4 of its standard deviations. */
export const faint = (record) =>
  record.elements
    .filter(({ verdict, counts }) => verdict === 'present' && counts.value < 4 * counts.sigma)
    .map(({ symbol }) => symbol);
