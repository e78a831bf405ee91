// Materials that published tests found misread by automatic identification: D.E. Newbury, Microsc. Microanal. 11 (2005) 545
// (abstract), and overlaps of common practice in paint. Simulated with physics bent away from the fit's own tables.
import { describe, expect, it } from 'vitest';
import { identify, simulate, type LimnerRecord } from '@limner/core';
import { BENT } from './grains.ts';

const MATERIALS: readonly (readonly [string, readonly string[]])[] = [
  ['ZnS', ['Zn', 'S']],
  ['KBr', ['K', 'Br']],
  ['FeS2', ['Fe', 'S']],
  ['TaNb', ['Ta', 'Nb']],
  ['Au4Cu6', ['Au', 'Cu']],
  ['AuCu9', ['Au', 'Cu']],
  ['Bi2Te3', ['Bi', 'Te']],
  ['URh', ['U', 'Rh']],
  ['PtCr', ['Pt', 'Cr']],
  ['GaAs', ['Ga', 'As']],
  ['GaP', ['Ga', 'P']],
  ['PbS', ['Pb', 'S']],
  ['HgS', ['Hg', 'S']],
  ['2PbCO3*Pb(OH)2', ['Pb', 'O']],
  ['BaSO4', ['Ba', 'S', 'O']],
  ['BaTiO3', ['Ba', 'Ti', 'O']],
  ['Pb2SnO4', ['Pb', 'Sn']],
  ['Bi', ['Bi']],
];

// `npm run statistics` reads every material at every beam energy; `npm test` every other at one of them, and one in four at 5 keV.
const WHOLE = process.env['LIMNER_WHOLE'] !== undefined;
const BEAMS = [10, 15, 20];
const at = (k: number, of: number) => MATERIALS.filter((_, i) => WHOLE || i % of === k);

function read(formula: string, beamKev: number, seed: number): LimnerRecord {
  return identify(
    simulate({ composition: formula }, { beamKev, totalCounts: 150_000, seed, perturb: { seed: seed + 1, ...BENT } }),
  );
}

describe.each(BEAMS)('at %i keV, 150,000 counts', (beamKev) => {
  it.each(at(2 * BEAMS.indexOf(beamKev), 2 * BEAMS.length))(
    '%s: nothing major missed, nothing invented',
    (formula, elements) => {
      const record = read(formula, beamKev, 1000 + beamKev);
      const present = record.elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
      expect(elements.filter((symbol) => !present.includes(symbol))).toEqual([]);
      // C, O and H of a compound may be listed besides the elements that must be found.
      const known = formula.match(/[A-Z][a-z]?/g)!;
      expect(present.filter((symbol) => !known.includes(symbol))).toEqual([]);
    },
  );
});

// Only L and M lines are excited of most elements here, and some of these share all of them with others: `open` is allowed where
// nothing stands 8 sigma above all else could explain, a wrong `present` is not.
describe('at 5 keV, 150,000 counts', () => {
  it.each(at(0, 4))('%s: nothing invented', (formula) => {
    const record = read(formula, 5, 1005);
    const known = formula.match(/[A-Z][a-z]?/g)!;
    const present = record.elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(present.filter((symbol) => !known.includes(symbol))).toEqual([]);
    expect(present.length).toBeGreaterThan(0);
  });
});
