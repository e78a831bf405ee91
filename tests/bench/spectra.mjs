import { readFileSync } from 'node:fs';
import { readSpectrum, simulate } from '../../packages/core/dist/index.js';

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

export function spectra() {
  const demo = Object.entries(DEMO_MAJORS).map(([name, majors]) => ({
    name,
    majors: majors.split(' '),
    spectrum: readSpectrum(readFileSync(new URL(`${name}.msa`, DEMO)), { name }),
  }));
  const simulated = SIMULATED.map(([name, composition, beamKev, totalCounts, majors], seed) => ({
    name,
    majors: majors.split(' '),
    spectrum: simulate({ composition }, { beamKev, totalCounts, seed }),
  }));
  return [...demo, ...simulated];
}
