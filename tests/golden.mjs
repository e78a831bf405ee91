// Keeps the records of the demo and of the measured spectra in a folder outside the repository, and says what changed since.
//   npm run build && node tests/golden.mjs write FOLDER
//   node tests/golden.mjs compare BEFORE AFTER        exit code 1 when any byte differs
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { identify, readSpectrum } from '@limner/core';
import { demoAndMeasured } from './measured.mjs';

function write(folder) {
  const absent = (set) => console.error(`The set ${set} is absent: its spectra are left out.`);
  for (const { name, path, read, beamKev } of demoAndMeasured(absent)) {
    const spectrum = readSpectrum(readFileSync(path), { name: basename(path), ...read });
    const record = identify(spectrum, spectrum.beamKev === null && beamKev != null ? { beamKev } : {});
    const to = join(folder, name.replaceAll('/', '__') + '.json');
    mkdirSync(folder, { recursive: true });
    writeFileSync(to, JSON.stringify(record, null, 1) + '\n');
  }
}

function compare(before, after) {
  const names = [...new Set([...readdirSync(before), ...readdirSync(after)])].sort();
  let equal = 0;
  for (const name of names) {
    const [a, b] = [before, after].map((folder) =>
      existsSync(join(folder, name)) ? readFileSync(join(folder, name), 'utf8') : null,
    );
    if (a === b) equal++;
    else if (a === null || b === null) console.log(`${name}: only in ${a === null ? after : before}`);
    else console.log(`${name}: ${changes(JSON.parse(a), JSON.parse(b))}`);
  }
  console.log(`${equal} of ${names.length} records byte-identical`);
  return equal === names.length ? 0 : 1;
}

/** Verdicts that changed, and by how much probabilities moved at most. */
function changes(a, b) {
  const other = new Map(b.elements.map((element) => [element.symbol, element]));
  const verdicts = [];
  let moved = 0;
  for (const { symbol, verdict, probability } of a.elements) {
    const now = other.get(symbol);
    if (now?.verdict !== verdict) verdicts.push(`${symbol} ${verdict} -> ${now?.verdict ?? 'gone'}`);
    moved = Math.max(moved, Math.abs(probability - (now?.probability ?? 0)));
  }
  return `${verdicts.join(', ') || 'verdicts as before'}; probabilities moved by at most ${moved.toFixed(3)}`;
}

const [command, ...folders] = process.argv.slice(2);
if (command === 'write' && folders.length === 1) write(folders[0]);
else if (command === 'compare' && folders.length === 2) process.exitCode = compare(...folders);
else {
  console.error('Usage: golden.mjs write FOLDER | golden.mjs compare BEFORE AFTER');
  process.exitCode = 2;
}
