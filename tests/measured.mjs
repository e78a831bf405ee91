// Spectra that records are kept and compared of: the demo, and measured ones for development, which are no part of the project: `real`, and
// `real-hard` on which verdicts once fell.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const DEMO = fileURLToPath(new URL('../data/demo', import.meta.url));
const BESIDE = fileURLToPath(new URL('../../shared', import.meta.url));

/** Folder of a set: beside the checkout, else /work/shared; null where there is none. */
function folderOf(set) {
  const places = [join(BESIDE, set), join('/work/shared', set)];
  return places.find((place) => existsSync(join(place, 'truth.json'))) ?? null;
}

/**
 * Path, a name of its own, and what the file lacks: how to read its axis, and its beam energy in keV.
 * @param sayAbsent called with the name of a set that is not there
 */
export function* measuredFiles(sayAbsent) {
  for (const set of ['real', 'real-hard']) {
    const folder = folderOf(set);
    if (folder === null) {
      sayAbsent(set);
      continue;
    }
    for (const [file, { stats }] of Object.entries(JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')))) {
      const { kV, eV, zero, units } = stats;
      const read = String(units).startsWith('chan') ? { axis: { gainEv: eV, offsetEv: zero * 1000 } } : {};
      yield { name: `${set}/${file}`, path: join(folder, file), read, beamKev: kV };
    }
  }
}

/** Those of the demo and the measured ones, alike. */
export function* demoAndMeasured(sayAbsent) {
  for (const file of readdirSync(DEMO).sort())
    if (file.endsWith('.msa')) yield { name: `demo/${file}`, path: join(DEMO, file), read: {}, beamKev: null };
  yield* measuredFiles(sayAbsent);
}
