// Measured spectra of known samples. A folder holds truth.json: `strong` must be found, `possible` may be, everything else is false.
import { existsSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';

const FOLDERS = ['/work/shared/real', '/work/shared/real-hard'];

/** Spectra with their lists and what is told to `identify` of them, one by one. @param only part of the file's name */
export function* knownSpectra({ readSpectrum }, folders, only) {
  for (const folder of folders.length > 0 ? folders : FOLDERS) {
    if (!existsSync(join(folder, 'truth.json'))) {
      console.error(`${folder} has no truth.json: left out.`);
      continue;
    }
    for (const [file, truth] of Object.entries(JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')))) {
      if (!file.includes(only)) continue;
      const { kV, eV, zero, units } = truth.stats;
      const axis = String(units).startsWith('chan') ? { axis: { gainEv: eV, offsetEv: zero * 1000 } } : {};
      const spectrum = readSpectrum(readFileSync(join(folder, file)), { name: basename(file), ...axis });
      yield { file, spectrum, options: spectrum.beamKev === null && kV != null ? { beamKev: kV } : {}, kV, ...truth };
    }
  }
}
