import { expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { identify } from './identify.ts';

const BENDS = { lineRatio: 0.05, family: 0.1, attenuation: 0.03, continuum: 0.05, noise: 0.05, tail: 0.2, window: 0.1 };
const SOFT_BENDS = { softShiftEv: 3, softWidth: 0.03, offsetEv: 4, gain: 0.001 };

// Below 1 keV L lines stand between K lines of O and N (X-Ray Data Booklet, table 1-2): one hump, of which no resolution can be read. With it
// these readings began at a resolution that no detector has, and found thirty elements or none.
it.each([
  ['Cr2O3', 1312, ['O', 'Cr']],
  ['TiN', 1351, ['Ti']],
])('%s at 3 keV is a hump of soft lines, and is read all the same', (composition, seed, strong) => {
  const perturb = { seed, ...BENDS, ...SOFT_BENDS };
  const { elements, warnings } = identify(simulate({ composition }, { beamKev: 3, totalCounts: 1e6, seed, perturb }));
  const codes = warnings.map(({ code }) => code);
  expect(codes.filter((code) => ['poor-fit', 'unfinished', 'axis-wrong', 'not-settled'].includes(code))).toEqual([]);
  const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
  expect(present).toEqual(expect.arrayContaining(strong));
});
