// Stopping power against NIST ESTAR (Standard Reference Database 124, M.J. Berger, J.S. Coursey, M.A. Zucker, J. Chang):
// collision stopping power, MeV cm2/g.
import { describe, expect, it } from 'vitest';
import { zOf } from '../../packages/core/src/atomic/elements.ts';
import { stoppingPower } from '../../packages/core/src/emission/stopping.ts';

const TABLE: [string, number, number][] = [
  ['C', 12.5, 16.94],
  ['C', 20, 11.77],
  ['C', 30, 8.626],
  ['O', 15, 14.19],
  ['Al', 20, 9.844],
  ['Si', 15, 12.51],
  ['Si', 30, 7.48],
  ['Ca', 20, 9.905],
  ['Fe', 20, 8.456],
  ['Cu', 15, 9.904],
  ['Cu', 30, 6.04],
  ['Zn', 20, 8.062],
  ['Ag', 20, 7.017],
  ['Ba', 20, 6.494],
  ['Hg', 15, 6.674],
  ['Pb', 12.5, 7.356],
  ['Pb', 20, 5.453],
  ['Pb', 30, 4.182],
];

describe('NIST ESTAR collision stopping power', () => {
  // Allowed 3.4 %, the largest difference to the whole ESTAR table from 12.5 to 30 keV but for Be and B: Joy & Luo's J differs
  // from the mean excitation energies of ICRU 37 that ESTAR uses (Ca 228 against 191 eV).
  it.each(TABLE)('%s at %d keV', (symbol, kev, published) => {
    const ratio = stoppingPower(zOf(symbol)!, kev * 1000) / 1e6 / published;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.034);
  });

  it('stays positive and finite down to 50 eV, where Bethe would not', () => {
    for (let z = 1; z <= 95; z++) expect(stoppingPower(z, 50)).toBeGreaterThan(0);
  });
});
