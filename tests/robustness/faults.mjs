// The files that had no answer, or ended in a crash, when this was first measured: what each costs now, in grains of the demo.
//   npm run build && node tests/robustness/faults.mjs [NAME...]     peaks, flat, crash, flat-long; all where none is named
import { readFileSync } from 'node:fs';
import { identify, readSpectrum } from '@limner/core';

const gaussian = (energyEv, centreEv, height) => height * Math.exp(-0.5 * ((energyEv - centreEv) / 55) ** 2);
/** Invented counts by energy, eV; channels, their width, eV, and the beam, keV. */
const FILES = {
  peaks: [(ev) => 20 + gaussian(ev, 2160, 160_000) + gaussian(ev, 6450, 145_000), 2048, 10, 20],
  flat: [() => 1e6, 2048, 10, 20],
  crash: [() => 1e5, 1024, 20, 25],
  'flat-long': [() => 1e4, 65_536, 1, 20],
};

function emsa(name, [counts, channels, gainEv, beamKev]) {
  const header = `#FORMAT      : EMSA/MAS Spectral Data File
#VERSION     : 1.0
#TITLE       : Invented ${name}
#NPOINTS     : ${channels}
#NCOLUMNS    : 1
#XUNITS      : eV
#YUNITS      : counts
#DATATYPE    : Y
#XPERCHAN    : ${gainEv}
#OFFSET      : 0
#SIGNALTYPE  : EDS
#BEAMKV      : ${beamKev}
#SPECTRUM    :`;
  const values = Array.from({ length: channels }, (_, i) => Math.round(counts(i * gainEv)));
  return `${header}\n${values.join('\n')}\n#ENDOFDATA   :\n`;
}

/** What became of a file, and its processor time, ms. */
function read(bytes, name) {
  const before = process.cpuUsage();
  let told;
  try {
    const { elements, warnings } = identify(readSpectrum(bytes, { name }));
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    told = `present: ${present.join(' ') || 'nothing'}; ${warnings.map(({ code }) => code).join(' ')}`;
  } catch (error) {
    told = `${error.name}: ${error.message}`;
  }
  const { user, system } = process.cpuUsage(before);
  return { told, ms: (user + system) / 1000 };
}

const grain = readFileSync(new URL('../../data/demo/P1-L2-g01.msa', import.meta.url));
const unit = Math.min(...[1, 2, 3].map(() => read(grain, 'grain').ms));
console.log(`a grain of the demo: ${Math.round(unit)} ms of processor time`);
const named = process.argv.slice(2);
for (const [name, file] of Object.entries(FILES)) {
  if (named.length > 0 && !named.includes(name)) continue;
  const { told, ms } = read(new TextEncoder().encode(emsa(name, file)), name);
  console.log(`${name}: ${(ms / unit).toFixed(1)} grains; ${told}`);
}
