import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { readSpectrum, simulate } from '../../packages/core/dist/index.js';
import { measuredFiles } from '../measured.mjs';

export const DEMO = new URL('../../data/demo/', import.meta.url);

/** Elements that make each grain what it is, by data/demo/made-of.csv. */
const DEMO_MAJORS = {
  'P1-L1-g01': 'C O Ca',
  'P1-L1-g02': 'O Si Ca',
  'P1-L2-g01': 'Pb',
  'P1-L2-g02': 'P Ca',
  'P1-L2-g03': 'O Fe',
  'P1-L3-g01': 'O Cu',
  'P1-L3-g02': 'O Si K Co',
  'P1-L3-g03': 'Sn Pb',
  'P1-L3-g04': 'Bi',
  'P2-L1-g01': 'O S Ca',
  'P2-L1-g02': 'O S Ca',
  'P2-L2-g01': 'Si Sn Pb',
  'P2-L2-g02': 'Hg Pb',
  'P2-L3-g01': 'Hg',
  'P2-L3-g02': 'O Cu',
  'P2-L3-g03': 'C O Cu',
  'P2-L3-g04': 'C',
  'P2-M-blank': 'C O',
};

const SIMULATED = [
  ['lead white, 10 keV', '2PbCO3*Pb(OH)2', 10, 300000, 'Pb'],
  ['orpiment, 20 keV', 'As2S3', 20, 200000, 'As'],
  ['zircon, 30 keV, 3000 counts', 'ZrSiO4', 30, 3000, 'Zr'],
  ['baryte, 20 keV, 2 million counts', 'BaSO4', 20, 2000000, 'O S Ba'],
];

/** Demonstration grains and simulated ones: name, spectrum, options of identify, and the elements it must find. */
export function madeSpectra() {
  const demo = Object.entries(DEMO_MAJORS).map(([name, majors]) => ({
    set: 'demo',
    name,
    majors: majors.split(' '),
    options: {},
    spectrum: readSpectrum(readFileSync(new URL(`${name}.msa`, DEMO)), { name }),
  }));
  const simulated = SIMULATED.map(([name, composition, beamKev, totalCounts, majors], seed) => ({
    set: 'simulated',
    name,
    majors: majors.split(' '),
    options: {},
    spectrum: simulate({ composition }, { beamKev, totalCounts, seed }),
  }));
  return [...demo, ...simulated];
}

/** Measured spectra of known samples; says which sets are absent. */
export function measuredSpectra() {
  return [...measuredFiles((set) => console.error(`The set ${set} of measured spectra is absent.`))].map(
    ({ name, path, read, beamKev }) => {
      const spectrum = readSpectrum(readFileSync(path), { name: basename(path), ...read });
      const options = spectrum.beamKev === null && beamKev != null ? { beamKev } : {};
      return { set: 'measured', name, majors: [], options, spectrum };
    },
  );
}

/** @param only text that a name or a set must hold; all when left out */
export const allSpectra = (only = '') =>
  [...madeSpectra(), ...measuredSpectra()].filter(({ name, set }) => `${set} ${name}`.includes(only));
